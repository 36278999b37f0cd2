package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

const (
	demoDays = 183
	demoLots = 60
	demoSeed = 20
)

// history is six months of the yard's work, made by the use cases that the
// counter uses, under a clock that is moved by hand.
type history struct {
	*yard
	ctx   context.Context
	rand  *rand.Rand
	start time.Time
	end   time.Time
	clock time.Time
	keys  int

	store   map[int64][]inventory.Spool  // in the store, by wire
	fitting map[inventory.Code][]fitting // wires that fit, by job
	wireOf  map[int64]int64              // by lot
	waiting map[int64]bool               // lots that wait on hold, or will
	lots    int
	outNow  []inventory.Spool // not back yet when the demo opens

	read         func() inventory.Reader
	shopSet      bool // shifts are set
	told, gaveUp bool // people are told of alerts; one message was given up
}

// work makes the ledger up to the instant end. now is the clock of the ledger.
func work(ctx context.Context, y *yard, h *history) error {
	h.yard, h.ctx = y, ctx
	h.rand = rand.New(rand.NewPCG(demoSeed, demoSeed))
	h.store, h.wireOf, h.waiting, h.fitting = map[int64][]inventory.Spool{}, map[int64]int64{}, map[int64]bool{}, map[inventory.Code][]fitting{}
	for day := range demoDays {
		if err := h.day(day); err != nil {
			return fmt.Errorf("day %d: %w", day, err)
		}
	}
	return h.loadFeeders()
}

func (h *history) now() time.Time { return h.clock }

// goTo moves the clock to the hour of the day, never back and never past the
// end.
func (h *history) goTo(day int, hour float64) bool {
	at := h.start.AddDate(0, 0, day).Add(time.Duration(hour * float64(time.Hour)))
	if at.After(h.end) {
		return false
	}
	if at.After(h.clock) {
		h.clock = at
	}
	return true
}

func (h *history) entry(spool inventory.Code, by inventory.Person) inventory.Entry {
	h.keys++
	return inventory.Entry{Spool: spool, Person: by.Code, RequestKey: fmt.Sprintf("demo-%d", h.keys)}
}

func pick[T any](h *history, from []T) T { return from[h.rand.IntN(len(from))] }

func (h *history) day(day int) error {
	if !h.goTo(day, 6) {
		return nil
	}
	for h.lots < demoLots && h.lotDay(h.lots) <= day {
		if err := h.delivery(); err != nil {
			return err
		}
	}
	if day == 7 {
		if err := h.findFitting(); err != nil {
			return err
		}
	}
	weekday := h.clock.Weekday()
	if day < 7 || weekday == time.Saturday || weekday == time.Sunday {
		return nil
	}
	if err := h.clearShelves(); err != nil {
		return err
	}
	if err := h.oddJobs(); err != nil {
		return err
	}
	if err := h.shift(day); err != nil {
		return err
	}
	return h.watch(day)
}

// oddJobs is what else happens in a store: spools are moved, counted, held and
// released, and now and then somebody typed the wrong weight.
func (h *history) oddJobs() error {
	wire := pick(h, h.wires).ID
	if len(h.store[wire]) == 0 {
		return nil
	}
	i := h.rand.IntN(len(h.store[wire]))
	s := h.store[wire][i]
	var err error
	switch h.rand.IntN(8) {
	case 0:
		s, err = h.ledger.Move(h.ctx, h.entry(s.Code, h.attendant()), h.places[4+h.rand.IntN(2)].Code)
	case 1:
		s, err = h.ledger.Weigh(h.ctx, h.entry(s.Code, h.attendant()), s.Net+s.Tare)
	case 2:
		if _, err = h.ledger.Hold(h.ctx, h.entry(s.Code, h.attendant()), "box torn at one corner"); err == nil {
			s, err = h.ledger.Release(h.ctx, h.entry(s.Code, h.engineer()), "inner bag whole")
		}
	case 3:
		if s.Opened() {
			s, err = h.correctWeight(s)
		}
	}
	h.store[wire][i] = s
	return err
}

// correctWeight is a weighing with a slip of the finger, set right.
func (h *history) correctWeight(s inventory.Spool) (inventory.Spool, error) {
	gross := s.Net + s.Tare
	wrong, err := h.ledger.Weigh(h.ctx, h.entry(s.Code, h.attendant()), gross-s.Net/10)
	if err != nil {
		return s, err
	}
	movements, err := h.ledger.History(h.ctx, s.Code)
	if err != nil {
		return wrong, err
	}
	return h.ledger.Correct(h.ctx, inventory.Correction{Entry: h.entry(s.Code, h.attendant()), Corrects: movements[len(movements)-1].Seq,
		Reason: "scale read with the hook on it: weighed again", Gross: &gross})
}

