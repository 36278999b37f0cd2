package filler

import (
	stdcmp "cmp"
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
	case r.kind == "structure" && r.attribute != "seen_on_a_label" && r.value != "single pass":
		return "says how the parts are put together, which the designations of the other rows prove"
	case r.kind == "diameter":
		return "a size, which no designation has"
	case r.kind == "scope" && strings.HasPrefix(r.spec, "ISO"):
		return "bounds the strengths that the standard has: TestStrengthsLieInTheScopeOfTheirStandard"
	case r.kind == "old_to_new" && r.designator == "-2C -2M":
		return "no fixed class: TestRefusalsNameTheCharacterAtFault holds the refusal to its words"
	}
	return ""
}

// designationOf builds a designation that carries the row, by the reference
// page's schemes and not by the grammar under test.
func designationOf(r testRow) string {
	switch shortSpec(r.spec) {
	case "A5.20":
		return designationOfA520(r)
	case "A5.18":
		return designationOfA518(r)
	case "A5.22":
		return designationOfA522(r)
	case "A5.29":
		return designationOfA529(r)
	case "A5.36":
		return designationOfA536(r)
	case "ISO 17632":
		return designationOfISO17632(r)
	case "ISO 17633":
		return designationOfISO17633(r)
	case "ISO 18276":
		return "T " + r.designator + " 6 Mn2NiCrMo B M21 1 H5"
	case "ISO 14341":
		return r.designator
	case "A5.9", "A5.10":
		class, _, _ := strings.Cut(strings.TrimPrefix(r.designator, "tensile "), "|")
		return stdcmp.Or(map[string]string{"ER3xx": "ER308", "ERxxx": "ER308", "basis": "ER308", "aluminium": "ER4043"}[class], class)
	case "A5.28":
		return stdcmp.Or(map[string]string{"ERxxS-x": "ER80S-D2", "ExxC-x": "E80C-Ni1"}[r.designator], r.designator)
	}
	return ""
}

func designationOfA536(r testRow) string {
	switch r.kind {
	case "structure":
		if r.designator == "S" {
			return "E71T15S-C1"
		}
		return r.designator
	case "label":
		return "E71T-11-AZ-CS3"
	case "strength":
		return "E" + r.designator + "1T1-M21A4-Ni1"
	case "position":
		return "E7" + r.designator + "T1-M21A4-Ni1"
	case "usability":
		position := "0"
		if strings.HasPrefix(r.condition, "position digit 1") || r.attribute == "positions" {
			position = "1"
		}
		after := map[string]string{"T1": "C1", "T5": "C1", "T15": "C1", "T16": "C1"}[r.designator] + "A0-CS1"
		switch {
		case r.designator == "T1S":
			after = "C1"
		case strings.HasSuffix(r.designator, "S"):
			return "E7" + position + r.designator
		}
		return "E7" + position + r.designator + "-" + after
	case "old_to_new":
		if strings.HasPrefix(r.designator, "E70C") {
			return "A5.36 E70C-6M"
		}
		class, _, _ := strings.Cut(r.designator, " ")
		return "A5.36 E71T" + class
	case "fixed_class":
		return "A5.36 " + strings.Replace(strings.Replace(r.designator, "M suffix", "E71T-1M", 1), "X", "1", 1)
	case "gas":
		if r.designator == "(none)" {
			return "E71T8-A2-CS3"
		}
		return "E71T1-" + r.designator + "A2-CS1"
	case "condition":
		return "E71T8-" + r.designator + "2-CS3"
	case "impact":
		if strings.HasPrefix(r.condition, "A5.36M") {
			return "E491T8-A" + r.designator + "-CS3"
		}
		return "E71T8-A" + r.designator + "-CS3"
	case "composition":
		if strings.Contains(r.designator, " ") {
			return "E81T1-M21A8-Ni1"
		}
		return "E71T8-A2-" + r.designator
	}
	return "E71T8-A2-CS3-" + r.designator // supplementary
}

