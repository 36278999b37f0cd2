package store_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// newRack is a shop with a wire of each sort beside its own.
func newRack(t *testing.T) *shop {
	t.Helper()
	s := newShop(t, 2)
	for _, w := range []struct {
		name, class, pack string
		size              unit.Length
		shielding         string
	}{
		{"Petrel 11", "E71T-11", "10 lb spool", 35 * unit.Inch / 1000, ""},
		{"Petrel 11", "E71T-11", "10 lb spool", 45 * unit.Inch / 1000, ""},
		{"Metric 11", "E71T-11", "5 kg spool", 9 * unit.Millimetre / 10, ""},
		{"Plain 6", "ER70S-6", "12 in spool", 35 * unit.Inch / 1000, ""},
		{"Plain 6 rod", "ER70S-6", "10 lb of cut lengths", unit.Inch / 16, ""},
		{"Core 6", "E70C-6M", "12 in spool", 45 * unit.Inch / 1000, ""},
		{"Gasless by name", "E71T-GS", "10 lb spool", 30 * unit.Inch / 1000, ""},
		{"Wren GS", "E71T-GS", "10 lb spool", 30 * unit.Inch / 1000, "self"},
	} {
		wire := inventory.Wire{Maker: "Maker Cobalt", TradeName: w.name, Classifications: []string{w.class}, Package: w.pack, Diameter: w.size, Marked: w.size.Inches(), Net: 5000, Tare: 250}
		if w.shielding != "" {
			wire.Supplied = filler.Facts{{Name: "shielding", Value: w.shielding, Provenance: filler.DataSheet, Source: "invented sheet"}}
		}
		must(s.ledger.AddWire(t.Context(), wire))(t)
	}
	return s
}

// found returns the names and sizes of the wires that a search finds.
func (s *shop) found(t *testing.T, text string) []string {
	t.Helper()
	m := must(s.ledger.Understand(t.Context(), text))(t)
	q := inventory.Query{Text: text}
	if m.Understood() {
		q.Meaning = &m
	}
	out := []string{}
	for _, w := range must(s.store.Catalog(t.Context()).Wires(q))(t) {
		out = append(out, w.TradeName+" "+w.Diameter.Inches())
	}
	return out
}

func TestSearchUnderstandsNamesAndSizes(t *testing.T) {
	t.Parallel()
	s := newRack(t)
	petrel35, petrel45, metric := "Petrel 11 .035 in", "Petrel 11 .045 in", "Metric 11 .0354 in"
	byName, wren, kestrel := "Gasless by name .030 in", "Wren GS .030 in", "Amber Kestrel 71M .045 in"
	plain, rod, core := "Plain 6 .035 in", "Plain 6 rod 1/16 in", "Core 6 .045 in"
	tests := []struct {
		name, text string
		want       []string
	}{
		{"gasless is self-shielded, or what is called so", "gasless", []string{byName, metric, petrel35, petrel45, wren}},
		{"and of a size, inch or metric", "gasless .035", []string{metric, petrel35}},
		{"the metric size finds the inch size", "open-arc 0.9 mm", []string{metric, petrel35}},
		{"a bare flux core is both", "flux core .045", []string{kestrel, petrel45}},
		{"with gas is one", "gas-shielded flux cored", []string{kestrel}},
		{"solid wire is not the rod", "solid", []string{plain}},
		{"the rod is not the wire", "tig rod 1/16", []string{rod}},
		{"metal cored", "metal-cored wire", []string{core}},
		{"1.2 mm is sold for .045 in", "1.2 mm", []string{kestrel, core, petrel45}},
		{"so is 1.1 mm printed on the box", "1.1mm", []string{kestrel, core, petrel45}},
		{"words still count", "gasless petrel", []string{petrel35, petrel45}},
		{"a designation is words", "E71T-11 .045", []string{petrel45}},
		{"nothing is found where nothing is", "metal cored .035", []string{}},
	}
	for _, tt := range tests {
		got := s.found(t, tt.text)
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: search %q finds (-want +got):\n%s", tt.name, tt.text, diff)
		}
	}
	m := must(s.ledger.Understand(t.Context(), "flux cored 045"))(t)
	if spools := must(s.store.Catalog(t.Context()).Spools(inventory.Query{Meaning: &m}))(t); len(spools) != 2 {
		t.Errorf("search of spools finds %d, want the shop's 2", len(spools))
	}
	if lots := must(s.store.Catalog(t.Context()).Lots(inventory.Query{Meaning: &m}))(t); len(lots) != 1 {
		t.Errorf("search of lots finds %d, want the shop's 1", len(lots))
	}
}

