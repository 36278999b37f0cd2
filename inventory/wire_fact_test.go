package inventory

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

func fact(name string) SheetFact {
	f, ok := SheetFactNamed(name)
	if !ok {
		panic(name)
	}
	return f
}

// Each row of the table is a case: its example must be understood, and what is
// written must read back the same.
func TestEveryFactOfTheTableReadsItsExample(t *testing.T) {
	t.Parallel()
	for _, f := range SheetFacts() {
		if f.Label == "" || f.Source == "" || f.Example == "" {
			t.Errorf("%+v lacks a label, a source or an example", f)
		}
		facts, err := f.Read(f.Example)
		if err != nil || len(facts) == 0 {
			t.Errorf("%s: Read(%q) = %v, %v; want it understood", f.Name, f.Example, facts, err)
			continue
		}
		again, err := f.Read(f.Text(facts))
		if diff := cmp.Diff(facts, again); err != nil || diff != "" {
			t.Errorf("%s: %q is written %q and reads back (-want +got), %v:\n%s", f.Name, f.Example, f.Text(facts), err, diff)
		}
	}
	if len(SheetFacts()) < 20 {
		t.Errorf("the table has %d rows", len(SheetFacts()))
	}
}

func TestFactsAreKeptInOneSpelling(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, fact, typed, want string }{
		{"a range", "stick_out", "13-19 mm", "13-19 mm"},
		{"with words", "stick_out", "13 to 19 mm", "13-19 mm"},
		{"with an en dash and both units", "stick_out", "13 mm – 19 mm", "13-19 mm"},
		{"in fractions", "stick_out", "1/2-3/4 in", "1/2-3/4 in"},
		{"without a leading zero", "stick_out", ".5-.75 in", ".5-.75 in"},
		{"one value", "voltage", "26 V", "26 V"},
		{"a synonym of a unit", "wire_feed", "200-350 ipm", "200-350 in/min"},
		{"by diameter", "wire_feed", ".035 in: 5-9 m/min; .045 in: 4-8 m/min", ".035 in: 5-9 m/min; .045 in: 4-8 m/min"},
		{"drag", "travel", "drag", "drag only"},
		{"drag or push", "travel", "Drag or Push", "either"},
		{"hours", "exposure_limit", "72h", "72 h"},
		{"per cent", "deposition_efficiency", "85%", "85 %"},
		{"some passes", "passes", "at most 3 passes", "at most 3 passes"},
		{"positions in the table's order", "positions", "horizontal, flat", "flat|horizontal"},
		{"no gas", "gas", "No gas", "none"},
		{"gas permitted", "self_shielded_gas_permitted", "yes", "yes"},
		{"a temperature below zero", "impact_temperature", "-20 °F", "-20 degF"},
		{"drying", "drying", "4 h at 260-290 °C, at most 2 times", "4 h at 260-290 degC, at most 2 times"},
		{"an exposure test", "tested_exposure", "120h, 9 ml/100g", "120 h, 9 mL/100 g"},
		{"no drying", "drying", "no", "not allowed"},
		{"gases with flow and mode", "approved_gas", "CO2: 17-21 L/min, globular\n75 Ar 25 CO2: 40 cfh, spray transfer", "CO2: 17-21 L/min, globular; 75 Ar 25 CO2: 40 cfh, spray"},
		{"a gas alone", "approved_gas", "CO2", "CO2"},
	}
	for _, tt := range tests {
		facts, err := fact(tt.fact).Read(tt.typed)
		if got := fact(tt.fact).Text(facts); err != nil || got != tt.want {
			t.Errorf("%s: Read(%q) as %s = %q, %v; want %q", tt.name, tt.typed, tt.fact, got, err, tt.want)
		}
	}
}