func designationOfA529(r testRow) string {
	switch r.kind {
	case "usability":
		position := "1"
		if strings.HasPrefix(r.condition, "position digit 0") {
			position = "0"
		}
		return "E8" + position + r.designator + "-Ni1"
	case "strength":
		return "E" + r.designator + "1T1-Ni1C"
	case "position":
		return "E8" + r.designator + "T1-Ni1C"
	case "gas_suffix":
		return "E81T1-Ni1" + strings.TrimSuffix(r.designator, "(none)")
	case "supplementary":
		return "E81T1-W2C-" + r.designator
	case "composition":
		if strings.HasPrefix(r.condition, "self-shielded") {
			return "E71T8-" + r.designator
		}
		return "E81T1-" + r.designator + "C"
	case "api_1104_group":
		class, _, _ := strings.Cut(r.designator, "|")
		return class
	}
	return strings.Replace(r.designator, "X", "0", 1) // impact: "E8XT1-Ni1"
}

func designationOfA520(r testRow) string {
	strength, position := "7", "1"
	if strings.HasPrefix(r.condition, "strength digit 6") {
		strength = "6"
	}
	if strings.HasPrefix(r.condition, "E70T-5") {
		position = "0"
	}
	switch r.kind {
	case "strength":
		return "E" + r.designator + "1T-G"
	case "position":
		return "E7" + r.designator + "T-1C"
	case "gas_suffix":
		if r.designator == "(none)" {
			return "E71T-1"
		}
		return "E71T-1" + r.designator
	case "supplementary":
		if r.designator[0] == 'H' {
			return "E71T-1C-" + r.designator
		}
		return "E71T-1C" + r.designator
	case "dual_class":
		return "E71T-1C/-1M"
	}
	return "E" + strength + position + "T-" + r.designator
}

func designationOfA518(r testRow) string {
	switch r.designator {
	case "ER70S-x", "S":
		return "ER70S-3"
	case "N (last)":
		return "ER70S-3N"
	case "49 / 48":
		return "ER48S-3"
	case "C", "E70C-xx":
		return "E70C-3C"
	}
	return strings.Replace(r.designator, "(C|M)", "M", 1)
}

func designationOfA522(r testRow) string {
	suffix := "1"
	if strings.HasPrefix(r.condition, "-3 wires") {
		suffix = "3"
	}
	switch r.kind {
	case "type":
		return "E" + r.designator + "T0-" + suffix
	case "position":
		if r.designator == "-3 types" {
			return "E308LT0-3"
		}
		return "E308LT" + r.designator + "-1"
	case "suffix":
		suffix, _, _ = strings.Cut(r.designator, "|")
		if suffix == "5" {
			return "R308LT1-5"
		}
		return "E308LT1-" + suffix
	case "suffix_letter":
		return map[string]string{"L": "E308LT1-1", "H": "E308HT1-1", "K": "E316LKT0-3"}[r.designator]
	case "metal_cored":
		if r.designator == "EC" {
			return "EC308L"
		}
		return r.designator
	}
	return "E308LT1-1" // scope
}

