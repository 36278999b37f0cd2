package fit

import (
	"encoding/csv"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"wirehold/inventory/filler"
)

const testdata = "../../testdata/"

// codeRows are the rows of the code and exposure tables by id.
func codeRows(t *testing.T) map[string]map[string]string {
	t.Helper()
	rows := map[string]map[string]string{}
	for _, name := range []string{"code_rules.csv", "exposure_rules.csv"} {
		file, err := os.Open(testdata + name)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		lines, err := csv.NewReader(file).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range lines[1:] {
			row := map[string]string{}
			for i, column := range lines[0] {
				row[column] = line[i]
			}
			rows[name+" "+row["id"]] = row
		}
	}
	return rows
}

var noted = regexp.MustCompile(`^(\w+\.csv [CE]\d{3})`)

// TestProfilesQuoteTheirRows holds every limit that names a row against it.
func TestProfilesQuoteTheirRows(t *testing.T) {
	rows := codeRows(t)
	profiles, err := Profiles()
	if err != nil || len(profiles) != 5 {
		t.Fatalf("Profiles(): %d profiles, %v; want 5", len(profiles), err)
	}
	quoted := 0
	for _, p := range profiles {
		for _, l := range p.Limits {
			if err := l.Validate(); err != nil {
				t.Errorf("%s: %v", p.ID, err)
			}
			row := rows[noted.FindString(l.Note)]
			if row == nil {
				if l.Parameter != "waiver" {
					t.Errorf("%s: %s %s names no row: %q", p.ID, l.Rule, l.Parameter, l.Note)
				}
				continue
			}
			quoted++
			if string(l.Provenance) != row["provenance"] && l.Provenance != filler.Practice {
				t.Errorf("%s: %s is %s, its row %s", p.ID, l.Parameter, l.Provenance, row["provenance"])
			}
			if l.Provenance == filler.Published && !strings.Contains(l.Source, row["source"]) {
				t.Errorf("%s: %s has source %q, its row %q", p.ID, l.Parameter, l.Source, row["source"])
			}
			number, _, _ := strings.Cut(l.Value, " ")
			if strings.ContainsAny(number, "0123456789") && number != row["value"] {
				t.Errorf("%s: %s is %q, its row says %s %s", p.ID, l.Parameter, l.Value, row["value"], row["unit"])
			}
			if want := map[string]Outcome{"warn": Caution, "block": Stops}[row["action"]]; l.Action != want {
				t.Errorf("%s: %s %s, its row's action is %q", p.ID, l.Parameter, l.Action, row["action"])
			}
		}
	}
	if quoted < 45 {
		t.Errorf("%d limits name a row, want 45 or more", quoted)
	}
}

func TestProfilesSayOfEveryRuleWhetherItMayBeWaived(t *testing.T) {
	profiles, _ := Profiles()
	for _, p := range profiles {
		for _, r := range Rules() {
			if !slices.ContainsFunc(p.Limits, func(l Limit) bool { return l.Rule == r && l.Parameter == "waiver" }) {
				t.Errorf("%s has no waiver line for %s", p.ID, r)
			}
		}
		for _, never := range []Rule{RuleLotStatus, RuleGas, RulePolarity, RulePasses, RuleBaseMetal} {
			if p.Waivable(never) {
				t.Errorf("%s lets %s be waived", p.ID, never)
			}
		}
		if !p.Waivable(RuleClassification) {
			t.Errorf("%s does not let %s be waived", p.ID, RuleClassification)
		}
	}
	if (Profile{}).Waivable(RuleClassification) {
		t.Error("a profile without lines lets a rule be waived")
	}
}

