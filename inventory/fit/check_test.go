package fit

import (
	"fmt"
	"strings"
	"testing"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// fitCase is one spool against one job, seen through one rule.
type fitCase struct {
	name    string // a sentence
	source  string // where the right answer is written
	offer   Offer
	demand  Demand
	feeder  *Feeder
	profile string
	rule    Rule
	want    Outcome
	says    string // part of what the finding says
}

func runCases(t *testing.T, cases []fitCase) {
	t.Helper()
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := Profile{}
			if tt.profile != "" {
				var ok bool
				if p, ok = ProfileByID(tt.profile); !ok {
					t.Fatalf("ProfileByID(%q): none", tt.profile)
				}
			}
			v := Check(tt.offer, tt.demand, tt.feeder, p)
			got, ok := v.Find(tt.rule)
			if !ok {
				t.Fatalf("Check(...).Find(%s): none", tt.rule)
			}
			if got.Outcome != tt.want || !strings.Contains(got.Says, tt.says) {
				t.Errorf("Check(%v, %+v): %s\n got %s: %s\nwant %s: ...%s... (%s)", tt.offer.Classifications, tt.demand, tt.rule,
					got.Outcome, got.Says, tt.want, tt.says, tt.source)
			}
			sound(t, v)
		})
	}
}

// sound fails the test unless the verdict is one that can be shown.
func sound(t *testing.T, v Verdict) {
	t.Helper()
	if fault := unsound(v); fault != "" {
		t.Errorf("unsound verdict: %s", fault)
	}
}

// unsound is the first reason why a verdict cannot be shown; empty if none. (Of
// wind it is the site that passes, whatever is known of the wire.)
func unsound(v Verdict) string {
	want := Fits
	for i, f := range v.Findings {
		switch {
		case f.Rule != Rules()[i]:
			return fmt.Sprintf("finding %d is %s, want %s", i, f.Rule, Rules()[i])
		case f.Says == "" || strings.Contains(f.Says, "%!") || strings.Contains(f.Says, "  "):
			return fmt.Sprintf("%s says %q", f.Rule, f.Says)
		case f.Outcome != NotDemanded && (f.Demanded.Source == "" || f.Offered.Source == "" || f.Demanded.Text == "" || f.Offered.Text == ""):
			return fmt.Sprintf("%s: demanded %+v, offered %+v: a text or source is missing", f.Rule, f.Demanded, f.Offered)
		case f.Outcome == Passed && f.Rule != RuleWind && (f.Offered.Provenance == filler.Practice || f.Offered.Provenance == filler.Memory):
			return fmt.Sprintf("%s passes on %s: %+v", f.Rule, f.Offered.Provenance, f)
		case f.Outcome.weight() < 0:
			return fmt.Sprintf("%s ended %q", f.Rule, f.Outcome)
		case badlySaidIn(f) != "":
			return badlySaidIn(f)
		case f.Outcome == Stops:
			want = DoesNotFit
		case f.Outcome == Caution && want == Fits:
			want = FitsWithCautions
		}
	}
	if len(v.Findings) != len(Rules()) || v.Answer != want {
		return fmt.Sprintf("%q with %d findings, want %q with %d", v.Answer, len(v.Findings), want, len(Rules()))
	}
	return ""
}

const (
	tables   = "testdata/a5_20_usability.csv"
	traps    = "reference classifications, Traps"
	design   = "design §4-5"
	code     = "testdata/code_rules.csv "
	exposed  = "testdata/exposure_rules.csv "
	pairRows = "testdata/base_metal_match.csv, pairing"
)

