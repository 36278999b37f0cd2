package inventory

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/fit"
)

func TestCompareWires(t *testing.T) {
	t.Parallel()
	a, b := wireOf("E71T-1C", sheet("stick_out", "13-19", "mm", "")), wireOf("E71T-11")
	c, err := CompareWires(a, b)
	if err != nil {
		t.Fatal(err)
	}
	find := func(facts []ComparedFact, name string) (ComparedFact, bool) {
		for _, f := range facts {
			if f.Name == name {
				return f, true
			}
		}
		return ComparedFact{}, false
	}
	tests := []struct {
		name, fact string
		differs    bool
		a, b       string
	}{
		{"the class differs", "classification", true, "E71T-1C", "E71T-11"},
		{"the process differs", "process", true, "FCAW-G", "FCAW-S"},
		{"the polarity differs", "polarity", true, "DCEP", "DCEN"},
		{"the gas differs", "gas", true, "CO2 100 %", "none"},
		{"what only one sheet says differs from not known", "stick_out", true, "13-19 mm", ""},
		{"the size is the same", "diameter", false, ".045 in (1.14 mm)", ".045 in (1.14 mm)"},
		{"the passes are the same", "passes", false, "single and multiple", "single and multiple"},
	}
	for _, tt := range tests {
		list := c.Same
		if tt.differs {
			list = c.Differences
		}
		got, ok := find(list, tt.fact)
		if !ok || got.A.Value != tt.a || got.B.Value != tt.b {
			t.Errorf("%s: CompareWires: %s = %q and %q (found %t), want %q and %q", tt.name, tt.fact, got.A.Value, got.B.Value, ok, tt.a, tt.b)
		}
	}
	if c.Differences[0].Name != "classification" || len(c.Differences) < 5 {
		t.Errorf("CompareWires: the differences begin with %q, want the classification", c.Differences[0].Name)
	}
}

func TestAComparedWireWhoseBoxAndSheetDisagreeSaysSo(t *testing.T) {
	t.Parallel()
	c, err := CompareWires(wireOf("E71T-11"), wireOf("E71T-11", sheet("polarity", "DCEP", "", "")))
	if err != nil || len(c.Differences) != 1 || c.Differences[0].Name != "polarity" || c.Differences[0].B.Value != "box and sheet disagree" {
		t.Errorf("CompareWires: %v, differences %+v, want the polarity that is in dispute", err, c.Differences)
	}
}

func TestAWireDiffersFromItselfInNothing(t *testing.T) {
	t.Parallel()
	for _, class := range []string{"E71T-11", "E71T-GS", "ER70S-6", "E309LT1-1/4", "E81T1-Ni1C"} {
		c, err := CompareWires(wireOf(class), wireOf(class))
		if err != nil || len(c.Differences) != 0 || len(c.Same) < 8 {
			t.Errorf("CompareWires(%s, %s): %v, differences %+v, %d the same", class, class, err, c.Differences, len(c.Same))
		}
	}
}

func TestChangedFindings(t *testing.T) {
	t.Parallel()
	verdict := func(polarity, gas, wind fit.Outcome) fit.Verdict {
		return fit.Verdict{Findings: []fit.Finding{{Rule: fit.RulePolarity, Outcome: polarity}, {Rule: fit.RuleGas, Outcome: gas}, {Rule: fit.RuleWind, Outcome: wind}}}
	}
	var got []fit.Rule
	for _, f := range ChangedFindings(verdict(fit.Stops, fit.Passed, fit.Passed), verdict(fit.Passed, fit.Stops, fit.Passed)) {
		got = append(got, f.Rule)
	}
	if diff := cmp.Diff([]fit.Rule{fit.RuleGas, fit.RulePolarity}, got); diff != "" {
		t.Errorf("ChangedFindings: rules (-want +got):\n%s", diff)
	}
}
