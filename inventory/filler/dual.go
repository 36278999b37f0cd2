package filler

import (
	"cmp"
	"slices"
	"strings"
)

// half is one of the classes that a designation names together.
type half struct {
	key   string // "1C"
	class string // "E71T-1C"
	span  span   // in the designation
	facts Facts
}

// addAgreed takes the facts of classes that one wire holds together. What all say
// appears once, as surely as the least sure of them; gases are alternatives
// and join to one fact; the rest is kept apart, each with the class that says it.
func (r *reading) addAgreed(halves []half) {
	r.facts = r.facts.room()
	if len(halves) == 1 {
		r.facts = append(r.facts, halves[0].facts...)
		return
	}
	each := gasOfEach(halves)
	for i, h := range halves {
		for _, f := range h.facts {
			switch all, ok := agreed(halves, f); {
			case f.Name == "gas" && i > 0 && each:
			case f.Name == "gas" && !ok && each:
				r.facts = append(r.facts, r.joinedGas(halves))
			case ok && i == 0:
				r.facts = append(r.facts, all)
			case !ok:
				f.Condition = strings.TrimPrefix(f.Condition+"; "+h.class, "; ")
				r.facts = append(r.facts, f)
			}
		}
	}
}

// agreed returns the least sure form of f if every half has it.
func agreed(halves []half, f Fact) (Fact, bool) {
	least := f
	for n, h := range halves {
		i := h.facts.index(&f)
		if i < 0 {
			return f, false
		}
		if g := h.facts[i]; n == 0 || g.Provenance.rank() < least.Provenance.rank() {
			least = g
		}
	}
	return least, true
}

// gasOfEach tells whether each half names exactly one gas.
func gasOfEach(halves []half) bool {
	for _, h := range halves {
		if len(h.facts.Named("gas")) != 1 {
			return false
		}
	}
	return true
}

// joinedGas is the gases of the halves as one fact.
func (r *reading) joinedGas(halves []half) Fact {
	joined := halves[0].facts.Named("gas")[0]
	by := span{joined.From, joined.At}
	values := []string{joined.Value}
	for _, h := range halves[1:] {
		f := h.facts.Named("gas")[0]
		if !slices.Contains(values, f.Value) {
			values = append(values, f.Value)
		}
		joined.Condition = cmp.Or(joined.Condition, f.Condition)
		joined.Note = cmp.Or(joined.Note, f.Note)
		switch {
		case f.Provenance == joined.Provenance:
			joined.Source = bothSources(joined.Source, f.Source)
		case f.Provenance.rank() < joined.Provenance.rank():
			joined.Provenance, joined.Source = f.Provenance, f.Source
		}
		by = r.to(by, span{f.From, f.At})
	}
	joined.Value = strings.Join(values, " or ")
	joined.From, joined.At = by.text, by.at
	return joined
}
