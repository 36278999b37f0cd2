package fit

import (
	"testing"

	"wirehold/inventory/unit"
)

func TestCheckRolls(t *testing.T) {
	has := func(r Rolls, size unit.Length) *Feeder { return &Feeder{Name: "F3", Rolls: r, RollSize: size} }
	knurled := with(wire1C(), sheet("drive_rolls", "knurled V", ""))
	of := func(thousandths int, facts []fact) Offer {
		return on(spool(facts), func(o *Offer) { o.Diameter = inch(thousandths) })
	}
	aluminium := with(deposit(aluminiumAlloy), published("form", solid, "", "ER"))
	runCases(t, []fitCase{
		{"no feeder, nothing asked", design, spool(knurled), Demand{}, nil, "", RuleRolls, NotDemanded, "No feeder is named"},
		{"the rolls the sheet names", design, spool(knurled), Demand{}, has(KnurledV, 0), "", RuleRolls, Passed, "as this wire wants"},
		{"rolls the sheet does not name", design, spool(knurled), Demand{}, has(SmoothV, 0), "", RuleRolls, Stops, "This wire wants knurled V rolls. Feeder F3 has smooth V: change them."},
		{"either of two that the sheet names", design, spool(with(wire1C(), sheet("drive_rolls", "knurled V or smooth V", ""))), Demand{}, has(SmoothV, 0), "", RuleRolls, Passed, ""},
		{"a feeder nobody looked at is a caution", design, spool(knurled), Demand{}, has("", 0), "", RuleRolls, Caution, "look"},
		{"a sheet nobody can read stops", design, spool(with(wire1C(), sheet("drive_rolls", "round", ""))), Demand{}, has(KnurledV, 0), "", RuleRolls, Stops, "cannot be read"},
		{"usual rolls where no sheet says are no evidence", practice + "T024", of(52, wire1C()), Demand{}, has(KnurledV, 0), "", RuleRolls, NotDemanded, "Common practice is knurled V, and feeder F3 has knurled V"},
		{"a feeder nobody looked at where no sheet says is told the usual", practice + "T024", of(52, wire1C()), Demand{}, has("", 0), "", RuleRolls, NotDemanded, "No data sheet says which drive rolls this wire wants. Common practice is knurled V."},
		{"tubular wire of unknown size is not taken for thin", practice + "T025", on(spool(wire1C()), func(o *Offer) { o.Diameter = 0 }), Demand{}, has(SmoothV, 0), "", RuleRolls, Caution, "Common practice for this wire is knurled V"},
		{"smooth rolls for thick tubular wire are a caution", practice + "T024", of(52, wire1C()), Demand{}, has(SmoothV, 0), "", RuleRolls, Caution, "Common practice for this wire is knurled V"},
		{"smooth rolls for thin tubular wire are usual with some", practice + "T025", of(45, wire1C()), Demand{}, has(SmoothV, 0), "", RuleRolls, NotDemanded, ""},
		{"smooth rolls for metal cored wire are usual with some", practice + "T025", of(52, metalCoredWire()), Demand{}, has(SmoothV, 0), "", RuleRolls, NotDemanded, ""},
		{"knurled rolls for solid wire are a caution", practice + "T024", of(45, solidWire()), Demand{}, has(KnurledV, 0), "", RuleRolls, Caution, "smooth V"},
		{"V rolls for aluminium are a caution", practice + "T024", of(45, aluminium), Demand{}, has(SmoothV, 0), "", RuleRolls, Caution, "U groove"},
		{"a wire nobody knows has no usual rolls", design, spool(nil), Demand{}, has(KnurledV, 0), "", RuleRolls, NotDemanded, "No data sheet"},
		{"a groove of the wire's size", design, of(45, knurled), Demand{}, has(KnurledV, inch(45)), "", RuleRolls, Passed, ""},
		{"a groove of another size", practice + "T028", of(45, knurled), Demand{}, has(KnurledV, inch(52)), "", RuleRolls, Stops, "has rolls for .052 in (1.32 mm): change them"},
		{"a groove of the trade's other name is a caution", "testdata/diameters.csv nearest_pair 0.045 in", on(spool(knurled), func(o *Offer) { o.Diameter = mm(12) / 10 }), Demand{}, has(KnurledV, inch(45)), "", RuleRolls, Caution, "practice"},
		{"wire nobody measured stops at a groove", design, on(spool(knurled), func(o *Offer) { o.Diameter = 0 }), Demand{}, has(KnurledV, inch(45)), "", RuleRolls, Stops, "read the box"},
		{"a gun that takes the wire", design, of(45, knurled), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV, Gun: inch(45), Liner: inch(52)}, "", RuleRolls, Passed, ""},
		{"a gun too small", design, of(52, knurled), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV, Gun: inch(45)}, "", RuleRolls, Stops, "The gun of feeder F3 takes up to .045 in"},
		{"a liner too small", design, of(52, knurled), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV, Liner: inch(45)}, "", RuleRolls, Stops, "The liner of feeder F3"},
		{"wire nobody measured stops at a gun", design, on(spool(knurled), func(o *Offer) { o.Diameter = 0 }), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV, Gun: inch(45)}, "", RuleRolls, Stops, "read the box"},
	})
}

