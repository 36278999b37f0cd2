package fit

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// anyFact draws a fact under one of the names the rules read, with values that
// agree, contradict, say nothing or make no sense.
func anyFact() *rapid.Generator[filler.Fact] {
	values := map[string][]string{
		"form": {solid, fluxCored, metalCored, "rope"}, "shielding": {external, self, "not specified"},
		"gas":      {onlyCO2, onlyM, "none", "75-95 % Ar + balance CO2", "M21", "not specified", "smoke"},
		"polarity": {"DCEP", "DCEN", "DCEP or DCEN", "not specified"}, "passes": {"single only", "single and multiple", "at most 3 passes"},
		"positions": {"all", "flat|horizontal", "PA PB"}, "vertical_direction": {"up", "down"},
		"deposit": {carbonSteel, stainlessSteel, aluminiumAlloy}, "tensile_min": {"60 ksi", "70 ksi", "490 MPa"},
		"diffusible_hydrogen_max": {"4 mL/100 g", "16 mL/100 g"}, "impact_min_energy": {"20 ft-lbf", noneRequired},
		"impact_temperature": {"0 degF", "-20 degF"}, "max_thickness": {"19 mm", "5 mm", "any"}, "exposure_limit": {"24 h", "72 h"},
		"tested_exposure":                 {"120 h, 9 mL/100 g", "100 h, 17 mL/100 g", "long"},
		"max_thickness_d1_1_prequalified": {"12 mm"}, "self_shielded_gas_permitted": {"yes", onlyCO2},
		onePassLimit: {"5 mm", "8 mm", "thin"}, "max_thickness_multi_pass": {"12 mm"}, "drive_rolls": {"knurled V", "smooth V or knurled V", "square"},
		"travel": {"drag only", "either"}, "shelf_life": {"12 months", "a while"}, "deposition_efficiency": {"85 %", "most"},
	}
	names := make([]string, 0, len(values))
	for n := range values {
		names = append(names, n)
	}
	slices.Sort(names)
	return rapid.Custom(func(t *rapid.T) filler.Fact {
		name := rapid.SampledFrom(names).Draw(t, "name")
		return filler.Fact{
			Name: name, Value: rapid.SampledFrom(values[name]).Draw(t, "value"),
			From:       rapid.SampledFrom([]string{"", "1C", "J"}).Draw(t, "from"),
			Condition:  rapid.SampledFrom([]string{"", "", oldLabel, OneSize + ".045 in", OneSize + ".035 in"}).Draw(t, "condition"),
			Provenance: rapid.SampledFrom([]filler.Provenance{filler.Published, filler.Memory, filler.Practice, filler.DataSheet, filler.Shop}).Draw(t, "provenance"),
		}
	})
}

