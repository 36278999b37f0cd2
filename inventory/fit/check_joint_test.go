package fit

import (
	"testing"

	"wirehold/inventory/unit"
)

const (
	metals   = "testdata/weld_metal.csv "
	practice = "testdata/trade_practice.csv "
	groups   = "testdata/base_metal_match.csv, base_metal "
)

func TestCheckRemaining(t *testing.T) {
	holds := func(g unit.Grams) Offer { return on(spool(wire8()), func(o *Offer) { o.Net = g }) }
	welds := Demand{Welds: []Weld{fillet(8, 12)}}
	runCases(t, []fitCase{
		{"no weld asks nothing", design, holds(1000), Demand{}, nil, "", RuleRemaining, NotDemanded, "1 kg of wire left"},
		{"no weld, and a spool nobody has weighed", design, holds(0), Demand{}, nil, "", RuleRemaining, NotDemanded, "The job asks nothing about the amount of weld."},
		{"enough wire", metals + "E-avg-FCAW-S", holds(3865), welds, nil, "", RuleRemaining, Passed, "3.865 kg"},
		{"a gram too little is a caution with the figure", metals + "E-avg-FCAW-S", holds(3864), welds, nil, "", RuleRemaining, Caution, "0.001 kg short"},
		{"the figures are shown", metals + "E-avg-FCAW-S", holds(2000), welds, nil, "", RuleRemaining, Caution, "The weld needs 3.865 kg of wire: 3.015 kg of weld metal (12 m of 8 mm fillet) at 78 % deposition efficiency. The spool has 2 kg: 1.865 kg short."},
		{"a spool nobody has weighed is a caution", design, holds(0), welds, nil, "", RuleRemaining, Caution, "weigh it"},
		{"wire nobody knows is a caution", design, on(spool(nil), func(o *Offer) { o.Net = 5000 }), welds, nil, "", RuleRemaining, Caution, "cannot be reckoned"},
		{"weld that makes no sense is a caution", design, holds(5000), Demand{Welds: []Weld{{Shape: FilletWeld, Length: mm(1)}}}, nil, "", RuleRemaining, Caution, "the fillet has no leg"},
		{"the sheet's efficiency counts first", metals + "N-1", on(spool(with(wire8(), sheet("deposition_efficiency", "90", "%"))), func(o *Offer) { o.Net = 3350 }), welds, nil, "", RuleRemaining, Passed, "90 %"},
		{"solid wire in GTAW goes by GTAW", metals + "E-rng-GTAW", on(spool(solidWire()), func(o *Offer) { o.Net = 3207 }), Demand{Welds: welds.Welds, Processes: []Process{GTAW}}, nil, "", RuleRemaining, Passed, "94 %"},
	})
}

func TestCheckMixing(t *testing.T) {
	selfLaid := []Laid{{Spool: "W1", Wire: "E71T-8", Shielding: SelfShielded}}
	gasLaid := []Laid{{Spool: "W2", Wire: "E71T-1C", Shielding: GasShielded}}
	unknownLaid := []Laid{{Spool: "W3", Wire: "E71T-GS"}}
	over := func(laid []Laid) Demand { return Demand{Laid: laid} }
	tough20 := func(laid []Laid) Demand { return Demand{Laid: laid, Toughness: tough("20 ft-lbf at 0 degF")} }
	proven := Demand{Laid: selfLaid, IntermixReport: "MIX-3"}
	runCases(t, []fitCase{
		{"an empty joint asks nothing", design, spool(wire8()), Demand{}, nil, "seismic-structural", RuleMixing, NotDemanded, ""},
		{"gas-shielded over self-shielded wants proof in seismic work", code + "C024", spool(wire1C()), over(selfLaid), nil, "seismic-structural", RuleMixing, Stops, "Gas-shielded over self-shielded weld (E71T-8)"},
		{"self-shielded over gas-shielded wants it too", code + "C024", spool(wire8()), over(gasLaid), nil, "seismic-structural", RuleMixing, Stops, "Self-shielded over gas-shielded weld (E71T-1C)"},
		{"solid wire over self-shielded wants it too", code + "C024 any other process", spool(solidWire()), over(selfLaid), nil, "seismic-structural", RuleMixing, Stops, "Gas-shielded over"},
		{"a report proves it", code + "C024 no intermix report", spool(wire1C()), proven, nil, "seismic-structural", RuleMixing, Passed, "MIX-3"},
		{"the same kind is no mix", code + "C024", spool(wire8()), over(selfLaid), nil, "seismic-structural", RuleMixing, Passed, "nothing is mixed"},
		{"one of several deposits that differs is a mix", code + "C024", spool(wire8()), over(append(selfLaid, gasLaid...)), nil, "seismic-structural", RuleMixing, Stops, ""},
		{"a deposit of unknown shielding stops", design, spool(wire8()), over(unknownLaid), nil, "seismic-structural", RuleMixing, Stops, "Nobody says how one of the wires"},
		{"a wire of unknown shielding stops", design, spool(wireGS()), over(selfLaid), nil, "seismic-structural", RuleMixing, Stops, "of unknown shielding"},
		{"a report does not cover what nobody knows", design, spool(wireGS()), proven, nil, "seismic-structural", RuleMixing, Stops, "Nobody says"},
		{"structural work without a toughness demand asks nothing", code + "C026 CVN demanded", spool(wire1C()), over(selfLaid), nil, "structural-steel", RuleMixing, NotDemanded, "asks no proof"},
		{"structural work with one is a caution, the rule being from memory", code + "C026", spool(wire1C()), tough20(selfLaid), nil, "structural-steel", RuleMixing, Caution, "from memory"},
		{"bridge work with one is a caution, the rule being practice", code + "C026", spool(wire1C()), tough20(selfLaid), nil, "bridge", RuleMixing, Caution, "from practice"},
		{"a general shop asks nothing", design, spool(wire1C()), tough20(selfLaid), nil, "general-shop", RuleMixing, NotDemanded, ""},
	})
}

