package fit

import (
	"cmp"
	"slices"
)

// inWords is the polarity as a welder says it.
func (p Polarity) inWords() word {
	switch p {
	case DCEP:
		return "electrode positive (DCEP)"
	case DCEN:
		return "electrode negative (DCEN)"
	}
	return word("on " + p)
}

// checkPolarity: the wire's polarity must be the procedure's, and the feeder
// must be able to give it. Self-shielded is not the same as electrode negative.
func (c *comparison) checkPolarity() Finding {
	e := c.polarity()
	found := worst(c.polarityOfProcedure(&e), c.polarityOfFeeder(&e))
	if c.feeder != nil {
		found = found.and(c.travel())
	}
	return found
}

// travel is what the welder at the feeder must know of the gun: some tubular
// wires, stainless ones among them, are dragged and never pushed. It is nil
// where the sheet leaves it open.
func (c *comparison) travel() *Message {
	switch f, _ := c.strongest("travel", byMemory); f.Value {
	case "drag only":
		return say("Drag the gun, never push it.").and(strengthOf(f).doubt())
	case "push only":
		return say("Push the gun, never drag it.").and(strengthOf(f).doubt())
	}
	return nil
}

func (c *comparison) polarityOfProcedure(e *evidence[Polarity]) Finding {
	want := c.demand.Polarity
	if want == "" {
		return c.open(e.claim, topic("polarity"))
	}
	demanded := c.procedure(string(want))
	ok, doubt := e.admits(want)
	switch {
	case e.conflict != nil:
		return disagree(demanded, e.claim, e.conflict)
	case !e.known:
		return stop(demanded, e.claim, "Nobody says how this wire is run: read the box. The procedure wants %s.", want.inWords()).and(c.usual("polarity"))
	case !ok:
		return stop(demanded, e.claim, "Run this wire %s. The procedure wants %s.", e.allowed[0].inWords(), want.inWords())
	case len(e.allowed) > 1:
		return caution(demanded, e.claim, "This wire runs on %s as its maker says: read the data sheet before you run it %s.",
			e.claim.said(), want.inWords())
	}
	return passUnless(doubt, demanded, e.vouch(want), "Run this wire %s, as the procedure wants.", want.inWords())
}

func (c *comparison) polarityOfFeeder(e *evidence[Polarity]) Finding {
	if c.feeder == nil {
		return Finding{Outcome: NotDemanded}
	}
	need := e.allowed
	if c.demand.Polarity != "" {
		need = []Polarity{c.demand.Polarity}
	}
	gives := c.feeder.Polarities
	demanded := c.machine(cmp.Or(list(gives), "not known"))
	can := slices.ContainsFunc(need, func(p Polarity) bool { return slices.Contains(gives, p) })
	switch {
	case c.demand.Polarity == "" && e.conflict != nil:
		return disagree(demanded, e.claim, e.conflict)
	case len(need) == 0:
		return stop(demanded, e.claim, "Nobody says how this wire is run: read the box before it goes on feeder %s.", c.feeder.called()).and(c.usual("polarity"))
	case len(gives) == 0:
		return caution(demanded, e.claim, "Nobody has recorded what polarity feeder %s can give: it must be %s.",
			c.feeder.called(), need[0].inWords())
	case !can:
		return stop(demanded, e.claim, "This spool must run %s. Feeder %s gives only %s.", need[0].inWords(), c.feeder.called(), anyOf(gives))
	case len(need) > 1:
		return caution(demanded, e.claim, "This wire runs on %s as its maker says: read the data sheet before you set feeder %s.",
			e.claim.said(), c.feeder.called())
	}
	_, doubt := e.admits(need[0])
	return passUnless(doubt, demanded, e.vouch(need[0]), "Feeder %s can run this wire %s.", c.feeder.called(), need[0].inWords())
}
