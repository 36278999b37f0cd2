package fit

import "wirehold/inventory/unit"

// checkWind: a gas-shielded wire may not be welded in more wind than the
// profile allows (parameter "wind_max") without shelter. A wire that may be
// gas-shielded, for all anybody knows, is taken to be. In the field no wind that
// is stated is no wind that is none: it must be measured.
func (c *comparison) checkWind() Finding {
	e := c.shielding()
	wind := c.demand.Wind
	if wind == 0 && !c.demand.WindNotStated {
		return c.open(e.claim, topic("wind"))
	}
	demanded := c.job("").saying("wind %s (%s)", wind.MPH(), wind)
	if wind == 0 {
		demanded = c.job("field, wind not stated")
	}
	ok, doubt := e.admits(self)
	switch {
	case c.demand.Sheltered:
		return pass(c.job("sheltered from the wind"), e.claim, "The weld is sheltered from the wind.")
	case e.conflict == nil && ok:
		return passUnless(doubt, demanded, e.vouch(self), "Self-shielded wire: the wind limit for gas-shielded wire does not hold for it.")
	}
	if wind == 0 {
		return caution(demanded, e.claim, "Wind not stated: measure it. The job is in the field, and gas-shielded wire loses its shield in a draught.")
	}
	return c.windOnGas(&e, demanded)
}

func (c *comparison) windOnGas(e *evidence[string], demanded Claim) Finding {
	limits := c.limits(RuleWind, "wind_max")
	if len(limits) == 0 {
		return caution(demanded, e.claim, "No wind limit is on file for gas-shielded wire: ask the engineer, or put up a shelter.")
	}
	past := pattern("Gas-shielded wire: it holds up to %s of wind, and the job has %s. Put up a shelter.")
	if !is(*e, external) {
		past = "Nobody says for certain that this wire is self-shielded, so it is taken as gas-shielded: it holds up to %s of wind, and the job has %s. Put up a shelter."
	}
	found := Finding{Outcome: NotDemanded}
	for _, l := range limits {
		limit, err := unit.ParseSpeed(l.Value)
		switch {
		case err != nil:
			found = worst(found, l.unreadable(e.claim))
		case c.demand.Wind > limit:
			found = worst(found, finding(l.pastIt(), l.claim("").saying("wind up to %s", limit.MPH()), e.claim,
				past, []any{limit.MPH(), c.demand.Wind.MPH()}).and(l.reserve()))
		default:
			found = worst(found, passUnless(l.reserve(), l.claim("").saying("wind up to %s", limit.MPH()), e.claim,
				"The job's wind of %s is within the %s for gas-shielded wire.", c.demand.Wind.MPH(), limit.MPH()))
		}
	}
	return found
}