func TestCheckPassCount(t *testing.T) {
	atMost3 := with(wire1C(), sheet("passes", "at most 3 passes", ""))
	passes := func(n int) Demand { return Demand{Passes: MultiPass, PassCount: n} }
	runCases(t, []fitCase{
		{"three passes of at most three", design, spool(atMost3), passes(3), nil, "", RulePasses, Passed, "at most 3 passes, and the joint takes 3"},
		{"four passes of at most three", design, spool(atMost3), passes(4), nil, "", RulePasses, Stops, "The joint takes 4."},
		{"passes nobody has counted are a caution", design, spool(atMost3), passes(0), nil, "", RulePasses, Caution, "see that the joint takes no more"},
		{"a single pass of at most three", design, spool(atMost3), Demand{Passes: SinglePass}, nil, "", RulePasses, Passed, ""},
		{"a number of passes is a joint of several", code + "C032", spool(wire14()), Demand{PassCount: 2}, nil, "", RulePasses, Stops, "never lay a second pass"},
		{"one pass is a single pass", code + "C032", spool(wire14()), Demand{PassCount: 1}, nil, "", RulePasses, Passed, "single pass"},
		{"any number of passes for a class without a limit", tables, spool(wire1C()), passes(12), nil, "", RulePasses, Passed, ""},
		{"the shop may set fewer than the sheet", design, spool(with(atMost3, shop("passes", "at most 2 passes", ""))), passes(3), nil, "", RulePasses, Stops, "at most 2"},
		{"a sheet of at most three against a single-pass class is a conflict", design, spool(with(wire14(), sheet("passes", "at most 3 passes", ""))), passes(2), nil, "", RulePasses, Stops, "engineer must settle"},
	})
}

