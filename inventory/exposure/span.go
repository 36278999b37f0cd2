package exposure

import (
	"slices"
	"time"
)

// Span is a stretch of time: From belongs to it, To does not. The zero To has
// no end: the span reaches into the future for as long as anybody asks. A span
// that does not end after it begins holds nothing.
//
// The functions of this file take spans in any order, overlapping or not, and
// return them sorted, apart (neither overlapping nor touching) and not empty;
// nil for none. They change none of their arguments.
type Span struct{ From, To time.Time }

// Endless reports whether the span has no end.
func (s Span) Endless() bool { return s.To.IsZero() }

// Empty reports whether the span holds no instant.
func (s Span) Empty() bool { return !s.Endless() && !s.To.After(s.From) }

// Holds reports whether the instant lies in the span.
func (s Span) Holds(at time.Time) bool {
	return !at.Before(s.From) && (s.Endless() || at.Before(s.To))
}

// Union returns every instant that lies in one of the spans.
func Union(spans ...Span) []Span {
	in := slices.DeleteFunc(slices.Clone(spans), Span.Empty)
	slices.SortFunc(in, func(a, b Span) int { return a.From.Compare(b.From) })
	var out []Span
	for _, s := range in {
		last := len(out) - 1
		if last < 0 || after(s.From, out[last].To) {
			out = append(out, s)
			continue
		}
		out[last].To = later(out[last].To, s.To)
	}
	return out
}

// Intersect returns the instants that lie in one of a and in one of b.
func Intersect(a, b []Span) []Span {
	a, b = Union(a...), Union(b...)
	var out []Span
	for len(a) > 0 && len(b) > 0 {
		both := Span{latest(a[0].From, b[0].From), sooner(a[0].To, b[0].To)}
		if !both.Empty() {
			out = append(out, both)
		}
		if ends(a[0].To, b[0].To) {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return out
}

// Subtract returns the instants that lie in one of a and in none of b.
func Subtract(a, b []Span) []Span {
	b = Union(b...)
	var out []Span
	for _, s := range Union(a...) {
		for len(b) > 0 && !b[0].Endless() && !b[0].To.After(s.From) {
			b = b[1:] // ends before s begins, and before all that follows
		}
		out = append(out, without(s, b)...)
	}
	return out
}

// without returns what of s lies in none of the holes, which are sorted and
// apart.
func without(s Span, holes []Span) (out []Span) {
	for _, h := range holes {
		if !s.Endless() && !h.From.Before(s.To) {
			break
		}
		if before := (Span{s.From, h.From}); before.To.After(before.From) {
			out = append(out, before)
		}
		if h.Endless() {
			return out
		}
		s.From = latest(s.From, h.To)
	}
	if s.Empty() {
		return out
	}
	return append(out, s)
}

// Clip returns what of the spans lies in [from, to); a zero to is no end.
func Clip(spans []Span, from, to time.Time) []Span {
	return Intersect(spans, []Span{{from, to}})
}

// Length returns how long the spans are together, up to the instant at; none is
// longer than the 292 years that a [time.Duration] holds. What
// lies in two of them counts once.
func Length(spans []Span, at time.Time) (total time.Duration) {
	for _, s := range Union(spans...) {
		if s.From.Before(at) {
			total += sooner(s.To, at).Sub(s.From)
		}
	}
	return total
}

// after reports whether from lies beyond the end of a span that ends at to.
func after(from, to time.Time) bool { return !to.IsZero() && from.After(to) }

// ends reports whether a span that ends at a ends before one that ends at b.
func ends(a, b time.Time) bool { return !a.IsZero() && (b.IsZero() || a.Before(b)) }

// sooner returns the earlier of two ends.
func sooner(a, b time.Time) time.Time {
	if ends(a, b) {
		return a
	}
	return b
}

// later returns the later of two ends.
func later(a, b time.Time) time.Time {
	if ends(a, b) {
		return b
	}
	return a
}

// latest returns the later of two beginnings.
func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
