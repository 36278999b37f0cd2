package filler

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// expected is what a row of worked_examples.csv demands in the tables' words.
func expected(r testRow) []Fact {
	one := func(name, value, unit string) []Fact {
		return []Fact{{Name: name, Value: value, Unit: unit, Provenance: r.provenance}}
	}
	switch r.attribute {
	case "tensile_min_ksi":
		return one("tensile_min", r.value, "ksi")
	case "hydrogen_max":
		return one("diffusible_hydrogen_max", r.value, "mL/100 g deposited")
	case "max_thickness_mm":
		return one("max_thickness", r.value, "mm")
	case "max_thickness_d1_1_mm":
		return one("max_thickness_d1_1_prequalified", r.value, "mm")
	case "max_sheet_thickness_mm":
		return one("max_sheet_thickness", r.value, "mm")
	case "tensile_ksi":
		return one("tensile", r.value, "ksi")
	case "CO2":
		return one("CO2", r.value, "vol %")
	case "Mo":
		return one("Mo", r.value, "wt %")
	case "Ni", "Mg":
		return one("composition", r.attribute+" "+r.value, "wt %")
	case "core":
		if r.spec == "ISO 17632" {
			return one("core", r.value, "")
		}
		return one("form", r.value+" cored", "")
	case "yield_min_MPa":
		return one("yield_min", r.value, "MPa")
	case "tensile_min_MPa":
		return one("tensile_min", r.value, "MPa")
	case "aws_near":
		return one("aws_near_equal", r.value, "")
	case "impact":
		if r.value == "no requirement" {
			return one("impact_min_energy", "none required", "")
		}
		if energy, temperature, ok := strings.Cut(strings.TrimSuffix(r.value, " degC"), " J at "); ok {
			return append(one("impact_min_energy", energy, "J"), one("impact_temperature", temperature, "degC")...)
		}
		energy, temperature, ok := strings.Cut(strings.TrimSuffix(r.value, " degF"), " ft-lbf at ")
		if !ok {
			return one("impact_min_energy", r.value, "")
		}
		return append(one("impact_min_energy", energy, "ft-lbf"), one("impact_temperature", temperature, "degF")...)
	case "polarity":
		if value, ok := strings.CutSuffix(r.value, " by practice"); ok {
			_, value, _ = strings.Cut(value, "; ")
			return one("polarity_GMAW", value, "")
		}
		return one("polarity", strings.TrimSuffix(r.value, " (data sheet)"), "")
	}
	return one(r.attribute, r.value, "")
}

func TestWorkedExamples(t *testing.T) {
	t.Parallel()
	decoded, refused := 0, 0
	for _, r := range readTestRows(t, "worked_examples.csv") {
		if r.spec == "check" {
			continue // TestChecksOfTheReferenceTables
		}
		d, err := Decode(r.designator)
		if r.spec == "ISO 14175" {
			var gas GasDecoded
			gas, err = DecodeGas(r.designator)
			d.Facts = gas.Facts
		}
		if !readSpec(r) {
			refused++
			if bad, ok := errors.AsType[*SyntaxError](err); !ok || bad.Detail == "" {
				t.Errorf("Decode(%q): got %v, %v, want a SyntaxError: %s is not read", r.designator, d, err, r.spec)
			}
			continue
		}
		decoded++
		if err != nil {
			t.Errorf("Decode(%q): %v; want %v", r.designator, err, r)
			continue
		}
		for _, want := range expected(r) {
			if !slices.ContainsFunc(d.Facts, func(f Fact) bool { return says(f, want) }) {
				t.Errorf("Decode(%q): got %+v, want %+v", r.designator, d.Facts.Named(want.Name), want)
			}
		}
	}
	t.Logf("worked_examples.csv: %d rows asserted, %d rows of other specifications refused", decoded, refused)
	if decoded != wantDecoded || refused != wantRefused {
		t.Errorf("worked_examples.csv: got %d rows asserted and %d refused, want %d and %d", decoded, refused, wantDecoded, wantRefused)
	}
}

// says tells whether f says what is wanted; an element stands in a list of ranges.
func says(f, want Fact) bool {
	if want.Name == "composition" && (f.Name == "weld_metal_ranges" || f.Name == "wire_composition") {
		return slices.Contains(strings.Split(f.Value, "; "), want.Value) && f.Provenance == want.Provenance
	}
	if strings.HasPrefix(want.Value, "not in the designation") && strings.HasPrefix(f.Value, "not fixed") ||
		want.Name == "positions" && f.Value == want.Value+": PA PB PC PD PE PF PG" ||
		want.Value == "mixed gas" && f.Value == "mixed gas (M21)" {
		f.Value = want.Value // ISO's words
	}
	return f.Name == want.Name && f.Value == want.Value && f.Unit == want.Unit && f.Provenance == want.Provenance
}

// Rows of worked_examples.csv, those of kind check apart.
const wantDecoded, wantRefused = 160, 0

// readSpec tells whether the row's specification is one that is read.
func readSpec(r testRow) bool {
	switch {
	case strings.HasPrefix(r.spec, "ISO"):
		return true
	case strings.HasPrefix(r.spec, "AWS A5.20"), strings.HasPrefix(r.spec, "AWS A5.22"), strings.HasPrefix(r.spec, "AWS A5.29"), strings.HasPrefix(r.spec, "AWS A5.36"):
		return true
	case strings.HasPrefix(r.spec, "AWS A5.18"):
		return true
	}
	return false
}

func TestChecksOfTheReferenceTables(t *testing.T) {
	t.Parallel()
	checks := 0
	for _, r := range readTestRows(t, "worked_examples.csv") {
		if r.spec != "check" {
			continue
		}
		checks++
		d, err := Decode(r.designator)
		what, words, _ := strings.Cut(r.value, ": ")
		if what == "reject or flag" {
			words = strings.TrimPrefix(words, "-2 ")
		}
		switch bad, is := errors.AsType[*SyntaxError](err); {
		case what == "warn" && (err != nil || !slices.Contains(d.Notes, "the "+words)):
			t.Errorf("Decode(%q): got notes %q, error %v, want the note \"the %s\"", r.designator, d.Notes, err, words)
		case what != "warn" && !is:
			t.Errorf("Decode(%q): got %v, %v, want it refused: %s", r.designator, d, err, words)
		case what == "reject" && !strings.Contains(bad.Detail, "tubular aluminium class: none"):
			t.Errorf("Decode(%q): got %q, want it to say %q", r.designator, bad.Detail, words)
		case what == "reject or flag" && !strings.Contains(bad.Detail, words):
			t.Errorf("Decode(%q): got %q, want it to say %q", r.designator, bad.Detail, words)
		}
	}
	if checks != 3 {
		t.Errorf("worked_examples.csv: got %d rows of check, want 3", checks)
	}
}