func TestNicknames(t *testing.T) {
	t.Parallel()
	s := newRack(t)
	ctx := t.Context()
	entered := func(name string, p fit.Process, by inventory.Person) error {
		_, err := s.ledger.AddNickname(ctx, inventory.Nickname{Name: name, Process: p, Person: by.Code})
		return err
	}
	tests := []struct {
		name  string
		err   error
		kind  inventory.Kind
		holds string
	}{
		{"an attendant may not", entered("bridge wire", fit.FCAWG, s.attendant), inventory.Forbidden, "Ina is a store attendant"},
		{"the engineer may", entered("  Bridge   Wire ", fit.FCAWG, s.engineer), "", ""},
		{"a second meaning is a conflict", entered("bridge-wires", fit.FCAWS, s.engineer), inventory.Conflict, "stands for FCAW-G already"},
		{"a name of the trade has its meaning", entered("Gasless", fit.FCAWG, s.engineer), inventory.Invalid, "means FCAW-S everywhere"},
		{"one that asks which goes on asking", entered("flux core", fit.FCAWS, s.engineer), inventory.Invalid, "has to be asked which"},
		{"a size is no name", entered(".045 special", fit.FCAWS, s.engineer), inventory.Invalid, "begins with a size"},
		{"nor is nothing", entered("  ", fit.FCAWS, s.engineer), inventory.Invalid, "1 to 40 characters"},
		{"nor a novel", entered(strings.Repeat("long ", 9), fit.FCAWS, s.engineer), inventory.Invalid, "1 to 40 characters"},
		{"nor wire", entered("wires", fit.FCAWS, s.engineer), inventory.Invalid, "every wire"},
		{"nor a code", entered(string(s.spools[0].Code), fit.FCAWS, s.engineer), inventory.Invalid, "code on a label"},
		{"it stands for a process", entered("yard wire", "SAW", s.engineer), inventory.Invalid, "process"},
	}
	for _, tt := range tests {
		if inventory.KindOf(tt.err) != tt.kind || tt.kind != "" && !strings.Contains(tt.err.Error(), tt.holds) {
			t.Errorf("%s: error %v, want kind %q that holds %q", tt.name, tt.err, tt.kind, tt.holds)
		}
	}
	if got := s.found(t, "bridge wire"); len(got) != 1 || got[0] != "Amber Kestrel 71M .045 in" {
		t.Errorf("search for the nickname finds %q, want the gas-shielded wire", got)
	}
	names := must(s.ledger.Nicknames(ctx))(t)
	if len(names) != 1 || names[0].Name != "Bridge Wire" || names[0].By != "Ilse" {
		t.Fatalf("Nicknames() = %+v, want the one of Ilse", names)
	}
	if err := s.ledger.RetireNickname(ctx, names[0].ID, s.welder.Code); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("RetireNickname by a welder: %v, want it forbidden", err)
	}
	if err := s.ledger.RetireNickname(ctx, names[0].ID, s.engineer.Code); err != nil {
		t.Errorf("RetireNickname: %v", err)
	}
	if err := s.ledger.RetireNickname(ctx, names[0].ID, s.engineer.Code); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("RetireNickname twice: %v, want not found", err)
	}
	if got := s.found(t, "bridge wire"); len(got) != 0 {
		t.Errorf("search for a retired name finds %q", got)
	}
	if err := entered("bridge wire", fit.FCAWS, s.engineer); err != nil {
		t.Errorf("a retired name cannot be given anew: %v", err)
	}
}

func TestCheckWireSupposesASealedSpool(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	must(s.ledger.ChangeLot(ctx, inventory.LotChange{LotID: s.lot.ID, Person: s.engineer.Code, RequestKey: s.key(), Status: fit.LotOnHold, Reason: "rust"}))(t)
	spool := must(s.ledger.CheckFit(ctx, s.spools[0].Code, s.job.Code, ""))(t)
	wire := must(s.ledger.CheckWire(ctx, s.wire.ID, s.job.Code))(t)
	if spool.Verdict.Answer != fit.DoesNotFit || wire.Verdict.Answer == fit.DoesNotFit {
		t.Errorf("the spool of a lot on hold %s, its wire %s; want that the spool does not fit and the wire does", spool.Verdict.Answer, wire.Verdict.Answer)
	}
	if got := must(s.ledger.CheckWire(ctx, s.wire.ID, s.wrongJob.Code))(t); got.Verdict.Answer != fit.DoesNotFit {
		t.Errorf("CheckWire against the wrong job %s", got.Verdict.Answer)
	}
	if _, err := s.ledger.CheckWire(ctx, 999, s.job.Code); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("CheckWire of no wire: %v, want not found", err)
	}
	if history := must(s.ledger.History(ctx, s.spools[0].Code))(t); len(history) != 1 {
		t.Errorf("checking wires left %d movements, want the receipt alone", len(history))
	}
}
