package exposure_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"wirehold/inventory/exposure"
)

// world is what truly happened to one spool in the first day seconds, and what
// was written down of it. It is counted second by second, with no spans, no
// track and no corrections: nothing of the clock is used.
type world struct {
	places map[string][]bool // by second: whether the place was dry
	where  []string          // by second
	open   []bool
	oven   []bool
	off    []int // by second: what a drying that ends there takes off; -1 is all

	events []exposure.Event // the ledger, with its mistakes and their corrections
	air    exposure.Places
	seq    int64
}

const day = 2400 // seconds

var placeNames = []string{"", "shelf", "cabinet-1", "cabinet-2"}

func newWorld(r *rand.Rand) *world {
	w := &world{places: map[string][]bool{}, air: exposure.Places{}, where: make([]string, day), open: make([]bool, day), oven: make([]bool, day), off: make([]int, day)}
	for _, p := range placeNames {
		w.places[p] = make([]bool, day)
	}
	for _, p := range placeNames[2:] {
		w.dryAndDamp(r, p)
	}
	w.live(r)
	return w
}

// dryAndDamp draws when a cabinet was dry-kept and when its air was not dry.
func (w *world) dryAndDamp(r *rand.Rand, place string) {
	kept, outside := randomDay(r), randomDay(r)
	for i := range w.places[place] {
		in := func(spans []exposure.Span) bool {
			return slices.ContainsFunc(spans, func(s exposure.Span) bool { return s.Holds(second(i)) })
		}
		w.places[place][i] = in(kept) && !in(outside)
	}
	w.air[place] = exposure.NewDryness(kept, outside)
}

func randomDay(r *rand.Rand) []exposure.Span {
	out := make([]exposure.Span, r.IntN(5))
	for i := range out {
		from := r.IntN(day)
		out[i] = span(from, from+r.IntN(day/2))
		if r.IntN(5) == 0 {
			out[i] = span(from, -1)
		}
	}
	return out
}

func second(i int) time.Time { return zero.Add(time.Duration(i) * time.Second) }

func (w *world) write(e exposure.Event) int64 {
	w.seq++
	e.Seq = w.seq
	w.events = append(w.events, e)
	return e.Seq
}

// live does things to the spool, in order, and writes them down: now and then
// wrongly, and then rightly.
func (w *world) live(r *rand.Rand) {
	at, opened := r.IntN(50), false
	w.stand(at, "shelf")
	last := w.write(exposure.Event{Kind: exposure.Put, At: second(at), Place: "shelf"})
	for at += r.IntN(200); at < day; at += r.IntN(300) {
		switch deed := r.IntN(10); {
		case deed < 5:
			last = w.move(r, at, last)
		case deed < 7 && !opened:
			w.openAt(r, at)
			opened = true
		case deed < 9 && opened:
			at = w.dry(r, at)
		}
	}
}

func (w *world) stand(from int, place string) {
	for i := from; i < day; i++ {
		w.where[i] = place
	}
}

// move puts the spool somewhere. One in four is written down as another place,
// and set right later: in a later second, or in the same.
func (w *world) move(r *rand.Rand, at int, last int64) int64 {
	place := placeNames[r.IntN(len(placeNames))]
	w.stand(at, place)
	if r.IntN(4) > 0 {
		return w.write(exposure.Event{Kind: exposure.Put, At: second(at), Place: place})
	}
	wrong := w.write(exposure.Event{Kind: exposure.Put, At: second(at), Place: placeNames[r.IntN(len(placeNames))]})
	w.write(exposure.Event{Kind: exposure.Replace, At: second(at), Place: place, Corrects: wrong})
	return wrong
}

func (w *world) openAt(r *rand.Rand, at int) {
	truly := at
	if r.IntN(3) == 0 {
		truly = max(at-r.IntN(100), 50)
		for i := max(0, at-100); i < at; i++ {
			w.oven[i] = w.oven[i] && i >= truly // nothing is dried before it is opened here
		}
	}
	for i := truly; i < day; i++ {
		w.open[i] = true
	}
	wrong := w.write(exposure.Event{Kind: exposure.Open, At: second(at)})
	if truly != at {
		w.write(exposure.Event{Kind: exposure.Reopen, At: second(truly), Corrects: wrong})
	}
}