func TestCheckPolarity(t *testing.T) {
	wants := func(p Polarity) Demand { return Demand{Polarity: p} }
	either := gasWire("5C", onlyCO2, published("polarity", "DCEP or DCEN", "", "5C"))
	runCases(t, []fitCase{
		{"a -11 wire runs electrode negative", tables + " -11", spool(wire11()), wants(DCEN), nil, "", RulePolarity, Passed, "electrode negative (DCEN)"},
		{"a -14 wire does not run electrode positive", tables + " -14", spool(wire14()), wants(DCEP), nil, "", RulePolarity, Stops, "Run this wire electrode negative (DCEN). The procedure wants electrode positive (DCEP)."},
		{"a self-shielded -3 wire runs electrode positive", traps + " 1", spool(wire3()), wants(DCEP), nil, "", RulePolarity, Passed, ""},
		{"a self-shielded -3 wire does not run electrode negative", traps + " 1", spool(wire3()), wants(DCEN), nil, "", RulePolarity, Stops, ""},
		{"self-shielded stainless runs electrode positive", traps + " 2", spool(stainless("3", "none", self)), wants(DCEP), nil, "", RulePolarity, Passed, ""},
		{"a GS wire has no polarity until somebody reads the box", traps + " 4", spool(wireGS()), wants(DCEN), nil, "", RulePolarity, Stops, "Typical of such wire is DCEN"},
		{"a GS wire whose sheet says so runs electrode negative", design, spool(with(wireGS(), sheet("polarity", "DCEN", ""))), wants(DCEN), nil, "", RulePolarity, Passed, ""},
		{"a wire for either polarity wants its data sheet read", traps + " 5", spool(either), wants(DCEN), nil, "", RulePolarity, Caution, "read the data sheet"},
		{"a sheet narrows a wire for either polarity", design, spool(with(either, sheet("polarity", "DCEN", ""))), wants(DCEN), nil, "", RulePolarity, Passed, ""},
		{"a sheet that narrows it to the other polarity stops", design, spool(with(either, sheet("polarity", "DCEP", ""))), wants(DCEN), nil, "", RulePolarity, Stops, ""},
		{"a sheet against the class is a conflict even where the demand is the class's", design, spool(with(wire1C(), sheet("polarity", "DCEN", ""))), wants(DCEP), nil, "", RulePolarity, Stops, "An engineer must settle it"},
		{"the shop settles a conflict for the class", design, spool(with(wire1C(), sheet("polarity", "DCEN", ""), shop("polarity", "DCEP", ""))), wants(DCEP), nil, "", RulePolarity, Passed, ""},
		{"the shop settles a conflict for the sheet with a caution", design, spool(with(wire1C(), sheet("polarity", "DCEN", ""), shop("polarity", "DCEN", ""))), wants(DCEN), nil, "", RulePolarity, Caution, "The shop settled on DCEN"},
		{"the shop alone cannot contradict a published class", design, spool(with(wire1C(), shop("polarity", "DCEN", ""))), wants(DCEN), nil, "", RulePolarity, Stops, "An engineer must settle it"},
		{"a polarity from memory that matches is a caution", design, spool(with(without(wire1C(), "polarity"), remembered("polarity", "DCEP", "", "1C"))), wants(DCEP), nil, "", RulePolarity, Caution, "confirm it on the box"},
		{"a polarity from memory that does not match stops", design, spool(with(without(wire1C(), "polarity"), remembered("polarity", "DCEP", "", "1C"))), wants(DCEN), nil, "", RulePolarity, Stops, ""},
		{"the shop's reading of the box lifts a memory", design, spool(with(without(wire1C(), "polarity"), remembered("polarity", "DCEP", "", "1C"), shop("polarity", "DCEP", ""))), wants(DCEP), nil, "", RulePolarity, Passed, ""},
		{"a sheet against a memory is a conflict too", design, spool(with(without(wire1C(), "polarity"), remembered("polarity", "DCEP", "", "1C"), sheet("polarity", "DCEN", ""))), wants(DCEN), nil, "", RulePolarity, Stops, "An engineer must settle it"},
		{"the shop's reading of the box overrules a memory with a caution", design, spool(with(without(wire1C(), "polarity"), remembered("polarity", "DCEP", "", "1C"), shop("polarity", "DCEN", ""))), wants(DCEN), nil, "", RulePolarity, Caution, "The shop settled on DCEN"},
		{"shop and sheet that differ are a conflict", design, spool(with(wireGS(), sheet("polarity", "DCEN", ""), shop("polarity", "DCEP", ""))), wants(DCEP), nil, "", RulePolarity, Stops, "An engineer must settle it"},
		{"common practice is advice and no more", design, spool(solidWire()), wants(DCEP), nil, "", RulePolarity, Stops, "Common practice is DCEP."},
		{"nothing is demanded where the procedure is silent", design, spool(wire14()), Demand{}, nil, "", RulePolarity, NotDemanded, "DCEN"},
		{"a feeder must be able to give the polarity", design, spool(wire11()), wants(DCEN), &Feeder{Name: "F2", Polarities: []Polarity{DCEP}}, "", RulePolarity, Stops, "Feeder F2 gives only DCEP"},
		{"a feeder that can give it passes", design, spool(wire11()), wants(DCEN), &Feeder{Name: "F2", Polarities: []Polarity{DCEP, DCEN}}, "", RulePolarity, Passed, ""},
		{"a feeder nobody described is a caution", design, spool(wire11()), wants(DCEN), &Feeder{Name: "F2"}, "", RulePolarity, Caution, "Nobody has recorded"},
		{"a feeder is held against the wire where the procedure is silent", design, spool(wire11()), Demand{}, &Feeder{Name: "F2", Polarities: []Polarity{DCEP}}, "", RulePolarity, Stops, ""},
		{"a wire of unknown polarity does not go on a feeder", design, spool(wireGS()), Demand{}, &Feeder{Name: "F2", Polarities: []Polarity{DCEP, DCEN}}, "", RulePolarity, Stops, "read the box"},
		{"a sheet nobody can read stops", design, spool(with(wire1C(), sheet("polarity", "plus", ""))), wants(DCEP), nil, "", RulePolarity, Stops, "cannot be read"},
	})
}