func TestCheckPackage(t *testing.T) {
	in := func(text string) Offer { return on(spool(wire1C()), func(o *Offer) { o.Package = wound(text) }) }
	hub := func(texts ...string) *Feeder {
		f := &Feeder{Name: "F3"}
		for _, x := range texts {
			f.Packages = append(f.Packages, wound(x))
		}
		return f
	}
	full := func(g unit.Grams) Offer { return on(spool(wire1C()), func(o *Offer) { o.PackageNet = g }) }
	carries := &Feeder{Name: "F3", LargestPackage: 20_000}
	runCases(t, []fitCase{
		{"no feeder, nothing asked", design, in("12 in spool"), Demand{}, nil, "", RulePackage, NotDemanded, "No feeder is named"},
		{"a feeder nobody described asks nothing", design, in("12 in spool"), Demand{}, &Feeder{Name: "F3"}, "", RulePackage, NotDemanded, "Nobody has recorded which packages"},
		{"a spool the hub takes", design, in("12 in spool"), Demand{}, hub("12 in spool"), "", RulePackage, Passed, "takes a 12 in spool"},
		{"300 mm is 12 in", "testdata/diameters.csv spool 12 in, S300", in("300 mm spool"), Demand{}, hub("12 in spool"), "", RulePackage, Passed, ""},
		{"a coil on a hub for spools", design, in("25 lb coil"), Demand{}, hub("12 in spool"), "", RulePackage, Stops, "fit another hub"},
		{"a drum at a feeder for spools and coils", design, in("drum"), Demand{}, hub("12 in spool", "coil"), "", RulePackage, Stops, "takes 12 in spool or coil"},
		{"a coil on a hub that takes coils of any size", design, in("25 lb coil"), Demand{}, hub("12 in spool", "coil"), "", RulePackage, Passed, ""},
		{"a spool larger than the hub takes", design, in("14 in spool"), Demand{}, hub("12 in spool"), "", RulePackage, Stops, ""},
		{"an 8 in spool on a 12 in hub is a caution", "testdata/diameters.csv arbor_hole 8 in | 12 in | 14 in, from memory", in("8 in spool"), Demand{}, hub("12 in spool"), "", RulePackage, Caution, "from memory"},
		{"a 4 in spool on a 12 in hub stops", "testdata/diameters.csv arbor_hole 4 in, from memory", in("4 in spool"), Demand{}, hub("12 in spool"), "", RulePackage, Stops, ""},
		{"a spool of unknown size is a caution", design, in("15 kg plastic spool"), Demand{}, hub("12 in spool"), "", RulePackage, Caution, "look"},
		{"a package nobody recorded stops", design, spool(wire1C()), Demand{}, hub("12 in spool"), "", RulePackage, Stops, "how this wire is wound"},
		{"a full package the feeder carries", design, full(20_000), Demand{}, carries, "", RulePackage, Passed, "carries a package of 20 kg"},
		{"a full package too heavy", design, full(250_000), Demand{}, carries, "", RulePackage, Stops, "This package holds 250 kg of wire"},
		{"a package of unknown weight stops", design, spool(wire1C()), Demand{}, carries, "", RulePackage, Stops, "weigh it"},
	})
}

func TestParsePackage(t *testing.T) {
	tests := []struct {
		text string
		want Package
		ok   bool
	}{
		{"12 in spool", Package{"spool", 12 * unit.Inch}, true},
		{"300 mm plastic spool", Package{"spool", 12 * unit.Inch}, true},
		{"15 kg plastic spool", Package{Kind: "spool"}, true},
		{"25 lb coil", Package{Kind: "coil"}, true},
		{"6-3/4 in coil", Package{"coil", 6*unit.Inch + 3*unit.Inch/4}, true},
		{"Drum, 20 in", Package{"drum", 20 * unit.Inch}, true},
		{"12 in", Package{}, false},
		{"", Package{}, false},
		{"1/0 in spool", Package{}, false},
	}
	for _, tt := range tests {
		if got, ok := ParsePackage(tt.text); got != tt.want || ok != tt.ok {
			t.Errorf("ParsePackage(%q): got %+v, %v; want %+v, %v", tt.text, got, ok, tt.want, tt.ok)
		}
	}
}

func TestCheckTravel(t *testing.T) {
	f := &Feeder{Name: "F7", Polarities: []Polarity{DCEP}}
	drag := with(stainless("1", onlyCO2, external), sheet("travel", "drag only", ""))
	runCases(t, []fitCase{
		{"stainless tubular wire that must be dragged says so at the feeder", design, spool(drag), Demand{Polarity: DCEP}, f, "", RulePolarity, Passed, "Drag the gun, never push it."},
		{"and says so where it stops", design, spool(drag), Demand{Polarity: DCEN}, f, "", RulePolarity, Stops, "Drag the gun, never push it."},
		{"a wire that must be pushed says so", design, spool(with(solidWire(), shop("polarity", "DCEP", ""), sheet("travel", "push only", ""))), Demand{}, f, "", RulePolarity, Passed, "Push the gun, never drag it."},
	})
	for name, o := range map[string]Offer{
		"a wire held either way":         spool(with(stainless("1", onlyCO2, external), sheet("travel", "either", ""))),
		"a wire of which only practice":  spool(with(stainless("1", onlyCO2, external), custom("travel", "drag only"))),
		"a wire of which nobody says it": spool(stainless("1", onlyCO2, external)),
	} {
		if got, _ := Check(o, Demand{Polarity: DCEP}, f, Profile{}).Find(RulePolarity); got.Says != "Run this wire electrode positive (DCEP), as the procedure wants." {
			t.Errorf("%s: polarity says %q", name, got.Says)
		}
	}
	if got, _ := Check(spool(drag), Demand{Polarity: DCEP}, nil, Profile{}).Find(RulePolarity); got.Says != "Run this wire electrode positive (DCEP), as the procedure wants." {
		t.Errorf("without a feeder polarity says %q", got.Says)
	}
}
