package exposure

import (
	"time"
)

// Clock is the exposure of one spool at an instant.
type Clock struct {
	At        time.Time
	OpenedAt  time.Time     // zero while it is sealed
	Exposed   time.Duration // so far, since the last drying that took it off; exact to the second
	Unknown   bool          // its package was damaged while sealed: Exposed is of the opening alone, and proves nothing
	Runs      bool          // whether it runs at At; it then runs on for as long as nothing moves
	Dryings   int           // how often it was dried
	Intervals []Interval    // from its receipt on, in order, without gaps; nil from [Track.Clock]
}

// Interval is a stretch of time in which one thing held.
type Interval struct {
	Span          // never endless
	Place  string // empty is out in the open, or in the oven
	Counts bool   // as exposure
	Why    Reason
	Began  int64 // the movement that began it; 0 where the air of the place changed
	Ended  int64 // the movement that ended it; 0 where the air of the place changed, or nothing ended it yet
}

// Reason is why an interval counts or does not.
type Reason string

// The reasons.
const (
	Sealed    Reason = "sealed"
	DryKept   Reason = "in a dry-kept place"
	Dried     Reason = "in the oven"
	InTheOpen Reason = "open, in a place that is not dry-kept"
	OutOpen   Reason = "open, out of the store"
	OutOfAir  Reason = "open, in a dry-kept place that was outside its limits or silent"
)

// Reckon returns the clock at the instant at, of a spool with these events, in
// the order of the ledger, under the air. What takes effect after at has not
// happened; a correction holds whenever it was entered.
func Reckon(events []Event, air Places, at time.Time) Clock {
	h := &history{}
	for _, e := range events {
		h.add(e)
	}
	return h.clock(air, at, true)
}

// Clock returns the clock without its intervals, from a track.
func (t Track) Clock(air Places, at time.Time) Clock {
	h := &history{}
	t.each(h.add)
	return h.clock(air, at, false)
}

// clock works out the clock, with its intervals if they are wanted.
func (h *history) clock(air Places, at time.Time, full bool) Clock {
	h.settle()
	c := Clock{At: at}
	if full {
		c.Intervals = h.intervals(air, at)
	}
	if !h.end.IsZero() && h.end.Before(at) {
		at = h.end
	}
	if !h.opened.IsZero() && !h.opened.After(at) {
		c.OpenedAt = h.opened
	}
	c.Unknown = h.unknown(at)
	from := h.opened
	for _, d := range h.dryings {
		if d.From.After(at) {
			break
		}
		if !c.OpenedAt.IsZero() {
			c.count(h, air, from, sooner(d.From, at))
			from = latest(from, sooner(d.To, at))
		}
		if d.To.After(at) {
			continue
		}
		c.Dryings++
		c.take(d)
	}
	if c.OpenedAt.IsZero() {
		return c
	}
	c.count(h, air, from, at)
	c.Runs = h.end.IsZero() && h.runs(air, at)
	return c
}

// count adds what of [from, to) counts.
func (c *Clock) count(h *history, air Places, from, to time.Time) {
	if first := sooner(h.from(), to); first.After(from) {
		c.Exposed += first.Sub(from) // nobody knows where it stood
	}
	for i, s := range h.stays {
		a, b := latest(s.from, from), sooner(h.until(i), to)
		if b.After(a) {
			c.Exposed += b.Sub(a) - air[s.place].Within(a, b)
		}
	}
}

// from returns when the first stay begins; the zero time if there is none.
func (h *history) from() time.Time {
	if len(h.stays) == 0 {
		return time.Time{}
	}
	return h.stays[0].from
}

// until returns when stay i ends; the zero time for the last.
func (h *history) until(i int) time.Time {
	if i+1 == len(h.stays) {
		return time.Time{}
	}
	return h.stays[i+1].from
}

// take takes off what a drying takes off.
func (c *Clock) take(d drying) {
	if d.takes == All || d.takes >= c.Exposed {
		c.Exposed = 0
		return
	}
	c.Exposed -= d.takes
}

// unknown reports whether the package was found damaged, and nothing since has
// set the exposure back to zero.
func (h *history) unknown(at time.Time) bool {
	for _, x := range h.damages {
		if x.from.After(at) {
			continue
		}
		known := false
		for _, d := range h.dryings {
			known = known || d.takes == All && !d.From.Before(x.from) && !d.To.After(at)
		}
		if !known {
			return true
		}
	}
	return false
}

// runs reports whether an open spool's clock runs at the instant.
func (h *history) runs(air Places, at time.Time) bool {
	for _, d := range h.dryings {
		if d.Holds(at) {
			return false
		}
	}
	place := ""
	for _, s := range h.stays {
		if !s.from.After(at) {
			place = s.place
		}
	}
	return !air[place].at(at)
}
