package fit

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/unit"
)

// qualifiedFor is a demand of a job with one plate, welded to a procedure that
// is qualified from 3 to 25 mm.
func qualifiedFor(plate unit.Length) Demand {
	return Demand{Thickness: plate, Qualified: Qualified{Least: mm(3), Most: mm(25)}}
}

// listed is a demand of a joint, welded to a procedure that lists the metals.
func listed(sides []BaseMetal, metals ...string) Demand {
	d := Demand{BaseMetals: sides}
	for _, text := range metals {
		m, ok := ParseMetal(text)
		if !ok {
			panic("no metal: " + text)
		}
		d.Qualified.Metals = append(d.Qualified.Metals, m)
	}
	return d
}

func plates(d Demand, ls ...unit.Length) Demand {
	d.Plates = ls
	for _, l := range ls {
		d.Thickness = max(d.Thickness, l)
	}
	return d
}

func TestCheckPlatesThatTheProcedureIsQualifiedFor(t *testing.T) {
	const said = "a procedure's own range of thickness binds its jobs (issue: procedures state it, jobs outside it stop)"
	wire := spool(wire1C())
	least, most := Demand{Thickness: mm(6), Qualified: Qualified{Least: mm(5)}}, Demand{Thickness: mm(6), Qualified: Qualified{Most: mm(5)}}
	sheet14 := Demand{Thickness: mm(40), Passes: SinglePass, Qualified: Qualified{Most: mm(25)}}
	runCases(t, []fitCase{
		{"a plate within the range passes and says so", said, wire, qualifiedFor(mm(12)), nil, "", RuleThickness, Passed, "The procedure is qualified for plate of 3 mm (.1181 in) to 25 mm"},
		{"a plate at the least passes", said, wire, qualifiedFor(mm(3)), nil, "", RuleThickness, Passed, ""},
		{"a plate at the most passes", said, wire, qualifiedFor(mm(25)), nil, "", RuleThickness, Passed, ""},
		{"a plate past the most stops", said, wire, qualifiedFor(mm(25) + 1), nil, "", RuleThickness, Stops, "thicker than"},
		{"a plate below the least stops", said, wire, qualifiedFor(mm(3) - 1), nil, "", RuleThickness, Stops, "thinner than"},
		{"it says whose fault it is", said, wire, qualifiedFor(mm(30)), nil, "", RuleThickness, Stops, "Move the job to another procedure or ask the welding engineer."},
		{"a plate nobody states stops where a range is stated", said, wire, qualifiedFor(0), nil, "", RuleThickness, Stops, "state it on the job"},
		{"a least alone is a range", said, wire, least, nil, "", RuleThickness, Passed, "and more"},
		{"a most alone is a range", said, wire, most, nil, "", RuleThickness, Stops, "up to 5 mm"},
		{"no range stated asks nothing", said, wire, Demand{}, nil, "", RuleThickness, NotDemanded, ""},
		{"the thinner side is held to the range too", said, wire, plates(qualifiedFor(0), mm(12), mm(2)), nil, "", RuleThickness, Stops, "thinner than"},
		{"a side nobody states stops", said, wire, plates(qualifiedFor(0), mm(12), 0), nil, "", RuleThickness, Stops, "how thick each plate is"},
		{"both sides within the range pass", said, wire, plates(qualifiedFor(0), mm(12), mm(5)), nil, "", RuleThickness, Passed, ""},
		{"the wire's own limit still stops within the range", tables, spool(with(wire1C(), sheet("max_thickness", "6", "mm"))), qualifiedFor(mm(12)), nil, "", RuleThickness, Stops, "limited by its data sheet"},
		{"where both stop, both are said", said, spool(with(wire14(), sheet(onePassLimit, "5", "mm"))), sheet14, nil, "", RuleThickness, Stops, "Move the job to another procedure"},
		{"where both stop, the wire's limit is said too", said, spool(with(wire14(), sheet(onePassLimit, "5", "mm"))), sheet14, nil, "", RuleThickness, Stops, "fills plate up to 5 mm"},
	})
}

