package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wirehold/inventory/filler"
)

// checkPasses: a single-pass wire must not go into a joint of several passes.
// In a prequalified procedure it may not be used at all where the profile says
// so (parameter "prequalified_single_pass").
func (c *comparison) checkPasses() Finding {
	e := c.passes()
	return worst(c.passesOfJoint(&e), c.passesPrequalified(&e))
}

func (c *comparison) passesOfJoint(e *evidence[Passes]) Finding {
	want := c.demand.passes()
	if want == "" {
		return c.open(e.claim, topic("passes"))
	}
	demanded := c.procedure(c.demand.passesInWords())
	ok, doubt := e.admits(want)
	switch {
	case e.conflict != nil:
		return disagree(demanded, e.claim, e.conflict)
	case !e.known:
		return stop(demanded, e.claim, "Nobody says whether this wire may be laid in more than one pass: read the box. The joint takes a %s.", want)
	case !ok && want == MultiPass:
		return stop(demanded, e.claim, "This is single-pass wire%s: never lay a second pass on it. The joint takes multiple passes.", c.passesMark(e))
	case !ok:
		return stop(demanded, e.claim, "This wire is for %s. The joint takes %s.", e.claim.said(), want)
	case want == SinglePass:
		return passUnless(doubt, demanded, e.vouch(want), "This wire may be laid in a single pass, as the joint takes.")
	}
	if most, f, limited := fewestPasses(e); limited {
		return c.passesUpTo(most, demanded, claimOf(f), cmp.Or(doubt, strengthOf(f).doubt()))
	}
	return passUnless(doubt, demanded, e.vouch(want), "This wire may be laid in multiple passes, as the joint takes.")
}

// fewestPasses is the least "at most N passes" that somebody sets.
func fewestPasses(e *evidence[Passes]) (most int, by filler.Fact, limited bool) {
	for _, r := range e.readings {
		if n, ok := mostPasses(r.fact.Value); ok && (!limited || n < most) {
			most, by, limited = n, r.fact, true
		}
	}
	return most, by, limited
}

func (c *comparison) passesUpTo(most int, demanded, offered Claim, doubt *Message) Finding {
	switch n := c.demand.PassCount; {
	case n == 0:
		return caution(demanded, offered, "This wire may be laid in at most %d passes: see that the joint takes no more.", most)
	case n > most:
		return stop(demanded, offered, "This wire may be laid in at most %d passes. The joint takes %d.", most, n)
	default:
		return passUnless(doubt, demanded, offered, "This wire may be laid in at most %d passes, and the joint takes %d.", most, n)
	}
}

// passes is the pass demand: of several passes where their number is given.
func (d Demand) passes() Passes {
	switch {
	case d.Passes == "" && d.PassCount == 1:
		return SinglePass
	case d.PassCount > 1:
		return MultiPass
	}
	return d.Passes
}

func (d Demand) passesInWords() string {
	if d.PassCount > 1 {
		return fmt.Sprintf("%d passes", d.PassCount)
	}
	return string(d.passes())
}

// passesMark names the characters of the classification that say so, with the
// hyphen they carry there: " (-14)"; empty if none did.
func (c *comparison) passesMark(e *evidence[Passes]) string {
	for _, r := range e.readings {
		from := r.fact.From
		if from == "" {
			continue
		}
		if slices.ContainsFunc(c.offer.Classifications, func(d string) bool { return strings.Contains(d, "-"+from) }) {
			from = "-" + from
		}
		return fmt.Sprintf(" (%s)", from)
	}
	return ""
}

func (c *comparison) passesPrequalified(e *evidence[Passes]) Finding {
	if !c.demand.Prequalified || !is(*e, SinglePass) {
		return Finding{Outcome: NotDemanded}
	}
	found := Finding{Outcome: NotDemanded}
	for _, l := range c.limits(RulePasses, "prequalified_single_pass") {
		found = worst(found, finding(l.pastIt(), l.claim("prequalified procedure: no single-pass wire"), e.claim,
			"This is single-pass wire%s: a prequalified procedure may not use it.", []any{c.passesMark(e)}).and(l.reserve()))
	}
	return found
}
