package fit

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"wirehold/inventory/filler"
)

// words is the trait of facts whose values are words: known lists, for each
// value, what it allows.
func words[T comparable](either bool, known map[string][]T) trait[T] {
	return trait[T]{
		parse:  func(v string) ([]T, bool) { set, ok := known[strings.TrimSpace(v)]; return set, ok },
		within: func(x T, set []T) bool { return slices.Contains(set, x) },
		either: either,
	}
}

var polarityTrait = sync.OnceValue(func() trait[Polarity] {
	t := words[Polarity](true, nil)
	t.parse = func(v string) (set []Polarity, ok bool) {
		for _, one := range strings.Split(v, " or ") {
			p, ok := ParsePolarity(one)
			if !ok {
				return nil, false
			}
			set = append(set, p)
		}
		return set, true
	}
	return t
})

func gasTrait() trait[gasRange] {
	return trait[gasRange]{parse: parseGasRanges, within: gasWithin, either: true}
}

var passesTrait = sync.OnceValue(func() trait[Passes] {
	t := words(false, map[string][]Passes{
		"single only":         {SinglePass},
		"single and multiple": {SinglePass, MultiPass},
	})
	known := t.parse
	t.parse = func(v string) ([]Passes, bool) {
		if _, ok := mostPasses(v); ok {
			return []Passes{SinglePass, MultiPass}, true
		}
		return known(v)
	}
	return t
})

// mostPasses reads "at most 3 passes": more than one, and no more than that.
func mostPasses(value string) (n int, ok bool) {
	number, passes := strings.CutSuffix(value, " passes")
	number, most := strings.CutPrefix(number, "at most ")
	n, err := strconv.Atoi(number)
	return n, passes && most && err == nil && n > 1
}

// The words of the facts shielding and form.
const (
	external   = "external"
	self       = "self"
	fluxCored  = "flux cored"
	metalCored = "metal cored"
	solid      = "solid"
)

func wordTrait(values ...string) trait[string] {
	return trait[string]{
		parse: func(v string) ([]string, bool) {
			i := slices.Index(values, strings.TrimSpace(v))
			if i < 0 {
				return nil, false
			}
			return values[i : i+1 : i+1], true
		},
		within: func(x string, set []string) bool { return slices.Contains(set, x) },
	}
}

// is reports whether the evidence leaves only x.
func is[T comparable](e evidence[T], x T) bool {
	return e.known && e.conflict == nil && len(e.allowed) == 1 && e.allowed[0] == x
}

// byProcess returns the facts called name, or, if the classification leaves
// name open, those that hold for the arc process a solid wire is meant for.
func (c *comparison) byProcess(name string) filler.Facts {
	facts := c.named(name)
	for _, f := range facts {
		if strengthOf(f) < byPractice && !saysNothing(f.Value) {
			return facts
		}
	}
	process := GMAW
	if slices.Contains(c.demand.Processes, GTAW) && !slices.Contains(c.demand.Processes, GMAW) {
		process = GTAW
	}
	facts = append(slices.Clone(facts), c.named(name+"_"+string(process))...)
	return facts
}

// usual returns the practice facts on name, for advice; nil if there are none.
func (c *comparison) usual(name string) *Message {
	for _, n := range []string{name, name + "_GMAW", "usual_" + name, "usual_" + name + "_GMAW"} {
		if a := advice(c.named(n)); a != nil {
			return a
		}
	}
	for _, f := range inOrder(c.named("typical_" + name)) {
		return say("Typical of such wire is %s, but the class does not say so.", word(f.Value))
	}
	return nil
}
