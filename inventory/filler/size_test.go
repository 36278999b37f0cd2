package filler

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/unit"
)

func TestSizesReadAsBoxesMarkThem(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, text, want string
		listed           bool
		note             string // part of the only note; empty if there is none
	}{
		{"thousandths without a zero", ".045 in", ".045 in", true, ""},
		{"thousandths with a zero", "0.045in", ".045 in", true, ""},
		{"a fraction", "5/64\"", "5/64 in", true, ""},
		{"the decimal that is printed for a fraction", "0.078 in", "5/64 in", true, ".078 in is how 5/64 in is printed"},
		{"a metric size", "1.6 MM", "1.6 mm", true, "may be the mark of a wire of 1/16 (0.0625) in, which measures 1.588 mm"},
		{"a metric size of no inch size", "4.0 mm", "4 mm", true, "may be the mark of a wire of 5/32"},
		{"an inch size between two", "0.041 in", ".041 in", false, "the nearest are 0.040 in and 0.045 in"},
		{"a size above all", "5 mm", "5 mm", false, "the nearest is 4.0 mm"},
		{"a size below all", "0.01 in", ".010 in", false, "the nearest is 0.020 in"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			d, err := DecodeSize(tt.text)
			if err != nil {
				t.Fatalf("DecodeSize(%q): %v", tt.text, err)
			}
			if d.String() != tt.want || d.Listed != tt.listed || !strings.Contains(strings.Join(d.Notes, "; "), tt.note) || tt.note == "" && d.Notes != nil {
				t.Errorf("DecodeSize(%q): got %v, listed %t, %q, want %v, listed %t, %q", tt.text, d, d.Listed, d.Notes, tt.want, tt.listed, tt.note)
			}
		})
	}
}

func TestAMarkThatIsNoListedSizeSaysBoth(t *testing.T) {
	t.Parallel()
	d, err := DecodeSize("1.1 mm")
	want := []string{"1.1 mm may be the mark of a wire of 0.045 in, which measures 1.143 mm: measure it, or read the inch size",
		"no listed size in this unit: the nearest are 1.0 mm and 1.2 mm"}
	if diff := cmp.Diff(want, d.Notes); diff != "" || err != nil || d.Listed {
		t.Errorf("DecodeSize(1.1 mm): listed %t, %v (-want +got):\n%s", d.Listed, err, diff)
	}
}

func TestPackagesReadAsListsCallThem(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, text, form, standard, fact, value string }{
		{"a spool in inches", "12 in spool", "spool", "12 in spool", "outside_diameter", "300"},
		{"a spool in millimetres", "300 mm  Spools", "spool", "12 in spool", "arbor_hole", "2-1/16"},
		{"a name of ISO 544", "bs 300", "spool", "BS300", "outside_diameter", "300"},
		{"a name of ISO 544 with its form", "S200 spool", "spool", "S200", "outside_diameter", "200"},
		{"a coil by its inside", "6-3/4 in coil", "coil with support", "6-3/4 in coil with support", "standard_net_weight", "14"},
		{"a coil by weight", "60 lb coil", "coil with support", "", "sold_as", "60 lb (27 kg)"},
		{"a drum by weight in kilograms", "250 kg drum", "drum", "", "sold_as", "500-600 lb (250 kg)"},
		{"a drum by its size", "drum 20 in", "drum", "20 in drum", "standard_net_weight", "as agreed"},
		{"a drum of any size", "drum", "drum", "", "outside_diameter", "400"},
		{"a coil without support", "coil without support", "coil without support", "", "dimensions", "as agreed"},
		{"a weight alone", "33 lb (15 kg)", "", "", "sold_as", "33 lb (15 kg)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			d, err := DecodePackage(tt.text)
			if err != nil {
				t.Fatalf("DecodePackage(%q): %v", tt.text, err)
			}
			if d.Form != tt.form || d.Name != tt.standard || valueOf(d.Facts, tt.fact) != tt.value {
				t.Errorf("DecodePackage(%q): got form %q, name %q, %s %q, want %q, %q, %q", tt.text, d.Form, d.Name, tt.fact, valueOf(d.Facts, tt.fact), tt.form, tt.standard, tt.value)
			}
		})
	}
}

