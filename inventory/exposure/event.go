package exposure

import (
	"slices"
	"time"
)

// Event is what one movement of a spool does to its exposure.
type Event struct {
	Kind     Kind
	Seq      int64         // of the movement in the ledger
	At       time.Time     // when it took effect; of a drying its start; of a corrected opening the true instant, zero for "still sealed"
	Until    time.Time     // of a drying: its end
	Takes    time.Duration // of a drying: what it takes off the exposure; [All] is all of it
	Place    string        // the code of where the spool stands from then on, without spaces; empty is out in the open
	Corrects int64         // the movement that a correction sets right
}

// All is what a drying takes off that sets the exposure back to zero.
const All time.Duration = -1

// Kind is what an event does.
type Kind byte

// The kinds of event. Each is the letter by which a [Track] keeps it.
const (
	Put     Kind = 'p' // the spool stands in another place
	Open    Kind = 'o' // its sealed package is opened
	Dry     Kind = 'd' // it is dried
	Damage  Kind = 'x' // its sealed package is found torn: its exposure is not known
	End     Kind = 'e' // it is scrapped: nothing counts any more
	Moot    Kind = 'u' // the drying or damage it corrects never was
	Replace Kind = 'P' // the place where the movement it corrects put the spool was another
	Reopen  Kind = 'O' // the opening was at another time, or never
	Redry   Kind = 'D' // the drying it corrects was another
)

// stay is a stretch of time in one place, up to the next stay.
type stay struct {
	from  time.Time
	place string
	seq   int64
}

// drying is one stay in an oven.
type drying struct {
	Span
	takes time.Duration
	seq   int64
}

// history is what events come to once each correction is put where it belongs.
type history struct {
	stays    []stay
	dryings  []drying // by their end
	damages  []stay
	opened   time.Time // zero while it is sealed
	openedBy int64
	end      time.Time // zero while it goes on
	endedBy  int64
}

// add takes the next event in, in the order of the ledger.
func (h *history) add(e Event) {
	switch e.Kind {
	case Put:
		h.put(e)
	case Open:
		h.opened, h.openedBy = e.At, e.Seq
	case Reopen:
		h.opened, h.openedBy = e.At, e.Seq
	case Dry:
		h.dryings = append(h.dryings, drying{Span{e.At, e.Until}, e.Takes, e.Seq})
	case Damage:
		h.damages = append(h.damages, stay{from: e.At, seq: e.Seq})
	case End:
		h.put(Event{At: e.At, Seq: e.Seq})
		h.end, h.endedBy = e.At, e.Seq
	case Moot:
		h.dryings = slices.DeleteFunc(h.dryings, func(d drying) bool { return d.seq == e.Corrects })
		h.damages = slices.DeleteFunc(h.damages, func(d stay) bool { return d.seq == e.Corrects })
	case Redry:
		for i, d := range h.dryings {
			if d.seq == e.Corrects {
				h.dryings[i] = drying{Span{e.At, e.Until}, e.Takes, e.Corrects}
			}
		}
	case Replace:
		h.replace(e)
	}
}

// put begins a stay. A scrapped spool that is put somewhere was scrapped by
// mistake: what was in between counts.
func (h *history) put(e Event) {
	h.end, h.endedBy = time.Time{}, 0
	h.stays = append(h.stays, stay{e.At, e.Place, e.Seq})
}

// replace puts the corrected place where the movement it corrects had put the
// spool. If that movement put it nowhere, or it was put elsewhere since, the
// spool stands in the corrected place from the correction on.
func (h *history) replace(e Event) {
	for i := range h.stays {
		if h.stays[i].seq == e.Corrects {
			h.stays[i].place = e.Place
		}
	}
	if n := len(h.stays); n == 0 || h.stays[n-1].place != e.Place || !h.end.IsZero() {
		h.put(e)
	}
}

// settle orders what corrections may have moved.
func (h *history) settle() {
	slices.SortStableFunc(h.dryings, func(a, b drying) int { return a.To.Compare(b.To) })
}
