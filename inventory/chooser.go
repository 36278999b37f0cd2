package inventory

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// chooser chooses among the spools in the store at one instant. The fit check
// runs once for the lots of a wire, the rules that weigh a lot once for each lot,
// and all of it for each spool that is listed.
type chooser struct {
	r     Reader
	base  Check                          // job, procedure, profile and feeder
	check func(Spool) (Check, error)     // the whole check of one spool, with its waivers
	shift func(exposure.Clock) time.Time // when it ends
	at    time.Time
	limit int
	air   *airs // nil until an open spool is looked at

	wires  map[int64]*knownWire
	judged map[judgedKey]*fit.LotCheck
	missed map[missKey]int // where in near
	near   []NearMiss
}

// knownWire is a wire with all that follows from it, worked out once.
type knownWire struct {
	Wire
	facts     filler.Facts
	conflicts []fit.Conflict
	turns     map[string][]fit.ExposureTurn // by what the lot's own exposure test found
}

// judgedKey names what is checked once: what it leaves out is of a lot alone,
// or of a spool.
type judgedKey struct {
	wire int64
	open bool
	lot  fit.LotKey
}

// openKey names open spools that differ by their exposure alone.
type openKey struct {
	lot  int64
	held string
}

func (c *chooser) choose() (Choices, error) {
	out := Choices{Job: c.base.Job, Procedure: c.base.Procedure, Feeder: c.base.Feeder}
	got, err := c.sift()
	if err != nil {
		return out, err
	}
	codes, fresh, err := c.open(got.open, got.lots)
	if err != nil {
		return out, err
	}
	if short := c.limit - len(codes); short > 0 && len(got.sealed) > 0 {
		more, err := c.r.SealedInStore(got.sealed, short)
		if err != nil {
			return out, err
		}
		codes = append(codes, more...)
	}
	if out.Fitting, err = c.list(codes, got.lots); err != nil {
		return out, err
	}
	out.More = got.spools + fresh - len(out.Fitting)
	if out.Fitting, err = c.addWaived(out.Fitting); err != nil {
		return out, err
	}
	out.Near = nearest(c.near, c.limit)
	return out, nil
}

// sifted is the stock after one check of each group.
type sifted struct {
	lots   map[int64]Lot
	open   map[openKey]fit.Verdict // that one rule stops at most
	sealed []int64                 // lots whose sealed spools fit
	spools int                     // how many sealed spools fit
}

// sift checks each group once. Sealed spools that one rule stops are misses.
func (c *chooser) sift() (sifted, error) {
	out := sifted{lots: map[int64]Lot{}, open: map[openKey]fit.Verdict{}}
	groups, err := c.r.InStore()
	if err != nil {
		return out, err
	}
	for _, g := range groups {
		v, err := c.judge(g)
		if err != nil {
			return out, err
		}
		out.lots[g.Lot.ID] = g.Lot
		switch stops, why := stopping(v); {
		case g.Open && stops < 2:
			out.open[openKey{g.Lot.ID, g.Held}] = v
		case stops == 0:
			out.sealed = append(out.sealed, g.Lot.ID)
			out.spools += g.Spools
		case stops == 1:
			c.miss(c.wires[g.Lot.WireID], g.Open, g.Spools, g.First, why)
		}
	}
	return out, nil
}

// addWaived adds the spools that the welding engineer lets go to the job
// against a rule.
func (c *chooser) addWaived(fitting []Choice) ([]Choice, error) {
	codes, err := c.r.WaivedInStore(c.base.Job.Code, c.at)
	if err != nil || len(codes) == 0 {
		return fitting, err
	}
	lines, err := c.r.SpoolLines(codes)
	if err != nil {
		return nil, err
	}
	for _, line := range lines {
		check, err := c.check(line.Spool)
		if err != nil {
			return nil, err
		}
		if len(check.Waivers) > 0 && check.Verdict.Answer != fit.DoesNotFit {
			fitting = append(fitting, choiceOf(line, check.Lot, check.Verdict, nil))
		}
	}
	slices.SortFunc(fitting, byTurn)
	return fitting[:min(len(fitting), c.limit)], nil
}

// byTurn orders spools as they are to be taken.
func byTurn(a, b Choice) int {
	first := map[bool]int{true: 0, false: 1}
	byUse := 0
	if !a.Opened() {
		byUse = cmp.Or(cmp.Compare(first[a.UseBy != ""], first[b.UseBy != ""]), cmp.Compare(a.UseBy, b.UseBy))
	}
	return cmp.Or(cmp.Compare(first[a.Opened()], first[b.Opened()]), a.OpenedAt.Compare(b.OpenedAt), byUse, a.ReceivedAt.Compare(b.ReceivedAt), cmp.Compare(a.Code, b.Code))
}

func choiceOf(line SpoolLine, lot Lot, v fit.Verdict, left *time.Duration) Choice {
	amount, _ := v.Find(fit.RuleRemaining)
	return Choice{SpoolLine: line, UseBy: lot.Papers.Expires, Verdict: v, Left: left, Amount: amount}
}