func TestCheckMetalsThatTheProcedureLists(t *testing.T) {
	const said, groups = "a procedure's own list of base metals binds its jobs", "testdata/base_metal_match.csv, AWS D1.1 Table 3.1"
	wire, inox := spool(wire1C()), spool(stainless("1", onlyCO2, external), "E308LT1-1")
	a36, a572 := joint("A36", carbonSteel), joint("A572 Gr 50", carbonSteel)
	both := joint("A36", carbonSteel, "A572 Gr 50", carbonSteel)
	thin := func(d Demand) Demand { d.Thickness = mm(12); return d }
	thick := func(d Demand) Demand { d.Thickness = mm(30); return d }
	runCases(t, []fitCase{
		{"a metal that is listed passes", said, wire, listed(a36, "A36 (carbon steel)"), nil, "", RuleBaseMetal, Passed, "The procedure is qualified for A36 (carbon steel)."},
		{"a metal that is not listed stops", said, wire, listed(a572, "A36 (carbon steel)"), nil, "", RuleBaseMetal, Stops, "The joint has A572 Gr 50 (carbon steel)"},
		{"it says what to do", said, wire, listed(a572, "A36 (carbon steel)"), nil, "", RuleBaseMetal, Stops, "Move the job to another procedure or ask the welding engineer."},
		{"any of several will do", said, wire, listed(a572, "A36 (carbon steel)", "A572 Gr 50 (carbon steel)"), nil, "", RuleBaseMetal, Passed, ""},
		{"each side must be listed", said, wire, listed(both, "A36 (carbon steel)"), nil, "", RuleBaseMetal, Stops, "A572 Gr 50"},
		{"both sides may be listed", said, wire, listed(both, "A36 (carbon steel)", "A572 Gr 50 (carbon steel)"), nil, "", RuleBaseMetal, Passed, ""},
		{"a family covers all its metals", said, wire, listed(both, "carbon steel"), nil, "", RuleBaseMetal, Passed, "qualified for carbon steel"},
		{"another family stops", said, inox, listed(joint("304L", stainlessSteel), "carbon steel"), nil, "", RuleBaseMetal, Stops, "qualified for carbon steel"},
		{"a metal nobody states stops", said, wire, listed(nil, "carbon steel"), nil, "", RuleBaseMetal, Stops, "does not say what metal"},
		{"a metal of no family is in no family", said, wire, listed(joint("A36", ""), "carbon steel"), nil, "", RuleBaseMetal, Stops, ""},
		{"case and the body's name do not matter", said, wire, listed(joint("ASTM a572 gr. 50", carbonSteel), "A572 Gr 50 (carbon steel)"), nil, "", RuleBaseMetal, Passed, ""},
		{"a grade is one however it is written", said, wire, listed(joint("A 572 Gr.50", carbonSteel), "A572-50 (carbon steel)"), nil, "", RuleBaseMetal, Passed, ""},
		{"ASME's steel is not ASTM's", said, wire, listed(joint("SA-36", carbonSteel), "A36 (carbon steel)"), nil, "", RuleBaseMetal, Stops, ""},
		{"a listed metal without its grade covers none", said, wire, listed(a572, "A572 (carbon steel)"), nil, "", RuleBaseMetal, Stops, "lists A572 without a grade"},
		{"it covers none of another family either", said, wire, listed(a572, "A572 (low-alloy steel)"), nil, "", RuleBaseMetal, Stops, "The joint has A572 Gr 50 (carbon steel), and the procedure is"},
		{"304L is not 304", said, inox, listed(joint("304L", stainlessSteel), "304 (stainless steel)"), nil, "", RuleBaseMetal, Stops, ""},
		{"a grade is not its whole specification", said, wire, listed(joint("A572", carbonSteel), "A572 Gr 50 (carbon steel)"), nil, "", RuleBaseMetal, Stops, ""},
		{"thin A36 is in group I", groups, wire, thin(listed(a36, "group I")), nil, "", RuleBaseMetal, Passed, "qualified for group I"},
		{"thick A36 is not in group I", groups, wire, thick(listed(a36, "group I")), nil, "", RuleBaseMetal, Stops, "qualified for group I"},
		{"A36 of a plate nobody states is in no group", groups, wire, listed(a36, "group I", "group II"), nil, "", RuleBaseMetal, Stops, ""},
		{"a metal that no table groups is in none", groups, wire, thin(listed(joint("X99", carbonSteel), "group I", "group II")), nil, "", RuleBaseMetal, Stops, ""},
		{"the wire must suit it all the same", pairRows, wire, listed(joint("304L", stainlessSteel), "304L (stainless steel)"), nil, "", RuleBaseMetal, Stops, "Never weld stainless steel with this wire"},
		{"no list asks nothing of the job", said, wire, Demand{BaseMetals: a572}, nil, "", RuleBaseMetal, Passed, ""},
	})
}