// lotDay is the day on which the n-th lot comes: one of each wire in the first
// week, the rest spread over the months.
func (h *history) lotDay(n int) int {
	if n < len(h.wires) {
		return n / 5
	}
	return 10 + (n-len(h.wires))*5
}

func (h *history) delivery() error {
	n := h.lots
	h.lots++
	wire := h.wires[n%len(h.wires)]
	receipt := inventory.Receipt{Person: h.attendant().Code, RequestKey: fmt.Sprintf("demo-lot-%d", n), WireID: wire.ID,
		LotNumber: fmt.Sprintf("%c%d-%03d", wire.Maker[len("Maker ")], 26, 101+n*7), Certificate: fmt.Sprintf("MTC-%05d", 40210+n*13),
		Place: h.places[h.rand.IntN(4)].Code, Spools: 5 + h.rand.IntN(5)}
	if wire.TradeName == contracted {
		receipt.Papers = inventory.LotPapers{MadeOn: inventory.DayOf(h.clock.AddDate(0, 0, -40)), Sealing: fit.VacuumFoil}
	}
	if n == 31 || n == 52 {
		receipt.Certificate = "" // it never came: the lot waits on hold
	}
	if n < len(h.wires) && wire.TradeName == readFromBox {
		if err := readBox(&receipt, wire); err != nil {
			return err
		}
	}
	lot, spools, err := h.ledger.Receive(h.ctx, receipt)
	if err != nil {
		return fmt.Errorf("lot %s: %w", receipt.LotNumber, err)
	}
	h.wireOf[lot.ID], h.waiting[lot.ID] = wire.ID, lot.Status != fit.LotAccepted || n == 40
	h.store[wire.ID] = append(h.store[wire.ID], spools...)
	if n == 40 {
		_, err = h.ledger.ChangeLot(h.ctx, inventory.LotChange{LotID: lot.ID, Person: h.engineer().Code, RequestKey: fmt.Sprintf("demo-lot-change-%d", n), Status: fit.LotOnHold, Reason: "porosity in two test plates: maker asked"})
	}
	return err
}

// The wire of which much rests on memory, and the one whose box and data sheet
// disagree.
const readFromBox, disagreeing = "Ember Ledger 308", "Dune Shrike 11"

// readBox answers what is to be read from the wire's box: only its strength is
// there, so the lot waits on hold.
func readBox(r *inventory.Receipt, wire inventory.Wire) error {
	questions, err := wire.BoxQuestions()
	if err != nil {
		return err
	}
	for _, q := range questions {
		answer := inventory.BoxAnswer{Field: q.Field, Value: q.Text(), Says: inventory.AsOnBox}
		if q.Name != "tensile_min" {
			answer.Says = inventory.NotOnTheBox
		}
		r.Box = append(r.Box, answer)
	}
	return nil
}

func (h *history) attendant() inventory.Person { return pick(h, h.withRole(inventory.Attendant)) }
func (h *history) engineer() inventory.Person  { return h.withRole(inventory.Engineer)[0] }

// fitting is a wire that fits a job under one of its procedures.
type fitting struct{ wire, procedure int64 }

// findFitting asks the fit check which wires may go to which job.
func (h *history) findFitting() error {
	for _, job := range h.jobs {
		if job.Closed || len(job.Procedures) > 1 { // that one waits for somebody at the counter
			continue
		}
		for _, wire := range h.wires {
			checks, err := h.ledger.CheckProcedures(h.ctx, h.store[wire.ID][0].Code, job.Code, "")
			if err != nil {
				return fmt.Errorf("job %s: %w", job.Number, err)
			}
			for _, check := range checks {
				if check.Fits() {
					h.fitting[job.Code] = append(h.fitting[job.Code], fitting{wire.ID, check.Procedure.ID})
				}
			}
		}
	}
	return nil
}