func TestCheckGas(t *testing.T) {
	runs := func(g string) Demand { return Demand{Gas: gasOf(g)} }
	feeder := func(g string) *Feeder { return &Feeder{Name: "F1", Gas: gasOf(g)} }
	runCases(t, []fitCase{
		{"an M wire runs in 75/25", code + "C050", spool(wire1M()), runs("75 Ar 25 CO2"), nil, "", RuleGas, Passed, ""},
		{"an M wire runs in 80/20", code + "C050", spool(wire1M()), runs("80 Ar 20 CO2"), nil, "", RuleGas, Passed, ""},
		{"82/18 is M21 but not the gas of an M wire", traps + " 9", spool(wire1M()), runs("82 Ar 18 CO2"), nil, "", RuleGas, Stops, "82 % Ar + 18 % CO2"},
		{"90/10 is not the gas of an M wire", traps + " 9", spool(wire1M()), runs("90 Ar 10 CO2"), nil, "", RuleGas, Stops, ""},
		{"an M wire does not run in CO2", code + "C050", spool(wire1M()), runs("CO2"), nil, "", RuleGas, Stops, ""},
		{"a C wire runs in CO2", code + "C051", spool(wire1C()), runs("CO2"), nil, "", RuleGas, Passed, ""},
		{"a C wire does not run in 75/25", code + "C051", spool(wire1C()), runs("75 Ar 25 CO2"), nil, "", RuleGas, Stops, ""},
		{"a dual wire runs in either", code + "C051 note", spool(dual1()), runs("75 Ar 25 CO2"), nil, "", RuleGas, Passed, ""},
		{"a dual wire is not for what lies between", code + "C051 note", spool(dual1()), runs("50 Ar 50 CO2"), nil, "", RuleGas, Stops, ""},
		{"a sheet narrows a dual wire to CO2", design, spool(with(dual1(), sheet("gas", onlyCO2, ""))), runs("75 Ar 25 CO2"), nil, "", RuleGas, Stops, ""},
		{"a sheet wider than the class is a conflict", design, spool(with(wire1M(), sheet("gas", "75-95 % Ar + balance CO2", ""))), runs("75 Ar 25 CO2"), nil, "", RuleGas, Stops, "An engineer must settle it"},
		{"a sheet adds the gas the class leaves open", "testdata/solid_and_metal_cored.csv ExxC-x", spool(filler.Facts{published("gas", "not in the designation", "", "C"), sheet("gas", "75-95 % Ar + balance CO2", "")}), runs("90 Ar 10 CO2"), nil, "", RuleGas, Passed, ""},
		{"gas is never run on self-shielded wire", code + "C049", spool(wire11()), runs("75 Ar 25 CO2"), nil, "", RuleGas, Stops, "Self-shielded wire: shut the gas off. The procedure runs 75 % Ar + 25 % CO2."},
		{"self-shielded wire runs without gas", code + "C049", spool(wire11()), runs("none"), nil, "", RuleGas, Passed, ""},
		{"a sheet may permit a gas on self-shielded wire", design, spool(with(wire11(), sheet("self_shielded_gas_permitted", onlyCO2, ""))), runs("CO2"), nil, "", RuleGas, Passed, ""},
		{"a sheet that permits another gas does not help", design, spool(with(wire11(), sheet("self_shielded_gas_permitted", onlyCO2, ""))), runs("75 Ar 25 CO2"), nil, "", RuleGas, Stops, ""},
		{"a sheet that permits gas without naming it is a caution", design, spool(with(wire11(), sheet("self_shielded_gas_permitted", "yes", ""))), runs("CO2"), nil, "", RuleGas, Caution, ""},
		{"gas wire does not run without gas", code + "C041", spool(wire1C()), runs("none"), nil, "", RuleGas, Stops, "needs gas"},
		{"metal cored wire always needs gas", traps + " 16", spool(metalCoredWire()), runs("none"), nil, "", RuleGas, Stops, "needs gas"},
		{"a wire of unknown gas stops", traps + " 4", spool(wireGS()), runs("CO2"), nil, "", RuleGas, Stops, "read the box"},
		{"a wire of unknown gas is not taken for self-shielded", traps + " 7", spool(wireGS()), runs("none"), nil, "", RuleGas, Stops, "read the box"},
		{"an old label for CO2 is a caution", traps + " 7", spool(old1()), runs("CO2"), nil, "", RuleGas, Caution, "1995 edition"},
		{"an old label is not for any gas", traps + " 7", spool(old1()), runs("75 Ar 25 CO2"), nil, "", RuleGas, Stops, ""},
		{"solid wire in GMAW takes argon and CO2", "testdata/solid_and_metal_cored.csv ER70S-6 gas_GMAW", spool(solidWire()), Demand{Gas: gasOf("75 Ar 25 CO2"), Processes: []Process{GMAW}}, nil, "", RuleGas, Passed, ""},
		{"solid wire in GTAW does not take CO2", "testdata/solid_and_metal_cored.csv ER70S-6 gas_GTAW", spool(solidWire()), Demand{Gas: gasOf("CO2"), Processes: []Process{GTAW}}, nil, "", RuleGas, Stops, ""},
		{"M21 takes 82/18", "ISO 14175:2008 Table 2", spool(gasWire("M21", "M21")), runs("82 Ar 18 CO2"), nil, "", RuleGas, Passed, ""},
		{"15 % CO2 is M20, not M21", traps + " 10", spool(gasWire("M21", "M21")), runs("85 Ar 15 CO2"), nil, "", RuleGas, Stops, ""},
		{"25 % CO2 is still M21", traps + " 10", spool(gasWire("M21", "M21")), runs("75 Ar 25 CO2"), nil, "", RuleGas, Passed, ""},
		{"the feeder must have the procedure's gas connected", design, spool(dual1()), runs("CO2"), feeder("75 Ar 25 CO2"), "", RuleGas, Stops, "Feeder F1 has 75 % Ar + 25 % CO2 connected"},
		{"the feeder with the procedure's gas passes", design, spool(dual1()), runs("CO2"), feeder("CO2"), "", RuleGas, Passed, ""},
		{"a feeder nobody described is a caution", design, spool(dual1()), runs("CO2"), &Feeder{Name: "F1"}, "", RuleGas, Caution, "look before you weld"},
		{"the feeder's gas is held against the wire where the procedure is silent", design, spool(wire1C()), Demand{}, feeder("75 Ar 25 CO2"), "", RuleGas, Stops, ""},
		{"self-shielded wire does not go on a feeder with gas", design, spool(wire11()), Demand{}, feeder("CO2"), "", RuleGas, Stops, "shut the gas off"},
		{"a wire known only as self-shielded needs no gas", design, spool(filler.Facts{published("shielding", self, "", "8")}), runs("none"), nil, "", RuleGas, Passed, ""},
	})
}

