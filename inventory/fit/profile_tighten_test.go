package fit

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wirehold/inventory/filler"
)

// line is the number of the first line of p for a rule and parameter.
func line(t testing.TB, p Profile, r Rule, parameter string) int {
	t.Helper()
	n := slices.IndexFunc(p.Limits, func(l Limit) bool { return l.Rule == r && l.Parameter == parameter })
	if n < 0 {
		t.Fatalf("%s has no %s %s", p.ID, r, parameter)
	}
	return n
}

func TestTighten(t *testing.T) {
	seismic, _ := ProfileByID("seismic-structural")
	structural, _ := ProfileByID("structural-steel")
	ours := func(value string) func(*Limit) {
		return func(l *Limit) { l.Value, l.Source, l.Provenance = value, "shop rule 7", filler.Shop }
	}
	tests := []struct {
		name      string
		profile   Profile
		rule      Rule
		parameter string
		change    func(*Limit)
		ok        bool
		says      string // of the error, or of the difference
	}{
		{"less wind is tighter", structural, RuleWind, "wind_max", ours("3 mph"), true, "wind: 3 mph (stops), was 5 mph (stops)."},
		{"more wind is looser", structural, RuleWind, "wind_max", ours("8 mph"), false, "8 mph"},
		{"the same wind in other units is no looser", structural, RuleWind, "wind_max", ours("8 km/h"), true, ""},
		{"a wind that only cautions is looser", structural, RuleWind, "wind_max", func(l *Limit) { l.Action = Caution }, false, "looser"},
		{"a wind from memory only cautions and is looser", structural, RuleWind, "wind_max", func(l *Limit) { l.Provenance = filler.Memory }, false, "looser"},
		{"a wind for prequalified work alone is looser", structural, RuleWind, "wind_max", func(l *Limit) { l.Condition = OnlyPrequalified }, false, "looser"},
		{"colder toughness is tighter", seismic, RuleToughness, "toughness_min", ours("20 ft-lbf at -20 degF"), true, "-20 degF"},
		{"warmer toughness is looser", seismic, RuleToughness, "toughness_min", ours("20 ft-lbf at 32 degF"), false, "looser"},
		{"less hydrogen is tighter", seismic, RuleHydrogen, "hydrogen_max", ours("8 mL/100 g"), true, "8 mL/100 g"},
		{"hydrogen of every wire is tighter", seismic, RuleHydrogen, "hydrogen_max", func(l *Limit) { l.Condition = "" }, true, ""},
		{"hydrogen of flux cored wire alone is looser", seismic, RuleHydrogen, "hydrogen_max", func(l *Limit) { l.Condition = OnlyFluxCored }, false, "looser"},
		{"fewer hours are tighter", seismic, RuleExposure, "exposure_max", ours("24 h"), true, "24 h"},
		{"exposure of all but solid wire is tighter than of flux cored", seismic, RuleExposure, "exposure_max", func(l *Limit) { l.Condition = AllButSolid }, true, ""},
		{"exposure in prequalified work alone is looser than of flux cored wire", seismic, RuleExposure, "exposure_max", func(l *Limit) { l.Condition = OnlyPrequalified }, false, "looser"},
		{"the same shelf life on the shop's authority is no looser", structural, RuleShelfLife, "shelf_life_max", func(l *Limit) { l.Source = "shop rule 3" }, true, "5 years"},
		{"more hours are looser", seismic, RuleExposure, "exposure_max", ours("96 h"), false, "looser"},
		{"a shelf life in months is read beside years", structural, RuleShelfLife, "shelf_life_max", ours("48 months"), true, "48 months"},
		{"a longer shelf life is looser", structural, RuleShelfLife, "shelf_life_max", ours("7 years"), false, "looser"},
		{"a waiver more is looser", structural, RuleWind, waiverLine, func(l *Limit) { l.Value = "yes" }, false, "looser"},
		{"a waiver less is tighter", structural, RuleClassification, waiverLine, func(l *Limit) { l.Value = "no" }, true, "classification waiver: no, was yes."},
		{"a waiver on the shop's own authority is no looser", structural, RuleClassification, waiverLine, func(l *Limit) { l.Source = "shop rule 1" }, true, "yes, was yes"},
		{"a refusal on the shop's own authority is no looser", structural, RuleGas, waiverLine, func(l *Limit) { l.Source = "shop rule 1" }, true, "no, was no"},
		{"a recommendation that stops is tighter", structural, RuleThickness, "general_recommendation", func(l *Limit) { l.Action, l.Value = Stops, "may not be exceeded" }, true, "stops"},
		{"a limit nobody can read is none", structural, RuleWind, "wind_max", ours("a breeze"), false, "not a"},
		{"a limit without a source is none", structural, RuleWind, "wind_max", func(l *Limit) { l.Source = "" }, false, "no source"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			mine := tt.profile.Copy("ours", "Ours")
			n := line(t, mine, tt.rule, tt.parameter)
			l := mine.Limits[n]
			tt.change(&l)
			got, err := mine.Tighten(n, l)
			if (err == nil) != tt.ok || err != nil && !strings.Contains(err.Error(), tt.says) {
				t.Fatalf("Tighten(%d, %+v): error %v, want ok %v, %q", n, l, err, tt.ok, tt.says)
			}
			if tt.ok {
				diff := got.Differences(tt.profile)
				if len(diff) != 1 || diff[0].Looser || !strings.Contains(diff[0].Says, tt.says) {
					t.Errorf("Differences: %+v, want one that says %q", diff, tt.says)
				}
			}
			if d := mine.Differences(tt.profile); d != nil {
				t.Errorf("Tighten changed the profile it was asked of: %+v", d)
			}
		})
	}
}

