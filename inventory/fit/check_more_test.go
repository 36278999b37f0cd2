package fit

import (
	"testing"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

func TestCheckMechanical(t *testing.T) {
	ksi := func(n int) Demand { return Demand{Tensile: unit.Stress{Value: n, Unit: unit.KSI}} }
	mpa := func(n int) Demand { return Demand{Tensile: unit.Stress{Value: n, Unit: unit.MPa}} }
	h := func(n int) Demand { return Demand{Hydrogen: n} }
	cold := func(s string) Demand { return Demand{Toughness: tough(s)} }
	marked := func(n string) filler.Facts {
		return with(wire1C(), published("diffusible_hydrogen_max", n, "mL/100 g deposited", "H"+n))
	}
	j := with(wire1C(), remembered("impact_min_energy", "20", "ft-lbf", "J"), remembered("impact_temperature", "-40", "degF", "J"))
	runCases(t, []fitCase{
		{"70 ksi meets 70 ksi", tables, spool(wire1C()), ksi(70), nil, "", RuleStrength, Passed, ""},
		{"70 ksi does not meet 80 ksi", tables, spool(wire1C()), ksi(80), nil, "", RuleStrength, Stops, "not enough"},
		{"70 ksi is 483 MPa and does not meet 490", "testdata/units.csv UE-15", spool(wire1C()), mpa(490), nil, "", RuleStrength, Stops, ""},
		{"an unknown strength stops", design, spool(without(wire1C(), "tensile_min")), ksi(70), nil, "", RuleStrength, Stops, "Nobody says"},
		{"a strength from memory is a caution", design, spool(filler.Facts{remembered("tensile_min", "80", "ksi", "80")}), ksi(80), nil, "", RuleStrength, Caution, "memory"},
		{"a sheet below the class is a conflict", design, spool(with(wire1C(), sheet("tensile_min", "60", "ksi"))), ksi(60), nil, "", RuleStrength, Stops, "An engineer must settle it"},
		{"practice is no strength", design, spool(filler.Facts{custom("tensile_min", "70 ksi")}), ksi(70), nil, "", RuleStrength, Stops, ""},
		{"-1 meets 20 ft-lbf at 0", code + "C014", spool(wire1C()), cold("20 ft-lbf at 0 degF"), nil, "", RuleToughness, Passed, ""},
		{"-1 does not meet 20 ft-lbf at -20", code + "C015 note", spool(wire1C()), cold("20 ft-lbf at -20 degF"), nil, "", RuleToughness, Stops, ""},
		{"-8 meets 20 ft-lbf at -20", code + "C015", spool(wire8()), cold("20 ft-lbf at -20 degF"), nil, "", RuleToughness, Passed, ""},
		{"-8 meets 27 J at -29", "testdata/units.csv UE-18 UT-02", spool(wire8()), cold("27 J at -29 degC"), nil, "", RuleToughness, Passed, ""},
		{"J from memory at -40 is a caution", code + "C013", spool(j), cold("20 ft-lbf at -40 degF"), nil, "", RuleToughness, Caution, "memory"},
		{"what the class publishes passes beside a J", code + "C014", spool(j), cold("20 ft-lbf at 0 degF"), nil, "", RuleToughness, Passed, ""},
		{"energy and temperature of two places are not mixed", design, spool(with(filler.Facts{published("impact_min_energy", "40", "ft-lbf", "D")}, published("impact_temperature", "-40", "degF", "J"))), cold("40 ft-lbf at -40 degF"), nil, "", RuleToughness, Stops, ""},
		{"a class that requires none stops any demand", code + "C016", spool(wire11()), cold("20 ft-lbf at 70 degF"), nil, "", RuleToughness, Stops, "promises no toughness"},
		{"a sheet beside a class that requires none is for the engineer", code + "C016 note", spool(with(wire11(), sheet("impact_min_energy", "27", "J"), sheet("impact_temperature", "-30", "degC"))), cold("27 J at -30 degC"), nil, "", RuleToughness, Caution, "engineer"},
		{"the seismic profile demands toughness by itself", code + "C008", spool(wire11()), Demand{}, nil, "seismic-structural", RuleToughness, Stops, ""},
		{"-8 meets the seismic profile's toughness", code + "C008", spool(wire8()), Demand{}, nil, "seismic-structural", RuleToughness, Passed, ""},
		{"H8 meets a demand of 8", "testdata/exposure_rules.csv E045", spool(marked("8")), h(8), nil, "", RuleHydrogen, Passed, ""},
		{"H4 meets a demand of 8", exposed + "E047 note", spool(marked("4")), h(8), nil, "", RuleHydrogen, Passed, ""},
		{"ISO H5 meets H8 and not H4", exposed + "E047 note", spool(marked("5")), h(4), nil, "", RuleHydrogen, Stops, "not enough"},
		{"ISO H5 does meet H8", exposed + "E047 note", spool(marked("5")), h(8), nil, "", RuleHydrogen, Passed, ""},
		{"a wire without an H mark stops", design, spool(wire1C()), h(16), nil, "", RuleHydrogen, Stops, "Nobody says"},
		{"solid wire without a mark stops too", code + "C019 holds for AWS D1.8 only", spool(solidWire()), h(16), nil, "", RuleHydrogen, Stops, ""},
		{"the seismic profile exempts solid wire", code + "C019", spool(solidWire()), Demand{}, nil, "seismic-structural", RuleHydrogen, NotDemanded, ""},
		{"the seismic profile wants H16 of flux cored wire", code + "C019", spool(wire1C()), Demand{}, nil, "seismic-structural", RuleHydrogen, Stops, ""},
		{"H16 meets the seismic profile", code + "C019", spool(marked("16")), Demand{}, nil, "seismic-structural", RuleHydrogen, Passed, ""},
		{"a sheet narrows the hydrogen", design, spool(with(marked("8"), sheet("diffusible_hydrogen_max", "3.5", "mL/100 g"))), h(4), nil, "", RuleHydrogen, Passed, ""},
		{"a sheet above the class is a conflict", design, spool(with(marked("4"), sheet("diffusible_hydrogen_max", "8", "mL/100 g"))), h(16), nil, "", RuleHydrogen, Stops, "engineer"},
	})
}

func TestCheckSite(t *testing.T) {
	wind := func(s string) Demand { return Demand{Wind: mph(s)} }
	shelter := Demand{Wind: mph("20"), Sheltered: true}
	held, rejected, waiting, unseen := spool(wire1C()), spool(wire1C()), spool(wire1C()), spool(wire1C())
	held.Held, rejected.LotStatus, waiting.LotStatus, waiting.LotReason, unseen.LotStatus = "box torn", LotRejected, LotOnHold, "certificate missing", ""
	limited := func(hours string, open int) Offer {
		return opened(with(wire1C(), sheet("exposure_limit", hours, "h")), open)
	}
	runCases(t, []fitCase{
		{"gas wire holds 5 mph under D1.1", code + "C001", spool(wire1C()), wind("5"), nil, "structural-steel", RuleWind, Passed, ""},
		{"gas wire does not hold 6 mph under D1.1", code + "C001", spool(wire1C()), wind("6"), nil, "structural-steel", RuleWind, Stops, "shelter"},
		{"gas wire behind a shelter does", code + "C001", spool(wire1C()), shelter, nil, "structural-steel", RuleWind, Passed, "sheltered"},
		{"self-shielded wire has no wind number", code + "C001 note", spool(wire8()), wind("20"), nil, "structural-steel", RuleWind, Passed, ""},
		{"a wire of unknown shielding is taken as gas-shielded", design, spool(wireGS()), wind("6"), nil, "structural-steel", RuleWind, Stops, "taken as gas-shielded"},
		{"a limit from practice is a caution when passed", design, spool(wire1C()), wind("6"), nil, "general-shop", RuleWind, Caution, "from practice"},
		{"the seismic limit from memory is a caution at 4 mph", code + "C002", spool(wire1C()), wind("4"), nil, "seismic-structural", RuleWind, Caution, "from memory"},
		{"the D1.1 limit still stops seismic work at 6 mph", code + "C001", spool(wire1C()), wind("6"), nil, "seismic-structural", RuleWind, Stops, "5 mph"},
		{"field work whose wind nobody stated is a caution", design, spool(wire1C()), Demand{WindNotStated: true}, nil, "structural-steel", RuleWind, Caution, "Wind not stated: measure it"},
		{"and a wire of unknown shielding is no better", design, spool(wireGS()), Demand{WindNotStated: true}, nil, "structural-steel", RuleWind, Caution, "measure it"},
		{"self-shielded wire need not know it", code + "C001 note", spool(wire8()), Demand{WindNotStated: true}, nil, "structural-steel", RuleWind, Passed, "Self-shielded"},
		{"nor does a sheltered weld", design, spool(wire1C()), Demand{WindNotStated: true, Sheltered: true}, nil, "structural-steel", RuleWind, Passed, "sheltered"},
		{"wind that is stated is judged", code + "C001", spool(wire1C()), Demand{WindNotStated: true, Wind: mph("6")}, nil, "structural-steel", RuleWind, Stops, "shelter"},
		{"a profile without a limit is a caution", code + "C003", spool(wire1C()), wind("6"), nil, "", RuleWind, Caution, "No wind limit"},
		{"an accepted lot passes", design, spool(wire1C()), Demand{}, nil, "", RuleLotStatus, Passed, ""},
		{"a held spool stops", design, held, Demand{}, nil, "", RuleLotStatus, Stops, "box torn"},
		{"a rejected lot stops", design, rejected, Demand{}, nil, "", RuleLotStatus, Stops, "rejected"},
		{"a lot on hold stops and says why", design, waiting, Demand{}, nil, "", RuleLotStatus, Stops, "certificate missing"},
		{"a lot nobody has accepted stops", design, unseen, Demand{}, nil, "", RuleLotStatus, Stops, "Nobody has accepted"},
		{"a sealed spool has no exposure", exposed + "E006", spool(wire1C()), Demand{}, nil, "seismic-structural", RuleExposure, Passed, "sealed"},
		{"72 h is within the seismic limit", exposed + "E001", opened(wire1C(), 72), Demand{}, nil, "seismic-structural", RuleExposure, Passed, "72 h"},
		{"73 h is past the seismic limit", exposed + "E001", opened(wire1C(), 73), Demand{}, nil, "seismic-structural", RuleExposure, Stops, "73 h"},
		{"73 h in a general shop is a warning", exposed + "E070 warn", opened(wire1C(), 73), Demand{}, nil, "general-shop", RuleExposure, Caution, ""},
		{"the tubular wire's clock is not for solid wire", exposed + "E001 consumable", opened(solidWire(), 500), Demand{}, nil, "seismic-structural", RuleExposure, Caution, "no limit is known"},
		{"a profile without a limit is a caution", exposed + "E032", opened(wire1C(), 10), Demand{}, nil, "", RuleExposure, Caution, "no limit is known"},
		{"the sheet's shorter limit stops", exposed + "E011", limited("24", 30), Demand{}, nil, "seismic-structural", RuleExposure, Stops, "data sheet allows 24 h"},
		{"the sheet's longer limit wants the test report", exposed + "E002", limited("168", 100), Demand{}, nil, "seismic-structural", RuleExposure, Caution, "test report"},
		{"within both limits passes", exposed + "E001", limited("168", 50), Demand{}, nil, "seismic-structural", RuleExposure, Passed, ""},
		{"past the sheet's longer limit stops", exposed + "E002", limited("168", 169), Demand{}, nil, "seismic-structural", RuleExposure, Stops, ""},
		{"a sheet limit is enough without a profile", design, limited("24", 20), Demand{}, nil, "", RuleExposure, Passed, ""},
	})
}

func TestCheckWireAndJoint(t *testing.T) {
	classes := func(cs ...string) Demand { return Demand{Classifications: cs} }
	sized := func(ls ...unit.Length) Demand { return Demand{Diameters: ls} }
	metric := spool(wire1C())
	metric.Diameter = mm(12) / 10
	label := spool(wire1C())
	label.Diameter = mm(11) / 10
	bare := spool(wire1C())
	bare.Diameter = 0
	wide := &Feeder{Name: "F3", Diameters: []unit.Length{inch(52)}}
	runCases(t, []fitCase{
		{"a dual class is the single one", "testdata/a5_20_usability.csv dual_class", spool(dual1(), "E71T-1C/-1M"), classes("E71T-1C"), nil, "", RuleClassification, Passed, ""},
		{"a dual class is the other one too", "testdata/a5_20_usability.csv dual_class", spool(dual1(), "E71T-1C/-1M"), classes("E71T-1M"), nil, "", RuleClassification, Passed, ""},
		{"a stainless dual class is both", "testdata/a5_22.csv 1/4", spool(nil, "E309LT1-1/4"), classes("E309LT1-4"), nil, "", RuleClassification, Passed, ""},
		{"more than is asked for is fine", design, spool(dual1(), "E71T-1C/-1M-J-H8"), classes("E71T-1C"), nil, "", RuleClassification, Passed, ""},
		{"an H mark that is asked for must be there", design, spool(wire1C(), "E71T-1C"), classes("E71T-1C-H8"), nil, "", RuleClassification, Stops, ""},
		{"H4 is an H8 and better", traps + " 14", spool(wire1C(), "E71T-1C-H4"), classes("E71T-1C-H8"), nil, "", RuleClassification, Passed, ""},
		{"H8 is no H4", traps + " 14", spool(wire1C(), "E71T-1C-H8"), classes("E71T-1C-H4"), nil, "", RuleClassification, Stops, ""},
		{"a J that is asked for must be there", design, spool(nil, "E71T-12M-H4"), classes("E71T-12MJ-H4"), nil, "", RuleClassification, Stops, ""},
		{"a J that is there is found", design, spool(nil, "E71T-12MJ-H4"), classes("E71T-12MJ"), nil, "", RuleClassification, Passed, ""},
		{"E71T-1 is not E71T-1C", traps + " 7", spool(old1(), "E71T-1"), classes("E71T-1C"), nil, "", RuleClassification, Stops, ""},
		{"E70T-1C is not E71T-1C", traps + " 12", spool(nil, "E70T-1C"), classes("E71T-1C"), nil, "", RuleClassification, Stops, ""},
		{"ER80S-D2 keeps its D2", "testdata/solid_and_metal_cored.csv", spool(nil, "ER80S-D2"), classes("ER80S-D2"), nil, "", RuleClassification, Passed, ""},
		{"one of several lists will do", design, spool(wire1C(), "E71T-1C"), classes("E71T-9C", "E71T-1C"), nil, "", RuleClassification, Passed, ""},
		{"a wire without a classification stops", design, spool(nil), classes("E71T-1C"), nil, "", RuleClassification, Stops, "read the box"},
		{".045 in is .045 in", design, spool(wire1C()), sized(inch(45)), nil, "", RuleDiameter, Passed, ""},
		{".045 in is not .052 in", design, spool(wire1C()), sized(inch(52)), nil, "", RuleDiameter, Stops, ".045 in"},
		{"1.1 mm is the label of .045 in", "testdata/diameters.csv metric_label 0.045 in", label, sized(inch(45)), nil, "", RuleDiameter, Passed, ""},
		{"1.2 mm for .045 in is a caution", "testdata/diameters.csv nearest_pair 0.045 in", metric, sized(inch(45)), nil, "", RuleDiameter, Caution, "practice"},
		{"a wire nobody measured stops", design, bare, sized(inch(45)), nil, "", RuleDiameter, Stops, "read the box"},
		{"the feeder's rolls must take the size", design, spool(wire1C()), sized(inch(45)), wide, "", RuleDiameter, Stops, "Feeder F3 takes .052 in"},
		{"a feeder without sizes is a caution", design, spool(wire1C()), sized(inch(45)), &Feeder{Name: "F3"}, "", RuleDiameter, Caution, "rolls and liner"},
		{"carbon wire suits carbon steel", pairRows, spool(wire1C()), Demand{BaseMetals: joint("A36", carbonSteel)}, nil, "", RuleBaseMetal, Passed, ""},
		{"carbon wire on stainless stops", pairRows + " carbon steel filler on stainless", spool(wire1C()), Demand{BaseMetals: joint("304L", stainlessSteel)}, nil, "", RuleBaseMetal, Stops, "Never weld stainless"},
		{"steel wire on aluminium stops", traps + " 17", spool(wire8()), Demand{BaseMetals: joint("6061", aluminiumAlloy)}, nil, "", RuleBaseMetal, Stops, "aluminium"},
		{"309L joins stainless to carbon steel", pairRows, spool(stainless("1", onlyCO2, external), "E309LT1-1"), Demand{BaseMetals: joint("304L", stainlessSteel, "A36", carbonSteel)}, nil, "", RuleBaseMetal, Passed, "309L"},
		{"308L between stainless and carbon cracks", pairRows + " cracks at the fusion line", spool(stainless("1", onlyCO2, external), "E308LT1-1"), Demand{BaseMetals: joint("304L", stainlessSteel, "A36", carbonSteel)}, nil, "", RuleBaseMetal, Stops, "cracks at the fusion line"},
		{"316L between stainless and carbon is for the engineer", pairRows, spool(stainless("1", onlyCO2, external), "E316LT1-1"), Demand{BaseMetals: joint("304L", stainlessSteel, "A36", carbonSteel)}, nil, "", RuleBaseMetal, Caution, "engineer"},
		{"308L suits 304L", pairRows, spool(stainless("1", onlyCO2, external), "E308LT1-1"), Demand{BaseMetals: joint("A240 304L", stainlessSteel, "304", stainlessSteel)}, nil, "", RuleBaseMetal, Passed, ""},
		{"308L on 316L is for the engineer", pairRows, spool(stainless("1", onlyCO2, external), "E308LT1-1"), Demand{BaseMetals: joint("316L", stainlessSteel)}, nil, "", RuleBaseMetal, Caution, "316L"},
		{"stainless wire on carbon steel stops", design, spool(stainless("1", onlyCO2, external), "E309LT1-1"), Demand{BaseMetals: joint("A36", carbonSteel)}, nil, "", RuleBaseMetal, Stops, "take a carbon"},
		{"ER5356 suits 5083", pairRows + " aluminium", spool(deposit(aluminiumAlloy), "ER5356"), Demand{BaseMetals: joint("5083-H116", aluminiumAlloy)}, nil, "", RuleBaseMetal, Passed, ""},
		{"ER4043 is not for 5083", pairRows + " aluminium not_filler", spool(deposit(aluminiumAlloy), "ER4043"), Demand{BaseMetals: joint("5083", aluminiumAlloy)}, nil, "", RuleBaseMetal, Stops, ""},
		{"P91 without B9 stops", pairRows + " chrome_moly, practice", spool(deposit(lowAlloySteel), "E81T1-Ni1C"), Demand{BaseMetals: joint("A335 P91", lowAlloySteel)}, nil, "", RuleBaseMetal, Stops, "B9"},
		{"low-alloy steel with carbon wire is for the engineer", design, spool(wire1C()), Demand{BaseMetals: joint("A514", lowAlloySteel)}, nil, "", RuleBaseMetal, Caution, "engineer"},
		{"an unknown deposit stops", design, spool(nil), Demand{BaseMetals: joint("A36", carbonSteel)}, nil, "", RuleBaseMetal, Stops, "read the box"},
		{"an unknown base metal stops", design, spool(wire1C()), Demand{BaseMetals: joint("mystery", "")}, nil, "", RuleBaseMetal, Stops, "engineer"},
	})
}

func TestCheckConfirmedLimitStops(t *testing.T) {
	p, _ := ProfileByID("seismic-structural")
	for i, l := range p.Limits {
		if l.Rule == RuleWind && l.Provenance == filler.Memory {
			p.Limits[i].ConfirmedBy, p.Limits[i].ConfirmedOn = "welding engineer", "2026-03-02"
		}
	}
	d := Demand{Wind: mph("4")}
	got, _ := Check(spool(wire1C()), d, nil, p).Find(RuleWind)
	if got.Outcome != Stops || got.Demanded.Provenance != filler.Shop {
		t.Errorf("Check with a confirmed 3 mph limit at 4 mph: got %+v, want a stop on the shop's authority", got)
	}
	if again, _ := ProfileByID("seismic-structural"); again.Limits[0].ConfirmedBy != "" || !cautions(again, d) {
		t.Error("confirming a limit in a copy changed the shipped profile")
	}
}

func cautions(p Profile, d Demand) bool {
	f, _ := Check(spool(wire1C()), d, nil, p).Find(RuleWind)
	return f.Outcome == Caution
}

func TestCheckExposureToTheMinute(t *testing.T) {
	p, _ := ProfileByID("seismic-structural")
	o := opened(wire1C(), 72)
	o.Exposed += time.Minute
	if got, _ := Check(o, Demand{}, nil, p).Find(RuleExposure); got.Outcome != Stops {
		t.Errorf("Check at %v: got %s (%s), want %s", o.Exposed, got.Outcome, got.Says, Stops)
	}
}
