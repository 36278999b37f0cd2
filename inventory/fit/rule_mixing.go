package fit

import (
	"slices"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Shielding is how a wire's weld is shielded, in the reference tables' words.
type Shielding string

// The shieldings. The empty Shielding is not known.
const (
	SelfShielded Shielding = self
	GasShielded  Shielding = external
)

// ShieldingOf returns how a wire with these facts is shielded; empty where
// nobody says, or where box and sheet disagree. A solid or metal cored wire is
// gas-shielded. It is pure.
func ShieldingOf(facts filler.Facts) Shielding {
	c := &comparison{offer: Offer{Facts: facts}}
	s, _, _ := c.shielded()
	return s
}

// shielded is how the wire is shielded, with the authority and the doubt.
func (c *comparison) shielded() (s Shielding, claim Claim, doubt *Message) {
	e, form := c.shielding(), c.form()
	switch {
	case is(form, solid), is(form, metalCored):
		_, doubt = form.admits(form.allowed[0])
		return GasShielded, form.claim, doubt
	case is(e, self), is(e, external):
		_, doubt = e.admits(e.allowed[0])
		return Shielding(e.allowed[0]), e.claim, doubt
	}
	return "", e.claim, nil
}

// Laid is wire that the ledger says has gone into the joint already.
type Laid struct {
	Spool     string // its code
	Wire      string // "Amber Kestrel 71M E71T-1M-H8"
	Shielding Shielding
	Used      unit.Grams   // wire that is gone from its spools, by weight; zero where nobody has weighed it since
	Facts     filler.Facts // of the wire
}

// checkMixing: a self-shielded weld over a gas-shielded one, or the reverse,
// wants a test of the two together where the profile says so (parameter
// "intermix_proof"): the high aluminium of one spoils the toughness of the
// other. The procedure may name the report.
func (c *comparison) checkMixing() Finding {
	mine, offered, doubt := c.shielded()
	if len(c.demand.Laid) == 0 {
		return c.open(offered, topic("what is in the joint already"))
	}
	over, odd := c.over(mine)
	demanded := c.ledger("").saying("%s", over)
	limits := c.limits(RuleMixing, "intermix_proof")
	if len(limits) == 0 {
		f := c.open(offered, topic("mixed deposits"))
		f.Message = say("The joint holds %s. The rule profile asks no proof of mixed deposits here.", over)
		return f
	}
	unknown := mine == "" || slices.ContainsFunc(c.demand.Laid, func(l Laid) bool { return l.Shielding == "" })
	switch report := c.demand.IntermixReport; {
	case unknown:
	case !odd:
		return passUnless(doubt, demanded, offered, "The joint holds %s: nothing is mixed.", over)
	case report != "":
		return passUnless(doubt, c.procedure("").saying("intermix test %s", report), offered, "The joint holds %s. Report %s proves the two together.", over, report)
	}
	found := Finding{Outcome: NotDemanded}
	for _, l := range limits {
		wanted := l.claim("intermix test of the two deposits")
		wanted.Source += "; " + demanded.Source
		says := c.unproven(mine, over)
		if unknown {
			says = say("Nobody says how one of the wires in this joint is shielded: this wire is %s, and the joint holds %s. Read the boxes.", mine.inWords(), over)
		}
		found = worst(found, Finding{Outcome: l.pastIt(), Demanded: wanted, Offered: offered, Message: says.and(l.reserve())})
	}
	return found
}

// unproven says that the procedure names no test of the two together.
func (c *comparison) unproven(mine Shielding, over *Message) *Message {
	if mine == SelfShielded {
		return say("Self-shielded over %s: the rule profile (%s) wants proof by test, and the procedure names no report. Ask the engineer.", over, c.profile.title())
	}
	return say("Gas-shielded over %s: the rule profile (%s) wants proof by test, and the procedure names no report. Ask the engineer.", over, c.profile.title())
}

// over says in words what lies in the joint, and whether it may not be mixed
// with a wire of this shielding. What is not known may not.
func (c *comparison) over(mine Shielding) (says *Message, odd bool) {
	var all []*Message
	for _, l := range c.demand.Laid {
		odd = odd || l.Shielding != mine || mine == ""
		this := say("weld of unknown shielding (%s)", l.Wire)
		switch l.Shielding {
		case SelfShielded:
			this = say("self-shielded weld (%s)", l.Wire)
		case GasShielded:
			this = say("gas-shielded weld (%s)", l.Wire)
		}
		if !slices.ContainsFunc(all, this.Equal) {
			all = append(all, this)
		}
	}
	return allOf(all), odd
}

// inWords is the shielding of a wire in a sentence.
func (s Shielding) inWords() word {
	switch s {
	case SelfShielded:
		return "self-shielded"
	case GasShielded:
		return "gas-shielded"
	}
	return "of unknown shielding"
}