func anyOffer() *rapid.Generator[Offer] {
	return rapid.Custom(func(t *rapid.T) Offer {
		base := rapid.SampledFrom([]filler.Facts{nil, wire1C(), wire1M(), dual1(), wire8(), wire11(), wire14(), wireGS(), old1(), solidWire(), metalCoredWire(), stainless("1", onlyCO2, external)}).Draw(t, "wire")
		o := spool(with(base, rapid.SliceOfN(anyFact(), 0, 4).Draw(t, "facts")...), rapid.SampledFrom([]string{"E71T-1C-H8", "E71T-11", "E309LT1-1"}).Draw(t, "class"))
		o.Diameter = rapid.SampledFrom([]unit.Length{0, inch(45), mm(12) / 10}).Draw(t, "diameter")
		o.LotStatus = rapid.SampledFrom([]LotStatus{LotAccepted, LotAccepted, LotOnHold, ""}).Draw(t, "lot")
		o.Opened = rapid.Bool().Draw(t, "opened")
		o.Exposed = time.Duration(rapid.IntRange(0, 200).Draw(t, "hours")) * time.Hour
		o.TestedExposure = maybe(t, "lot's test", "120 h, 9 mL/100 g", "100 h, 17 mL/100 g")
		o.ExposureUnknown = maybe(t, "unknown exposure", "its package was damaged while it was sealed")
		o.ShiftEnds = maybe(t, "shift", today.Add(5*time.Hour))
		o.At = maybe(t, "at", today)
		o.Net = maybe[unit.Grams](t, "net", 500, 15_000)
		o.Package, o.PackageNet = maybe(t, "package", wound("12 in spool"), wound("4 in spool"), wound("25 lb coil")), maybe[unit.Grams](t, "full", 15_000, 250_000)
		o.Sealing = maybe(t, "sealing", VacuumFoil, "plastic bag")
		o.Certificate = maybe(t, "certificate", Certificate{Number: "MTC-1"}, Certificate{Number: "MTC-2", Type: "3.1", Schedule: "J", LotClass: "T4", Tested: today.AddDate(0, -13, 0)})
		o.Origin = maybe(t, "origin", Origin{Melted: []string{"A"}, Made: []string{"A"}}, Origin{Melted: []string{"B"}, Made: []string{"A"}})
		o.Made, o.Received, o.Expires = maybe(t, "made", today.AddDate(-2, 0, 0)), maybe(t, "received", today.AddDate(-1, -6, 0)), maybe(t, "expires", today.AddDate(0, 0, -1))
		return o
	})
}

func maybe[T any](t *rapid.T, name string, of ...T) T {
	var zero T
	return rapid.SampledFrom(append([]T{zero}, of...)).Draw(t, name)
}

func anyDemand() *rapid.Generator[Demand] {
	return rapid.Custom(func(t *rapid.T) Demand {
		return Demand{
			JobSource: "job 2207", ProcedureSource: "procedure WPS-14 rev C",
			BaseMetals:      maybe(t, "bases", joint("A36", carbonSteel), joint("304L", stainlessSteel), joint("304L", stainlessSteel, "A36", carbonSteel), joint("6061", aluminiumAlloy)),
			Classifications: maybe(t, "classes", []string{"E71T-1C"}, []string{"E71T-1C-H8", "E71T-11"}),
			Processes:       maybe(t, "processes", []Process{FCAWG}, []Process{FCAWS, GMAW}, []Process{FCAWG, FCAWS, GMAWC}),
			Diameters:       maybe(t, "sizes", []unit.Length{inch(45)}, []unit.Length{inch(45), inch(52)}),
			Polarity:        maybe(t, "polarity", DCEP, DCEN), Gas: maybe(t, "gas", gasOf("none"), gasOf("CO2"), gasOf("75 Ar 25 CO2")),
			Passes: maybe(t, "passes", SinglePass, MultiPass), Thickness: maybe(t, "plate", mm(4), mm(12), mm(20)),
			Joint: maybe(t, "joint", "tee", "butt"), Positions: maybe(t, "positions", []Position{Flat}, []Position{Flat, VerticalUp}),
			Tensile:   maybe(t, "tensile", unit.Stress{Value: 70, Unit: unit.KSI}),
			Toughness: maybe(t, "toughness", tough("20 ft-lbf at 0 degF")), Hydrogen: maybe(t, "hydrogen", 8, 16),
			Wind: maybe(t, "wind", mph("2"), mph("4"), mph("7")), Sheltered: rapid.Bool().Draw(t, "sheltered"),
			Prequalified: rapid.Bool().Draw(t, "prequalified"), Matching: rapid.Bool().Draw(t, "matching"),
			PassCount: maybe(t, "pass count", 2, 5), Welds: maybe(t, "welds", []Weld{fillet(8, 12)}),
			Certificate:    maybe(t, "wanted certificate", Certificate{Type: "2.2"}, Certificate{Schedule: "H", LotClass: "T3|T4"}),
			Origin:         maybe(t, "clause", Origin{Melted: []string{"A", "B"}, Clause: "clause 7"}),
			Laid:           maybe(t, "laid", []Laid{{Spool: "W1", Wire: "E71T-8", Shielding: SelfShielded}}, []Laid{{Spool: "W2", Wire: "E71T-1C", Shielding: GasShielded}}),
			IntermixReport: maybe(t, "report", "MIX-3"),
			Qualified: Qualified{Least: maybe(t, "least", mm(3), mm(5)), Most: maybe(t, "most", mm(12), mm(25)),
				Metals: maybe(t, "qualified metals", []BaseMetal{{Family: carbonSteel}}, joint("A36", carbonSteel, "304L", stainlessSteel))},
		}
	})
}

