package filler

import (
	"slices"
	"strings"
	"testing"
)

// notFixedExamples are designations that the row is about, by specification and fact.
func notFixedExamples(r testRow) []string {
	special := map[string]string{
		"polarity of G and GS":                            "E71T-GS",
		"polarity of E71T-5":                              "E71T-5C",
		"maximum thickness of -11 for this wire":          "E71T-11",
		"maximum thickness of -3, -14, -GS for this wire": "E71T-14",
		"gas outside 75-80 % Ar for an M wire":            "E71T-1M",
		"polarity and gas of TG":                          "E81TG-Ni1",
		"chemistry of -G":                                 "E91T8-G",
		"gas of EC metal cored":                           "EC308L",
	}
	if text := special[r.designator]; text != "" {
		return []string{text}
	}
	return map[string][]string{
		"AWS A5.20": {"E71T-1C", "E71T-11"}, "AWS A5.29": {"E81T1-Ni1C"}, "AWS A5.22": {"E308LT1-1"}, "AWS A5.36": {"E71T8-A2-CS3"},
		"AWS A5.18 and A5.28": {"ER70S-6", "ER80S-D2"}, "AWS A5.9": {"ER308L"}, "AWS A5.10": {"ER5356"},
		"ISO 17632-A": {"T 46 4 P M21 1"}, "ISO 17632-B": {"T 55 4 T5-1 M21 A"}, "ISO 17633": {"T 19 9 L P M21 1", "TS 308L-F M21 1"},
	}[r.spec]
}

func TestEveryRowOnWhatAClassDoesNotFixIsReported(t *testing.T) {
	t.Parallel()
	rows, fixed := 0, 0
	for _, r := range readTestRows(t, "not_fixed_by_class.csv") {
		rows++
		examples := notFixedExamples(r)
		if len(examples) == 0 {
			t.Errorf("no designation for the row %v", r)
		}
		for _, text := range examples {
			d := mustDecode(t, text)
			at := slices.IndexFunc(d.NotFixed, func(n NotFixed) bool { return n.Fact == r.designator })
			if r.value == "yes" {
				fixed++
				name := map[string]string{"gas or no gas": "gas", "gas": "gas", "polarity": "polarity", "single or multiple pass": "passes"}[r.designator]
				if f := d.Facts.Named(name); at >= 0 || len(f) == 0 || open(f[0].Value) {
					t.Errorf("Decode(%q): got %s %+v and it is reported: %t, want it fixed", text, name, f, at >= 0)
				}
				continue
			}
			if at < 0 {
				t.Errorf("Decode(%q): got %+v, want the row %v", text, d.NotFixed, r)
				continue
			}
			n := d.NotFixed[at]
			if n.Says != r.value || "take from: "+n.TakeFrom != r.condition || n.Provenance != r.provenance || n.Source != r.source {
				t.Errorf("Decode(%q): got %+v, want the row %v (%s, %q)", text, n, r, r.provenance, r.source)
			}
		}
	}
	t.Logf("not_fixed_by_class.csv: %d rows asserted, %d designations have what the class does fix", rows, fixed)
	if rows != 139 || fixed != 12 {
		t.Errorf("not_fixed_by_class.csv: got %d rows, %d designations with a fixed fact, want 139 and 12", rows, fixed)
	}
}

func TestWhatTheClassFixesIsNotReported(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, text, fact string }{
		{"hydrogen that the label shows", "E71T-1C-H8", "diffusible hydrogen"},
		{"the thickness of another number", "E71T-1C", "maximum thickness of -11 for this wire"},
		{"the thickness of a number that begins alike", "E71T-1C", "maximum thickness of -3, -14, -GS for this wire"},
		{"polarity of a class that has it", "E71T-1C", "polarity of G and GS"},
		{"polarity of -5 in position 0", "E70T-5C", "polarity of E71T-5"},
		{"the gas of a metal cored class with its letter", "E70C-6M", "gas"},
		{"the chemistry of a composition", "E81T1-Ni1C", "chemistry of -G"},
		{"the gas of flux cored stainless", "E308LT1-1", "gas of EC metal cored"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			d := mustDecode(t, tt.text)
			if slices.ContainsFunc(d.NotFixed, func(n NotFixed) bool { return n.Fact == tt.fact }) {
				t.Errorf("Decode(%q): got %q as not fixed, want it left out: %+v", tt.text, tt.fact, d.NotFixed)
			}
		})
	}
}

func TestFactsThatSayNothingAreReported(t *testing.T) {
	t.Parallel()
	tests := []struct{ text, fact, says string }{
		{"E71T-GS", "shielding", "not specified"},
		{"E71T-GS", "gas", "not specified"},
		{"ER308L", "strength", "not in the designation"},
		{"T 69 6 Mn2NiCrMo B M21 3", "polarity", "not fixed; the maker gives it"},
		{"G 46 5 M21 3Si1", "polarity", "not in the designation"},
		{"E81T1-Ni1", "gas", "not specified"},
		{"ER90S-G", "wire_composition", "as agreed"},
		{"E71T8-A2", "deposit", "not specified"},
	}
	for _, tt := range tests {
		d := mustDecode(t, tt.text)
		at := slices.IndexFunc(d.NotFixed, func(n NotFixed) bool { return n.Fact == tt.fact })
		if at < 0 || d.NotFixed[at].Says != tt.says || !strings.Contains(d.NotFixed[at].TakeFrom, "data sheet") {
			t.Errorf("Decode(%q): got %+v, want %s, %q", tt.text, d.NotFixed, tt.fact, tt.says)
		}
	}
}
