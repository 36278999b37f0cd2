package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wirehold/inventory/unit"
)

// waiverLine is the parameter of the lines that say what may be waived.
const waiverLine = "waiver"

// Difference is one line in which two profiles differ.
type Difference struct {
	Was    Limit  // of the original; zero if the line is new
	Is     Limit  // zero if the line is gone
	Looser bool   // something passes that the original held back
	Reason string // the engineer's, where it is looser; empty if there is none
	Says   string
}

// LooserThan returns the differences by which p lets something pass that the
// original held back; nil if there is none. One without a reason may not be
// kept.
func (p Profile) LooserThan(original Profile) []Difference {
	var out []Difference
	for _, d := range p.Differences(original) {
		if d.Looser {
			out = append(out, d)
		}
	}
	return out
}

// Differences returns how p differs from the original, in the order of the
// rules; nil if it does not.
func (p Profile) Differences(original Profile) []Difference {
	var out []Difference
	for _, r := range Rules() {
		for _, parameter := range parametersOf(r, original, p) {
			out = append(out, p.differ(original, r, parameter)...)
		}
	}
	return out
}

// parametersOf are the parameters of a rule in either profile, in their order.
func parametersOf(r Rule, ps ...Profile) (out []string) {
	for _, p := range ps {
		for _, l := range p.Limits {
			if l.Rule == r && !slices.Contains(out, l.Parameter) {
				out = append(out, l.Parameter)
			}
		}
	}
	return out
}

func (p Profile) lines(r Rule, parameter string) (out []Limit) {
	for _, l := range p.Limits {
		if l.Rule == r && l.Parameter == parameter {
			out = append(out, l)
		}
	}
	return out
}

// differ pairs the lines of one parameter that are not the same in both.
func (p Profile) differ(original Profile, r Rule, parameter string) (out []Difference) {
	was, is := original.lines(r, parameter), p.lines(r, parameter)
	all := slices.Clone(is)
	was, is = notIn(was, is), notIn(is, was)
	for i := range max(len(was), len(is)) {
		var d Difference
		if i < len(was) {
			d.Was = was[i]
		}
		if i < len(is) {
			d.Is = is[i]
		}
		d.Looser = p.loosened(original, d, all)
		if d.Looser {
			d.Reason = d.Is.LoosenedWhy
		}
		d.Says = d.words()
		out = append(out, d)
	}
	return out
}

// notIn is the lines of a that are not in b.
func notIn(a, b []Limit) []Limit {
	return slices.DeleteFunc(slices.Clone(a), func(l Limit) bool { return slices.Contains(b, l) })
}

// loosened reports whether a difference lets something pass: whether no line of
// p is as strict as the one that was.
func (p Profile) loosened(original Profile, d Difference, is []Limit) bool {
	switch {
	case d.Is.Parameter == waiverLine || d.Was.Parameter == waiverLine:
		r := cmp.Or(d.Is.Rule, d.Was.Rule)
		return p.Waivable(r) && !original.Waivable(r)
	case d.Was == Limit{}: // a further line only holds more back, but where the absence of one stops by itself
		return d.Is.Parameter == "prequalified_limit" && d.Is.pastIt() == Caution && len(original.lines(d.Is.Rule, d.Is.Parameter)) == 0
	}
	return !slices.ContainsFunc(is, func(l Limit) bool { return l.asStrictAs(d.Was) })
}

// asStrictAs reports whether l holds back all that o does: wherever o holds, by
// the same value or a stricter one, with the same effect or a graver one.
func (l Limit) asStrictAs(o Limit) bool {
	return l.pastIt().weight() >= o.pastIt().weight() && l.holdsWhere(o) && l.valueAsStrictAs(o)
}

// holdsWhere reports whether l holds wherever o does: each of its conditions is
// one of o's, or implied by one.
func (l Limit) holdsWhere(o Limit) bool {
	theirs := strings.Split(o.Condition, ", ")
	for mine := range strings.SplitSeq(l.Condition, ", ") {
		implied := mine == AllButSolid && slices.Contains(theirs, OnlyFluxCored)
		if mine != "" && !implied && !slices.Contains(theirs, mine) {
			return false
		}
	}
	return true
}

func (l Limit) valueAsStrictAs(o Limit) bool {
	switch l.Parameter {
	case "wind_max":
		return bothRead(l, o, unit.ParseSpeed, func(a, b unit.Speed) bool { return a <= b })
	case "toughness_min":
		return bothRead(l, o, unit.ParseToughness, unit.Toughness.Meets)
	case "hydrogen_max":
		return bothRead(l, o, parseHydrogen, func(a, b hydrogen) bool { return a <= b })
	case "exposure_max":
		return hoursOf(l.Value) >= 0 && hoursOf(l.Value) <= hoursOf(o.Value)
	case "certificate_age_max", "shelf_life_max":
		mine, ok := monthsOf(l.Value)
		theirs, _ := monthsOf(o.Value)
		return ok && mine <= theirs
	}
	return l.Value == o.Value || l.Parameter == "general_recommendation" || l.Parameter == "prequalified_limit" || l.Parameter == "prequalified_single_pass"
}

func bothRead[T any](l, o Limit, parse func(string) (T, error), asStrict func(a, b T) bool) bool {
	mine, err := parse(l.Value)
	theirs, errTheirs := parse(o.Value)
	return err == nil && errTheirs == nil && asStrict(mine, theirs)
}

// words says the difference: "wind: 3 mph (stops), was 5 mph (stops)".
func (d Difference) words() string {
	switch {
	case d.Was == Limit{}:
		return fmt.Sprintf("%s: %s is new.", d.Is.About(), d.Is.inWords())
	case d.Is == Limit{}:
		return fmt.Sprintf("%s: %s is gone.", d.Was.About(), d.Was.inWords())
	}
	return fmt.Sprintf("%s: %s, was %s.", d.Is.About(), d.Is.inWords(), d.Was.inWords())
}

// About says in words what is limited: "wind", "certificate age", "thickness
// general recommendation".
func (l Limit) About() string {
	rule := strings.ReplaceAll(string(l.Rule), "-", " ")
	what := strings.ReplaceAll(strings.TrimSuffix(strings.TrimSuffix(l.Parameter, "_max"), "_min"), "_", " ")
	if strings.HasPrefix(what, rule) {
		return what
	}
	return rule + " " + what
}

func (l Limit) inWords() string {
	if l.Parameter == waiverLine {
		return l.Value
	}
	out := fmt.Sprintf("%s (%s", l.Value, l.pastIt())
	if l.Condition != "" {
		out += ", " + l.Condition
	}
	if l.ConfirmedBy != "" {
		out += ", confirmed by " + l.ConfirmedBy
	}
	return out + ")"
}
