package exposure

import (
	"slices"
	"time"
)

// intervals returns what happened to the spool up to the instant at.
func (h *history) intervals(air Places, at time.Time) (out []Interval) {
	limit := at
	if !h.end.IsZero() {
		limit = sooner(h.end, at)
	}
	by := h.boundaries()
	for i, s := range h.stays {
		stay := Span{s.from, sooner(h.until(i), limit)}
		if stay.Empty() {
			continue
		}
		for _, in := range h.parts(air[s.place], s.place, stay) {
			in.Began, in.Ended = by[in.From.Unix()], by[in.To.Unix()]
			if in.To.Equal(at) && !in.To.Equal(h.end) {
				in.Ended = 0
			}
			out = append(out, in)
		}
	}
	return out
}

// boundaries names the movement at each instant at which one made a
// difference; the last of several.
func (h *history) boundaries() map[int64]int64 {
	by := map[int64]int64{}
	for _, d := range h.dryings {
		by[d.From.Unix()], by[d.To.Unix()] = d.seq, d.seq
	}
	if !h.opened.IsZero() {
		by[h.opened.Unix()] = h.openedBy
	}
	for _, s := range h.stays {
		by[s.from.Unix()] = s.seq
	}
	return by
}

// parts parts one stay by what holds in it.
func (h *history) parts(d Dryness, place string, stay Span) (out []Interval) {
	opened := stay
	sealed := stay
	if !h.opened.IsZero() {
		opened.From = latest(stay.From, h.opened)
		sealed.To = sooner(stay.To, h.opened)
	} else {
		opened.To = opened.From
	}
	var ovens []Span
	for _, o := range h.dryings {
		ovens = append(ovens, o.Span)
	}
	add := func(spans []Span, counts bool, why Reason) {
		for _, s := range spans {
			out = append(out, Interval{Span: s, Place: place, Counts: counts, Why: why})
		}
	}
	open := Subtract([]Span{opened}, ovens)
	add(Union(sealed), false, Sealed)
	add(Intersect([]Span{opened}, ovens), false, Dried)
	add(Intersect(open, d.dry), false, DryKept)
	bad := Subtract(d.kept, d.dry)
	add(Intersect(open, bad), true, OutOfAir)
	why := InTheOpen
	if place == "" {
		why = OutOpen
	}
	add(Subtract(open, d.kept), true, why)
	slices.SortFunc(out, func(a, b Interval) int { return a.From.Compare(b.From) })
	return out
}