func TestCheckPassesAndThickness(t *testing.T) {
	plate := func(l unit.Length, joint string, prequalified bool) Demand {
		return Demand{Thickness: l, Joint: joint, Prequalified: prequalified}
	}
	ownSheet := func(f filler.Facts, max string) filler.Facts { return with(f, sheet("max_thickness", max, "mm")) }
	runCases(t, []fitCase{
		{"a -14 wire never takes a second pass", code + "C032", spool(wire14(), "E71T-14"), Demand{Passes: MultiPass}, nil, "", RulePasses, Stops, "This is single-pass wire (-14): never lay a second pass on it. The joint takes multiple passes."},
		{"a -3 wire never takes a second pass", code + "C029", spool(wire3()), Demand{Passes: MultiPass}, nil, "", RulePasses, Stops, ""},
		{"a -GS wire never takes a second pass", code + "C033", spool(wireGS()), Demand{Passes: MultiPass}, nil, "", RulePasses, Stops, ""},
		{"a single-pass wire lays a single pass", code + "C032", spool(wire14()), Demand{Passes: SinglePass}, nil, "", RulePasses, Passed, ""},
		{"a multiple-pass wire lays a single pass", tables, spool(wire1C()), Demand{Passes: SinglePass}, nil, "", RulePasses, Passed, ""},
		{"a multiple-pass wire lays many", tables, spool(wire1C()), Demand{Passes: MultiPass}, nil, "", RulePasses, Passed, ""},
		{"stainless -3 has no pass limit, from memory", traps + " 3", spool(stainless("3", "none", self)), Demand{Passes: MultiPass}, nil, "", RulePasses, Caution, "memory"},
		{"two classes of one wire allow only what both allow", design, spool(with(wire1C(), published("passes", "single only", "", "S"))), Demand{Passes: MultiPass}, nil, "", RulePasses, Stops, ""},
		{"a single-pass wire in prequalified work is a caution, the rule being from memory", code + "C034", spool(wire14()), Demand{Passes: SinglePass, Prequalified: true}, nil, "structural-steel", RulePasses, Caution, "have the shop confirm it"},
		{"a -11 wire welds 3/4 in by the general recommendation", code + "C037", spool(wire11()), plate(inch(750), "butt", false), nil, "", RuleThickness, Passed, ""},
		{"a -11 wire past 3/4 in is a caution", code + "C037 warn", spool(wire11()), plate(inch(760), "butt", false), nil, "structural-steel", RuleThickness, Caution, "recommended for plate up to 19 mm"},
		{"a prequalified -11 wire welds 1/2 in", code + "C036", spool(wire11()), plate(inch(500), "butt", true), nil, "structural-steel", RuleThickness, Passed, ""},
		{"a prequalified -11 wire past 1/2 in stops", code + "C036 block", spool(wire11()), plate(inch(510), "butt", true), nil, "structural-steel", RuleThickness, Stops, "prequalified"},
		{"a -11 wire that is not prequalified goes to 3/4 in", traps + " 6", spool(wire11()), plate(inch(510), "butt", false), nil, "structural-steel", RuleThickness, Passed, ""},
		{"the maker's lower limit stops", traps + " 6", spool(ownSheet(wire11(), "5")), plate(mm(6), "butt", false), nil, "", RuleThickness, Stops, "limited by its data sheet"},
		{"the maker's own limit replaces the recommendation", code + "C037 unless maker says otherwise", spool(ownSheet(wire11(), "25")), plate(mm(22), "butt", false), nil, "", RuleThickness, Passed, ""},
		{"the maker's own limit does not lift that of prequalified work", code + "C036", spool(ownSheet(wire11(), "25")), plate(mm(22), "butt", true), nil, "structural-steel", RuleThickness, Stops, ""},
		{"a class that leaves the limit to the sheet is a caution without one", tables + " -11 max_thickness_of_the_wire", spool(with(wire11(), published("max_thickness_of_the_wire", "per data sheet", "", "11"))), plate(mm(6), "butt", false), nil, "", RuleThickness, Caution, "thin plate only"},
		{"a -14 wire past 5 mm in a tee is a caution", code + "C038 warn", spool(wire14()), plate(inch(200), "tee", false), nil, "", RuleThickness, Caution, "5 mm"},
		{"a -14 wire welds 1/4 in in a butt", code + "C039", spool(wire14()), plate(inch(250), "butt", false), nil, "", RuleThickness, Passed, ""},
		{"a -14 wire past 1/4 in in a butt is a caution", code + "C039 warn", spool(wire14()), plate(inch(260), "butt", false), nil, "", RuleThickness, Caution, "6 mm"},
		{"a joint of unknown kind is held to the lesser limit", design, spool(wire14()), plate(inch(200), "", false), nil, "", RuleThickness, Caution, ""},
		{"a plate thinner than the sheet's least stops", design, spool(with(wire1C(), sheet("min_thickness", "3", "mm"))), plate(mm(2), "butt", false), nil, "", RuleThickness, Stops, "3 mm and more"},
		{"a class without a limit passes", tables + " -1C", spool(wire1C()), plate(mm(60), "butt", false), nil, "", RuleThickness, Passed, "no limit"},
		{"a single-pass wire of unknown limit is a caution", traps + " 4", spool(wireGS()), plate(mm(3), "lap", false), nil, "", RuleThickness, Caution, "not known"},
		{"a limit from memory only cautions, whatever the profile's action", design, spool(with(wire1C(), remembered("max_thickness_d1_1_prequalified", "12", "mm", "1C"))), plate(mm(20), "butt", true), nil, "structural-steel", RuleThickness, Caution, "12 mm"},
		{"a sheet limit nobody can read stops", design, spool(with(wire1C(), sheet("max_thickness", "thin", ""))), plate(mm(2), "butt", false), nil, "", RuleThickness, Stops, "cannot be read"},
		{"a wire nobody knows stops", design, spool(nil), plate(mm(3), "lap", false), nil, "", RuleThickness, Stops, "read the box"},
	})
}

