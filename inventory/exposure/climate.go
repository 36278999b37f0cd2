package exposure

import (
	"slices"
	"strings"
	"time"

	"wirehold/inventory/unit"
)

// Reading is what one logger measured in a place at one instant. Air that a
// person read off a gauge is a reading of the gauge.
type Reading struct {
	Logger string
	At     time.Time
	Air    Air
}

// Limits are what a dry-kept place has to keep from an instant on, until the
// next limits begin. Nil leaves a side open; with all three nil the place is
// dry by declaration: nobody watches it, and nothing is held against it.
type Limits struct {
	From        time.Time
	MaxHumidity *unit.Humidity
	Lowest      *unit.Celsius
	Highest     *unit.Celsius
	MaxGap      time.Duration // how long a reading speaks for the place
}

// Declared reports whether the place is dry by declaration.
func (l Limits) Declared() bool {
	return l.MaxHumidity == nil && l.Lowest == nil && l.Highest == nil
}

// Cause is why a place was not dry; zero is that it was.
type Cause uint8

// The causes. More than one of the first three may hold at once.
const (
	TooDamp Cause = 1 << iota
	TooCold
	TooWarm
	Silent // no logger has spoken for longer than the allowed gap, or ever
)

func (c Cause) String() string {
	var says []string
	for i, word := range [...]string{"too damp", "too cold", "too warm", "no reading"} {
		if c&(1<<i) != 0 {
			says = append(says, word)
		}
	}
	return strings.Join(says, ", ")
}

// Breaks returns what of the limits the air breaks; zero if nothing. Air at a
// limit keeps it.
func (l Limits) Breaks(a Air) (c Cause) {
	if l.MaxHumidity != nil && a.Humidity > *l.MaxHumidity {
		c |= TooDamp
	}
	if l.Lowest != nil && a.Temperature < *l.Lowest {
		c |= TooCold
	}
	if l.Highest != nil && a.Temperature > *l.Highest {
		c |= TooWarm
	}
	return c
}

// Undry is a stretch of time in which a dry-kept place was not dry.
type Undry struct {
	Span
	Cause Cause
}

// NotDry returns the stretches of [from, to) in which a dry-kept place was not
// dry, in order, each with its cause; two that touch have different causes. to
// must have an end.
//
// At any instant the limits that began last are in force; before the first
// ones the place is dry by declaration. A reading speaks for the place from its
// instant on, until its logger's next one, and for no longer than the gap. The
// place is dry while at least one reading speaks and every one that does keeps
// the limits: of two loggers that disagree the worse one counts, and a logger
// that falls silent leaves the word to the others. So a place is out from the
// first reading that breaks a limit until that logger's next reading inside,
// and where nobody has spoken for longer than the gap, from the very instant at
// which the gap ran out. Before the first reading of a place with limits nobody
// has spoken: it is not dry.
//
// The readings need not be in order, and those from one gap before from on
// suffice. NotDry is pure.
func NotDry(readings []Reading, limits []Limits, from, to time.Time) []Undry {
	readings = slices.Clone(readings)
	slices.SortStableFunc(readings, func(a, b Reading) int { return a.At.Compare(b.At) })
	limits = slices.Clone(limits)
	slices.SortStableFunc(limits, func(a, b Limits) int { return a.From.Compare(b.From) })
	var out []Undry
	for i, l := range limits {
		end := to
		if i+1 < len(limits) {
			end = sooner(to, limits[i+1].From)
		}
		begin := latest(from, l.From)
		if l.Declared() || !begin.Before(end) {
			continue
		}
		w := watch{limits: l, at: begin, speaking: map[string]Reading{}, out: out}
		w.through(readings, end)
		out = w.out
	}
	return out
}

// watch walks through time under one set of limits.
type watch struct {
	limits   Limits
	at       time.Time
	speaking map[string]Reading // the latest of each logger, unless it is past its gap
	out      []Undry
}

// through walks from w.at to end; the readings are in order.
func (w *watch) through(readings []Reading, end time.Time) {
	first := w.at.Add(-w.limits.MaxGap)
	i, _ := slices.BinarySearchFunc(readings, first, func(r Reading, t time.Time) int { return r.At.Compare(t) })
	for ; i < len(readings) && readings[i].At.Before(end); i++ {
		w.until(latest(w.at, readings[i].At))
		w.speaking[readings[i].Logger] = readings[i]
	}
	w.until(end)
}

// until walks to the instant next, over which no logger says anything new.
func (w *watch) until(next time.Time) {
	for w.at.Before(next) {
		cause, end := Cause(0), next
		for logger, r := range w.speaking {
			falls := r.At.Add(w.limits.MaxGap)
			if !falls.After(w.at) {
				delete(w.speaking, logger)
				continue
			}
			cause |= w.limits.Breaks(r.Air)
			end = sooner(end, falls)
		}
		if len(w.speaking) == 0 {
			cause = Silent
		}
		w.add(Undry{Span{w.at, end}, cause})
		w.at = end
	}
}

// add notes a stretch, as one with the last where they touch for one cause.
func (w *watch) add(u Undry) {
	last := len(w.out) - 1
	switch {
	case u.Cause == 0:
	case last >= 0 && w.out[last].Cause == u.Cause && w.out[last].To.Equal(u.From):
		w.out[last].To = u.To
	default:
		w.out = append(w.out, u)
	}
}

// Spans returns the stretches without their causes, as one where they touch.
func Spans(undry []Undry) []Span {
	spans := make([]Span, len(undry))
	for i, u := range undry {
		spans[i] = u.Span
	}
	return Union(spans...)
}
