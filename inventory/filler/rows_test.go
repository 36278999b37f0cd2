package filler

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// untestable says why a row is no property of a designation; empty if it is one.
func untestable(r testRow) string {
	switch {
	case r.designator == "(digit)":
		return "says where the position digit stands"
	case r.attribute == "status":
		return "says that the suffix is withdrawn: the designation is refused"
	case r.kind == "structure" && (r.attribute == "effect" || r.attribute == "specifications"):
		return "says what a single-pass class leaves out, or which specifications are carried: the refusals hold it"
	case r.kind == "diameter":
		return "a size, which no designation has"
	case r.kind == "scope" && strings.HasPrefix(r.spec, "ISO"):
		return "bounds the strengths that the standard has: TestStrengthsLieInTheScopeOfTheirStandard"
	case r.kind == "old_to_new" && r.designator == "-2C -2M":
		return "no fixed class: TestRefusalsNameTheCharacterAtFault holds the refusal to its words"
	}
	return ""
}

// carries tells whether d holds the fact of a row; the sources of rows that
// agree are joined.
func carries(d Decoded, r testRow) bool {
	if r.attribute == "seen_on_a_label" || r.attribute == "tolerated" {
		return true // it is read, and that is all
	}
	if r.kind == "position_code" { // it is said where the position symbol is explained
		return slices.ContainsFunc(d.Parts, func(p Part) bool { return strings.Contains(p.Means, r.designator+" "+r.value) })
	}
	if r.kind == "structure" && (r.attribute == "order" || r.attribute == "parts") {
		return inOrder(d, r.value)
	}
	if r.attribute == "written_as" {
		_, err := Decode("E81T-1-Ni1C")
		return err != nil && strings.HasPrefix(r.value, "E81T1-Ni1C: ")
	}
	name, value, unit := factOf(r)
	return slices.ContainsFunc(d.Facts, func(f Fact) bool {
		return f.Name == name && f.Value == value && f.Unit == unit && f.Provenance == r.provenance &&
			(f.Source == r.source || slices.Contains(strings.Split(f.Source, "; "), r.source))
	})
}

// inOrder tells whether the parts of d come in the order that a row names:
// each of its words is explained behind the one before.
func inOrder(d Decoded, order string) bool {
	explained := map[string]string{
		"strength": "strength", "impact": "impact", "composition": "composition|steel", "wire composition": "composition", "core": "core", "gas": "gas",
		"position": "position", "-position": "position", "H": "hydrogen", "usability": "usability", "T + usability": "usability",
		"condition": "as welded", "U": "47 J", "alloy symbol": "alloy", "alloy type": "alloy", "T": "tubular", "TS": "tubular", "G": "solid", "E": "electrode",
	}
	at := 0
	for word := range strings.SplitSeq(order, ", ") {
		word, _, _ = strings.Cut(word, " (")
		word = strings.TrimPrefix(strings.TrimPrefix(word, "- "), "-")
		if strings.Contains(word, "then") || word == "F or M or R" {
			continue
		}
		means, known := explained[word]
		next := slices.IndexFunc(d.Parts[at:], func(p Part) bool {
			return slices.ContainsFunc(strings.Split(means, "|"), func(one string) bool { return strings.Contains(p.Means, one) })
		})
		if !known || next < 0 {
			return false
		}
		at += next + 1
	}
	return true
}

// factOf is the row in the words of facts, where these differ.
func factOf(r testRow) (name, value, unit string) {
	switch {
	case r.designator == "(none)" && strings.HasPrefix(r.spec, "AWS A5.20"):
		return r.attribute, "CO2 100 %", r.unit // what the row says of the number 1
	case r.designator == "(none)" && strings.HasPrefix(r.spec, "AWS A5.29"),
		strings.HasPrefix(r.value, "by last letter of the suffix"):
		return r.attribute, "not specified", r.unit // the letter is missing
	case r.kind == "structure" && r.designator == "S":
		return "passes", "single only", ""
	case r.kind == "fixed_class" && r.attribute == "gas":
		return "gas_symbol", r.value, ""
	case r.value == "as ISO 17632-A":
		return "positions_rule", r.value, ""
	case r.designator == "S after the gas":
		return "passes", "single only", ""
	case r.kind == "gas" && strings.HasPrefix(r.value, "no gas"):
		return "gas", "none", ""
	case r.kind == "gas" && r.designator == "(symbol)":
		return "gas", "M21", ""
	case r.kind == "gas" && strings.HasPrefix(r.spec, "ISO"):
		return "gas", r.value, ""
	case r.attribute == "characteristic":
		return "core", r.value, ""
	case r.kind == "usability_B" && r.attribute == "all":
		return "usability", r.value, ""
	case r.kind == "condition" || r.kind == "condition_B":
		return "condition", r.value, ""
	case r.kind == "gas" && r.designator == "(none)":
		return "gas", "none", ""
	case r.kind == "gas" && r.attribute == "meaning" && strings.HasPrefix(r.spec, "AWS"):
		return "gas", r.designator, ""
	case r.kind == "impact" && r.value == "no requirement":
		return "impact_min_energy", "none required", ""
	case r.kind == "impact" && r.value == "as agreed":
		return "impact_min_energy", "as agreed", ""
	case r.kind == "impact" && r.attribute == "temperature":
		return "impact_temperature", r.value, r.unit
	}
	return r.attribute, r.value, r.unit
}

