package exposure

import "time"

// Left returns how much of the limit is left; less than zero once it is passed.
// It is not ok while the exposure is not known.
func (c Clock) Left(limit time.Duration) (left time.Duration, ok bool) {
	return limit - c.Exposed, !c.Unknown
}

// RunsOut returns the instant at which the exposure reaches the limit, if
// nothing moves and the air stays as it is: past for a limit that is passed.
// The zero time means never: the clock stands, or the exposure is not known.
func (t Track) RunsOut(air Places, at time.Time, limit time.Duration) time.Time {
	c := t.Clock(air, at)
	switch {
	case c.Unknown || c.OpenedAt.IsZero():
		return time.Time{}
	case c.Exposed < limit && c.Runs:
		return at.Add(limit - c.Exposed)
	case c.Exposed < limit:
		return time.Time{}
	}
	return t.reached(air, c, limit)
}

// reached returns the second at which the exposure of c came to the limit.
// Since the last drying it only ever grew, so the second is searched by halves.
func (t Track) reached(air Places, c Clock, limit time.Duration) time.Time {
	h := &history{}
	t.each(h.add)
	low, high := c.OpenedAt, c.At
	for _, d := range h.dryings {
		if !d.To.After(c.At) {
			low = latest(low, d.To)
		}
	}
	for high.Sub(low) > 0 {
		middle := low.Add(high.Sub(low) / 2).Truncate(time.Second)
		if h.clock(air, middle, false).Exposed >= limit {
			high = middle
		} else {
			low = middle.Add(time.Second)
		}
	}
	return high
}
