package inventory

import (
	"context"
	"fmt"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// CardClock is what a spool's set-up card says of its exposure clock. It holds
// for the instant of the clock alone: a page shows it, and nothing prints it,
// for on paper it goes stale.
type CardClock struct {
	Exposure
	Outcome fit.Outcome    // passes, caution or stops: what the exposure rule makes of it now
	Limit   *ExposureLimit // that it is held against: the first that stops, or else the first that cautions; nil if nobody gives one
	Says    string         // "Open 31 h of 72 h. Runs out Fri 14:20 if it stays out."
	Do      string         // what is to be done about it; empty for nothing
	Also    string         // an earlier limit, that only cautions, or what can be done where the exposure is not known; empty for neither
	Sure    bool           // who gives the limit vouches for it, or the shop confirmed it; false where there is none
}

// CardClock returns the clock of a spool's card now, with its instants as they
// stand on the shop's wall.
func (l *Ledger) CardClock(ctx context.Context, spool Code) (CardClock, error) {
	e, err := l.Exposure(ctx, spool, time.Time{})
	return e.Card(l.zone), err
}

// Card writes the clock for a card, with its instants in the zone. It is pure.
func (e Exposure) Card(zone *time.Location) CardClock {
	c := CardClock{Exposure: e, Outcome: fit.Passed, Limit: heldAgainst(e.Limits)}
	if c.Limit != nil {
		c.Sure = c.Limit.vouched()
	}
	switch {
	case e.Unknown:
		c.unknown()
	case e.OpenedAt.IsZero():
		c.sealed()
	case c.Limit == nil:
		c.Outcome = fit.Caution
		c.Says = fmt.Sprintf("Open %s.", HoursText(e.Exposed))
		c.Do = "Nobody gives a limit: read the data sheet, or ask the welding engineer."
	default:
		c.open(zone)
	}
	return c
}

// heldAgainst returns the limit that matters most: the first that stops, or
// else the first that cautions; nil if there is none.
func heldAgainst(limits []ExposureLimit) *ExposureLimit {
	for i := range limits {
		if limits[i].Outcome == fit.Stops {
			return &limits[i]
		}
	}
	if len(limits) == 0 {
		return nil
	}
	return &limits[0]
}

// vouched reports whether somebody stands for the limit: one from memory or
// practice that the shop has not confirmed is to be confirmed.
func (l ExposureLimit) vouched() bool {
	return l.Demanded.Provenance != filler.Memory && l.Demanded.Provenance != filler.Practice
}

// unknown writes the clock of a spool whose package was damaged: it is past
// every limit.
func (c *CardClock) unknown() {
	c.Outcome = fit.Caution
	c.Says = "Exposure not known: its package was damaged while it was sealed."
	c.Do = "Ask the welding engineer before it is used."
	if c.Limit != nil && c.Limit.Outcome == fit.Stops {
		c.Outcome = fit.Stops
		c.Do = "Do not weld with it: take a fresh spool."
	}
	c.Also = c.Remedy
}

func (c *CardClock) sealed() {
	c.Says = "Sealed: its clock has not begun."
	if c.Limit != nil {
		c.Says += fmt.Sprintf(" Once opened it may stay out %s.", HoursText(c.Limit.After))
	}
}

// open writes the clock of an opened spool that has a limit.
func (c *CardClock) open(zone *time.Location) {
	l, at := c.Limit, c.At.In(zone)
	if !c.Sure {
		c.Outcome = fit.Caution // the rule cautions until the shop confirms it
	}
	exposed, allowed := HoursText(c.Exposed), HoursText(l.After)
	switch {
	case l.Left < 0:
		c.Outcome = l.Outcome
		c.Says = fmt.Sprintf("Open %s: past its limit of %s since %s.", exposed, allowed, ShortStamp(l.RunsOut.In(zone), at))
		c.Do = "Weld no more with it. Bring it back to the store."
		if l.Outcome != fit.Stops {
			c.Do = "Ask the welding engineer before it is used."
		}
		return
	case c.Runs:
		if l.Left <= c.Near {
			c.Outcome, c.Do = fit.Caution, ExposureNearAlert.Advice()
		}
		c.Says = fmt.Sprintf("Open %s of %s. Runs out %s if it stays out.", exposed, allowed, ShortStamp(l.RunsOut.In(zone), at))
	default:
		c.Says = fmt.Sprintf("Open %s of %s. The clock stands: it is kept dry. %s left.", exposed, allowed, HoursText(l.Left))
	}
	if first := c.Limits[0]; first.After < l.After {
		c.earlier(first, zone)
	}
}

// earlier writes of a limit before the one that stops.
func (c *CardClock) earlier(l ExposureLimit, zone *time.Location) {
	by := fmt.Sprintf("%s (%s: %s)", HoursText(l.After), l.Demanded.Provenance, l.Demanded.Source)
	switch {
	case l.Left < 0:
		c.Outcome = fit.Caution
		c.Also = fmt.Sprintf("It is past %s: ask the welding engineer before it is used.", by)
	case l.RunsOut.IsZero():
		c.Also = fmt.Sprintf("Past %s ask the welding engineer.", by)
	default:
		c.Also = fmt.Sprintf("From %s on, past %s, ask the welding engineer.", ShortStamp(l.RunsOut.In(zone), c.At.In(zone)), by)
	}
}

// ShortStamp writes an instant as short as it is understood from at, which is
// in the same zone: "14:20" today, "Fri 14:20" within six days, else the date.
func ShortStamp(t, at time.Time) string {
	switch day := 24 * time.Hour; {
	case t.Format(time.DateOnly) == at.Format(time.DateOnly):
		return t.Format("15:04")
	case t.After(at.Add(-6*day)) && t.Before(at.Add(6*day)):
		return t.Format("Mon 15:04")
	}
	return t.Format("2 Jan 15:04")
}