func TestEveryRowOfTheTablesIsAFactOfADesignationThatCarriesIt(t *testing.T) {
	t.Parallel()
	tests := []struct {
		file, spec                string
		rows, untested, published int
	}{
		{"a5_20_usability.csv", "AWS A5.20", 250, 0, 183},
		{"a5_22.csv", "AWS A5.22", 170, 2, 29},
		{"solid_and_metal_cored.csv", "AWS A5.18", 77, 0, 30},
		{"solid_and_metal_cored.csv", "AWS A5.28", 86, 0, 16},
		{"solid_and_metal_cored.csv", "AWS A5.9", 83, 0, 6},
		{"solid_and_metal_cored.csv", "AWS A5.10", 22, 0, 17},
		{"a5_29_usability.csv", "AWS A5.29", 176, 0, 63},
		{"a5_36.csv", "AWS A5.36", 249, 3, 159},
		{"iso_17632.csv", "ISO 17632", 212, 13, 197},
		{"iso_17632.csv", "ISO 17633", 35, 0, 19},
		{"iso_17632.csv", "ISO 18276", 18, 2, 0},
		{"iso_17632.csv", "ISO 14341", 4, 0, 4},
	}
	for _, tt := range tests {
		t.Run(tt.spec, func(t *testing.T) {
			t.Parallel()
			rows, untested, published := 0, 0, 0
			for _, r := range readTestRows(t, tt.file) {
				if !strings.HasPrefix(r.spec, tt.spec) {
					continue
				}
				rows++
				if why := untestable(r); why != "" {
					untested++
					t.Logf("not tested: %v: %s", r, why)
					continue
				}
				if r.provenance == Published {
					published++
				}
				text := designationOf(r)
				d, err := Decode(text)
				if err != nil {
					t.Errorf("Decode(%q): %v; want the row %v", text, err, r)
				} else if !carries(d, r) {
					t.Errorf("Decode(%q): got %+v, want the row %v (%s, %q)", text, d.Facts.Named(r.attribute), r, r.provenance, r.source)
				}
			}
			t.Logf("%s: %d rows of %s, %d facts asserted, %d of them published, %d not properties of a designation",
				tt.file, rows, tt.spec, rows-untested, published, untested)
			if rows != tt.rows || untested != tt.untested || published != tt.published {
				t.Errorf("%s: got %d rows, %d untested, %d published, want %d, %d and %d",
					tt.file, rows, untested, published, tt.rows, tt.untested, tt.published)
			}
		})
	}
}