func anyFeeder() *rapid.Generator[*Feeder] {
	return rapid.Custom(func(t *rapid.T) *Feeder {
		return rapid.SampledFrom([]*Feeder{
			nil,
			{Name: "F1"},
			{Name: "F2", Polarities: []Polarity{DCEP}, Gas: gasOf("CO2"), Diameters: []unit.Length{inch(45)}},
			{Name: "F3", Polarities: []Polarity{DCEP, DCEN}, Gas: gasOf("none"), Diameters: []unit.Length{inch(52)}},
			{Name: "F4", Polarity: DCEN, Rolls: KnurledV, RollSize: inch(45), Gun: inch(52), Liner: inch(45), Packages: []Package{wound("12 in spool")}, LargestPackage: 20_000},
			{Name: "F5", Polarity: DCEP, Rolls: UGroove, RollSize: inch(35), Gun: inch(35), Packages: []Package{wound("coil"), wound("8 in spool")}},
		}).Draw(t, "feeder")
	})
}

func anyProfile() *rapid.Generator[Profile] {
	return rapid.Custom(func(t *rapid.T) Profile {
		p, _ := ProfileByID(rapid.SampledFrom([]string{"", "general-shop", "structural-steel", "seismic-structural", "bridge", "stainless"}).Draw(t, "profile"))
		return p
	})
}

func TestEveryVerdictIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Check(anyOffer().Draw(t, "offer"), anyDemand().Draw(t, "demand"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile"))
		if fault := unsound(v); fault != "" {
			t.Fatalf("unsound verdict: %s", fault)
		}
	})
}

// tighten draws a demand that asks more than d does.
func tighten(t *rapid.T, d Demand) Demand {
	switch rapid.IntRange(0, 17).Draw(t, "tighten") {
	case 0:
		if d.Tensile.IsZero() {
			d.Tensile = unit.Stress{Value: 60, Unit: unit.KSI}
		}
		d.Tensile.Value += 10
	case 1:
		if d.Toughness.IsZero() {
			d.Toughness = tough("20 ft-lbf at 0 degF")
		}
		d.Toughness.At.Value -= 20
	case 2:
		d.Hydrogen = map[int]int{0: 16, 16: 8, 8: 4}[d.Hydrogen]
	case 3:
		d.Wind += mph("3")
	case 4:
		d.Sheltered = false
	case 5:
		d.Thickness += mm(8)
	case 6:
		d.Positions = append(slices.Clone(d.Positions), rapid.SampledFrom([]Position{VerticalUp, VerticalDown, Overhead}).Draw(t, "position"))
	case 7:
		d.Passes = MultiPass
	case 8:
		d.Prequalified = true
	case 9:
		d.Classifications = fewer(d.Classifications, "E71T-9C")
	case 10:
		d.Diameters = fewer(d.Diameters, inch(52))
	case 11:
		d.Processes = fewer(d.Processes, FCAWG)
	default:
		return tightenPapers(t, d)
	}
	return d
}

