package filler

import (
	"cmp"
	"strings"
)

// designationOf builds a designation that carries the row, by the reference
// page's schemes and not by the grammar under test.
func designationOf(r testRow) string {
	if r.kind == "structure" && (r.attribute == "order" || r.attribute == "parts" || r.attribute == "written_as") {
		return map[string]string{
			"AWS A5.29": "E81T1-Ni1C", "AWS A5.36": "E81T1-M21A8-Ni1-H4", "ISO 17632 A": "T 46 3 1Ni B M21 1 H5", "ISO 17632 B": "T 55 4 T5-1 M21 A-N2-U H5",
			"ISO 17633 A": "T 19 9 L P M21 1", "ISO 17633 B": "TS 308L-F M21 1", "ISO 18276 A": "T 69 6 Z B M21 1 H5", "ISO 14341 A": "G 46 5 M21 3Si1",
		}[structureKey(r)]
	}
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
		return cmp.Or(map[string]string{"ER3xx": "ER308", "ERxxx": "ER308", "basis": "ER308", "aluminium": "ER4043"}[class], class)
	case "A5.28":
		return cmp.Or(map[string]string{"ERxxS-x": "ER80S-D2", "ExxC-x": "E80C-Ni1"}[r.designator], r.designator)
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

// structureKey is the specification, of ISO with its system.
func structureKey(r testRow) string {
	if strings.HasPrefix(r.spec, "ISO") {
		return r.spec + " " + r.designator
	}
	short, _, _ := strings.Cut(r.spec, "/")
	return short
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