func TestCheckThicknessBySize(t *testing.T) {
	bySize := with(wire14(), sized("max_thickness_single_pass", "3 mm", ".030 in"), sized("max_thickness_single_pass", "5 mm", ".035 in"), sized("max_thickness_single_pass", "8 mm", ".045 in"))
	any1 := with(wire1C(), sheet("max_thickness_single_pass", "8", "mm"), sheet("max_thickness_multi_pass", "12", "mm"))
	of := func(thousandths int, facts []fact) Offer {
		return on(spool(facts), func(o *Offer) { o.Diameter = inch(thousandths) })
	}
	plate := func(t int, p Passes) Demand { return Demand{Thickness: mm(t), Passes: p, Joint: "butt"} }
	plain := without(without(without(wire14(), "max_thickness_butt_edge_corner"), "max_thickness_tee_or_lap"), "passes")
	oneOnly := with(plain, published("passes", "single only", "", "14"))
	runCases(t, []fitCase{
		{"a size that fills the plate in one pass", design, of(45, bySize), plate(6, SinglePass), nil, "", RuleThickness, Passed, ""},
		{"a size too thin to fill it stops and names the one that does", design, of(35, bySize), plate(6, SinglePass), nil, "", RuleThickness, Stops, "This wire of .035 in fills plate up to 5 mm in one pass. The plate is 6 mm (.2362 in). By its data sheet it would in .045 in."},
		{"it names every one", design, of(30, bySize), plate(4, SinglePass), nil, "", RuleThickness, Stops, "in .035 in or .045 in"},
		{"no size of it does", design, of(45, bySize), plate(9, SinglePass), nil, "", RuleThickness, Stops, "Take a wire for thicker plate."},
		{"a single-pass wire is held to it whatever the job says of passes", design, of(35, bySize), plate(6, ""), nil, "", RuleThickness, Stops, "fills plate up to 5 mm"},
		{"a wire for several passes may fill it in several", design, of(45, any1), plate(10, ""), nil, "", RuleThickness, Caution, "weld it in several"},
		{"in several passes the limit of one does not hold", design, of(45, any1), plate(10, MultiPass), nil, "", RuleThickness, Passed, ""},
		{"in several passes its own limit does", design, of(45, any1), plate(13, MultiPass), nil, "", RuleThickness, Stops, "12 mm"},
		{"in one pass the limit of one stops", design, of(45, any1), plate(10, SinglePass), nil, "", RuleThickness, Stops, "8 mm in one pass"},
		{"common practice with .030 in is a caution past 5 mm", practice + "T051", of(30, oneOnly), plate(6, SinglePass), nil, "", RuleThickness, Caution, "Common practice with tubular wire of .030 in is plate up to 5 mm. The plate is 6 mm (.2362 in) and is welded in one pass: the usual sizes for it begin at .035 in."},
		{"common practice with .035 in is a caution past 8 mm", practice + "T052", of(35, oneOnly), plate(9, SinglePass), nil, "", RuleThickness, Caution, "begin at .045 in"},
		{"common practice with .045 in goes to 50 mm", practice + "T053", of(45, wire1C()), plate(50, SinglePass), nil, "", RuleThickness, Passed, ""},
		{"common practice with .045 in is a caution past 50 mm", practice + "T053", of(45, wire1C()), plate(51, SinglePass), nil, "", RuleThickness, Caution, "begin at .052 in"},
		{"common practice is not for solid wire", practice + "T051 tubular", of(30, with(solidWire(), shop("passes", "single and multiple", ""))), plate(9, SinglePass), nil, "", RuleThickness, Passed, ""},
		{"common practice is not for several passes", practice + "T052", of(35, wire1C()), plate(20, MultiPass), nil, "", RuleThickness, Passed, ""},
		{"a sheet silences common practice", design, of(30, with(oneOnly, sheet("max_thickness_single_pass", "10", "mm"))), plate(6, SinglePass), nil, "", RuleThickness, Passed, "up to 10 mm in one pass"},
		{"a wire of unknown size is held to every size", design, on(spool(bySize), func(o *Offer) { o.Diameter = 0 }), plate(4, SinglePass), nil, "", RuleThickness, Stops, "3 mm"},
		{"a limit of one pass nobody can read stops", design, of(45, with(wire14(), sheet("max_thickness_single_pass", "thin", ""))), plate(3, SinglePass), nil, "", RuleThickness, Stops, "cannot be read"},
	})
}