func TestTheProcedureIsTheSourceOfWhatItIsQualifiedFor(t *testing.T) {
	d := listed(joint("A572 Gr 50", carbonSteel), "A36 (carbon steel)")
	d.Thickness, d.Qualified.Most, d.JobSource, d.ProcedureSource = mm(40), mm(25), "job 2207", "procedure WPS-14 rev C"
	v := Check(spool(wire1C()), d, nil, Profile{})
	for _, rule := range []Rule{RuleBaseMetal, RuleThickness} {
		f, _ := v.Find(rule)
		if f.Outcome != Stops || !f.Unfit || f.Demanded.Source != d.ProcedureSource || f.Offered.Source != d.JobSource {
			t.Errorf("Check: %s is %+v, want a stop that the procedure demands and the job offers", rule, f)
		}
	}
	if got := JobFindings(d); len(got) != 2 || got[0].Rule != RuleBaseMetal || got[1].Rule != RuleThickness {
		t.Errorf("JobFindings(%+v) = %+v, want base-metal and thickness", d, got)
	}
	if got := JobFindings(listed(joint("A36", carbonSteel), "A36 (carbon steel)")); len(got) != 0 {
		t.Errorf("JobFindings of a job within its procedure = %+v, want none", got)
	}
}

func TestNoWaiverMendsAJobOutsideItsProcedure(t *testing.T) {
	profile, _ := ProfileByID("structural-steel")
	profile.Limits = nil
	for _, rule := range []Rule{RuleBaseMetal, RuleThickness} {
		profile.Limits = append(profile.Limits, Limit{Rule: rule, Parameter: "waiver", Value: "yes", Source: "shop rule 1"})
	}
	w := good(RuleThickness)
	o, d := spool(with(wire1C(), sheet("max_thickness", "6", "mm"))), Demand{JobSource: w.Job, Thickness: mm(12)}
	o.Spool = w.Spool
	at := w.Until.Add(-time.Hour)
	if f, _ := CheckWith(o, d, nil, profile, []Waiver{w}, at).Find(RuleThickness); f.Outcome != Caution {
		t.Fatalf("CheckWith: the wire's own limit is %s: %s, want the waiver to hold", f.Outcome, f.Says)
	}
	d.Qualified.Most = mm(10)
	if f, _ := CheckWith(o, d, nil, profile, []Waiver{w}, at).Find(RuleThickness); f.Outcome != Stops || f.Waived != nil {
		t.Errorf("CheckWith: a job outside its procedure is %s: %s, want a stop that no waiver lifts", f.Outcome, f.Says)
	}
}

func TestParseMetal(t *testing.T) {
	for _, tt := range []struct {
		text string
		want BaseMetal
		ok   bool
	}{
		{"A36 (carbon steel)", BaseMetal{"A36", carbonSteel}, true},
		{" A572 Gr 50(Carbon Steel) ", BaseMetal{"A572 Gr 50", carbonSteel}, true},
		{"ASTM A572-50 (carbon steel)", BaseMetal{"A572 Gr 50", carbonSteel}, true},
		{"stainless steel", BaseMetal{"", stainlessSteel}, true},
		{"AWS D1.1 Group II", BaseMetal{Name: "group II"}, true},
		{"group ii", BaseMetal{Name: "group II"}, true},
		{"A36", BaseMetal{}, false},
		{"A36 (wood)", BaseMetal{}, false},
		{"(carbon steel)", BaseMetal{}, false},
		{"", BaseMetal{}, false},
	} {
		got, ok := ParseMetal(tt.text)
		if ok != tt.ok || ok && got != tt.want {
			t.Errorf("ParseMetal(%q) = %+v, %v, want %+v, %v", tt.text, got, ok, tt.want, tt.ok)
		}
		if again, _ := ParseMetal(got.String()); ok && again != got {
			t.Errorf("ParseMetal(%q) = %+v, want it to read back: %s", got.String(), again, cmp.Diff(got, again))
		}
	}
	if text := (Qualified{Least: mm(3)}).Range(); !strings.Contains(text, "3 mm") {
		t.Errorf("Range of a least alone = %q", text)
	}
}
