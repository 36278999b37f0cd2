package fit

// checkGas: the procedure's gas must be one the wire is classified for, no gas
// for a self-shielded wire, and the feeder must have just that connected.
func (c *comparison) checkGas() Finding {
	e := c.gas()
	return worst(c.gasOfProcedure(&e), c.gasOfFeeder(&e))
}

// weighGas weighs what is known of the wire's gas. A wire known to be self-shielded
// needs none, even if no fact says so by name.
func (c *comparison) weighGas() evidence[gasRange] {
	e := resolve(c.byProcess("gas"), gasTrait())
	shielding := c.shielding()
	if e.known || e.conflict != nil || !is(shielding, self) {
		return e
	}
	_, e.doubt = shielding.admits(self)
	e.known, e.allowed, e.claim = true, []gasRange{{}}, shielding.claim
	return e
}

// selfShielded reports whether the wire runs without gas and nothing else.
func selfShielded(e *evidence[gasRange]) bool {
	return e.known && len(e.allowed) == 1 && e.allowed[0] == gasRange{}
}

func (c *comparison) gasOfProcedure(e *evidence[gasRange]) Finding {
	want := c.demand.Gas
	if want == nil {
		return c.open(e.claim, topic("shielding gas"))
	}
	demanded := c.procedure(want.String())
	ok, doubt := e.admits(exactly(*want))
	switch {
	case e.conflict != nil:
		return disagree(demanded, e.claim, e.conflict)
	case !e.known && want.IsNone():
		return stop(demanded, e.claim, "Nobody says whether this wire runs without gas: read the box. The procedure runs none.")
	case !e.known:
		return stop(demanded, e.claim, "Nobody says which gas this wire takes: read the box. The procedure runs %s.", want).and(c.usual("gas"))
	case selfShielded(e) && !want.IsNone():
		return c.gasOnSelfShielded(demanded, e.claim, *want, say("The procedure runs %s.", want))
	case !ok && want.IsNone():
		return stop(demanded, e.claim, "This wire needs gas: %s. The procedure runs none.", e.claim.said())
	case !ok:
		return stop(demanded, e.claim, "This wire takes %s. The procedure runs %s.", e.claim.said(), want)
	case want.IsNone():
		return passUnless(doubt, demanded, e.vouch(exactly(*want)), "This wire runs without gas, as the procedure does.")
	}
	return passUnless(doubt, demanded, e.vouch(exactly(*want)), "This wire runs in %s, as the procedure does.", want)
}

// gasOnSelfShielded stops, unless the data sheet or the shop permits the gas
// and the wire stays on the polarity it is for.
func (c *comparison) gasOnSelfShielded(demanded, offered Claim, g Gas, run *Message) Finding {
	for _, f := range c.named("self_shielded_gas_permitted") {
		if strengthOf(f) > bySheet {
			break
		}
		ranges, ok := parseGasRanges(f.Value)
		switch {
		case f.Value == "yes":
			found := caution(demanded, claimOf(f), "Self-shielded wire, but its %s permits gas without naming which: read it. %s", f.Provenance, run)
			return worst(found, c.polarityUnderGas(demanded, claimOf(f), found.Message))
		case ok && !g.IsNone() && exactly(g).within(ranges):
			found := pass(demanded, claimOf(f), "Self-shielded wire, but its %s permits %s.", f.Provenance, &g)
			return worst(found, c.polarityUnderGas(demanded, claimOf(f), found.Message))
		}
	}
	return stop(demanded, offered, "Self-shielded wire: shut the gas off. %s", run)
}

// polarityUnderGas: gas does not change the polarity of a self-shielded wire.
func (c *comparison) polarityUnderGas(demanded, offered Claim, says *Message) Finding {
	e, want := c.polarity(), c.demand.Polarity
	ok, _ := e.admits(want)
	switch {
	case e.conflict != nil || !e.known:
		return stop(demanded, offered, "%s Nobody says for certain how it is run with gas: read its sheet for the polarity.", says)
	case want != "" && !ok:
		return stop(demanded, offered, "%s It stays %s with gas too. The procedure wants %s.", says, e.allowed[0].inWords(), want.inWords())
	}
	return Finding{Outcome: NotDemanded}
}

func (c *comparison) gasOfFeeder(e *evidence[gasRange]) Finding {
	if c.feeder == nil {
		return Finding{Outcome: NotDemanded}
	}
	has, want, name := c.feeder.Gas, c.demand.Gas, c.feeder.called()
	switch {
	case has == nil:
		return caution(c.machine("not known"), e.claim, "Nobody has recorded which gas is connected to feeder %s: look before you weld.", name)
	case want != nil && *has != *want:
		return stop(c.procedure(want.String()), c.machine(has.String()), "Feeder %s has %s connected. The procedure runs %s: connect that or take another feeder.", name, has, want)
	case want != nil:
		return pass(c.procedure(want.String()), c.machine(has.String()), "Feeder %s has %s connected, as the procedure wants.", name, has)
	}
	demanded := c.machine(has.String())
	ok, doubt := e.admits(exactly(*has))
	switch {
	case e.conflict != nil:
		return disagree(demanded, e.claim, e.conflict)
	case !e.known:
		return stop(demanded, e.claim, "Nobody says which gas this wire takes: read the box. Feeder %s has %s connected.", name, has)
	case selfShielded(e) && !has.IsNone():
		return c.gasOnSelfShielded(demanded, e.claim, *has, say("Feeder %s has it connected: %s.", name, has))
	case !ok:
		return stop(demanded, e.claim, "This wire needs gas: %s. Feeder %s has %s connected.", e.claim.said(), name, has)
	}
	return passUnless(doubt, demanded, e.vouch(exactly(*has)), "Feeder %s has %s connected, which suits this wire.", name, has)
}