func TestWhatIsNotUnderstoodNamesFieldInputAndExample(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, fact, typed string }{
		{"no unit", "stick_out", "13-19"},
		{"another fact's unit", "stick_out", "13-19 V"},
		{"two units", "stick_out", "13 mm - 1 in"},
		{"the wrong way round", "stick_out", "19-13 mm"},
		{"nothing between", "stick_out", "13-13 mm"},
		{"below zero", "stick_out", "-5 mm"},
		{"zero", "max_thickness", "0 mm"},
		{"a division by zero", "max_thickness", "1/0 in"},
		{"three numbers", "stick_out", "1-2-3 mm"},
		{"half an hour", "exposure_limit", "1.5 h"},
		{"days", "exposure_limit", "3 days"},
		{"more than all", "deposition_efficiency", "101 %"},
		{"no such word", "travel", "sideways"},
		{"at most one pass", "passes", "at most 1 passes"},
		{"at most many passes", "passes", "at most many passes"},
		{"no such position", "positions", "flat|upside down"},
		{"all and some", "positions", "all|flat"},
		{"twice", "positions", "flat|flat"},
		{"a gas of 90 parts", "gas", "75 Ar 15 CO2"},
		{"no gas that is approved", "approved_gas", "none: 20 L/min"},
		{"a mode nobody knows", "approved_gas", "CO2: 17 L/min, magic"},
		{"one size twice", "wire_feed", ".035 in: 5 m/min; .035 in: 6 m/min"},
		{"a size that is none", "wire_feed", "big: 5 m/min"},
		{"drying for no time", "drying", "0 h at 260 degC"},
		{"an exposure test without its hydrogen", "tested_exposure", "120 h"},
		{"an exposure test in days", "tested_exposure", "5 days, 9 mL/100 g"},
		{"drying never", "drying", "4 h at 260 degC, at most 0 times"},
		{"too long", "gas", strings.Repeat("CO2 or ", 100) + "CO2"},
	}
	for _, tt := range tests {
		f := fact(tt.fact)
		got, err := f.Read(tt.typed)
		e, ok := errors.AsType[*Error](err)
		if !ok || e.Kind != Invalid || len(e.Fields) != 1 || e.Fields[0].Field != tt.fact || !strings.Contains(e.Detail, f.Label) || !strings.Contains(e.Detail, tt.typed[:2]) {
			t.Errorf("%s: Read(%q) as %s = %v, %v; want a fault of field %s that names it and what was typed", tt.name, tt.typed, tt.fact, got, err, tt.fact)
		}
		if ok && !strings.Contains(e.Detail, f.Example) && !strings.Contains(e.Detail, "twice") {
			t.Errorf("%s: Read(%q): %q has no example", tt.name, tt.typed, e.Detail)
		}
	}
}

func TestFactsOfAnotherSizeDoNotHold(t *testing.T) {
	t.Parallel()
	read := func(name, text string) filler.Facts {
		facts, err := fact(name).Read(text)
		if err != nil {
			t.Fatal(err)
		}
		for i := range facts {
			facts[i].Provenance, facts[i].Source = filler.DataSheet, "sheet"
		}
		return facts
	}
	w := Wire{Diameter: 45 * unit.Inch / 1000, Classifications: []string{"E71T-1C"},
		Supplied: append(read("max_thickness_single_pass", ".035 in: 5 mm; 1.143 mm: 8 mm"), read("approved_gas", "CO2: 17-21 L/min")...)}
	facts, err := w.Facts()
	if err != nil {
		t.Fatal(err)
	}
	if got := facts.Named("max_thickness_single_pass"); len(got) != 1 || got[0].Value != "8" {
		t.Errorf("of a .045 in wire: %v, want 8 mm alone", got)
	}
	offered, err := offer(Spool{}, Lot{}, w, exposure.Clock{})
	if err != nil || len(offered.Facts.Named("max_thickness_single_pass")) != 2 {
		t.Errorf("offer() = %v, %v; want both sizes, of which the fit check names one that would do", offered.Facts, err)
	}
	if gas, ok := facts.Best("gas"); !ok || gas.Provenance != filler.DataSheet || gas.Value != "CO2" {
		t.Errorf("gas %+v, want the one the sheet approves", gas)
	}
	w.Supplied = read("approved_gas", "75 Ar 25 CO2")
	conflicts, err := w.Conflicts()
	if err != nil || len(conflicts) != 1 || conflicts[0].Fact != "gas" {
		t.Errorf("Conflicts() = %+v, %v; want one over the gas", conflicts, err)
	}
}

func FuzzReadSheetFact(f *testing.F) {
	for i, row := range SheetFacts() {
		f.Add(i, row.Example)
	}
	f.Fuzz(func(t *testing.T, i int, text string) {
		rows := SheetFacts()
		row := rows[(i%len(rows)+len(rows))%len(rows)]
		facts, err := row.Read(text)
		if err != nil {
			return
		}
		again, err := row.Read(row.Text(facts))
		if diff := cmp.Diff(facts, again); err != nil || diff != "" {
			t.Errorf("%s: %q reads as %v and %q back as %v, %v", row.Name, text, facts, row.Text(facts), again, err)
		}
	})
}
