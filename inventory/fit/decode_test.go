package fit

import (
	"testing"

	"wirehold/inventory/filler"
)

// decoded is a spool of a wire of which only the designation is known.
func decoded(t *testing.T, designation string) Offer {
	t.Helper()
	d, err := filler.Decode(designation)
	if err != nil {
		t.Fatalf("filler.Decode(%q): %v", designation, err)
	}
	return spool(d.Facts, d.Designation)
}

func TestCheckDecodedWire(t *testing.T) {
	dual := Demand{Classifications: []string{"E71T-1M"}, Gas: gasOf("75 Ar 25 CO2"), Hydrogen: 8, Passes: MultiPass, Polarity: DCEP, Processes: []Process{FCAWG}}
	runCases(t, []fitCase{
		{"E71T-1C/-1M-H8 runs in 75/25", tables, decoded(t, "E71T-1C/-1M-H8"), dual, nil, "", RuleGas, Passed, ""},
		{"E71T-1C/-1M-H8 is an E71T-1M", tables, decoded(t, "E71T-1C/-1M-H8"), dual, nil, "", RuleClassification, Passed, ""},
		{"E71T-1C/-1M-H8 holds 8 mL/100 g", tables, decoded(t, "E71T-1C/-1M-H8"), dual, nil, "", RuleHydrogen, Passed, ""},
		{"E71T-14 takes one pass", code + "C032", decoded(t, "E71T-14"), dual, nil, "", RulePasses, Stops, "single-pass wire (-14)"},
		{"E71T-14 is not for gas", tables, decoded(t, "E71T-14"), dual, nil, "", RuleGas, Stops, "shut the gas off"},
		{"E71T-GS has no polarity", traps + " 4", decoded(t, "E71T-GS"), dual, nil, "", RulePolarity, Stops, "read the box"},
		{"E70T-3 is self-shielded and electrode positive", traps + " 1", decoded(t, "E70T-3"), dual, nil, "", RulePolarity, Passed, ""},
		{"E71T-1 is an old label", traps + " 7", decoded(t, "E71T-1"), Demand{Gas: gasOf("CO2")}, nil, "", RuleGas, Caution, "1995"},
		{"E71T-5C runs on either polarity", traps + " 5", decoded(t, "E71T-5C"), dual, nil, "", RulePolarity, Caution, "data sheet"},
		{"E71T-11 prequalified past 1/2 in stops", code + "C036", decoded(t, "E71T-11"), Demand{Thickness: inch(625), Prequalified: true}, nil, "structural-steel", RuleThickness, Stops, "12 mm"},
		{"E71T-11 leaves its own limit to the sheet", tables, decoded(t, "E71T-11"), Demand{Thickness: mm(5)}, nil, "", RuleThickness, Caution, "data sheet"},
		{"E71T-11 past its recommendation says so first", code + "C037", decoded(t, "E71T-11"), Demand{Thickness: mm(25)}, nil, "", RuleThickness, Caution, "recommended for plate up to 19 mm"},
		{"E308LT0-3 is self-shielded and electrode positive", traps + " 2", decoded(t, "E308LT0-3"), Demand{Polarity: DCEP}, nil, "", RulePolarity, Passed, ""},
		{"E309LT1-1/4 joins stainless to carbon steel", pairRows, decoded(t, "E309LT1-1/4"), Demand{BaseMetals: joint("304L", stainlessSteel, "A36", carbonSteel)}, nil, "", RuleBaseMetal, Passed, ""},
		{"ER70S-6 has no polarity but by practice", design, decoded(t, "ER70S-6"), Demand{Polarity: DCEP, Processes: []Process{GMAW}}, nil, "", RulePolarity, Stops, "Common practice is DCEP"},
		{"E70C-6M is metal cored", traps + " 16", decoded(t, "E70C-6M"), Demand{Processes: []Process{GMAWC}}, nil, "", RuleProcess, Passed, ""},
		{"E70C-6M never runs without gas", traps + " 16", decoded(t, "E70C-6M"), Demand{Gas: &Gas{}}, nil, "", RuleGas, Stops, "needs gas"},
	})
}

// TestCheckDecodedTable holds every A5.20 designation against the rows that
// gave its facts: what the table publishes must pass, its opposite must stop.
func TestCheckDecodedTable(t *testing.T) {
	opposite := map[Polarity]Polarity{DCEP: DCEN, DCEN: DCEP}
	for _, class := range []string{"E71T-1C", "E71T-1M", "E70T-3", "E70T-4", "E70T-6", "E71T-7", "E71T-8", "E71T-9C", "E71T-9M", "E70T-10", "E71T-11", "E71T-12C", "E71T-12M", "E71T-14"} {
		o := decoded(t, class)
		facts := o.Facts.Named("polarity")
		if len(facts) != 1 {
			t.Errorf("%s has %d facts on polarity, want 1", class, len(facts))
			continue
		}
		p, _ := ParsePolarity(facts[0].Value)
		for want, outcome := range map[Polarity]Outcome{p: Passed, opposite[p]: Stops} {
			if got, _ := Check(o, Demand{Polarity: want}, nil, Profile{}).Find(RulePolarity); got.Outcome != outcome {
				t.Errorf("Check(%s, %s): %s (%s), want %s", class, want, got.Outcome, got.Says, outcome)
			}
		}
		single := o.Facts.Named("passes")[0].Value == "single only"
		if got, _ := Check(o, Demand{Passes: MultiPass}, nil, Profile{}).Find(RulePasses); (got.Outcome == Stops) != single {
			t.Errorf("Check(%s, multiple passes): %s (%s), table: %s", class, got.Outcome, got.Says, o.Facts.Named("passes")[0].Value)
		}
	}
}