// judge checks a spool of the group: just opened, if they are open. What no lot
// has of its own is checked once for the lots of a wire.
func (c *chooser) judge(g StockGroup) (fit.Verdict, error) {
	w, err := c.wire(g.Lot.WireID)
	if err != nil {
		return fit.Verdict{}, err
	}
	s, fresh := Spool{Code: g.First, LotID: g.Lot.ID, Held: g.Held, Net: w.Net, Full: w.Net}, exposure.Clock{At: c.at}
	if g.Open {
		s.OpenedAt, fresh.OpenedAt = c.at, c.at
	}
	o := w.offer(s, g.Lot, fresh)
	key := judgedKey{w.ID, g.Open, o.LotKey()}
	check, known := c.judged[key]
	if !known {
		check = fit.NewLotCheck(o, c.base.demand(), c.base.Feeder.forFit(), c.base.Profile)
		c.judged[key] = check
	}
	return check.Check(o).Blocked(w.conflicts), nil
}

func (w *knownWire) offer(s Spool, lot Lot, clock exposure.Clock) fit.Offer {
	return offerOf(s, lot, w.Wire, w.facts, clock)
}

func (c *chooser) verdict(w *knownWire, o fit.Offer) fit.Verdict {
	return fit.Check(o, c.base.demand(), c.base.Feeder.forFit(), c.base.Profile).Blocked(w.conflicts)
}

func (c *chooser) wire(id int64) (*knownWire, error) {
	if w, ok := c.wires[id]; ok {
		return w, nil
	}
	wire, err := c.r.Wire(id)
	if err != nil {
		return nil, err
	}
	w := &knownWire{Wire: wire, turns: map[string][]fit.ExposureTurn{}}
	if w.facts, err = wire.Facts(); err != nil {
		return nil, fmt.Errorf("wire %d: %w", id, err)
	}
	w.facts = append(w.facts, wire.otherSizes()...)
	w.conflicts = fit.Conflicts(w.facts)
	c.wires[id] = w
	return w, nil
}

// open returns the first open spools that fit, and how many do in all, of
// those that at most one rule stopped when they were just opened. The others
// are misses, unless they were open too long on top.
func (c *chooser) open(groups map[openKey]fit.Verdict, lots map[int64]Lot) (codes []Code, n int, err error) {
	spools, err := c.r.OpenInStore(lotsOf(groups))
	if err != nil {
		return nil, 0, err
	}
	if err := c.breathe(spools); err != nil {
		return nil, 0, err
	}
	tooLong := map[int64]StockGroup{}
	for _, s := range spools {
		v, known := groups[openKey{s.LotID, s.Held}]
		if !known {
			continue
		}
		w := c.wires[lots[s.LotID].WireID]
		clock, err := c.clock(s.Track)
		if err != nil {
			return nil, 0, err
		}
		over := c.after(w, lots[s.LotID], clock) == fit.Stops
		switch stops, why := stopping(v); {
		case stops == 1 && !over:
			c.miss(w, true, 1, s.Code, why)
		case stops == 1:
		case over:
			tooLong[w.ID] = StockGroup{Lot: lots[s.LotID], Open: true, Spools: tooLong[w.ID].Spools + 1, First: s.Code}
		default:
			n++
			if len(codes) < c.limit {
				codes = append(codes, s.Code)
			}
		}
	}
	return codes, n, c.missTooLong(tooLong)
}

func lotsOf(groups map[openKey]fit.Verdict) []int64 {
	lots := map[int64]bool{}
	for key := range groups {
		lots[key.lot] = true
	}
	return sortedKeys(lots)
}

// missTooLong names, for each wire, the spool that was open too long by least.
func (c *chooser) missTooLong(groups map[int64]StockGroup) error {
	for _, id := range sortedKeys(groups) {
		g := groups[id]
		s, err := c.r.Spool(g.First)
		if err != nil {
			return err
		}
		clock, err := c.clock(s.Track)
		if err != nil {
			return err
		}
		if stops, why := stopping(c.verdict(c.wires[id], c.wires[id].offer(s, g.Lot, clock))); stops == 1 {
			c.miss(c.wires[id], true, g.Spools, g.First, why)
		}
	}
	return nil
}

func sortedKeys[V any](m map[int64]V) []int64 {
	keys := make([]int64, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// list checks each of the spools and returns those that fit, in the order of
// their codes' list.
func (c *chooser) list(codes []Code, lots map[int64]Lot) ([]Choice, error) {
	if len(codes) == 0 {
		return nil, nil
	}
	lines, err := c.r.SpoolLines(codes)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(lines, func(a, b SpoolLine) int {
		return cmp.Compare(slices.Index(codes, a.Code), slices.Index(codes, b.Code))
	})
	var out []Choice
	for _, line := range lines {
		w := c.wires[line.WireID]
		clock, err := c.clock(line.Track)
		if err != nil {
			return nil, err
		}
		o := w.offer(line.Spool, lots[line.LotID], clock)
		o.ShiftEnds = c.shift(clock)
		v := c.verdict(w, o)
		if v.Answer == fit.DoesNotFit {
			continue
		}
		out = append(out, choiceOf(line, lots[line.LotID], v, c.left(w, lots[line.LotID], clock)))
	}
	return out, nil
}

// stopping counts the rules that stop, and returns the last of them.
func stopping(v fit.Verdict) (n int, last fit.Finding) {
	for _, f := range v.Findings {
		if f.Outcome == fit.Stops {
			n, last = n+1, f
		}
	}
	return n, last
}