func TestAPackageThatIsNoStandardOneSaysSo(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"13 in spool", "17 kg spool", "1 g"} {
		d, err := DecodePackage(text)
		if err != nil || len(d.Notes) != 1 || d.Name != "" || len(d.Facts) > 0 {
			t.Errorf("DecodePackage(%q): got %+v, %v, want one note and no facts", text, d, err)
		}
	}
}

// textOfRow is a size or package that a row of diameters.csv is about; empty,
// with the reason, if it is about none.
func textOfRow(r testRow) (text, why string) {
	switch r.kind {
	case "size", "metric_size":
		return SizeDecoded{Size: sizeOf(r.designator), Inch: r.kind == "size"}.String(), ""
	case "nearest_pair":
		return r.designator, ""
	case "tolerance", "use":
		low, high, _ := sizeRange(r.designator)
		if inch := r.unit == "in" || r.kind == "use"; low > 0 {
			return SizeDecoded{Size: low, Inch: inch}.String(), ""
		} else {
			return SizeDecoded{Size: high, Inch: inch}.String(), ""
		}
	case "spool", "drum", "coil with support", "coil without support":
		first, _, _ := strings.Cut(r.designator, " | ")
		if strings.HasPrefix(first, "any") {
			first = map[string]string{"spool": "8 in"}[r.kind]
		}
		return strings.TrimSpace(first + " " + r.kind), ""
	case "market_package":
		if pounds, _, ok := strings.Cut(r.designator, "-"); ok {
			return pounds + " lb", ""
		}
		return r.designator, ""
	case "code_limit":
		return "", "a limit of a welding code on the position, not a property of a size"
	case "condition":
		return "", "of the core, which no size or package names"
	}
	return "", ""
}

func TestEveryRowOnSizesAndPackagesIsAFactOfOne(t *testing.T) {
	t.Parallel()
	rows, untested, published := 0, 0, 0
	for _, r := range readTestRows(t, "diameters.csv") {
		rows++
		text, why := textOfRow(r)
		if why != "" {
			untested++
			t.Logf("not tested: %v: %s", r, why)
			continue
		}
		if r.provenance == Published {
			published++
		}
		d, err := DecodeTyped(text)
		if err != nil {
			t.Errorf("DecodeTyped(%q): %v; want the row %v", text, err, r)
			continue
		}
		facts := Facts{}
		if d.Size != nil {
			facts = d.Size.Facts
		} else if d.Package != nil {
			facts = d.Package.Facts
		}
		if !saysRow(facts, r) {
			t.Errorf("DecodeTyped(%q): got %+v, want the row %v (%s, %q)", text, facts, r, r.provenance, r.source)
		}
	}
	t.Logf("diameters.csv: %d rows, %d facts asserted, %d of them published, %d of no size or package", rows, rows-untested, published, untested)
	if rows != 154 || untested != 10 || published != 39 {
		t.Errorf("diameters.csv: got %d rows, %d untested, %d published, want 154, 10 and 39", rows, untested, published)
	}
}

// saysRow tells whether a fact has value, provenance and source of the row.
func saysRow(facts Facts, r testRow) bool {
	for _, f := range facts {
		value := f.Value == r.value && f.Unit == r.unit && strings.HasSuffix(f.Name, r.attribute)
		switch {
		case r.kind == "market_package":
			value = f.Value == r.designator
		case r.attribute == "inch_size" || r.attribute == "listed size":
			value = f.Name == "listed_size" && sizeOf(f.Value) == sizeOf(r.designator)
		}
		if value && f.Provenance == r.provenance && f.Source == r.source {
			return true
		}
	}
	return false
}

func TestEverySuggestedSizeAndPackageIsAStandardOne(t *testing.T) {
	t.Parallel()
	if len(Sizes()) != 29 || len(Packages()) != 20 {
		t.Errorf("got %d sizes and %d packages, want 29 and 20", len(Sizes()), len(Packages()))
	}
	for _, text := range Sizes() {
		if d, err := DecodeSize(text); err != nil || !d.Listed || d.String() != text {
			t.Errorf("DecodeSize(%q): got %v, listed %t, %v, want it listed", text, d, d.Listed, err)
		}
	}
	for _, text := range Packages() {
		if d, err := DecodePackage(text); err != nil || d.Name != text {
			t.Errorf("DecodePackage(%q): got the name %q, %v, want itself", text, d.Name, err)
		}
	}
}

