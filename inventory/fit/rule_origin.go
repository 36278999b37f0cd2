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
		offered = c.lot(have.inWords())
	}
	if want.IsZero() {
		return c.open(offered, "origin")
	}
	demanded := c.job(strings.TrimSpace(want.Clause + " " + want.inWords()))
	if len(want.Melted) == 0 && len(want.Made) == 0 {
		return stop(demanded, offered, "The job has an origin clause (%s) that names no country: ask the engineer.", want.Clause)
	}
	return everyWorst(
		c.originOf("melted", have.Melted, want.Melted, demanded, offered),
		c.originOf("made", have.Made, want.Made, demanded, offered))
}

func (c *comparison) originOf(step string, have, want []string, demanded, offered Claim) Finding {
	foreign := strings.Join(slices.DeleteFunc(slices.Clone(have), func(country string) bool {
		return slices.ContainsFunc(want, func(allowed string) bool { return SameCountry(allowed, country) })
	}), " and ")
	switch {
	case len(want) == 0:
		return Finding{Outcome: NotDemanded}
	case len(have) == 0:
		return stop(demanded, offered, "Nobody has recorded where this lot was %s: ask for its papers. The job wants %s.", step, list(want))
	case foreign != "":
		return stop(demanded, offered, "This lot was %s in %s. The job wants it %s in %s.", step, foreign, step, list(want))
	}
	return pass(demanded, offered, "This lot was %s in %s, as the job wants.", step, strings.Join(have, " and "))
}

func (o Origin) inWords() string {
	var texts []string
	if len(o.Melted) > 0 {
		texts = append(texts, "melted in "+list(o.Melted))
	}
	if len(o.Made) > 0 {
		texts = append(texts, "made in "+list(o.Made))
	}
	return strings.Join(texts, ", ")
}