func TestCheckMatchingStrength(t *testing.T) {
	e6 := with(without(wire1C(), "tensile_min"), published("tensile_min", "60", "ksi", "6"))
	e8 := with(without(wire1C(), "tensile_min"), published("tensile_min", "80", "ksi", "8"))
	e11 := with(without(wire1C(), "tensile_min"), published("tensile_min", "110", "ksi", "11"))
	plate := func(l unit.Length, names ...string) Demand {
		d := Demand{Matching: true, Thickness: l}
		for _, n := range names {
			d.BaseMetals = append(d.BaseMetals, BaseMetal{n, carbonSteel})
		}
		return d
	}
	qualified := func(d Demand) Demand { d.Prequalified = true; return d }
	runCases(t, []fitCase{
		{"nothing is asked where matching is not", design, spool(e6), Demand{BaseMetals: joint("A36", carbonSteel), Thickness: mm(25)}, nil, "", RuleStrength, NotDemanded, ""},
		{"A36 up to 20 mm is matched by E6", traps + " 19; " + groups + "A36 (<=20 mm, 3/4 in)", spool(e6), plate(mm(20), "A36"), nil, "", RuleStrength, Passed, "group I of AWS D1.1"},
		{"A36 of 3/4 in is matched by E6", traps + " 19", spool(e6), plate(inch(750), "A36"), nil, "", RuleStrength, Passed, ""},
		{"A36 of 21 mm is not matched by E6", traps + " 19; " + groups + "A36 (>20 mm, 3/4 in)", spool(e6), plate(mm(21), "A36"), nil, "", RuleStrength, Stops, "group II of AWS D1.1"},
		{"A36 of 21 mm is matched by E7, from memory", traps + " 19", spool(wire1C()), plate(mm(21), "A36"), nil, "", RuleStrength, Caution, "from memory"},
		{"A36 of unknown thickness is held to the stronger group", design, spool(e6), plate(0, "A36"), nil, "", RuleStrength, Stops, "group II"},
		{"A572 Gr 50 is matched by E7, from memory", groups + "A572 Gr 50", spool(wire1C()), plate(mm(12), "A572 Gr 50"), nil, "", RuleStrength, Caution, "group II"},
		{"A572 Gr 65 is not matched by E7", groups + "A572 Gr 65", spool(wire1C()), plate(mm(12), "A572 Gr 65"), nil, "", RuleStrength, Stops, "group III"},
		{"A572 Gr 65 is matched by E8, from memory", groups + "A572 Gr 65", spool(e8), plate(mm(12), "A572 Gr 65"), nil, "", RuleStrength, Caution, "group III"},
		{"A131 Gr D is one of the grades of its row", groups + "A131 Gr A B CS D DS E", spool(e6), plate(mm(12), "A131 Gr D"), nil, "", RuleStrength, Passed, "group I"},
		{"A514 is matched by E11 where its procedure is qualified", traps + " 19; " + groups + "A514 (<=65 mm, 2-1/2 in)", spool(e11), plate(mm(25), "A514"), nil, "", RuleStrength, Caution, "E11"},
		{"A514 is in no prequalified group", traps + " 19", spool(e11), qualified(plate(mm(25), "A514")), nil, "", RuleStrength, Stops, "no prequalified group"},
		{"A514 is not matched by E8", groups + "A514", spool(e8), plate(mm(25), "A514"), nil, "", RuleStrength, Stops, "E11"},
		{"a wire that matches the weaker side is for the engineer", design, spool(wire1C()), plate(mm(12), "A36", "A572 Gr 65"), nil, "", RuleStrength, Caution, "match the other side"},
		{"a wire that matches neither stops", design, spool(e6), plate(mm(12), "A572 Gr 50", "A572 Gr 65"), nil, "", RuleStrength, Stops, ""},
		{"a steel in no table is for the engineer", design, spool(wire1C()), plate(mm(12), "S355J2"), nil, "", RuleStrength, Caution, "No table here"},
		{"a joint of no named metal stops", design, spool(wire1C()), plate(mm(12)), nil, "", RuleStrength, Stops, "names no base metal"},
		{"a wire of unknown strength stops", design, spool(without(wire1C(), "tensile_min")), plate(mm(12), "A36"), nil, "", RuleStrength, Stops, "Nobody says"},
		{"a wire of unknown strength matches no side", design, spool(without(wire1C(), "tensile_min")), plate(mm(12), "A36", "A572 Gr 65"), nil, "", RuleStrength, Stops, "Nobody says"},
	})
}

func TestCheckGasOnSelfShieldedWire(t *testing.T) {
	permits := func(gas string) []fact { return with(wire11(), sheet("self_shielded_gas_permitted", gas, "")) }
	runs := func(gas string, p Polarity) Demand { return Demand{Gas: gasOf(gas), Polarity: p} }
	runCases(t, []fitCase{
		{"gas stays off unless the sheet permits it", practice + "T050", spool(wire11()), runs("CO2", DCEN), nil, "", RuleGas, Stops, "shut the gas off"},
		{"a sheet that permits it, on the wire's own polarity", design, spool(permits(onlyCO2)), runs("CO2", DCEN), nil, "", RuleGas, Passed, "permits CO2"},
		{"a sheet that permits it does not change the polarity", design, spool(permits(onlyCO2)), runs("CO2", DCEP), nil, "", RuleGas, Stops, "It stays electrode negative (DCEN) with gas too"},
		{"a wire of unknown polarity does not run with gas", design, spool(with(without(wire11(), "polarity"), sheet("self_shielded_gas_permitted", onlyCO2, ""))), runs("CO2", ""), nil, "", RuleGas, Stops, "how it is run with gas"},
		{"a sheet that says no", design, spool(permits("no")), runs("CO2", DCEN), nil, "", RuleGas, Stops, "shut the gas off"},
		{"practice permits nothing", practice + "T050", spool(with(wire11(), custom("self_shielded_gas_permitted", "yes"))), runs("CO2", DCEN), nil, "", RuleGas, Stops, ""},
		{"a feeder with the permitted gas", design, spool(permits(onlyCO2)), Demand{}, &Feeder{Name: "F1", Gas: gasOf("CO2")}, "", RuleGas, Passed, ""},
		{"a feeder with another", design, spool(permits(onlyCO2)), Demand{}, &Feeder{Name: "F1", Gas: gasOf("75 Ar 25 CO2")}, "", RuleGas, Stops, "shut the gas off"},
	})
}
