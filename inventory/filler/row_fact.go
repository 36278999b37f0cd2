package filler

import (
	"slices"
	"strings"
)

// The functions here turn rows into facts when the tables are read, so that a
// fact has the same name whichever specification gives it.

// withTensileMin returns rows with a fact tensile_min beside each range of
// tensile strength, "80-100" is at least 80, and beside the strength of a
// joint that a single-run wire promises.
func withTensileMin(rows []Fact) []Fact {
	out := make([]Fact, 0, len(rows)+1)
	for _, f := range rows {
		out = append(out, f)
		least, _, isRange := strings.Cut(f.Value, "-")
		switch {
		case f.Name == "tensile" && isRange:
			f.Name, f.Value = "tensile_min", least
			out = append(out, f)
		case f.Name == "joint_tensile_min":
			f.Name, f.Note = "tensile_min", "of the joint welded in one run"
			out = append(out, f)
		}
	}
	return out
}

// impactFacts turns a row of kind impact into what it demands in a system: the
// energy stands in the condition ("A5.36, 20 ft-lbf", "47 J in system A; 27 J
// in system B"). It is nil if the row is not of the system.
func impactFacts(rows []Fact, system string) []Fact {
	var out []Fact
	for _, f := range rows {
		energy, ok := energyOf(f.Condition, system)
		temperature := f
		f.Name, f.Condition, f.Unit = "impact_min_energy", "", ""
		switch {
		case !ok:
		case f.Value == "no requirement":
			f.Value = "none required"
			out = append(out, f)
		case energy == "":
			out = append(out, f)
		default:
			temperature.Name, temperature.Condition = "impact_temperature", ""
			f.Value, f.Unit, _ = strings.Cut(energy, " ")
			out = append(out, f, temperature)
		}
	}
	return out
}

// energyOf reads the energy that a condition names for a system; it is empty
// if the condition is.
func energyOf(condition, system string) (energy string, ok bool) {
	if condition == "" {
		return "", true
	}
	for one := range strings.SplitSeq(condition, "; ") {
		if after, ok := strings.CutPrefix(one, system+", "); ok {
			return after, true
		}
		if before, ok := strings.CutSuffix(one, " in "+system); ok {
			return before, true
		}
	}
	return "", false
}

// impactMeans says what the facts of impactFacts demand.
func impactMeans(facts []Fact) string {
	if len(facts) < 2 {
		return "impact: " + facts[0].Value
	}
	return "impact " + facts[0].Value + " " + facts[0].Unit + " at " + facts[1].Value + " " + facts[1].Unit
}

// atPosition keeps the rows whose condition on the position digit holds,
// without it. A row with such a condition takes the place of one without.
func atPosition(rows []Fact, position string) []Fact {
	var out []Fact
	for _, f := range rows {
		digit, special := strings.CutPrefix(f.Condition, "position digit ")
		digit, _, _ = strings.Cut(digit, ",")
		switch {
		case special && digit != position:
			continue
		case special:
			f.Condition = ""
			out = slices.DeleteFunc(out, func(g Fact) bool { return g.Name == f.Name && g.Condition == "" })
		}
		out = append(out, f)
	}
	return out
}

// whenever returns rows without a condition that their use has already met.
func whenever(rows []Fact, met ...string) []Fact {
	out := slices.Clone(rows)
	for i := range out {
		if slices.Contains(met, out[i].Condition) {
			out[i].Condition = ""
		}
	}
	return out
}

// renamed returns rows with one name for another.
func renamed(rows []Fact, from, to string) []Fact {
	out := slices.Clone(rows)
	for i := range out {
		if out[i].Name == from {
			out[i].Name = to
		}
	}
	return out
}

// borrowed returns rows of another table that holds here only from memory.
func borrowed(rows []Fact, note string) []Fact {
	out := slices.Clone(rows)
	for i := range out {
		out[i].Provenance, out[i].Source, out[i].Note = Memory, "", note
	}
	return out
}

// without returns rows but those called name.
func without(rows []Fact, name string) []Fact {
	return slices.DeleteFunc(slices.Clone(rows), func(f Fact) bool { return f.Name == name })
}

// only returns the rows called name.
func only(rows []Fact, name string) []Fact {
	return slices.DeleteFunc(slices.Clone(rows), func(f Fact) bool { return f.Name != name })
}

// usabilityMeans is rows on usability in short.
func usabilityMeans(rows []Fact) string {
	var means []string
	for _, f := range rows {
		if f.Condition == "" && (f.Name == "shielding" || f.Name == "polarity" || f.Name == "passes") {
			means = append(means, f.Name+" "+f.Value)
		}
	}
	return "usability: " + strings.Join(means, ", ")
}

// strengthMeans is the strength that rows promise, in short: tensile, or yield
// where a system goes by it.
func strengthMeans(rows []Fact, names ...string) string {
	for _, name := range append(names, "tensile_min", "yield_min") {
		for _, f := range rows {
			if f.Name == name {
				return f.Value + " " + f.Unit + " minimum " + strings.TrimSuffix(name, "_min") + " strength"
			}
		}
	}
	return "strength"
}
