package store_test

import (
	"errors"
	"testing"

	"gorm.io/gorm"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

func TestListsFindWhatIsAskedFor(t *testing.T) {
	t.Parallel()
	s := newShop(t, 4)
	ctx := t.Context()
	out := must(s.ledger.Issue(ctx, s.issue(s.spools[0].Code)))(t)
	must(s.ledger.Open(ctx, s.entry(s.spools[1].Code)))(t)
	must(s.ledger.Hold(ctx, s.entry(s.spools[2].Code), "torn box"))(t)
	c := s.store.Catalog(ctx)

	spools := []struct {
		name  string
		query inventory.Query
		want  int
	}{
		{"every spool", inventory.Query{}, 4},
		{"by wire, in any case", inventory.Query{Text: "kestrel amber"}, 4},
		{"by who has it", inventory.Query{Text: "mirel"}, 1},
		{"by job number", inventory.Query{Text: "2201"}, 1},
		{"a percent sign is only itself", inventory.Query{Text: "%"}, 0},
		{"an underscore is only itself", inventory.Query{Text: "Amber_Kestrel"}, 0},
		{"issued", inventory.Query{State: string(inventory.StateIssued)}, 1},
		{"open", inventory.Query{State: string(inventory.StateOpen)}, 1},
		{"on hold", inventory.Query{State: string(inventory.StateHeld)}, 1},
		{"sealed", inventory.Query{State: string(inventory.StateSealed)}, 1},
		{"scrapped", inventory.Query{State: string(inventory.StateScrapped)}, 0},
		{"of the lot", inventory.Query{Lot: s.lot.ID}, 4},
		{"of another wire", inventory.Query{Wire: 99}, 0},
		{"out on the job", inventory.Query{Job: s.job.Code}, 1},
		{"one a page", inventory.Query{Limit: 1}, 1},
		{"past the end", inventory.Query{After: 4}, 0},
	}
	for _, tt := range spools {
		got, err := c.Spools(tt.query)
		if err != nil || len(got) != tt.want {
			t.Errorf("%s: Spools(%+v) has %d lines, error %v; want %d", tt.name, tt.query, len(got), err, tt.want)
		}
	}
	line := must(c.SpoolLine(out.Code))(t)
	if line.Spool != out || line.HolderName != "Mirel" || line.JobNumber != "2201" || line.PlaceName != "Shelf A1" || line.Class != "E71T-1M-H8" {
		t.Errorf("SpoolLine(%s) = %+v", out.Code, line)
	}
	wires := must(c.Wires(inventory.Query{Text: "71T"}))(t)
	if len(wires) != 1 || wires[0].Spools != 4 || wires[0].Usable != 30_000 || wires[0].Out != 15_000 || wires[0].TradeName != s.wire.TradeName || wires[0].Minimum != s.wire.Minimum {
		t.Errorf("Wires = %+v, want one with 4 spools, 30 kg usable, 15 kg out", wires)
	}
	jobs := must(c.Jobs(inventory.Query{Text: "girders"}))(t)
	if len(jobs) != 1 || jobs[0].Out != 1 || jobs[0].ProcedureName != "WPS-11 rev C" || jobs[0].Number != "2201" || jobs[0].Code != s.job.Code {
		t.Errorf("Jobs = %+v, want one with a spool out", jobs)
	}
	feeders := must(c.Feeders())(t)
	if len(feeders) != 1 || feeders[0].Name != "Feeder 1" || feeders[0].Code != s.feeder.Code || feeders[0].Gas == nil {
		t.Errorf("Feeders = %+v, want the one", feeders)
	}
	if places, people := must(c.Places())(t), must(c.People())(t); len(places) != 2 || places[0].Name != "Dry cabinet 1" || len(people) != 4 || people[0].Name != "Ilse" {
		t.Errorf("Places = %+v, People = %+v", places, people)
	}
	lots := must(c.Lots(inventory.Query{State: string(fit.LotAccepted)}))(t)
	if len(lots) != 1 || lots[0].Net != 60_000 || lots[0].Number != s.lot.Number || lots[0].TradeName != s.wire.TradeName {
		t.Errorf("Lots = %+v, want one with 60 kg", lots)
	}
}

func TestEveryLookUpOfNothingIsNotFound(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	r := s.store.Catalog(t.Context())
	tests := map[string]func() error{
		"spool":     func() error { _, err := r.Spool("W"); return err },
		"line":      func() error { _, err := r.SpoolLine("W"); return err },
		"lot":       func() error { _, err := r.Lot(99); return err },
		"wire":      func() error { _, err := r.Wire(99); return err },
		"place":     func() error { _, err := r.Place("K"); return err },
		"feeder":    func() error { _, err := r.Feeder("F"); return err },
		"person":    func() error { _, err := r.Person("P"); return err },
		"job":       func() error { _, err := r.Job("J"); return err },
		"number":    func() error { _, err := r.JobNumbered("9"); return err },
		"procedure": func() error { _, err := r.Procedure(99); return err },
	}
	for name, look := range tests {
		if err := look(); inventory.KindOf(err) != inventory.NotFound {
			t.Errorf("%s: error %v, want NotFound", name, err)
		}
	}
}

// The drivers, with cgo and without, must tell these two apart alike.
func TestDuplicateAndDanglingKeysAreTold(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	_, err := s.ledger.AddPlace(ctx, inventory.Place{Name: s.shelf.Name, Kind: inventory.Shelf})
	if inventory.CodeOf(err) != "already-there" || !errors.Is(err, gorm.ErrDuplicatedKey) {
		t.Errorf("a second place of the name: error %v, want already-there", err)
	}
	err = s.store.Write(ctx, func(tx inventory.Tx) error {
		_, err := tx.AddLot(inventory.Lot{WireID: 99, Number: "x"})
		return err
	})
	if inventory.CodeOf(err) != "names-nothing" || !errors.Is(err, gorm.ErrForeignKeyViolated) {
		t.Errorf("a lot of no wire: error %v, want names-nothing", err)
	}
}

func TestWhatIsEnteredIsReadBack(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	r := s.store.Read(t.Context())
	if got := must(r.Feeder(s.feeder.Code))(t); got.Name != s.feeder.Name || *got.Gas != *s.feeder.Gas || len(got.Polarities) != 2 || got.Diameters[0] != s.feeder.Diameters[0] {
		t.Errorf("Feeder = %+v, want %+v", got, s.feeder)
	}
	if got := must(r.Wire(s.wire.ID))(t); len(got.Supplied) != 1 || got.Supplied[0] != s.wire.Supplied[0] || got.Classifications[0] != "E71T-1M-H8" {
		t.Errorf("Wire = %+v, want %+v", got, s.wire)
	}
	if got := must(r.Job(s.job.Code))(t); got.Name != s.job.Name || got.BaseMetals[0] != s.job.BaseMetals[0] {
		t.Errorf("Job = %+v, want %+v", got, s.job)
	}
	if got := must(r.Procedure(s.job.Procedures[0]))(t); got.Gas == nil || *got.Gas != (fit.Gas{Argon: 75, CO2: 25}) || got.Passes != fit.MultiPass {
		t.Errorf("Procedure = %+v", got)
	}
}
