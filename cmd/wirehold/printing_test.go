package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/labels"
	"wirehold/server/notify"
)

// asked is a register that counts what it is asked, one by one and at once.
type asked struct {
	labels.Register
	single, plural int
}

func (a *asked) one()  { a.single++ }
func (a *asked) many() { a.plural++ }

func (a *asked) Spool(c inventory.Code) (inventory.Spool, error) { a.one(); return a.Register.Spool(c) }
func (a *asked) History(c inventory.Code) ([]inventory.Movement, error) {
	a.one()
	return a.Register.History(c)
}
func (a *asked) Lot(id int64) (inventory.Lot, error)             { a.one(); return a.Register.Lot(id) }
func (a *asked) Wire(id int64) (inventory.Wire, error)           { a.one(); return a.Register.Wire(id) }
func (a *asked) Place(c inventory.Code) (inventory.Place, error) { a.one(); return a.Register.Place(c) }
func (a *asked) Feeder(c inventory.Code) (inventory.Feeder, error) {
	a.one()
	return a.Register.Feeder(c)
}
func (a *asked) Person(c inventory.Code) (inventory.Person, error) {
	a.one()
	return a.Register.Person(c)
}
func (a *asked) Job(c inventory.Code) (inventory.Job, error) { a.one(); return a.Register.Job(c) }
func (a *asked) ProceduresWith(ids []int64) ([]inventory.Procedure, error) {
	a.many()
	return a.Register.ProceduresWith(ids)
}
func (a *asked) SpoolsWith(c []inventory.Code) ([]inventory.Spool, error) {
	a.many()
	return a.Register.SpoolsWith(c)
}
func (a *asked) HistoriesOf(c []inventory.Code) (map[inventory.Code][]inventory.Movement, error) {
	a.many()
	return a.Register.HistoriesOf(c)
}
func (a *asked) LotsWith(ids []int64) ([]inventory.Lot, error) {
	a.many()
	return a.Register.LotsWith(ids)
}
func (a *asked) WiresWith(ids []int64) ([]inventory.Wire, error) {
	a.many()
	return a.Register.WiresWith(ids)
}
func (a *asked) PlacesWith(c []inventory.Code) ([]inventory.Place, error) {
	a.many()
	return a.Register.PlacesWith(c)
}
func (a *asked) FeedersWith(c []inventory.Code) ([]inventory.Feeder, error) {
	a.many()
	return a.Register.FeedersWith(c)
}
func (a *asked) PeopleWith(c []inventory.Code) ([]inventory.Person, error) {
	a.many()
	return a.Register.PeopleWith(c)
}
func (a *asked) JobsWith(c []inventory.Code) ([]inventory.Job, error) {
	a.many()
	return a.Register.JobsWith(c)
}

// TestManyLabelsAreLookedUpAtOnce holds the labels of everything in the yard,
// looked up at once, against the same one by one.
func TestManyLabelsAreLookedUpAtOnce(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	cat, shop := s.store.Catalog(t.Context()), labels.Shop{Base: "https://wire.example"}
	codes := map[inventory.SpoolState][]inventory.Code{}
	for _, state := range []inventory.SpoolState{inventory.StateIssued, inventory.StateHeld, inventory.StateOpen, inventory.StateSealed} {
		for _, line := range must(cat.Spools(inventory.Query{State: string(state), Limit: 200}))(t) {
			codes[state] = append(codes[state], line.Code)
		}
	}
	for i, c := range codes[inventory.StateSealed][:3] {
		must(s.ledger.Hold(t.Context(), inventory.Entry{Spool: c, Person: s.withRole(inventory.Attendant)[0].Code, RequestKey: fmt.Sprint("hold-", i)}, "torn box"))(t)
		codes[inventory.StateHeld] = append(codes[inventory.StateHeld], c)
	}
	all := slices.Concat(codes[inventory.StateIssued], codes[inventory.StateOpen], codes[inventory.StateSealed])
	code := func(of any) inventory.Code { return must(inventory.ParseCode(fmt.Sprint(of)))(t) }
	var places, feeders, people, jobs []inventory.Code
	for _, p := range must(cat.Places())(t) {
		places = append(places, code(p.Code))
	}
	for _, f := range must(cat.Feeders())(t) {
		feeders = append(feeders, code(f.Code))
	}
	for _, p := range must(cat.People())(t) {
		people = append(people, code(p.Code))
	}
	for _, j := range s.jobs {
		jobs = append(jobs, j.Code)
	}
	tests := []struct {
		kind   labels.Kind
		codes  []inventory.Code
		plural int // how often the register is asked at most
	}{
		{labels.KindSpool, all, 3}, {labels.KindHub, all, 3}, {labels.KindHold, codes[inventory.StateHeld], 4}, {labels.KindSlip, codes[inventory.StateIssued], 6},
		{labels.KindPlace, places, 1}, {labels.KindFeeder, feeders, 1}, {labels.KindBadge, people, 1}, {labels.KindJob, jobs, 2},
	}
	for _, tt := range tests {
		var want []labels.Label
		for _, c := range tt.codes {
			want = append(want, must(shop.Of(cat, tt.kind, c))(t))
		}
		r := &asked{Register: cat}
		got, err := shop.Each(r, tt.kind, tt.codes)
		if err != nil || len(got) == 0 {
			t.Errorf("Each of %d %s labels: %d, %v", len(tt.codes), tt.kind, len(got), err)
			continue
		}
		if diff := cmp.Diff(want, got, cmp.AllowUnexported(labels.Label{})); diff != "" {
			t.Errorf("Each of %d %s labels (-one by one +at once):\n%s", len(tt.codes), tt.kind, diff)
		}
		if r.single != 0 || r.plural > tt.plural {
			t.Errorf("Each of %d %s labels asks %d times for one thing and %d times for many, want 0 and %d", len(tt.codes), tt.kind, r.single, r.plural, tt.plural)
		}
	}
	got, err := shop.Each(cat, labels.KindSpool, []inventory.Code{all[0], all[0], "W2222-2", all[1]})
	if inventory.CodeOf(err) != "no-such-spool" || len(got) != 2 {
		t.Errorf("Each with the third not there: %d labels, %v, want the two before it and no-such-spool", len(got), err)
	}
}

