package fit

import (
	"cmp"
	"slices"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

const noneRequired = "none required"

// checkToughness: the wire must promise the demanded energy at the demanded
// temperature or colder; the profile may demand some too (parameter
// "toughness_min"). A class that requires none promises none.
func (c *comparison) checkToughness() Finding {
	facts := c.toughness()
	q := quantity[unit.Toughness]{unit.ParseToughness, unit.Toughness.Meets, "toughness", "Wanted is %s."}
	found := Finding{Outcome: NotDemanded}
	if !c.demand.Toughness.IsZero() {
		found = q.promised(facts, c.procedure(c.demand.Toughness.String()), c.demand.Toughness)
	}
	for _, l := range c.limits(RuleToughness, "toughness_min") {
		if want, err := unit.ParseToughness(l.Value); err == nil {
			found = worst(found, l.soften(q.promised(facts, l.claim(want.String()), want)))
		} else {
			found = worst(found, l.unreadable(q.claim(facts)))
		}
	}
	if found.Outcome == NotDemanded {
		return c.open(q.claim(facts), topic("toughness"))
	}
	return found
}

// promised is check for toughness. Weaker values of the data sheet are other
// tests, no conflict; but where the class requires none, the sheet alone is
// for an engineer to accept.
func (q quantity[T]) promised(facts filler.Facts, demanded Claim, want T) Finding {
	none := slices.IndexFunc(facts, func(f filler.Fact) bool { return f.Value == noneRequired && strengthOf(f) < byPractice })
	class := slices.DeleteFunc(slices.Clone(facts), func(f filler.Fact) bool { return strengthOf(f) <= bySheet })
	own := slices.DeleteFunc(slices.Clone(facts), func(f filler.Fact) bool { return strengthOf(f) > bySheet })
	found := q.check(class, demanded, want)
	if sheet := q.check(own, demanded, want); sheet.Outcome == Passed && found.Outcome != Passed {
		found = sheet
		if none >= 0 {
			found.Outcome = Caution
			found = found.and(say("The class promises none: the engineer must accept it."))
		}
	}
	if found.Outcome == Stops && none >= 0 {
		return stop(demanded, claimOf(facts[none]), "This wire's class promises no toughness. Wanted is %s: take a wire that is classified for it.", demanded.said())
	}
	return found
}

// toughness pairs the facts on energy with those on temperature that came with
// them, as one fact each: "20 ft-lbf at -20 degF".
func (c *comparison) toughness() filler.Facts {
	energies := c.named("impact_min_energy")
	temperatures := c.named("impact_temperature")
	var out filler.Facts
	for _, e := range energies {
		if saysNothing(e.Value) || e.Value == noneRequired {
			out = append(out, e)
			continue
		}
		for _, t := range temperatures {
			if together(e, t) {
				pair := e
				if strengthOf(t) > strengthOf(e) {
					pair = t
				}
				pair.Name, pair.Value, pair.Unit = "toughness", textOf(e)+" at "+textOf(t), ""
				out = append(out, pair)
			}
		}
	}
	return weakestOfEach(out)
}

// together reports whether an energy and a temperature came from one place.
func together(e, t filler.Fact) bool {
	sheet := strengthOf(e) <= bySheet || strengthOf(t) <= bySheet
	if sheet && (e.Provenance != t.Provenance || e.Source != t.Source) {
		return false
	}
	return e.From == t.From && e.At == t.At && e.Condition == t.Condition
}

// weakestOfEach keeps, of several pairs that came from one place and cannot be
// told apart, the one that all the others meet.
func weakestOfEach(pairs filler.Facts) filler.Facts {
	slices.SortFunc(pairs, func(a, b filler.Fact) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.At, b.At), cmp.Compare(a.Provenance, b.Provenance),
			cmp.Compare(a.Source, b.Source), cmp.Compare(a.Condition, b.Condition), cmp.Compare(a.Value, b.Value))
	})
	var out filler.Facts
	for _, p := range pairs {
		if n := len(out); n > 0 && sameOrigin(out[n-1], p) {
			last, errLast := unit.ParseToughness(out[n-1].Value)
			this, errThis := unit.ParseToughness(p.Value)
			if errLast == nil && errThis == nil {
				if last.Meets(this) {
					out[n-1] = p
				}
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

func sameOrigin(a, b filler.Fact) bool {
	return a.From == b.From && a.At == b.At && a.Provenance == b.Provenance && a.Source == b.Source && a.Condition == b.Condition
}