func designationOfISO17632(r testRow) string {
	switch r.kind {
	case "strength_A":
		if strings.HasSuffix(r.designator, "T") {
			return "T " + r.designator + " Z R C1 3"
		}
		return "T " + r.designator + " 2 P M21 1"
	case "strength_B":
		if strings.HasPrefix(r.condition, "single-run") {
			return "T " + r.designator + " T2-0 C1 S"
		}
		return "T " + r.designator + " 3 T1-1 C1 A"
	case "impact":
		switch {
		case r.designator == "U":
			return "T 55 4 T5-1 M21 A-U"
		case strings.HasPrefix(r.condition, "system B"):
			return "T 55 " + r.designator + " T5-1 M21 A"
		}
		return "T 46 " + strings.Replace(r.designator, "(any)", "4", 1) + " P M21 1"
	case "core_A":
		gas := " M21 1"
		if strings.Contains("VWY", r.designator) {
			gas = " NO 1"
		}
		return "T 46 4 " + strings.Replace(r.designator, "(all)", "P", 1) + gas
	case "usability_B":
		gas := map[bool]string{true: "C1", false: "NO"}[strings.Contains(" T1 T2 T5 T12 T15 TG ", " "+r.designator+" ")]
		if strings.Contains(" T2 T3 T10 T13 T14 ", " "+r.designator+" ") {
			if r.attribute == "passes" {
				return "T 49 " + r.designator + "-0 " + gas + " S"
			}
			return "T 49 " + r.designator + "-0 " + gas + " S"
		}
		return "T 49 3 " + r.designator + "-0 " + gas + " A"
	case "gas":
		switch r.designator {
		case "NO":
			return "T 42 2 Y NO 1"
		case "(symbol)":
			return "T 42 2 P M21 1"
		case "S after the gas":
			return "T 49 T5-0 C1 S"
		case "N":
			return "T 42 2 Y N 1"
		}
		return "T 42 2 P " + r.designator + " 1"
	case "position_A":
		return "T 46 4 P M21 " + r.designator
	case "position_B":
		return "T 55 4 T5-" + r.designator + " M21 A"
	case "hydrogen":
		return "T 46 4 P M21 1 " + strings.Replace(r.designator, "Hx", "H5", 1)
	case "condition_B":
		return "T 55 4 T5-1 M21 " + r.designator
	case "composition_A":
		return "T 46 4 " + strings.TrimPrefix(r.designator+" ", "(none) ") + "P M21 1"
	case "composition_B":
		return strings.TrimSuffix("T 55 4 T5-1 M21 A-"+r.designator, "-(none)")
	case "class_test":
		return map[string]string{"gas shielded": "T 46 4 P M21 1", "self-shielded": "T 42 2 Y NO 1"}[r.designator]
	case "position_code":
		return "T 46 4 P M21 1"
	}
	return ""
}

func designationOfISO17633(r testRow) string {
	switch r.kind {
	case "core_A":
		return "T 19 9 L " + r.designator + map[bool]string{true: " NO 1", false: " M21 1"}[r.designator == "U"]
	case "core_B":
		return "TS 308L-" + r.designator + " M21 1"
	case "alloy":
		return "T " + r.designator + " P M21 1"
	case "position":
		return "T 19 9 L P M21 2"
	case "gas":
		return "T 19 9 L U NO 1"
	}
	return r.designator // example
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
	name, value, unit := factOf(r)
	return slices.ContainsFunc(d.Facts, func(f Fact) bool {
		return f.Name == name && f.Value == value && f.Unit == unit && f.Provenance == r.provenance &&
			(f.Source == r.source || slices.Contains(strings.Split(f.Source, "; "), r.source))
	})
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
		file, spec     string
		rows, untested int
	}{
		{"a5_20_usability.csv", "AWS A5.20", 250, 0},
		{"a5_22.csv", "AWS A5.22", 170, 2},
		{"solid_and_metal_cored.csv", "AWS A5.18", 77, 0},
		{"solid_and_metal_cored.csv", "AWS A5.28", 86, 0},
		{"solid_and_metal_cored.csv", "AWS A5.9", 83, 0},
		{"solid_and_metal_cored.csv", "AWS A5.10", 22, 0},
		{"a5_29_usability.csv", "AWS A5.29", 176, 1},
		{"a5_36.csv", "AWS A5.36", 249, 4},
		{"iso_17632.csv", "ISO 17632", 212, 15},
		{"iso_17632.csv", "ISO 17633", 35, 2},
		{"iso_17632.csv", "ISO 18276", 18, 3},
		{"iso_17632.csv", "ISO 14341", 4, 1},
	}
	for _, tt := range tests {
		t.Run(tt.spec, func(t *testing.T) {
			t.Parallel()
			rows, untested := 0, 0
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
				text := designationOf(r)
				d, err := Decode(text)
				if err != nil {
					t.Errorf("Decode(%q): %v; want the row %v", text, err, r)
				} else if !carries(d, r) {
					t.Errorf("Decode(%q): got %+v, want the row %v (%s, %q)", text, d.Facts.Named(r.attribute), r, r.provenance, r.source)
				}
			}
			t.Logf("%s: %d rows of %s, %d facts asserted, %d not properties of a designation", tt.file, rows, tt.spec, rows-untested, untested)
			if rows != tt.rows || untested != tt.untested {
				t.Errorf("%s: got %d rows and %d untested, want %d and %d", tt.file, rows, untested, tt.rows, tt.untested)
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
