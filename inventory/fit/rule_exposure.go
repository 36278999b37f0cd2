package fit

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory/filler"
)

// checkExposure: an opened spool may not have been exposed for longer than its
// data sheet or the shop allows, or else the profile (parameter
// "exposure_max"). A wire's own limit longer than the profile's cautions past
// the profile's: the longer time wants the maker's test report.
func (c *comparison) checkExposure() Finding {
	offered := c.record("sealed")
	if !c.offer.Opened {
		return pass(Claim{"no exposure", "rule of the wire store", filler.Shop}, offered, "The spool is sealed.")
	}
	so := inHours(c.offer.Exposed)
	offered = c.record("open " + so)
	own, known := c.ownExposure(offered, so)
	found := own
	for _, l := range c.limits(RuleExposure, "exposure_max") {
		against := c.exposureAgainst(l, offered, so)
		if known && own.Outcome == Passed && against.Outcome != Passed {
			against.Outcome = Caution
			against.Says = fmt.Sprintf("The spool has been open %s: within its own limit of %s, past the profile's %s. See the maker's test report before it is used.", so, own.Demanded.Text, against.Demanded.Text)
			if c.offer.Exposed <= hoursOf(l.Value) {
				continue
			}
		}
		found = worst(found, against)
	}
	if found.Outcome == "" {
		return caution(Claim{"a limit on exposure", "rule of the wire store", filler.Shop}, offered,
			"The spool has been open %s and no limit is known: ask the engineer, or read the data sheet.", so)
	}
	return found
}

// ownExposure judges by the limits of data sheet and shop for this wire; known
// is false if there is none. The shortest holds.
func (c *comparison) ownExposure(offered Claim, so string) (found Finding, known bool) {
	for _, f := range inOrder(c.named("exposure_limit")) {
		if strengthOf(f) > bySheet || saysNothing(f.Value) {
			continue
		}
		demanded := claimOf(f)
		limit := hoursOf(demanded.Text)
		this := pass(demanded, offered, "The spool has been open %s of the %s its %s allows.", so, demanded.Text, f.Provenance)
		switch {
		case limit < 0:
			this = stop(demanded, offered, "The %s gives an exposure limit of %q, which cannot be read: ask the engineer.", f.Provenance, demanded.Text)
		case c.offer.Exposed > limit:
			this = stop(demanded, offered, "The spool has been open %s. Its %s allows %s: take a fresh spool.", so, f.Provenance, demanded.Text)
		}
		if !known || this.Outcome.weight() > found.Outcome.weight() {
			found = this
		}
		known = true
	}
	return found, known
}

func (c *comparison) exposureAgainst(l Limit, offered Claim, so string) Finding {
	limit := hoursOf(l.Value)
	demanded := l.claim(l.Value)
	switch {
	case limit < 0:
		return l.unreadable(offered)
	case c.offer.Exposed > limit:
		return finding(l.pastIt(), demanded, offered, "The spool has been open %s. The profile allows %s: take a fresh spool.%s", []any{so, l.Value, l.reserve()})
	}
	return passUnless(l.doubt(), demanded, offered, "The spool has been open %s of the %s the profile allows.", so, l.Value)
}

// hoursOf reads "72 h"; -1 if the text is no length of time in hours.
func hoursOf(text string) time.Duration {
	number, hours := strings.CutSuffix(strings.TrimSpace(text), " h")
	n, err := strconv.Atoi(number)
	if !hours || err != nil || n < 0 || n > 100_000 {
		return -1
	}
	return time.Duration(n) * time.Hour
}

// inHours writes a length of time as "80 h 30 min", seconds left off.
func inHours(d time.Duration) string {
	minutes := int64(d / time.Minute)
	if minutes%60 == 0 {
		return fmt.Sprintf("%d h", minutes/60)
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}