func TestLimitValidate(t *testing.T) {
	good := Limit{Rule: RuleWind, Parameter: "wind_max", Value: "5 mph", Source: "AWS D1.1", Action: Stops}
	tests := []struct {
		name   string
		change func(*Limit)
		want   string // in the error; empty if it must be accepted
	}{
		{"a wind limit", func(*Limit) {}, ""},
		{"a wind limit without a unit", func(l *Limit) { l.Value = "5" }, "not a"},
		{"a rule that does not exist", func(l *Limit) { l.Rule = "luck" }, "no rule"},
		{"a parameter that does not exist", func(l *Limit) { l.Parameter = "wind_min" }, "no limit"},
		{"a condition that does not exist", func(l *Limit) { l.Condition = "on Sundays" }, "no condition"},
		{"an action that is none", func(l *Limit) { l.Action = Passed }, "cannot be"},
		{"no source", func(l *Limit) { l.Source = "" }, "no source"},
		{"hours", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleExposure, "exposure_max", "72 h" }, ""},
		{"days for hours", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleExposure, "exposure_max", "3 days" }, "not a"},
		{"months", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleShelfLife, "shelf_life_max", "1 month" }, ""},
		{"a hundred years", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleShelfLife, "shelf_life_max", "1200 months" }, ""},
		{"more than a hundred years", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleShelfLife, "shelf_life_max", "101 years" }, "not a"},
		{"no months", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleCertificate, "certificate_age_max", "0 months" }, "not a"},
		{"months in words", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleCertificate, "certificate_age_max", "twelve months" }, "not a"},
		{"weeks for months", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleCertificate, "certificate_age_max", "12 weeks" }, "not a"},
		{"a proof that is perhaps required", func(l *Limit) { l.Rule, l.Parameter, l.Value = RuleMixing, "intermix_proof", "perhaps" }, "required"},
		{"several conditions", func(l *Limit) { l.Condition = OnlyFluxCored + ", " + OnlyInFoil }, ""},
		{"several conditions of which one is none", func(l *Limit) { l.Condition = OnlyFluxCored + ", on Sundays" }, "no condition"},
		{"a waiver that is perhaps", func(l *Limit) { l.Parameter, l.Value = "waiver", "perhaps" }, "yes or no"},
		{"a waiver for one form of wire", func(l *Limit) { l.Parameter, l.Value, l.Condition = "waiver", "yes", OnlySolid }, "at all times"},
		{"a waiver that is a caution", func(l *Limit) { l.Parameter, l.Value, l.Action = "waiver", "no", Caution }, "at all times"},
		{"single-pass wire that is not allowed", func(l *Limit) { l.Rule, l.Parameter, l.Value = RulePasses, "prequalified_single_pass", "not allowed" }, ""},
		{"single-pass wire that is allowed", func(l *Limit) { l.Rule, l.Parameter, l.Value = RulePasses, "prequalified_single_pass", "allowed" }, "not in the profile at all"},
		{"plates that stop", func(l *Limit) {
			l.Rule, l.Parameter, l.Value = RuleThickness, "prequalified_limit", "may not be exceeded"
		}, ""},
		{"plates that stop and may be exceeded", func(l *Limit) {
			l.Rule, l.Parameter, l.Value = RuleThickness, "prequalified_limit", "may be exceeded with care"
		}, `"may not be exceeded", not`},
		{"plates that caution", func(l *Limit) {
			l.Rule, l.Parameter, l.Value, l.Action = RuleThickness, "general_recommendation", "may be exceeded with care", Caution
		}, ""},
		{"plates that caution and may not be exceeded", func(l *Limit) {
			l.Rule, l.Parameter, l.Value, l.Action = RuleThickness, "general_recommendation", "may not be exceeded", Caution
		}, `"may be exceeded with care", not`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := good
			tt.change(&l)
			if err := l.Validate(); (err == nil) != (tt.want == "") || err != nil && !strings.Contains(err.Error(), tt.want) {
				t.Errorf("Validate(%+v): %v, want %q", l, err, tt.want)
			}
		})
	}
}

// TestTablesAreRowsOfTestdata holds the embedded rows against the reference
// tables, byte for byte but for the end of the line.
func TestTablesAreRowsOfTestdata(t *testing.T) {
	for _, name := range []string{"base_metal_match.csv", "diameters.csv", "gases.csv", "solid_and_metal_cored.csv", "steel_groups.csv", "trade_practice.csv", "weld_metal.csv"} {
		ours, err := embedded.ReadFile("tables/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if name == "steel_groups.csv" { // rows of another kind from the same table
			name = "base_metal_match.csv"
		}
		theirs, err := os.ReadFile(testdata + name)
		if err != nil {
			t.Fatal(err)
		}
		all := strings.Split(strings.ReplaceAll(string(theirs), "\r\n", "\n"), "\n")
		for _, line := range strings.Split(strings.TrimSpace(string(ours)), "\n") {
			if !slices.Contains(all, line) {
				t.Errorf("tables/%s: %q is no row of testdata/%s", name, line, name)
			}
		}
	}
	theirs, _ := os.ReadFile(testdata + "base_metal_match.csv")
	if want := strings.Count(string(theirs), "\npairing,"); len(pairings()) != want {
		t.Errorf("%d pairings, testdata has %d", len(pairings()), want)
	}
}
