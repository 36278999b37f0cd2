package inventory

import (
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
)

// breathe makes the air known in which the open spools stood.
func (c *chooser) breathe(spools []OpenSpool) (err error) {
	from := c.at
	for _, s := range spools {
		if s.OpenedAt.Before(from) {
			from = s.OpenedAt
		}
	}
	c.air, err = airSince(c.r, from, c.at)
	return err
}

// clock returns the exposure clock of a spool.
func (c *chooser) clock(t exposure.Track) (exposure.Clock, error) {
	if c.air == nil {
		return t.Clock(nil, c.at), nil // nothing is open
	}
	air, err := c.air.of(t)
	return t.Clock(air, c.at), err
}

// left returns how long the spool may stay open before the exposure rule says
// worse of it than now; nil if it is sealed, nobody gives a limit, or its
// exposure is not known.
func (c *chooser) left(w *knownWire, lot Lot, clock exposure.Clock) *time.Duration {
	if clock.OpenedAt.IsZero() || clock.Unknown {
		return nil
	}
	for _, t := range c.turnsOf(w, lot) {
		if left := t.After - clock.Exposed; left >= 0 {
			return &left
		}
	}
	return nil
}

// after is what the exposure rule says of the wire past the limits that the
// clock has passed; empty if it has passed none.
func (c *chooser) after(w *knownWire, lot Lot, clock exposure.Clock) fit.Outcome {
	var out fit.Outcome
	for _, t := range c.turnsOf(w, lot) {
		if clock.Unknown || clock.Exposed > t.After {
			out = t.Outcome
		}
	}
	return out
}

// turnsOf returns the limits of a spool of the lot under the profile. It asks
// once for the lots of a wire that have no exposure test of their own.
func (c *chooser) turnsOf(w *knownWire, lot Lot) []fit.ExposureTurn {
	tested := lot.Papers.Exposure
	turns, known := w.turns[tested]
	if !known {
		fresh := exposure.Clock{At: c.at, OpenedAt: c.at}
		o := w.offer(Spool{Code: "W", OpenedAt: c.at}, Lot{Status: fit.LotAccepted, Papers: LotPapers{Exposure: tested}}, fresh)
		turns = fit.ExposureTurns(o, c.base.Profile)
		w.turns[tested] = turns
	}
	return turns
}