// dry puts the spool into the oven for a while and returns when it comes out.
// Some were never dried, and some for another time than was written down.
func (w *world) dry(r *rand.Rand, at int) int {
	end, takes := at+1+r.IntN(100), -1
	if r.IntN(3) == 0 {
		takes = r.IntN(200)
	}
	d := exposure.Event{Kind: exposure.Dry, At: second(at), Until: second(end), Takes: time.Duration(takes) * time.Second}
	if takes < 0 {
		d.Takes = exposure.All
	}
	switch r.IntN(4) {
	case 0:
		seq := w.write(d)
		w.write(exposure.Event{Kind: exposure.Moot, Corrects: seq})
		return end
	case 1:
		wrong := d
		wrong.Until, wrong.Takes = second(end-r.IntN(end-at)), 7*time.Second
		right := d
		right.Kind, right.Corrects = exposure.Redry, w.write(wrong)
		w.write(right)
	default:
		w.write(d)
	}
	for i := at; i < min(end, day); i++ {
		w.oven[i] = true
	}
	if end < day {
		w.off[end] = takes
		if takes >= 0 {
			w.off[end] = takes + 1 // 0 is no drying
		}
	}
	return end
}

// exposed counts the seconds before at.
func (w *world) exposed(at int) (n int) {
	for i := 0; i <= at; i++ {
		switch off := w.off[i]; {
		case off < 0:
			n = 0
		case off > 0:
			n = max(0, n-(off-1))
		}
		if i < at && w.open[i] && !w.oven[i] && !w.places[w.where[i]][i] {
			n++
		}
	}
	return n
}

func (w *world) track() (t exposure.Track) {
	for _, e := range w.events {
		t = t.With(e)
	}
	return t
}

// TestTheClockAgreesWithCountingSeconds holds both ways of the clock against
// the plainest there is, on 5,000 random histories.
func TestTheClockAgreesWithCountingSeconds(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 5))
	ran, dried, damp := 0, 0, 0
	for n := range 5000 {
		w := newWorld(r)
		at := 60 + r.IntN(day-61)
		want := time.Duration(w.exposed(at)) * time.Second
		quick, whole := w.track().Clock(w.air, second(at)), exposure.Reckon(w.events, w.air, second(at))
		if quick.Exposed != want || whole.Exposed != want {
			t.Fatalf("history %d at %d s: exposed %v by track and %v by events, counted %v\n%v\n%v", n, at, quick.Exposed, whole.Exposed, want, w.track(), w.air)
		}
		if runs := w.exposed(at+1) > w.exposed(at); w.off[at+1] == 0 && quick.Runs != runs {
			t.Fatalf("history %d at %d s: Runs = %v, counted %v\n%v", n, at, quick.Runs, runs, w.track())
		}
		w.intervals(t, n, at, whole)
		if want > 0 {
			ran++
		}
		dried += whole.Dryings
		for _, in := range whole.Intervals {
			if in.Why == exposure.OutOfAir {
				damp++
			}
		}
	}
	t.Logf("of 5,000 histories %d had exposure; %d dryings, %d spells of damp air in a cabinet", ran, dried, damp)
	if ran < 2000 || dried < 2000 || damp < 1000 {
		t.Errorf("the histories are too tame: %d with exposure, %d dryings, %d damp spells", ran, dried, damp)
	}
}

// intervals checks that the intervals follow on one another and say of each
// second what is true of it.
func (w *world) intervals(t *testing.T, n, at int, c exposure.Clock) {
	t.Helper()
	next := c.Intervals[0].From
	for _, in := range c.Intervals {
		if !in.From.Equal(next) || !in.To.After(in.From) {
			t.Fatalf("history %d at %d s: interval %+v does not follow on %v", n, at, in, next)
		}
		next = in.To
		for s := in.From; s.Before(in.To); s = s.Add(time.Second) {
			i := int(s.Sub(zero) / time.Second)
			if counts := w.open[i] && !w.oven[i] && !w.places[w.where[i]][i]; counts != in.Counts {
				t.Fatalf("history %d at %d s: second %d counts: %v, and the interval says %+v\n%v", n, at, i, counts, in, w.track())
			}
		}
	}
	if !next.Equal(second(at)) {
		t.Fatalf("history %d at %d s: the intervals end at %v", n, at, next)
	}
}
