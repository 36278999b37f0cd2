package fit

import (
	"strconv"
	"strings"
	"time"
)

// checkShelfLife: a sealed spool may not be past the date its box prints, nor
// older than its data sheet (fact "shelf_life") or the profile (parameter
// "shelf_life_max") allows. No code sets an expiry: it is the maker's or the
// shop's (testdata/code_rules.csv and exposure_rules.csv E086). Age counts
// from manufacture, or at least from the day the lot came in.
func (c *comparison) checkShelfLife() Finding {
	offered := c.ageClaim()
	found := Finding{Outcome: NotDemanded}
	if expires := c.offer.Expires; !expires.IsZero() {
		found = worst(found, c.expiry(offered, expires))
	}
	for _, f := range c.named("shelf_life") {
		if strengthOf(f) > bySheet || saysNothing(f.Value) {
			continue
		}
		demanded := claimOf(f)
		found = worst(found, c.age(demanded, offered, demanded.Text, word("its "+f.Provenance), Stops, nil))
	}
	for _, l := range c.limits(RuleShelfLife, "shelf_life_max") {
		found = worst(found, c.age(l.claim(l.Value), offered, l.Value, "the rule profile", l.pastIt(), l.reserve()))
	}
	if found.Outcome == NotDemanded {
		return c.open(offered, topic("shelf life"))
	}
	return found
}

// ageClaim is what is on record of the wire's age.
func (c *comparison) ageClaim() Claim {
	o := c.offer
	switch {
	case !o.Expires.IsZero():
		return c.lot("").saying("use by %s", day(o.Expires))
	case !o.Made.IsZero():
		return c.lot("").saying("made %s", day(o.Made))
	case !o.Received.IsZero():
		return c.lot("").saying("made on a day nobody has recorded, received %s", day(o.Received))
	}
	return unknown()
}

func (c *comparison) expiry(offered Claim, expires time.Time) Finding {
	demanded := c.lot("").saying("use by %s", day(expires))
	switch at := c.offer.At; {
	case at.IsZero():
		return caution(demanded, offered, "The box says use by %s: look at the calendar.", day(expires))
	case at.After(expires.AddDate(0, 0, 1)):
		return stop(demanded, offered, "The box says use by %s, and that is past: inspect and test the wire before it is used, or take another lot.", day(expires))
	}
	return pass(demanded, offered, "The box says use by %s.", day(expires))
}

// age holds the wire's age against a limit in months. A day of manufacture that
// nobody has recorded counts against it.
func (c *comparison) age(demanded, offered Claim, limit string, who word, past Outcome, reserve *Message) Finding {
	months, ok := monthsOf(limit)
	from, counted := c.offer.Made, pattern("This lot was made on %s, longer ago than the %s that %s allows: inspect and test it before it is used.")
	if from.IsZero() {
		from, counted = c.offer.Received, "This lot was received on %s, longer ago than the %s that %s allows: inspect and test it before it is used."
	}
	at := c.offer.At
	switch {
	case !ok:
		return stop(demanded, offered, "A shelf life of %q in %s cannot be read: ask the engineer.", limit, who)
	case !from.IsZero() && !at.IsZero() && at.After(from.AddDate(0, months, 0)):
		return finding(past, demanded, offered, counted, []any{day(from), word(limit), who}).and(reserve)
	case c.offer.Made.IsZero() || at.IsZero():
		return finding(past, demanded, offered, "Nobody has recorded when this lot was made, and %s allows %s: read the box.", []any{who, word(limit)}).and(reserve)
	}
	return passUnless(reserve, demanded, offered, "This lot was made on %s, within the %s that %s allows.", day(from), word(limit), who)
}

// monthsOf reads "12 months" or "5 years".
func monthsOf(text string) (months int, ok bool) {
	number, span, _ := strings.Cut(strings.TrimSpace(text), " ")
	n, err := strconv.Atoi(number)
	switch strings.TrimSuffix(span, "s") {
	case "month":
	case "year":
		n *= 12
	default:
		return 0, false
	}
	return n, err == nil && n > 0 && n <= 1200
}