// TestTheDemosPrinterIsReachedNowhere prints what the demo's history gave up,
// and a label on a printer that is not there.
func TestTheDemosPrinterIsReachedNowhere(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx, p := t.Context(), &paperless{}
	printing := must(newPrinting(&program{now: clock}, s.ledger, func(ctx context.Context) labels.Register { return s.store.Catalog(ctx) }, labels.Shop{}, quiet))(t)
	var others []string
	printing.Reach = p.reach(func(address string) (notify.Printer, error) {
		others = append(others, address)
		return nil, errors.New("nothing is reached from here")
	})
	engineer := s.withRole(inventory.Engineer)[0].Code
	jobs := must(s.ledger.PrintJobs(ctx))(t)
	if len(jobs) != 2 || jobs[0].State() != inventory.MessageDead || jobs[1].SentAt.IsZero() {
		t.Fatalf("the demo has the print jobs %+v, want one that was given up and one that was printed", jobs)
	}
	must(s.ledger.RetryPrint(ctx, jobs[0].ID, engineer))(t)
	own := must(s.ledger.EnterPrinter(ctx, inventory.PrinterEntry{Edit: inventory.Edit{Person: engineer, RequestKey: "real"},
		Of: inventory.Printer{Name: "Real", Address: "ipp://printer.example/", DPI: 203, Size: "100x75", Format: "pdf"}}))(t)
	must(s.ledger.Print(ctx, inventory.PrintOrder{Person: engineer, RequestKey: "on it", PrinterID: own.ID, Kind: "job", Of: []string{string(s.jobs[0].Code)}}))(t)
	if err := printing.Round(ctx); err != nil {
		t.Fatal(err)
	}
	jobs = must(s.ledger.PrintJobs(ctx))(t)
	if jobs[1].SentAt.IsZero() || jobs[0].DeadAt.IsZero() || !slices.Equal(others, []string{own.Address}) {
		t.Errorf("after a round the jobs are %+v, reached were %q: want the demo's printed, and only %s reached", jobs[:2], others, own.Address)
	}
	if a, err := p.ask(ctx, inventedAddress); err != nil || !a.Accepting || a.Doubts(inventory.Printer{DPI: 203, Format: "pdf"}) != nil {
		t.Errorf("ask = %+v, %v, want an answer without doubts", a, err)
	}
}

// TestTheQueueSaysHowFarAJobIs has a printer take the first of three labels,
// and asks pages and API.
func TestTheQueueSaysHowFarAJobIs(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx, engineer := t.Context(), s.withRole(inventory.Engineer)[0].Code
	on := must(s.ledger.EnterPrinter(ctx, inventory.PrinterEntry{Edit: inventory.Edit{Person: engineer, RequestKey: "desk"},
		Of: inventory.Printer{Name: "Desk", Address: "ipp://printer.example/", DPI: 203, Size: "100x75", Format: "png"}}))(t)
	print := func(key string, jobs ...inventory.Job) {
		t.Helper()
		var of []string
		for _, j := range jobs {
			of = append(of, string(j.Code))
		}
		must(s.ledger.Print(ctx, inventory.PrintOrder{Person: engineer, RequestKey: key, PrinterID: on.ID, Kind: "job", Of: of}))(t)
	}
	print("three", s.jobs[:3]...)
	print("one", s.jobs[3])
	task, ok, err := s.ledger.ClaimPrint(ctx, "claim", today, today.Add(time.Minute))
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	task.Taken = 1
	if err := s.ledger.PrintAdvanced(ctx, task, today.Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	if err := s.ledger.PrintFailed(ctx, task, "no paper", today, today.Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string][]string{
		"/print-jobs":        {"waiting, 1 of 3 labels sent", "no paper", "print job 3 is before it: no paper"},
		"/api/v1/print-jobs": {`"taken":1`, `"fault":"print job 3 is before it: no paper"`},
	} {
		_, _, answer := s.do(t, "GET", path, "", "")
		for _, w := range want {
			if !strings.Contains(answer, w) {
				t.Errorf("GET %s lacks %q:\n%s", path, w, answer)
			}
		}
	}
}
