package fit

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// matching judges whether the wire's strength matches the base metals, by the
// groups of AWS D1.1 (testdata/base_metal_match.csv). It is asked where the
// procedure wants matching strength, or the profile does (parameter
// "matching"). A wire that matches only the weaker side is for the engineer.
func (c *comparison) matching(facts filler.Facts) Finding {
	wanted, doubt := c.demand.Matching, (*Message)(nil)
	for _, l := range c.limits(RuleStrength, "matching") {
		wanted, doubt = true, l.reserve()
	}
	if !wanted {
		return Finding{Outcome: NotDemanded}
	}
	offered := strengthQuantity().claim(facts)
	if len(c.demand.BaseMetals) == 0 {
		return stop(c.procedure("strength that matches the base metal"), offered, "The procedure wants matching strength, and the job names no base metal: ask the engineer.")
	}
	found, matched, fell := Finding{Outcome: NotDemanded}, false, false
	for _, b := range c.demand.BaseMetals {
		side, ok, weak := c.matchingSide(b, facts)
		found, matched, fell = worst(found, side), matched || ok, fell || weak
	}
	if matched && fell && found.Outcome == Stops {
		found.Outcome = Caution
		found = found.and(say("It does match the other side: ask the engineer which must be matched."))
	}
	if found.Outcome == Passed && doubt != nil {
		found.Outcome = Caution
		found = found.and(doubt)
	}
	return found
}

// matchingSide judges one side of the joint: whether the wire's strength
// matches it, or falls short of it and nothing else is wrong.
func (c *comparison) matchingSide(b BaseMetal, facts filler.Facts) (found Finding, matched, weak bool) {
	g, ok := groupOf(b.Name, c.demand.Thickness)
	offered := strengthQuantity().claim(facts)
	if !ok {
		return caution(c.job(b.Name), offered, "No table here gives the AWS D1.1 group of %s: ask the engineer which strength matches it.", b.Name), false, false
	}
	demanded := Claim{Source: g.authority(), Provenance: g.provenance}.saying("%s for %s", g.strength, g.designator)
	if g.group == "" && c.demand.Prequalified {
		return stop(demanded, offered, "%s is in no prequalified group of AWS D1.1: its procedure must be qualified. That is from memory: ask the engineer.", b.Name), false, false
	}
	matches := say("%s is matched by %s.", g.designator, word(g.class))
	if g.group != "" {
		matches = say("%s is in group %s of AWS D1.1 and is matched by %s.", g.designator, g.group, word(g.class))
	}
	found = strengthQuantity().check(facts, demanded, g.strength)
	matched, weak = found.Outcome != Stops, found.Outcome == Stops && offered.Text != unknown().Text
	found.Message = matches.and(found.Message)
	if found.Outcome == Passed && g.provenance == filler.Memory {
		found.Outcome = Caution
		found = found.and(say("The group is from memory: have the engineer confirm it."))
	}
	return found, matched, weak
}

// steelGroup is one base metal of AWS D1.1 with what matches it.
type steelGroup struct {
	designator string // "A36 (>20 mm, 3/4 in)"
	stem       string // "A36"
	spec       string // of a stem with several grades: "A131"
	grades     []string
	bound      unit.Length
	above      bool   // it is for plate above the bound, not up to it
	group      string // "II"; empty if it is in none
	class      string // "E7"; "E6 or E7"
	strength   unit.Stress
	provenance filler.Provenance
	source     string
}

func (g steelGroup) authority() string {
	if g.source == "" {
		return "AWS D1.1, " + string(g.provenance)
	}
	return g.source
}

// groupOf finds the group of a base metal by name and plate. Where the plate is
// not stated the stronger demand holds.
func groupOf(name string, plate unit.Length) (out steelGroup, ok bool) {
	name = MetalName(name)
	for _, g := range steelGroups() {
		if !g.names(name) || plate > 0 && g.bound > 0 && (plate > g.bound) != g.above {
			continue
		}
		if !ok || g.strength.Value > out.strength.Value {
			out, ok = g, true
		}
	}
	return out, ok
}

// names reports whether the row is for a steel of this name: "A131 Gr D" is one
// of "A131 Gr A B CS D DS E".
func (g steelGroup) names(name string) bool {
	if strings.EqualFold(g.stem, name) {
		return true
	}
	if g.grades == nil {
		return false
	}
	spec, grade, ok := strings.Cut(name, " Gr ")
	return ok && strings.EqualFold(g.spec, spec) && slices.Contains(g.grades, grade)
}

// gradesOf takes "A131 Gr A B CS D DS E" apart; grades is nil for a stem of one
// grade, such as "A709 Gr HPS 50W" or "A1011 SS Gr 36 Type 1".
func gradesOf(stem string) (spec string, grades []string) {
	spec, rest, _ := strings.Cut(stem, " Gr ")
	grades = strings.Fields(rest)
	if len(grades) < 2 || slices.Contains(grades, "HPS") || strings.ContainsFunc(rest, unicode.IsLower) {
		return spec, nil
	}
	return spec, grades
}

var plateBound = regexp.MustCompile(`^(.*?) \((<=|>)(\d+ mm)(?:, ([^)]*))?\)$`)

// steelGroups reads tables/steel_groups.csv. AWS D1.1 prints a bound in two
// columns and means either, so the larger holds.
var steelGroups = sync.OnceValue(func() []steelGroup {
	classes := map[string]row{}
	rows := readRows("steel_groups.csv")
	for _, r := range rows {
		if r.kind == "match_class" {
			classes[r.designator] = r
		}
	}
	var out []steelGroup
	for _, r := range rows {
		if r.attribute != "group" {
			continue
		}
		g := steelGroup{designator: r.designator, stem: r.designator, group: r.value, provenance: r.provenance, source: r.source}
		if m := plateBound.FindStringSubmatch(r.designator); m != nil {
			g.stem, g.above = m[1], m[2] == ">"
			g.bound, _ = parseLength(m[3])
			if inch, err := unit.ParseLength(m[4]); err == nil && inch > g.bound {
				g.bound = inch
			}
		}
		g.spec, g.grades = gradesOf(g.stem)
		class, ok := classes[r.value]
		if strings.HasPrefix(r.value, "none") {
			class, ok = classes[r.designator]
			g.group = ""
		}
		if !ok {
			continue // AWS D1.1 has a steel here without a class that matches it
		}
		g.class, g.strength = class.value, leastOfClass(class.value)
		if class.provenance == filler.Memory {
			g.provenance = filler.Memory
		}
		out = append(out, g)
	}
	return out
})

// leastOfClass is the strength of "E6 or E7": 60 ksi.
func leastOfClass(class string) unit.Stress {
	first, _, _ := strings.Cut(class, " or ")
	n, err := strconv.Atoi(strings.TrimPrefix(first, "E"))
	if err != nil {
		panic(fmt.Sprintf("fit: steel_groups.csv: class %q", class))
	}
	return unit.Stress{Value: 10 * n, Unit: unit.KSI}
}