func TestCheckPositionAndProcess(t *testing.T) {
	at := func(ps ...Position) Demand { return Demand{Positions: ps} }
	down := sheet("vertical_direction", "down", "")
	flat := with(without(wire1C(), "positions"), published("positions", "flat|horizontal", "", "0"))
	runCases(t, []fitCase{
		{"a position 0 wire welds flat and horizontal", tables + " position 0", spool(flat), at(Flat, Horizontal), nil, "", RulePosition, Passed, ""},
		{"a position 0 wire does not weld overhead", tables + " position 0", spool(flat), at(Overhead), nil, "", RulePosition, Stops, "flat and horizontal only"},
		{"a position 0 wire does not weld vertical", traps + " 12", spool(flat), at(Flat, VerticalUp), nil, "", RulePosition, Stops, ""},
		{"a -11 wire runs vertical down", tables + " -11", spool(wire11()), at(VerticalDown), nil, "", RulePosition, Passed, ""},
		{"a -11 wire does not run vertical up", tables + " -11", spool(wire11()), at(Flat, VerticalUp), nil, "", RulePosition, Stops, "vertical down"},
		{"a direction from memory that matches is a caution", tables + " -1C", spool(wire1C()), at(VerticalUp), nil, "", RulePosition, Caution, "memory"},
		{"a direction from memory that does not match stops", tables + " -1C", spool(wire1C()), at(VerticalDown), nil, "", RulePosition, Stops, ""},
		{"a maker may state otherwise than the memory", tables + " -1C note", spool(with(wire1C(), down)), at(VerticalDown), nil, "", RulePosition, Passed, ""},
		{"all positions does not say which way", design, spool(wire8()), at(VerticalUp), nil, "", RulePosition, Stops, "up or down"},
		{"all positions takes overhead", tables, spool(wire8()), at(Overhead), nil, "", RulePosition, Passed, ""},
		{"positions that name the direction need no other fact", "ISO 17632:2015 Table 8", spool(filler.Facts{published("positions", "all: PA PB PC PD PE PF PG", "", "1")}), at(VerticalDown), nil, "", RulePosition, Passed, ""},
		{"PA PB is not overhead", "ISO 17632:2015", spool(filler.Facts{published("positions", "PA PB", "", "3")}), at(Overhead), nil, "", RulePosition, Stops, ""},
		{"a wire of unknown position stops", design, spool(solidWire()), at(Flat), nil, "", RulePosition, Stops, "read the box"},
		{"self-shielded flux cored wire is FCAW-S", design, spool(wire8()), Demand{Processes: []Process{FCAWS}}, nil, "", RuleProcess, Passed, ""},
		{"self-shielded wire is not for FCAW-G", design, spool(wire8()), Demand{Processes: []Process{FCAWG}}, nil, "", RuleProcess, Stops, "self-shielded flux cored"},
		{"gas-shielded flux cored wire is FCAW-G", design, spool(wire1C()), Demand{Processes: []Process{FCAWS, FCAWG}}, nil, "", RuleProcess, Passed, ""},
		{"solid wire is not flux cored", design, spool(solidWire()), Demand{Processes: []Process{FCAWG}}, nil, "", RuleProcess, Stops, "solid wire"},
		{"solid wire is for GMAW", design, spool(solidWire()), Demand{Processes: []Process{GMAW}}, nil, "", RuleProcess, Passed, ""},
		{"metal cored wire is not flux cored", traps + " 16", spool(metalCoredWire()), Demand{Processes: []Process{FCAWG}}, nil, "", RuleProcess, Stops, "metal cored"},
		{"metal cored wire is for its own process", traps + " 16", spool(metalCoredWire()), Demand{Processes: []Process{GMAWC}}, nil, "", RuleProcess, Passed, ""},
		{"a cored rod is for GTAW", "testdata/a5_22.csv suffix 5", spool(with(stainless("5", "Ar 100 %", external), remembered("process", "GTAW (rod, R prefix: RxxxT1-5)", "", "5"))), Demand{Processes: []Process{FCAWG}}, nil, "", RuleProcess, Stops, "flux cored rod"},
		{"flux cored wire of unknown shielding stops", traps + " 4", spool(wireGS()), Demand{Processes: []Process{FCAWS}}, nil, "", RuleProcess, Stops, "read the box"},
	})
}