// A row whose condition does not hold must not be a fact.
func TestARowIsAbsentWhereItsConditionFails(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, text, fact, value string }{
		{"strength 6 has no row of strength 7", "E61T-13", "tensile", "70 min"},
		{"position 0 has no travel direction", "E70T-1C", "vertical_direction", "up"},
		{"E70T-5 is electrode positive", "E70T-5C", "polarity", "DCEP or DCEN"},
		{"E71T-5 is as the maker says", "E71T-5C", "polarity", "DCEP"},
		{"J replaces the impact temperature of the class", "E71T-1CJ", "impact_temperature", "0"},
		{"J replaces that no impact is required", "E70T-4J", "impact_min_energy", "none required"},
		{"the metric form has no ksi", "E491T-1C", "tensile", "70-95"},
		{"the metric form of A5.18 has no ksi", "ER48S-6", "tensile_min", "70"},
		{"a -1 wire has not the carbon of a -3 wire", "E308LT1-1", "C", "0.03 max"},
		{"a -3 wire has not the carbon of a -1 wire", "E308LT0-3", "C", "0.04 max"},
		{"a metal cored wire has no strength", "EC308L", "tensile_min", "75"},
		{"aluminium is of self-shielded low-alloy wire only", "E81T1-Ni1C", "max_Al", "1.8"},
		{"T5 in all positions is not fixed to DCEP", "E91T5-K2M", "polarity", "DCEP"},
		{"J lowers the impact temperature of A5.29", "E81T1-Ni1C-J", "impact_temperature", "-20"},
		{"an open form takes the letter's place", "E81T1-Ni1C", "gas", "not specified"},
		{"an open form in ksi has no degC", "E71T8-A2-CS3", "impact_temperature", "0"},
		{"a metric open form has no degF", "E491T8-A10-CS3", "impact_temperature", "-150"},
		{"T5 of the open scheme in all positions is not fixed to DCEP", "E71T5-C1A2-CS1", "polarity", "DCEP"},
		{"S of the open scheme has no multiple pass", "E70T15S-M21", "passes", "single and multiple"},
		{"a gas letter settles the gas of a metal cored wire", "E80C-Ni1M", "gas", "not in the designation unless a letter follows; take from the data sheet"},
		{"the metric form of A5.28 has no ksi", "ER55S-Ni1", "tensile_min", "80"},
		{"a ferritic bare wire has not what ER3xx has", "ER430", "gas_not_allowed", "CO2 100 % and 75/25 Ar/CO2"},
		{"system A asks for 47 J", "T 46 4 P M21 1", "impact_min_energy", "27"},
		{"system B asks for 27 J without U", "T 55 4 T5-1 M21 A", "impact_min_energy", "47"},
		{"a single-run strength outweighs the core", "T 3T Z R C1 3", "passes", "single and multiple"},
		{"S of system B outweighs the usability", "T 49 T5-0 C1 S", "passes", "single and multiple"},
		{"a composition takes the place of none", "T 46 4 1Ni P M21 1", "weld_metal_ranges", "Mn 2.0; Ni 0.5; Mo 0.2"},
		{"a military electrode is electrode positive", "E7018M", "polarity", "AC or DCEP"},
		{"a G wire has no strength of its type", "E308LT1-G", "tensile_min", "75"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			d, err := Decode(tt.text)
			if err != nil {
				t.Fatalf("Decode(%q): %v", tt.text, err)
			}
			for _, f := range d.Facts.Named(tt.fact) {
				if f.Value == tt.value {
					t.Errorf("Decode(%q): got the fact %+v, want it absent", tt.text, f)
				}
			}
		})
	}
}

// The exposure limits of covered electrodes are those of exposure_rules.csv.
func TestCoveredElectrodesHaveTheExposureLimitsOfTheReferenceTable(t *testing.T) {
	t.Parallel()
	examples := map[string]string{
		"E70XX (A5.1)": "E7016", "E70XXR (A5.1)": "E7018R", "E70XXHZR (A5.1)": "E7018-1-H4R", "E7018M (A5.1)": "E7018M",
		"E70XX-X (A5.5)": "E7018-A1", "E80XX-X (A5.5)": "E8018-B2", "E90XX-X (A5.5)": "E9018-B3",
		"E100XX-X (A5.5)": "E10018M", "E110XX-X (A5.5)": "E11018M",
	}
	rows := 0
	for _, r := range readRecords(t, "exposure_rules.csv") {
		text := examples[r["designator"]]
		if text == "" || r["code"] != "AWS D1.1" || r["topic"] != "exposure limit" {
			continue
		}
		rows++
		want := Fact{Name: "exposure_limit_d1_1", Value: r["value"], Unit: r["unit"], Condition: r["condition"],
			Provenance: Provenance(r["provenance"]), Source: r["source"], Note: r["note"], From: text}
		if diff := cmp.Diff(Facts{want}, mustDecode(t, text).Facts.Named(want.Name)); diff != "" {
			t.Errorf("Decode(%q): exposure against %s (-want +got):\n%s", text, r["id"], diff)
		}
	}
	if rows != 9 {
		t.Errorf("exposure_rules.csv: got %d rows on covered electrodes, want E014 to E022", rows)
	}
}

func TestStrengthsLieInTheScopeOfTheirStandard(t *testing.T) {
	t.Parallel()
	checked := 0
	b := readBook()
	for _, r := range readTestRows(t, "iso_17632.csv") {
		if r.kind != "scope" {
			continue
		}
		name, bound, _ := strings.Cut(r.attribute, "_")
		limit, err := strconv.Atoi(r.value)
		if err != nil {
			t.Fatal(err)
		}
		for _, kind := range []string{"strength_A", "strength_B"} {
			if name == "tensile" && kind == "strength_A" || name == "yield" && kind == "strength_B" {
				continue // system A goes by yield, system B by tensile strength
			}
			for _, key := range b.of(r.spec).keys(kind) {
				for _, f := range withTensileMin(b.of(r.spec).at(kind, key)) {
					n, err := strconv.Atoi(f.Value)
					if f.Name != name+"_min" || err != nil {
						continue
					}
					checked++
					if bound == "max" && n > limit || bound == "over" && n < limit {
						t.Errorf("%s %s: %s is %d MPa, want it %s %d", r.spec, key, f.Name, n, bound, limit)
					}
				}
			}
		}
	}
	if checked != 18 {
		t.Errorf("got %d strengths checked against the scopes, want 18", checked)
	}
}