// tightenPapers is the rest of tighten: what is asked of weld, lot and joint.
func tightenPapers(t *rapid.T, d Demand) Demand {
	switch rapid.IntRange(0, 9).Draw(t, "tighten more") {
	case 0:
		if d.passes() != MultiPass || d.PassCount > 0 {
			d.PassCount += 2
		}
	case 1:
		d.Welds = append(slices.Clone(d.Welds), fillet(10, 20))
	case 2:
		d.Certificate.Type = map[string]string{"": "2.2", "2.2": "3.1"}[d.Certificate.Type]
	case 3:
		d.Certificate.Schedule, d.Certificate.LotClass = "J", "T4"
	case 4:
		d.Origin.Melted, d.Origin.Made = fewer(d.Origin.Melted, "A"), fewer(d.Origin.Made, "A")
	case 5:
		d.Laid = append(slices.Clone(d.Laid), Laid{Spool: "W9", Wire: "E71T-11", Shielding: SelfShielded})
		d.IntermixReport = ""
	case 6:
		d.Matching = true
	case 7:
		d.Qualified.Most = map[unit.Length]unit.Length{0: mm(12), mm(12): mm(6), mm(6): mm(4)}[d.Qualified.Most]
		d.Qualified.Most = max(d.Qualified.Most, mm(4))
	case 8:
		d.Qualified.Least += mm(6)
	case 9:
		d.Qualified.Metals = fewer(d.Qualified.Metals, BaseMetal{Family: stainlessSteel})
	}
	return d
}

// fewer drops an allowed value, or allows one alone where all were.
func fewer[T any](allowed []T, only T) []T {
	if len(allowed) > 1 {
		return allowed[1:]
	}
	if len(allowed) == 0 {
		return []T{only}
	}
	return allowed
}

func TestTighteningADemandNeverMakesItFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, f, p := anyOffer().Draw(t, "offer"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		d := anyDemand().Draw(t, "demand")
		more := tighten(t, d)
		was, is := Check(o, d, f, p), Check(o, more, f, p)
		for i, before := range was.Findings {
			after := is.Findings[i]
			// A solid wire's open gas and polarity go by the process, so
			// naming the process may supply what was not known.
			byProcess := (before.Rule == RuleGas || before.Rule == RulePolarity) && !slices.Equal(d.Processes, more.Processes)
			// A joint of more passes may be of thicker plate, and a steel of a
			// plate nobody has stated is held to its stronger group.
			byPasses := before.Rule == RuleThickness && d.passes() != more.passes()
			byPlate := before.Rule == RuleStrength && d.Thickness == 0
			// Another plate may be within the procedure's range.
			byRange := before.Rule == RuleThickness && d.Thickness != more.Thickness && d.Qualified.Range() != ""
			if !byProcess && !byPasses && !byPlate && !byRange && after.Outcome.weight() < before.Outcome.weight() {
				t.Fatalf("Check(%+v, %+v) gives %s: %s\nCheck(the same, %+v) gives %s: %s", o, d, before.Outcome, before.Says, more, after.Outcome, after.Says)
			}
		}
	})
}

// TestMoreExposureNeverMakesItFit holds that a spool which lay open for longer,
// or for a time that nobody knows, is never judged better; nor is one whose
// shift ends later.
func TestMoreExposureNeverMakesItFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, d, f, p := anyOffer().Draw(t, "offer"), anyDemand().Draw(t, "demand"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		longer := o
		longer.Opened = true
		switch rapid.IntRange(0, 2).Draw(t, "how") {
		case 0:
			longer.Exposed += time.Duration(rapid.IntRange(1, 200*60).Draw(t, "minutes more")) * time.Minute
		case 1:
			longer.ExposureUnknown = "its package was damaged while it was sealed"
		case 2:
			if !o.ShiftEnds.IsZero() {
				longer.ShiftEnds = o.ShiftEnds.Add(time.Duration(rapid.IntRange(1, 12).Draw(t, "hours later")) * time.Hour)
			}
		}
		was, _ := Check(o, d, f, p).Find(RuleExposure)
		is, _ := Check(longer, d, f, p).Find(RuleExposure)
		if is.Outcome.weight() < was.Outcome.weight() {
			t.Fatalf("exposure %v, opened %v, unknown %q, shift ends %v: %s (%s); exposure %v, unknown %q, shift ends %v: %s (%s)",
				o.Exposed, o.Opened, o.ExposureUnknown, o.ShiftEnds, was.Outcome, was.Says, longer.Exposed, longer.ExposureUnknown, longer.ShiftEnds, is.Outcome, is.Says)
		}
	})
}

func TestOrderOfFactsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, d, f, p := anyOffer().Draw(t, "offer"), anyDemand().Draw(t, "demand"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		other := o
		other.Facts = rapid.Permutation(o.Facts).Draw(t, "order")
		if diff := cmp.Diff(Check(o, d, f, p), Check(other, d, f, p)); diff != "" {
			t.Fatalf("Check with facts in another order (-first +other):\n%s", diff)
		}
	})
}

func TestAnUnrelatedFactChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, d, f, p := anyOffer().Draw(t, "offer"), anyDemand().Draw(t, "demand"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		other := o
		other.Facts = with(o.Facts, sheet("stick_out", rapid.String().Draw(t, "value"), "mm"), published("max_Mn", "1.75", "wt %", "1C"))
		if diff := cmp.Diff(Check(o, d, f, p), Check(other, d, f, p)); diff != "" {
			t.Fatalf("Check with a fact no rule reads (-without +with):\n%s", diff)
		}
	})
}

func TestPracticeChangesNoOutcome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, d, f, p := anyOffer().Draw(t, "offer"), anyDemand().Draw(t, "demand"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		fact := anyFact().Draw(t, "fact")
		fact.Provenance = filler.Practice
		other := o
		other.Facts = with(o.Facts, fact)
		was, is := Check(o, d, f, p), Check(other, d, f, p)
		for i := range was.Findings {
			if was.Findings[i].Outcome != is.Findings[i].Outcome {
				t.Fatalf("practice %+v turns %+v into %+v", fact, was.Findings[i], is.Findings[i])
			}
		}
	})
}

// TestEveryUnknownThatIsDemandedStops holds an empty wire, and one whose facts
// are common practice only, against a demand for everything.
func TestEveryUnknownThatIsDemandedStops(t *testing.T) {
	everything := Demand{
		BaseMetals: joint("A36", carbonSteel), Classifications: []string{"E71T-1C"}, Processes: []Process{FCAWG},
		Diameters: []unit.Length{inch(45)}, Polarity: DCEP, Gas: gasOf("CO2"), Passes: SinglePass, Thickness: mm(3),
		Positions: []Position{Flat}, Tensile: unit.Stress{Value: 60, Unit: unit.KSI}, Toughness: tough("20 ft-lbf at 70 degF"),
		Hydrogen: 16, Wind: mph("6"), Certificate: Certificate{Type: "2.2"}, Origin: Origin{Made: []string{"A"}},
		Welds: []Weld{fillet(8, 12)}, Laid: []Laid{{Spool: "W1", Wire: "E71T-8", Shielding: SelfShielded}},
	}
	seismic, _ := ProfileByID("seismic-structural")
	strict, err := seismic.Copy("strict", "Strict").Tighten(len(seismic.Limits), Limit{Rule: RuleShelfLife, Parameter: "shelf_life_max", Value: "12 months", Source: "shop rule 4", Provenance: filler.Shop})
	if err != nil {
		t.Fatal(err)
	}
	feeder := &Feeder{Name: "F4", RollSize: inch(45), Packages: []Package{wound("12 in spool")}}
	var practice filler.Facts
	for _, f := range with(wire1C(), published("diffusible_hydrogen_max", "8", "mL/100 g", "H8")) {
		f.Provenance = filler.Practice
		practice = append(practice, f)
	}
	for _, facts := range []filler.Facts{nil, practice} {
		v := Check(Offer{Facts: facts, Opened: true}, everything, feeder, strict)
		sound(t, v)
		for _, f := range v.Findings {
			cautions := f.Rule == RuleExposure || f.Rule == RuleRemaining // by design they are no more
			if f.Outcome != Stops && !cautions {
				t.Errorf("Check(unknown wire with %d practice facts, everything): %s is %s (%s), want %s", len(facts), f.Rule, f.Outcome, f.Says, Stops)
			}
		}
	}
}