func TestWhatIsTypedIsReadAsOneSort(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, text, sort, want string }{
		{"a classification", "e71t-1c", "wire", "E71T-1C"},
		{"a gas", "m21-arc-18", "gas", "M21-ArC-18"},
		{"a mixture", "82 Ar 18 CO2", "gas", "M21-ArC-18"},
		{"two per cents", "75/25", "gas", "M21-ArC-25"},
		{"a size", "0.035 in", "size", ".035 in"},
		{"a package", "12 in  spool", "package", "12 in spool"},
		{"a classification that is none", "E7XT-1C", "", `classification "E7XT-1C", character 3`},
		{"a mixture that does not add up", "82 Ar 20 CO2", "", "add up to 102"},
		{"a gas in the wrong group", "M21-ArC-30", "", "is M31, not M21"},
		{"a size without a unit", "0.045", "", `size "0.045" stops too early: give a number with its unit`},
		{"a fraction without a unit", "1/16", "", "stops too early: give a number with its unit"},
		{"no size of a wire", "3 in", "", "no thicker than 10 mm"},
		{"a package without a unit", "12 spool", "", "write a form with its size or weight"},
		{"nothing", "", "", "write the designation"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			d, err := DecodeTyped(tt.text)
			if tt.sort == "" {
				if err == nil || !strings.Contains(err.Error(), tt.want) {
					t.Errorf("DecodeTyped(%q): got %v, %v, want the error %q", tt.text, d, err, tt.want)
				}
				return
			}
			sorts := map[string]bool{"wire": d.Wire != nil, "gas": d.Gas != nil, "size": d.Size != nil, "package": d.Package != nil}
			if err != nil || !sorts[tt.sort] || d.String() != tt.want {
				t.Errorf("DecodeTyped(%q): got %v of sorts %v, %v, want %s %v", tt.text, d, sorts, err, tt.sort, tt.want)
			}
		})
	}
}

func TestNoTextIsOfTwoSorts(t *testing.T) {
	t.Parallel()
	readings := []func(string) error{
		func(s string) error { _, err := Decode(s); return err }, func(s string) error { _, err := DecodeGas(s); return err },
		func(s string) error { _, err := DecodeSize(s); return err }, func(s string) error { _, err := DecodePackage(s); return err },
	}
	texts := append(append(knownGases(), Sizes()...), Packages()...)
	tried := 0
	for _, word := range append(texts, known()...) {
		slips := mutations
		if len(word) > 8 {
			slips = func(word string, each func(string)) { each(word) } // the slips of classes are held against their grammars elsewhere
		}
		slips(word, func(text string) {
			tried++
			read := 0
			for _, reading := range readings {
				err := reading(text)
				if bad, is := errors.AsType[*SyntaxError](err); err == nil {
					read++
				} else if !is || bad.At < 0 || bad.At > len(text) || bad.Detail == "" {
					t.Fatalf("reading %q: got the error %#v, want a whole SyntaxError", text, err)
				}
			}
			if read > 1 {
				t.Errorf("%q is read as %d sorts, want one at most", text, read)
			}
			if d, err := DecodeTyped(text); err == nil {
				if again, err := DecodeTyped(d.String()); err != nil || again.String() != d.String() {
					t.Errorf("DecodeTyped(%q): got %v, and of that %v, %v", text, d, again, err)
				}
			}
		})
	}
	t.Logf("%d texts with %d slips of them: each is of one sort or none", len(texts)+len(known()), tried)
}

// A mark and a size that measure the same in nanometres are one size.
func TestPrintedDecimalsAreTheFractionsOfTheTable(t *testing.T) {
	t.Parallel()
	want := map[unit.Length]string{unit.Inch * 47 / 1000: "3/64 in", unit.Inch * 625 / 10000: "1/16 in", unit.Inch * 78 / 1000: "5/64 in", unit.Inch * 94 / 1000: "3/32 in",
		unit.Inch * 109 / 1000: "7/64 in", unit.Inch * 125 / 1000: "1/8 in", unit.Inch * 156 / 1000: "5/32 in"}
	got := map[unit.Length]string{}
	for printed, of := range sizes().printed {
		got[printed] = of.Inches()
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("decimals that are printed for fractions (-want +got):\n%s", diff)
	}
}
