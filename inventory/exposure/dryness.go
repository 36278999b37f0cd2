package exposure

import (
	"slices"
	"time"
)

// Dryness is when one place was dry: it was dry-kept, and its readings were
// inside its limits. The zero Dryness was never dry.
type Dryness struct {
	kept []Span // dry-kept by the shop's word
	dry  []Span // of which its readings were inside the limits
	sum  []time.Duration
}

// NewDryness returns the dryness of a place that was dry-kept in the spans kept
// and out of its limits in the spans outside. Nothing before 1970 counts: a
// span from the zero time on is longer than a [time.Duration] can be.
func NewDryness(kept, outside []Span) Dryness {
	kept = Clip(kept, time.Unix(0, 0), time.Time{})
	d := Dryness{kept: kept, dry: Subtract(kept, outside)}
	var total time.Duration
	for _, s := range d.dry {
		d.sum = append(d.sum, total)
		if !s.Endless() {
			total += s.To.Sub(s.From)
		}
	}
	return d
}

// until returns for how long the place was dry before the instant at.
func (d Dryness) until(at time.Time) time.Duration {
	i, found := slices.BinarySearchFunc(d.dry, at, func(s Span, at time.Time) int { return s.From.Compare(at) })
	if !found {
		i--
	}
	if i < 0 {
		return 0
	}
	return d.sum[i] + sooner(d.dry[i].To, at).Sub(d.dry[i].From)
}

// Within returns for how long the place was dry in [from, to).
func (d Dryness) Within(from, to time.Time) time.Duration {
	if len(d.dry) == 0 || !to.After(from) {
		return 0
	}
	return d.until(to) - d.until(from)
}

// at reports whether the place is dry at the instant.
func (d Dryness) at(at time.Time) bool {
	return slices.ContainsFunc(d.dry, func(s Span) bool { return s.Holds(at) })
}

// Places is the dryness of places by their codes. A place that is not in it was
// never dry.
type Places map[string]Dryness
