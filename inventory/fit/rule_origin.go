package fit

import (
	"slices"
	"strings"
)

// Origin is where a wire comes from, or may come from, by country: melted is
// where the steel was first melted and mixed, made is where it was drawn and
// filled. Wire drawn here from foreign rod is not melted here
// (testdata/code_rules.csv C102).
type Origin struct {
	Melted []string // of a lot: one, or none if it is not known; of a clause: those allowed, none if it asks nothing
	Made   []string
	Clause string // of a job: "federal-aid, melted and made in country A"
}

// IsZero reports whether nothing is known or demanded.
func (o Origin) IsZero() bool { return len(o.Melted) == 0 && len(o.Made) == 0 && o.Clause == "" }

// checkOrigin: where the job has an origin clause, wire of another origin, or
// of one nobody has recorded, stops.
func (c *comparison) checkOrigin() Finding {
	have, want := c.offer.Origin, c.demand.Origin
	offered := unknown()
	if !have.IsZero() {
		offered = c.lot("").saying("%s", have.inWords())
	}
	if want.IsZero() {
		return c.open(offered, topic("origin"))
	}
	demanded := want.asked(c)
	if len(want.Melted) == 0 && len(want.Made) == 0 {
		return stop(demanded, offered, "The job has an origin clause (%s) that names no country: ask the engineer.", want.Clause)
	}
	return everyWorst(
		c.originOf(melted(), have.Melted, want.Melted, demanded, offered),
		c.originOf(made(), have.Made, want.Made, demanded, offered))
}

// originStep is what is said of one step of the making of a wire.
type originStep struct{ unknown, wrong, right pattern }

func melted() originStep {
	return originStep{
		"Nobody has recorded where this lot was melted: ask for its papers. The job wants %s.",
		"This lot was melted in %s. The job wants it melted in %s.", "This lot was melted in %s, as the job wants."}
}

func made() originStep {
	return originStep{
		"Nobody has recorded where this lot was made: ask for its papers. The job wants %s.",
		"This lot was made in %s. The job wants it made in %s.", "This lot was made in %s, as the job wants."}
}

func (c *comparison) originOf(step originStep, have, want []string, demanded, offered Claim) Finding {
	foreign := word(strings.Join(slices.DeleteFunc(slices.Clone(have), func(country string) bool {
		return slices.ContainsFunc(want, func(allowed string) bool { return SameCountry(allowed, country) })
	}), " and "))
	switch {
	case len(want) == 0:
		return Finding{Outcome: NotDemanded}
	case len(have) == 0:
		return stop(demanded, offered, step.unknown, anyOf(want))
	case foreign != "":
		return stop(demanded, offered, step.wrong, foreign, anyOf(want))
	}
	return pass(demanded, offered, step.right, word(strings.Join(have, " and ")))
}

// asked is the clause of a job as a demand.
func (o Origin) asked(c *comparison) Claim {
	switch says := o.inWords(); {
	case says == nil:
		return c.job("").saying("%s", strings.TrimSpace(o.Clause))
	case o.Clause == "":
		return c.job("").saying("%s", says)
	default:
		return c.job("").saying("%s %s", strings.TrimLeft(o.Clause, " "), says)
	}
}

// inWords is where the wire comes from; nil if nobody says.
func (o Origin) inWords() *Message {
	switch {
	case len(o.Melted) > 0 && len(o.Made) > 0:
		return say("melted in %s, made in %s", anyOf(o.Melted), anyOf(o.Made))
	case len(o.Melted) > 0:
		return say("melted in %s", anyOf(o.Melted))
	case len(o.Made) > 0:
		return say("made in %s", anyOf(o.Made))
	}
	return nil
}
