package fit

import "testing"

// TestMetalName holds the one spelling of a base metal. The designations are
// those of testdata/base_metal_match.csv (AWS D1.1 Table 3.1), the ways of
// writing them common practice; that a listed spelling stays is held for each
// of its rows below.
func TestMetalName(t *testing.T) {
	for _, tt := range []struct{ name, typed, want string }{
		{"the spelling itself stays", "A572 Gr 50", "A572 Gr 50"},
		{"a space within the designation", "A 572 Gr.50", "A572 Gr 50"},
		{"the body and the whole word", "ASTM A572 Grade 50", "A572 Gr 50"},
		{"the grade after a hyphen", "A572-50", "A572 Gr 50"},
		{"the grade after a space", "a572 50", "A572 Gr 50"},
		{"nothing between", "A572Gr50", "A572 Gr 50"},
		{"a dot and a hyphen", "A-572, GR.-50", "A572 Gr 50"},
		{"both editions at once", "ASTM A572/A572M Grade 50", "A572 Gr 50"},
		{"the metric edition is another", "A572M Gr 345", "A572M Gr 345"},
		{"two specifications are no dual one", "A36/A572M Gr 50", "A36/A572M Gr 50"},
		{"two names stay as they are", "A36/A572", "A36/A572"},
		{"A36", "astm a 36", "A36"},
		{"a year is no grade", "A36-19", "A36-19"},
		{"a year of a graded specification", "A500-18", "A500-18"},
		{"a grade of letters", "a500 gr. b", "A500 Gr B"},
		{"a grade of two words", "A709 HPS 50W", "A709 Gr HPS 50W"},
		{"one of several grades of a row", "A131-ah36", "A131 Gr AH36"},
		{"a type behind the grade", "A1011 SS Grade 36 Type 1", "A1011 SS Gr 36 Type 1"},
		{"ASME is not ASTM", "ASME SA-36", "SA-36"},
		{"ASME without its hyphen", "sa36", "SA-36"},
		{"ASME with a grade", "SA 516 Grade 70", "SA-516 Gr 70"},
		{"ASME with a hyphened grade", "SA-516-70", "SA-516 Gr 70"},
		{"API", "api 5l x42", "API 5L Gr X42"},
		{"what no table knows stays", "A240  304L", "A240 304L"},
		{"its hyphen too", "A335-P11", "A335-P11"},
		{"an aluminium", "6061-T6", "6061-T6"},
		{"a casting", "A356-T6", "A356-T6"},
		{"a European steel", "S355J2+N", "S355J2+N"},
		{"a grade of stainless steel", " 304L ", "304L"},
		{"a word", "Gr 50", "Gr 50"},
		{"a word that begins like one", "A36x", "A36x"},
		{"nothing", "", ""},
	} {
		got := MetalName(tt.typed)
		if got != tt.want {
			t.Errorf("%s: MetalName(%q) = %q, want %q", tt.name, tt.typed, got, tt.want)
		}
		if again := MetalName(got); again != got {
			t.Errorf("%s: MetalName(%q) = %q, want it to stay", tt.name, got, again)
		}
	}
	for _, g := range steelGroups() {
		if got := MetalName(g.stem); got != g.stem {
			t.Errorf("MetalName(%q) = %q, want the table's own spelling to stay", g.stem, got)
		}
	}
}

func TestSameMetal(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{"A572-50", "ASTM A572 Grade 50", true},
		{"A 572 Gr.50", "A572/A572M gr 50", true},
		{"A572", "A572 Gr 50", false},
		{"A572 Gr 50", "A572 Gr 55", false},
		{"A572 Gr 50", "A572M Gr 50", false},
		{"A36", "SA-36", false},
		{"A516 Gr 70", "SA-516 Gr 70", false},
		{"A36", "A36-19", false},
		{"304", "304L", false},
		{"A240 304L", "304L", false},
		{"ASTM 304L", "304l", true},
	} {
		if got := sameMetal(tt.a, tt.b); got != tt.want {
			t.Errorf("sameMetal(%q, %q) = %v, want %v", tt.a, tt.b, got, tt.want)
		}
		if got := sameMetal(tt.b, tt.a); got != tt.want {
			t.Errorf("sameMetal(%q, %q) = %v, want %v", tt.b, tt.a, got, tt.want)
		}
	}
}