func TestALimitMayBeAddedAndNotTakenAway(t *testing.T) {
	original, _ := ProfileByID("general-shop")
	p, err := original.Copy("ours", "Ours").Tighten(len(original.Limits), Limit{Rule: RuleHydrogen, Parameter: "hydrogen_max", Value: "8 mL/100 g", Source: "shop rule 9", Provenance: filler.Shop})
	if err != nil || len(p.Limits) != len(original.Limits)+1 || p.Base != "general-shop" {
		t.Fatalf("Tighten with a further line: %d lines of base %q, %v", len(p.Limits), p.Base, err)
	}
	if d := p.Differences(original); len(d) != 1 || d[0].Looser || d[0].Says != "hydrogen: 8 mL/100 g (stops) is new." {
		t.Errorf("Differences with a further line: %+v", d)
	}
	fewer := original.Copy("ours", "Ours")
	n := line(t, fewer, RuleWind, "wind_max")
	fewer.Limits = slices.Delete(fewer.Limits, n, n+1)
	if d := fewer.LooserThan(original); len(d) != 1 || d[0].Reason != "" || !strings.Contains(d[0].Says, "is gone") {
		t.Errorf("LooserThan without the wind limit: %+v, want one without a reason", d)
	}
	if _, err := original.Tighten(len(original.Limits)+1, Limit{}); err == nil {
		t.Error("Tighten past the last line: no error")
	}
	warning := Limit{Rule: RuleWind, Parameter: "wind_max", Value: "3 mph", Action: Caution, Source: "shop rule 5", Provenance: filler.Shop}
	if _, err := original.Tighten(len(original.Limits), warning); err != nil {
		t.Errorf("Tighten with a warning beside the limit: %v", err)
	}
	milder := Limit{Rule: RuleThickness, Parameter: "prequalified_limit", Value: "may be exceeded with care", Action: Caution, Source: "shop", Provenance: filler.Shop}
	if _, err := original.Tighten(len(original.Limits), milder); err == nil || !strings.Contains(err.Error(), "looser") {
		t.Errorf("Tighten with a caution for what stops where no line says anything: %v, want that it is looser", err)
	}
	twice := original.Copy("ours", "Ours")
	twice.Limits = append(twice.Limits, Limit{Rule: RuleGas, Parameter: waiverLine, Value: "yes", Source: "shop"})
	if d := twice.LooserThan(original); len(d) != 1 {
		t.Errorf("LooserThan with a second waiver line for gas: %+v, want one", d)
	}
}

func TestLoosenKeepsTheEngineersReason(t *testing.T) {
	original, _ := ProfileByID("structural-steel")
	p := original.Copy("ours", "Ours")
	n := line(t, p, RuleWind, "wind_max")
	l := p.Limits[n]
	l.Value = "8 mph"
	for _, bad := range [][3]string{{"", "2026-03-02", "why"}, {"Dr. Ilse", "yesterday", "why"}, {"Dr. Ilse", "2026-03-02", ""}} {
		if _, err := p.Loosen(n, l, bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("Loosen(%q): no error", bad)
		}
	}
	looser, err := p.Loosen(n, l, "Dr. Ilse", "2026-03-02", "tested in the yard")
	if err != nil {
		t.Fatal(err)
	}
	if d := looser.LooserThan(original); len(d) != 1 || d[0].Reason != "tested in the yard" {
		t.Errorf("LooserThan: %+v, want one with its reason", d)
	}
	got, _ := Check(spool(wire1C()), Demand{Wind: mph("7")}, nil, looser).Find(RuleWind)
	if got.Outcome != Passed || !strings.Contains(got.Demanded.Source, "loosened by Dr. Ilse on 2026-03-02: tested in the yard") {
		t.Errorf("Check at 7 mph: %s, demanded by %q, want a pass that names who loosened it", got.Outcome, got.Demanded.Source)
	}
}

