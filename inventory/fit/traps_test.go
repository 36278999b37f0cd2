package fit

import (
	"regexp"
	"strconv"
	"testing"

	"wirehold/inventory/unit"
)

// trapCases are the traps of the reference tables, each by its number, with
// wires as the decoder reads them.
func trapCases(t *testing.T) []fitCase {
	trap := func(n int) string { return traps + " " + strconv.Itoa(n) }
	of := func(class string) Offer { return decoded(t, class) }
	run := func(p Polarity) Demand { return Demand{Polarity: p} }
	gas := func(g string) Demand { return Demand{Gas: gasOf(g)} }
	plate := func(l unit.Length, prequalified bool) Demand {
		return Demand{Thickness: l, Joint: "butt", Prequalified: prequalified, Passes: MultiPass}
	}
	pos := func(ps ...Position) Demand { return Demand{Positions: ps} }
	cold := func(s string) Demand { return Demand{Toughness: tough(s)} }
	classed := func(s string) Demand { return Demand{Classifications: []string{s}} }
	strong := func(n int) Demand { return Demand{Tensile: unit.Stress{Value: n, Unit: unit.KSI}} }
	grams := func(n int) Demand { return Demand{Hydrogen: n} }
	steel := func(l unit.Length) Demand {
		return Demand{Matching: true, Prequalified: true, Thickness: l, BaseMetals: joint("A36", carbonSteel)}
	}
	alu := Demand{BaseMetals: joint("6061-T6", aluminiumAlloy)}
	cases := []fitCase{
		{"E70T-3 is self-shielded and electrode positive", trap(1), of("E70T-3"), run(DCEP), nil, "", RulePolarity, Passed, ""},
		{"E70T-4 is self-shielded and electrode positive", trap(1), of("E70T-4"), run(DCEN), nil, "", RulePolarity, Stops, "electrode positive"},
		{"E70T-6 is self-shielded and electrode positive", trap(1), of("E70T-6"), run(DCEP), nil, "", RulePolarity, Passed, ""},
		{"E70T-7 is electrode negative", trap(1), of("E70T-7"), run(DCEP), nil, "", RulePolarity, Stops, "electrode negative"},
		{"E71T-8 is electrode negative", trap(1), of("E71T-8"), run(DCEN), nil, "", RulePolarity, Passed, ""},
		{"E70T-10 is electrode negative", trap(1), of("E70T-10"), run(DCEN), nil, "", RulePolarity, Passed, ""},
		{"E71T-11 is electrode negative", trap(1), of("E71T-11"), run(DCEP), nil, "", RulePolarity, Stops, ""},
		{"E71T-13 is electrode negative", trap(1), of("E71T-13"), run(DCEN), nil, "", RulePolarity, Passed, ""},
		{"E71T-14 is electrode negative", trap(1), of("E71T-14"), run(DCEP), nil, "", RulePolarity, Stops, ""},
		{"self-shielded stainless is electrode positive", trap(2), of("E309LT0-3"), run(DCEP), nil, "", RulePolarity, Passed, ""},
		{"self-shielded stainless is not electrode negative", trap(2), of("E309LT0-3"), run(DCEN), nil, "", RulePolarity, Stops, "electrode positive"},
		{"self-shielded stainless runs without gas", trap(2), of("E309LT0-3"), gas("none"), nil, "", RuleGas, Passed, ""},
		{"-3 of A5.20 takes a single pass", trap(3), of("E70T-3"), Demand{Passes: MultiPass}, nil, "", RulePasses, Stops, "single-pass"},
		{"-3 of A5.22 takes several, from memory", trap(3), of("E309LT0-3"), Demand{Passes: MultiPass}, nil, "", RulePasses, Caution, "memory"},
		{"GS says nothing of polarity", trap(4), of("E71T-GS"), run(DCEN), nil, "", RulePolarity, Stops, "read the box"},
		{"GS says nothing of gas", trap(4), of("E71T-GS"), gas("none"), nil, "", RuleGas, Stops, "read the box"},
		{"GS is single pass", trap(4), of("E71T-GS"), Demand{Passes: MultiPass}, nil, "", RulePasses, Stops, "single-pass"},
		{"G says nothing of polarity", trap(4), of("E71T-G"), run(DCEP), nil, "", RulePolarity, Stops, "read the box"},
		{"-5 in position 1 wants the maker", trap(5), of("E71T-5C"), run(DCEP), nil, "", RulePolarity, Caution, "data sheet"},
		{"-5 is not self-shielded", trap(5), of("E71T-5C"), gas("none"), nil, "", RuleGas, Stops, "needs gas"},
		{"-11 on 19 mm by the recommendation", trap(6), lacking(of("E71T-11"), "max_thickness_of_the_wire"), plate(mm(19), false), nil, "structural-steel", RuleThickness, Passed, ""},
		{"-11 on 19 mm prequalified", trap(6), of("E71T-11"), plate(mm(19), true), nil, "structural-steel", RuleThickness, Stops, "prequalified for plate up to 12 mm"},
		{"-11 on 12 mm prequalified", trap(6), lacking(of("E71T-11"), "max_thickness_of_the_wire"), plate(mm(12), true), nil, "structural-steel", RuleThickness, Passed, "12 mm"},
		{"-11 on 12 mm wants its own limit read", trap(6), of("E71T-11"), plate(mm(12), true), nil, "structural-steel", RuleThickness, Caution, "this wire's own limit"},
		{"E71T-1 is a label of 1995 and CO2", trap(7), of("E71T-1"), gas("CO2"), nil, "", RuleGas, Caution, "1995"},
		{"E71T-1 is not for any gas", trap(7), of("E71T-1"), gas("75 Ar 25 CO2"), nil, "", RuleGas, Stops, ""},
		{"E71T-1 is not self-shielded", trap(7), of("E71T-1"), gas("none"), nil, "", RuleGas, Stops, "needs gas"},
		{"the M of E71T-1M is a gas", trap(8), of("E71T-1M"), gas("CO2"), nil, "", RuleGas, Stops, "75-80 % Ar"},
		{"the M of an ISO core is metal powder", trap(8), of("T 46 4 M M21 1 H5"), Demand{Processes: []Process{FCAWG}}, nil, "", RuleProcess, Stops, "metal cored"},
		{"82/18 is not the gas of an M wire", trap(9), of("E71T-1M"), gas("82 Ar 18 CO2"), nil, "", RuleGas, Stops, "82 % Ar"},
		{"82/18 is M21", trap(9), of("T 46 3 1Ni B M21 1 H5"), gas("82 Ar 18 CO2"), nil, "", RuleGas, Passed, ""},
		{"90/10 is not M21", trap(9), of("T 46 3 1Ni B M21 1 H5"), gas("90 Ar 10 CO2"), nil, "", RuleGas, Stops, ""},
		{"15 % CO2 is not M21", trap(10), of("T 46 3 1Ni B M21 1 H5"), gas("85 Ar 15 CO2"), nil, "", RuleGas, Stops, ""},
		{"25 % CO2 is M21", trap(10), of("T 46 3 1Ni B M21 1 H5"), gas("75 Ar 25 CO2"), nil, "", RuleGas, Passed, ""},
		{"A8 of A5.36 is -80 degF, a mark that is from memory", trap(11), of("E81T1-M21A8-Ni1-H4"), cold("20 ft-lbf at -80 degF"), nil, "", RuleToughness, Caution, "20 ft-lbf at -80 degF is wanted. That is from memory"},
		{"A8 of A5.36 is not -80 degC", trap(11), of("E81T1-M21A8-Ni1-H4"), cold("27 J at -80 degC"), nil, "", RuleToughness, Stops, ""},
		{"3 of ISO 17632-A is -30 degC", trap(11), of("T 46 3 1Ni B M21 1 H5"), cold("47 J at -30 degC"), nil, "", RuleToughness, Passed, ""},
		{"3 of ISO 17632-A is not -40 degC", trap(11), of("T 46 3 1Ni B M21 1 H5"), cold("47 J at -40 degC"), nil, "", RuleToughness, Stops, ""},
		{"AWS 0 is flat and horizontal", trap(12), of("E70T-1C"), pos(Overhead), nil, "", RulePosition, Stops, "flat and horizontal"},
		{"AWS 1 is all positions", trap(12), of("E71T-1C"), pos(Overhead), nil, "", RulePosition, Passed, ""},
		{"ISO-A 2 is all but down", trap(12), of("T 42 2 P C1 2 H10"), pos(VerticalDown), nil, "", RulePosition, Stops, ""},
		{"ISO-A 3 is flat and horizontal", trap(12), of("T 42 2 R C1 3 H10"), pos(VerticalUp), nil, "", RulePosition, Stops, ""},
		{"ISO 17632-A does not fix the polarity", trap(13), of("T 46 3 1Ni B M21 1 H5"), run(DCEP), nil, "", RulePolarity, Stops, "read the box"},
		{"ISO 17632-B does", trap(13), of("T 49 2 T1-1 C1 A H10"), run(DCEP), nil, "", RulePolarity, Passed, ""},
		{"H5 meets a demand of 8", trap(14), of("T 46 3 1Ni B M21 1 H5"), grams(8), nil, "", RuleHydrogen, Passed, ""},
		{"H5 does not meet a demand of 4", trap(14), of("T 46 3 1Ni B M21 1 H5"), grams(4), nil, "", RuleHydrogen, Stops, "not enough"},
		{"H10 does not meet a demand of 8", trap(14), of("T 49 2 T1-1 C1 A H10"), grams(8), nil, "", RuleHydrogen, Stops, ""},
		{"H8 does not meet a demand of 5", trap(14), of("E71T-1C-H8"), grams(5), nil, "", RuleHydrogen, Stops, ""},
		{"NO is no gas", trap(15), of("T 42 Z W NO 1 H10"), gas("none"), nil, "", RuleGas, Passed, ""},
		{"NO is never run with gas", trap(15), of("T 42 Z W NO 1 H10"), gas("CO2"), nil, "", RuleGas, Stops, "shut the gas off"},
		{"E70C-6M is not flux cored", trap(16), of("E70C-6M"), Demand{Processes: []Process{FCAWG}}, nil, "", RuleProcess, Stops, "metal cored"},
		{"E70C-6M carries its gas", trap(16), of("E70C-6M"), gas("75 Ar 25 CO2"), nil, "", RuleGas, Passed, ""},
		{"E80C-Ni1 does not", trap(16), of("E80C-Ni1"), gas("75 Ar 25 CO2"), nil, "", RuleGas, Stops, "read the box"},
		{"no metal cored wire runs without gas", trap(16), of("E70C-6M"), gas("none"), nil, "", RuleGas, Stops, "needs gas"},
		{"E7 of A5.20 promises 70 ksi and not its ceiling", trap(18), of("E71T-1C"), strong(95), nil, "", RuleStrength, Stops, "70 ksi"},
		{"A36 of 20 mm is in group I", trap(19), of("E71T-1C"), steel(mm(20)), nil, "structural-steel", RuleStrength, Passed, "group I of"},
		{"A36 of 21 mm is in group II, from memory", trap(19), of("E71T-1C"), steel(mm(21)), nil, "structural-steel", RuleStrength, Caution, "group II of"},
		{"A36 of 20 mm takes E6", trap(19), of("E61T-1C"), steel(mm(20)), nil, "structural-steel", RuleStrength, Passed, ""},
		{"A36 of 21 mm does not take E6", trap(19), of("E61T-1C"), steel(mm(21)), nil, "structural-steel", RuleStrength, Stops, ""},
		{"A514 is in no group", trap(19), of("E111T1-K3C"), Demand{Matching: true, Prequalified: true, Thickness: mm(20), BaseMetals: joint("A514", lowAlloySteel)}, nil, "structural-steel", RuleStrength, Stops, "no prequalified group"},
		{"1.2 mm fits a slot of .045 in by practice", trap(20), on(of("E71T-1C"), func(o *Offer) { o.Diameter = mm(12) / 10 }), Demand{Diameters: []unit.Length{inch(45)}}, nil, "", RuleDiameter, Caution, "practice"},
		{"1.1 mm is what the box says of .045 in", trap(20), on(of("E71T-1C"), func(o *Offer) { o.Diameter = mm(11) / 10 }), Demand{Diameters: []unit.Length{inch(45)}}, nil, "", RuleDiameter, Passed, ""},
		{"ER308L and E308LT both suit 304L, whatever their carbon", trap(21), of("ER308L"), Demand{BaseMetals: joint("304L", stainlessSteel)}, nil, "", RuleBaseMetal, Passed, ""},
		{"E308LT suits 304L as well", trap(21), of("E308LT1-1"), Demand{BaseMetals: joint("304L", stainlessSteel)}, nil, "", RuleBaseMetal, Passed, ""},
		{"solid stainless does not run in CO2", trap(22), of("ER308L"), Demand{Gas: gasOf("CO2"), Processes: []Process{GMAW}}, nil, "", RuleGas, Stops, ""},
		{"solid stainless does not run in 75/25", trap(22), of("ER308L"), Demand{Gas: gasOf("75 Ar 25 CO2"), Processes: []Process{GMAW}}, nil, "", RuleGas, Stops, ""},
		{"flux cored stainless -1 runs in CO2", trap(22), of("E308LT1-1"), gas("CO2"), nil, "", RuleGas, Passed, ""},
		{"flux cored stainless -4 runs in 75/25", trap(22), of("E308LT1-4"), gas("75 Ar 25 CO2"), nil, "", RuleGas, Passed, ""},
		{"flux cored stainless -1 does not run in 75/25", trap(22), of("E308LT1-1"), gas("75 Ar 25 CO2"), nil, "", RuleGas, Stops, ""},
		{"two wires of F-6 are not one", trap(23), of("E71T-8"), classed("E71T-1C"), nil, "", RuleClassification, Stops, "E71T-8"},
		{"solid and tubular wire of F-6 are not one", trap(23), of("ER70S-6"), classed("E71T-1C"), nil, "", RuleClassification, Stops, ""},
	}
	for _, class := range []string{"E71T-1C", "E71T-8", "E71T-11", "E71T-14", "E71T-GS", "E70C-6M", "E81T1-Ni1C", "E309LT1-1", "E309LT0-3", "EC409", "T 46 3 1Ni B M21 1 H5", "E81T1-M21A8-Ni1-H4"} {
		cases = append(cases, fitCase{"no tubular wire for aluminium: " + class, trap(17), of(class), alu, nil, "general-shop", RuleBaseMetal, Stops, "Never weld aluminium"})
	}
	return cases
}

