package fit

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// of makes a fact of one provenance.
func of(p filler.Provenance, name, value, unit string) filler.Fact {
	return filler.Fact{Name: name, Value: value, Unit: unit, Provenance: p, Source: "source of " + string(p)}
}

func TestConflictsAreWhatCheckStopsOn(t *testing.T) {
	t.Parallel()
	class, sheet, shop, memory := filler.Published, filler.DataSheet, filler.Shop, filler.Memory
	tests := []struct {
		name  string
		facts filler.Facts
		want  []string // fact and sides: "polarity: DCEN / DCEP"
	}{
		{"nothing known", nil, nil},
		{"box and sheet agree", filler.Facts{of(class, "polarity", "DCEN", ""), of(sheet, "polarity", "DCEN", "")}, nil},
		{"the sheet narrows two gases to one", filler.Facts{of(class, "gas", "CO2 100 % or 75-80 % Ar + balance CO2", ""), of(sheet, "gas", "CO2", "")}, nil},
		{"the sheet contradicts the class", filler.Facts{of(class, "polarity", "DCEN", ""), of(sheet, "polarity", "DCEP", "")}, []string{"polarity: DCEN / DCEP"}},
		{"the sheet contradicts memory", filler.Facts{of(memory, "polarity", "DCEN", ""), of(sheet, "polarity", "DCEP", "")}, []string{"polarity: DCEN / DCEP"}},
		{"practice is no side", filler.Facts{of(filler.Practice, "polarity", "DCEN", ""), of(sheet, "polarity", "DCEP", "")}, nil},
		{"the sheet may limit the number of passes", filler.Facts{of(class, "passes", "single and multiple", ""), of(sheet, "passes", "at most 3 passes", "")}, nil},
		{"single-pass wire takes no three passes", filler.Facts{of(class, "passes", "single only", ""), of(sheet, "passes", "at most 3 passes", "")}, []string{"passes: single only / at most 3 passes"}},
		{"two classifications that exclude each other", filler.Facts{of(class, "passes", "single only", ""), {Name: "passes", Value: "single and multiple", Provenance: class}}, nil},
		{"a sheet stronger than the class", filler.Facts{of(class, "tensile_min", "70", "ksi"), of(sheet, "tensile_min", "75", "ksi")}, nil},
		{"a sheet weaker than the class", filler.Facts{of(class, "tensile_min", "70", "ksi"), of(sheet, "tensile_min", "60", "ksi")}, []string{"tensile_min: 70 ksi / 60 ksi"}},
		{"hydrogen above the class", filler.Facts{of(class, "diffusible_hydrogen_max", "4", "mL/100 g"), of(sheet, "diffusible_hydrogen_max", "8", "mL/100 g")}, []string{"diffusible_hydrogen_max: 4 mL/100 g / 8 mL/100 g"}},
		{"direction from memory gives way", filler.Facts{of(memory, "vertical_direction", "up", ""), of(sheet, "vertical_direction", "down", "")}, nil},
		{"a published direction does not", filler.Facts{of(class, "vertical_direction", "up", ""), of(sheet, "vertical_direction", "down", "")}, []string{"vertical_direction: up / down"}},
		{"the shop and the sheet on drive rolls", filler.Facts{of(sheet, "drive_rolls", "knurled V", ""), of(shop, "drive_rolls", "smooth V", "")}, []string{"drive_rolls: knurled V / smooth V"}},
		{"settled on the box", filler.Facts{of(class, "polarity", "DCEN", ""), of(sheet, "polarity", "DCEP", ""), of(shop, "polarity", "DCEN", "")}, nil},
		{"settled on the sheet", filler.Facts{of(class, "polarity", "DCEN", ""), of(sheet, "polarity", "DCEP", ""), of(shop, "polarity", "DCEP", "")}, nil},
		{"a shop that takes neither settles nothing", filler.Facts{of(class, "polarity", "DCEN", ""), of(sheet, "polarity", "DCEP", ""), of(shop, "polarity", "AC", "")}, []string{"polarity: DCEN / DCEP / AC"}},
		{"strength settled on the box", filler.Facts{of(class, "tensile_min", "70", "ksi"), of(sheet, "tensile_min", "60", "ksi"), of(shop, "tensile_min", "70", "ksi")}, nil},
		{"strength settled on the sheet", filler.Facts{of(class, "tensile_min", "70", "ksi"), of(sheet, "tensile_min", "60", "ksi"), of(shop, "tensile_min", "60", "ksi")}, nil},
		{"a weaker strength that nobody else says", filler.Facts{of(class, "tensile_min", "70", "ksi"), of(shop, "tensile_min", "60", "ksi")}, []string{"tensile_min: 70 ksi / 60 ksi"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, c := range Conflicts(tt.facts) {
				got = append(got, c.Fact+": "+c.claim().Text)
				if c.Says == "" || len(c.Sides) < 2 {
					t.Errorf("Conflicts(%v): %+v has no sentence or no two sides", tt.facts, c)
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("Conflicts(%v) (-want +got):\n%s", tt.facts, diff)
			}
		})
	}
}

// Choosing any side that Conflicts offers, as a fact of the shop, leaves no
// conflict: there is none that cannot be settled.
func TestEverySideSettlesItsConflict(t *testing.T) {
	t.Parallel()
	values := map[string][]filler.Fact{
		"polarity":                {{Value: "DCEN"}, {Value: "DCEP"}, {Value: "AC"}, {Value: "DCEP or DCEN"}},
		"gas":                     {{Value: "none"}, {Value: "CO2"}, {Value: "75-80 % Ar + balance CO2"}, {Value: "98 % Ar + 2 % O2"}},
		"shielding":               {{Value: "self"}, {Value: "external"}},
		"form":                    {{Value: "solid"}, {Value: "metal cored"}, {Value: "flux cored"}},
		"passes":                  {{Value: "single only"}, {Value: "single and multiple"}, {Value: "at most 3 passes"}},
		"positions":               {{Value: "all"}, {Value: "flat|horizontal"}, {Value: "vertical down"}, {Value: "overhead"}},
		"vertical_direction":      {{Value: "up"}, {Value: "down"}},
		"drive_rolls":             {{Value: "knurled V"}, {Value: "smooth V"}, {Value: "knurled V or smooth V"}},
		"tensile_min":             {{Value: "60", Unit: "ksi"}, {Value: "70", Unit: "ksi"}, {Value: "490", Unit: "MPa"}},
		"diffusible_hydrogen_max": {{Value: "4", Unit: "mL/100 g"}, {Value: "8", Unit: "mL/100 g"}, {Value: "16", Unit: "mL/100 g"}},
	}
	found := 0
	for name, vs := range values {
		for _, first := range vs {
			for _, second := range vs {
				for _, third := range vs {
					facts := filler.Facts{of(filler.Published, name, first.Value, first.Unit), of(filler.Published, name, second.Value, second.Unit), of(filler.DataSheet, name, third.Value, third.Unit)}
					facts[1].Source = "another table"
					for _, c := range Conflicts(facts) {
						found++
						for _, side := range c.Sides {
							after := Conflicts(append(facts, of(filler.Shop, name, side.Value, side.Unit)))
							if len(after) > 0 {
								t.Errorf("%s: box %s and %s, sheet %s, settled on %s: still %+v", name, first.Value, second.Value, third.Value, side.Text(), after)
							}
						}
					}
				}
			}
		}
	}
	if found < 100 {
		t.Errorf("only %d conflicts were tried", found)
	}
}

func TestAConflictBlocksEvenWhatTheJobDoesNotAsk(t *testing.T) {
	t.Parallel()
	facts := filler.Facts{of(filler.Published, "polarity", "DCEN", ""), of(filler.DataSheet, "polarity", "DCEP", "")}
	free := Check(Offer{Facts: facts, LotStatus: LotAccepted}, Demand{}, nil, Profile{})
	if f, _ := free.Find(RulePolarity); f.Outcome != NotDemanded {
		t.Fatalf("Check without a demand: polarity %s, want it not demanded", f.Outcome)
	}
	blocked := free.Blocked(Conflicts(facts))
	f, _ := blocked.Find(RulePolarity)
	if blocked.Answer != DoesNotFit || f.Outcome != Stops || !strings.Contains(f.Offered.Text, "DCEN / DCEP") {
		t.Errorf("Blocked: %s, polarity %s, offered %q; want it to stop on DCEN / DCEP", blocked.Answer, f.Outcome, f.Offered.Text)
	}
	if f, _ := free.Find(RulePolarity); f.Outcome != NotDemanded {
		t.Error("Blocked changed the verdict it was called on")
	}
	if got := free.Blocked(nil); got.Answer != free.Answer {
		t.Errorf("Blocked(nil): %s, want %s", got.Answer, free.Answer)
	}
}

func TestLimitsOfUseAsRealWiresHaveThem(t *testing.T) {
	t.Parallel()
	plate := func(passes Passes, mm unit.Length) Demand {
		return Demand{Passes: passes, Thickness: mm * unit.Millimetre}
	}
	atMost3 := spool(with(wire1C(), sheet("passes", "at most 3 passes", "")))
	single := spool(with(wire1C(), sheet("max_thickness_single_pass", "5", "mm")))
	multi := spool(with(wire1C(), sheet("max_thickness_multi_pass", "12", "mm")))
	runCases(t, []fitCase{
		{"at most three passes cautions in a joint of several", design, atMost3, Demand{Passes: MultiPass}, nil, "", RulePasses, Caution, "at most 3 passes"},
		{"at most three passes suits a single pass", design, atMost3, Demand{Passes: SinglePass}, nil, "", RulePasses, Passed, ""},
		{"a single pass on plate past its limit stops", design, single, plate(SinglePass, 8), nil, "", RuleThickness, Stops, "5 mm"},
		{"a single pass within its limit passes", design, single, plate(SinglePass, 5), nil, "", RuleThickness, Passed, "5 mm"},
		{"the limit of a single pass is none of several", design, single, plate(MultiPass, 8), nil, "", RuleThickness, Passed, ""},
		{"several passes past their limit stop", design, multi, plate(MultiPass, 16), nil, "", RuleThickness, Stops, "12 mm"},
		{"the limit of several passes is none of one", design, multi, plate(SinglePass, 16), nil, "", RuleThickness, Passed, ""},
		{"where nobody says how many, both limits hold", design, multi, plate("", 16), nil, "", RuleThickness, Stops, "12 mm"},
	})
}