func TestConfirm(t *testing.T) {
	p, _ := ProfileByID("seismic-structural")
	memory := slices.IndexFunc(p.Limits, func(l Limit) bool { return l.Rule == RuleWind && l.Provenance == filler.Memory })
	tests := []struct {
		name   string
		line   int
		by, on string
		ok     bool
	}{
		{"a limit from memory, by name and date", memory, "Dr. Ilse", "2026-03-02", true},
		{"by nobody", memory, "", "2026-03-02", false},
		{"on no date", memory, "Dr. Ilse", "", false},
		{"a published limit needs it not", line(t, p, RuleHydrogen, "hydrogen_max"), "Dr. Ilse", "2026-03-02", false},
		{"a waiver line needs it not", line(t, p, RuleWind, waiverLine), "Dr. Ilse", "2026-03-02", false},
		{"a line that is not there", len(p.Limits), "Dr. Ilse", "2026-03-02", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := p.Confirm(tt.line, tt.by, tt.on)
			if (err == nil) != tt.ok {
				t.Fatalf("Confirm(%d, %q, %q): %v, want ok %v", tt.line, tt.by, tt.on, err, tt.ok)
			}
			if d := got.Differences(p); tt.ok && (len(d) != 1 || d[0].Looser || !strings.Contains(d[0].Says, "confirmed by Dr. Ilse")) {
				t.Errorf("Differences: %+v, want the confirmation", d)
			}
		})
	}
}

// anyLimit draws a change of one of p's lines, readable or not.
func anyLimit(t *rapid.T, p Profile) (int, Limit) {
	n := rapid.IntRange(0, len(p.Limits)).Draw(t, "line")
	l := Limit{Rule: RuleHydrogen, Parameter: "hydrogen_max", Value: "8 mL/100 g", Source: "shop", Provenance: filler.Shop}
	if n < len(p.Limits) {
		l = p.Limits[n]
	}
	values := map[string][]string{
		"wind_max": {"2 mph", "4 mph", "9 mph"}, "toughness_min": {"20 ft-lbf at -20 degF", "15 ft-lbf at 0 degF"}, "hydrogen_max": {"4 mL/100 g", "16 mL/100 g"},
		"exposure_max": {"24 h", "96 h"}, "certificate_age_max": {"6 months", "2 years"}, "shelf_life_max": {"6 months", "9 years"}, waiverLine: {"yes", "no"},
	}
	l.Value = rapid.SampledFrom(append(values[l.Parameter], l.Value)).Draw(t, "value")
	l.Condition = rapid.SampledFrom(append(conditions(), "", l.Condition, l.Condition)).Draw(t, "condition")
	l.Action = rapid.SampledFrom([]Outcome{"", Caution, Stops, l.Action}).Draw(t, "action")
	l.Provenance = rapid.SampledFrom([]filler.Provenance{filler.Memory, filler.Practice, filler.Published, filler.Shop, l.Provenance}).Draw(t, "provenance")
	return n, l
}

// TestATighterProfileStopsAllThatStoppedBefore tightens random lines and holds
// random checks against the original.
func TestATighterProfileStopsAllThatStoppedBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, d, f, p := anyOffer().Draw(t, "offer"), anyDemand().Draw(t, "demand"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		n, l := anyLimit(t, p)
		tighter, err := p.Tighten(n, l)
		if err != nil {
			t.Skip("not tighter, or not readable")
		}
		was, is := Check(o, d, f, p), Check(o, d, f, tighter)
		for i, before := range was.Findings {
			if after := is.Findings[i]; before.Outcome == Stops && after.Outcome != Stops {
				t.Fatalf("Tighten(%d, %+v): %s\nthen %s: %s", n, l, before.Says, after.Outcome, after.Says)
			}
			if p.Waivable(before.Rule) != tighter.Waivable(before.Rule) && tighter.Waivable(before.Rule) {
				t.Fatalf("Tighten(%d, %+v) lets %s be waived", n, l, before.Rule)
			}
		}
	})
}
