package exposure

import (
	"strconv"
	"strings"
	"time"
)

// Track is a spool's events in a form short enough to be kept with the spool,
// so that the clock of ten thousand spools needs no look at the ledger: the
// events in the order of the ledger, each ended by a semicolon, its fields
// parted by spaces. "p 17 1772434800 K7Q2M-4;o 18 1772438400;" was put in a
// place and then opened. Times are seconds since 1970 in UTC; the fields are
//
//	p seq at place    o seq at    x seq at    e seq at    d seq from to takes
//	P seq at place corrects       O seq at    u seq corrects    D seq from to takes corrects
//
// where a dash is no place, 0 the zero time, and takes is in seconds or -1 for
// [All].
type Track string

// With returns the track with one more event.
func (t Track) With(e Event) Track {
	b := make([]byte, 0, len(t)+48)
	b = append(b, t...)
	b = append(b, byte(e.Kind), ' ')
	b = strconv.AppendInt(b, e.Seq, 10)
	number := func(n int64) { b = strconv.AppendInt(append(b, ' '), n, 10) }
	switch e.Kind {
	case Put, Replace:
		number(unix(e.At))
		b = append(append(b, ' '), orDash(e.Place)...)
	case Open, Reopen, Damage, End:
		number(unix(e.At))
	case Dry, Redry:
		number(unix(e.At))
		number(unix(e.Until))
		number(inSeconds(e.Takes))
	}
	if e.Kind == Replace || e.Kind == Redry || e.Kind == Moot {
		number(e.Corrects)
	}
	return Track(append(b, ';'))
}

// Events returns the events. What cannot be read is left out: only [Track.With]
// writes a track.
func (t Track) Events() []Event {
	var out []Event
	t.each(func(e Event) { out = append(out, e) })
	return out
}

// Places calls yield with every place that the track names, the empty one for
// out in the open; a place may come more than once.
func (t Track) Places(yield func(string)) {
	t.each(func(e Event) {
		if e.Kind == Put || e.Kind == Replace {
			yield(e.Place)
		}
	})
}

func (t Track) each(yield func(Event)) {
	rest := string(t)
	for rest != "" {
		var line string
		line, rest, _ = strings.Cut(rest, ";")
		if e, ok := event(line); ok {
			yield(e)
		}
	}
}

// event reads one event.
func event(line string) (e Event, ok bool) {
	if len(line) < 3 {
		return e, false
	}
	e.Kind = Kind(line[0])
	f := fields{rest: line[2:], ok: true}
	e.Seq = f.number()
	if e.Kind != Moot {
		e.At = f.time()
	}
	switch e.Kind {
	case Put, Replace:
		e.Place = f.word()
	case Dry, Redry:
		e.Until, e.Takes = f.time(), seconds(f.number())
	}
	if e.Kind == Replace || e.Kind == Redry || e.Kind == Moot {
		e.Corrects = f.number()
	}
	return e, f.ok && f.rest == ""
}

// fields are words parted by spaces.
type fields struct {
	rest string
	ok   bool
}

func (f *fields) next() string {
	var word string
	word, f.rest, _ = strings.Cut(f.rest, " ")
	f.ok = f.ok && word != ""
	return word
}

func (f *fields) word() string {
	if word := f.next(); word != "-" {
		return word
	}
	return ""
}

func (f *fields) number() int64 {
	n, err := strconv.ParseInt(f.next(), 10, 64)
	f.ok = f.ok && err == nil
	return n
}

func (f *fields) time() time.Time {
	n := f.number()
	if n == 0 {
		return time.Time{}
	}
	return time.Unix(n, 0).UTC()
}

func unix(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.Unix()
}

func inSeconds(d time.Duration) int64 {
	if d < 0 {
		return -1
	}
	return int64(d / time.Second)
}

func seconds(n int64) time.Duration {
	if n < 0 {
		return All
	}
	return time.Duration(n) * time.Second
}

func orDash(place string) string {
	if place == "" {
		return "-"
	}
	return place
}