// clearShelves scraps what is used up, and now and then what was left open too
// long.
func (h *history) clearShelves() error {
	for _, wire := range h.wires {
		var keep []inventory.Spool
		limit := sheetLimit(wire)
		for _, s := range h.store[wire.ID] {
			old := s.Opened() && limit > 0 && h.clock.Sub(s.OpenedAt) > limit && h.end.Sub(h.clock) > 6*24*time.Hour
			switch {
			case s.Opened() && s.Net < 400:
				if _, err := h.ledger.Scrap(h.ctx, h.entry(s.Code, h.attendant()), "used up"); err != nil {
					return err
				}
			case old:
				if _, err := h.ledger.Scrap(h.ctx, h.entry(s.Code, h.engineer()), "open longer than its sheet allows"); err != nil {
					return err
				}
			default:
				keep = append(keep, s)
			}
		}
		h.store[wire.ID] = keep
	}
	return nil
}

// sheetLimit returns how long the wire's sheet lets it stand open; zero if it
// does not say.
func sheetLimit(w inventory.Wire) time.Duration {
	f, ok := w.Supplied.Best("exposure_limit")
	if !ok {
		return 0
	}
	hours, err := strconv.Atoi(f.Value)
	if err != nil {
		return 0
	}
	return time.Duration(hours) * time.Hour
}

// shift is one working day: spools go out in the morning and come back in the
// afternoon, but for the last day, on which they stay out.
func (h *history) shift(day int) error {
	last := day >= demoDays-1
	var out []inventory.Spool
	for i, job := range h.jobs {
		if len(h.fitting[job.Code]) == 0 || !last && h.rand.IntN(100) < 45 {
			continue
		}
		if !h.goTo(day, 6.5+float64(i)*0.1) {
			break
		}
		s, ok, err := h.issue(job)
		if err != nil {
			return err
		}
		if ok {
			out = append(out, s)
		}
	}
	for i, s := range out {
		if last || i == 0 && day >= demoDays-4 {
			h.outNow = append(h.outNow, s)
			continue // still out: somebody forgot it, or the shift is not over
		}
		if err := h.comeBack(day, i, s); err != nil {
			return err
		}
	}
	return nil
}

// issue hands the oldest fitting spool to a welder, opened ones first. ok is
// false where there is none that may go out.
func (h *history) issue(job inventory.Job) (inventory.Spool, bool, error) {
	use := pick(h, h.fitting[job.Code])
	wire := use.wire
	spools := h.store[wire]
	slices.SortStableFunc(spools, func(a, b inventory.Spool) int {
		switch {
		case a.Opened() == b.Opened():
			return 0
		case a.Opened():
			return -1
		}
		return 1
	})
	for i, s := range spools {
		if !s.Opened() && h.sealed(spools) <= reserve {
			break // the last ones are kept for what comes
		}
		gross := s.Net + s.Tare
		issued, err := h.ledger.Issue(h.ctx, inventory.Issue{Entry: h.entry(s.Code, h.attendant()), Job: job.Code, Procedure: use.procedure,
			Holder: pick(h, h.withRole(inventory.Welder)).Code, Gross: &gross})
		switch inventory.KindOf(err) {
		case "":
			h.store[wire] = slices.Delete(spools, i, i+1)
			return issued, true, nil
		case inventory.Refused:
			continue // open too long, or its lot is on hold
		}
		return s, false, err
	}
	return inventory.Spool{}, false, nil
}

// reserve is how many sealed spools of a wire the yard does not touch.
const reserve = 2

// sealed counts the sealed spools whose lot does not wait on hold.
func (h *history) sealed(spools []inventory.Spool) (n int) {
	for _, s := range spools {
		if !s.Opened() && !h.waiting[s.LotID] {
			n++
		}
	}
	return n
}

// comeBack returns a spool with some of its wire used; now and then it is
// entered the morning after.
func (h *history) comeBack(day, turn int, s inventory.Spool) error {
	h.goTo(day, 15+float64(turn)*0.1)
	used := min(s.Net, s.Full/10+unit.Grams(h.rand.IntN(int(s.Full)/3)))
	gross := s.Net + s.Tare - used
	r := inventory.Return{Entry: h.entry(s.Code, h.attendant()), Place: h.places[h.rand.IntN(6)].Code, Gross: &gross}
	if h.rand.IntN(30) == 0 {
		r.At = h.clock
		h.goTo(day, 29) // entered at five the next morning
	}
	s, err := h.ledger.Return(h.ctx, r)
	if err != nil {
		return err
	}
	wire := h.wireOf[s.LotID]
	h.store[wire] = append(h.store[wire], s)
	return nil
}
