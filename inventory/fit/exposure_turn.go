package fit

import (
	"slices"
	"time"
)

// ExposureTurn is an exposure past which the rule judges more sternly.
type ExposureTurn struct {
	After    time.Duration
	Outcome  Outcome // past it
	Demanded Claim   // whose limit it is
}

// ExposureTurns returns the exposures past which the rule judges a spool of the
// offer otherwise, the shortest first: what it says a second past each limit
// that data sheet, shop, test report or profile names, for only there can it
// begin to say otherwise. What the offer says of its own exposure, and when the
// shift ends, counts for nothing.
func ExposureTurns(o Offer, p Profile) (out []ExposureTurn) {
	o.Opened, o.ExposureUnknown, o.ShiftEnds = true, "", time.Time{}
	c := &comparison{offer: o, profile: p}
	limits := []time.Duration{}
	for _, f := range c.named("exposure_limit") {
		limits = append(limits, hoursOf(claimOf(f).Text))
	}
	for _, l := range c.limits(RuleExposure, "exposure_max") {
		limits = append(limits, hoursOf(l.Value))
	}
	if tested, _, ok := c.tested(); ok {
		limits = append(limits, tested)
	}
	slices.Sort(limits)
	c.offer.Exposed = 0
	last := c.checkExposure().Outcome
	for _, after := range slices.Compact(limits) {
		c.offer.Exposed = after + time.Second
		if f := c.checkExposure().of(RuleExposure); after >= 0 && f.Outcome.weight() > last.weight() {
			out, last = append(out, ExposureTurn{after, f.Outcome, f.Demanded}), f.Outcome
		}
	}
	return out
}