// lacking is an offer without the facts of one name.
func lacking(o Offer, name string) Offer {
	o.Facts = without(o.Facts, name)
	return o
}

func TestTraps(t *testing.T) {
	cases := trapCases(t)
	runCases(t, cases)
	number := regexp.MustCompile(`Traps (\d+)`)
	seen := map[string]bool{}
	for _, c := range cases {
		seen[number.FindStringSubmatch(c.source)[1]] = true
	}
	for n := 1; n <= 23; n++ {
		if !seen[strconv.Itoa(n)] {
			t.Errorf("trap %d has no case", n)
		}
	}
}

// TestListOfTheGate are the cases that the gate was asked for by name, on wires
// as the decoder reads them.
func TestListOfTheGate(t *testing.T) {
	of := func(class string) Offer { return decoded(t, class) }
	wind := func(s string) Demand { return Demand{Wind: mph(s)} }
	runCases(t, []fitCase{
		{"gas-shielded wire at 5 mph", code + "C001", of("E71T-1C"), wind("5"), nil, "structural-steel", RuleWind, Passed, ""},
		{"gas-shielded wire at 6 mph", code + "C001", of("E71T-1C"), wind("6"), nil, "structural-steel", RuleWind, Stops, "shelter"},
		{"metal cored wire at 6 mph", code + "C001 GMAW", of("E70C-6M"), wind("6"), nil, "structural-steel", RuleWind, Stops, ""},
		{"self-shielded wire at 20 mph", code + "C001 note", of("E71T-8"), wind("20"), nil, "structural-steel", RuleWind, Passed, ""},
		{"gas-shielded wire at 6 mph in bridge work, by practice", code + "C001", of("E71T-1C"), wind("6"), nil, "bridge", RuleWind, Caution, "from practice"},
		{"stainless wire at 6 mph in the stainless shop, by practice", code + "C003", of("E309LT1-1"), wind("6"), nil, "stainless", RuleWind, Caution, "from practice"},
		{"unknown toughness against a demand", design, of("E71T-GS"), Demand{Toughness: tough("20 ft-lbf at 0 degF")}, nil, "", RuleToughness, Stops, ""},
		{"unknown toughness against the seismic profile", code + "C008", of("ER80S-G"), Demand{}, nil, "seismic-structural", RuleToughness, Stops, ""},
		{"no toughness where none is demanded", design, of("E71T-GS"), Demand{}, nil, "structural-steel", RuleToughness, NotDemanded, ""},
		{"a bridge wire open for 25 h, from memory", exposed + "E042", opened(wire1C(), 25), Demand{}, nil, "bridge", RuleExposure, Caution, "25 h"},
		{"a stainless wire open for 73 h, by practice", exposed + "E070", opened(stainless("1", onlyCO2, external), 73), Demand{}, nil, "stainless", RuleExposure, Caution, "from practice"},
		{"solid stainless has no clock in the stainless shop", exposed + "E074 rust, not hydrogen", opened(solidWire(), 73), Demand{}, nil, "stainless", RuleExposure, Caution, "no limit is known"},
	})
}
