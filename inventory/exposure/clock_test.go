package exposure_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/exposure"
)

var cabinet = exposure.Places{"K1": exposure.NewDryness([]exposure.Span{{}}, nil)}

func hour(n float64) time.Time { return zero.Add(time.Duration(n * float64(time.Hour))) }

func put(seq int64, at float64, place string) exposure.Event {
	return exposure.Event{Kind: exposure.Put, Seq: seq, At: hour(at), Place: place}
}

func opened(seq int64, at float64) exposure.Event {
	return exposure.Event{Kind: exposure.Open, Seq: seq, At: hour(at)}
}

func dried(seq int64, from, until float64, takes time.Duration) exposure.Event {
	return exposure.Event{Kind: exposure.Dry, Seq: seq, At: hour(from), Until: hour(until), Takes: takes}
}

func TestClock(t *testing.T) {
	base := []exposure.Event{put(1, 0, "A1"), opened(2, 10)}
	with := func(more ...exposure.Event) []exposure.Event {
		return append(append([]exposure.Event{}, base...), more...)
	}
	tests := []struct {
		name    string
		events  []exposure.Event
		at      float64
		exposed time.Duration
		runs    bool
		unknown bool
	}{
		{"a sealed spool is not exposed", base[:1], 500, 0, false, false},
		{"before the opening there is none", base, 9, 0, false, false},
		{"a weekend counts whole", base, 72, 62 * time.Hour, true, false},
		{"a dry-kept place stops it", with(put(3, 20, "K1")), 500, 10 * time.Hour, false, false},
		{"it goes on where it is taken out again", with(put(3, 20, "K1"), put(4, 300, "")), 301, 11 * time.Hour, true, false},
		{"a place that nobody knows is in the open", with(put(3, 20, "K9")), 30, 20 * time.Hour, true, false},
		{"in the oven it stands", with(dried(3, 20, 26, 0)), 25, 10 * time.Hour, false, false},
		{"a drying takes all off", with(dried(3, 20, 26, exposure.All)), 27, time.Hour, true, false},
		{"a drying takes some off", with(dried(3, 20, 26, 7*time.Hour)), 26, 3 * time.Hour, true, false},
		{"a drying takes no more off than there is", with(dried(3, 20, 26, 70*time.Hour)), 26, 0, true, false},
		{"a drying that never was takes nothing off", with(dried(3, 20, 26, exposure.All), exposure.Event{Kind: exposure.Moot, Seq: 4, Corrects: 3}), 27, 17 * time.Hour, true, false},
		{"an opening is set right to an earlier time", with(exposure.Event{Kind: exposure.Reopen, Seq: 3, At: hour(4)}), 12, 8 * time.Hour, true, false},
		{"a spool that was never opened is sealed", with(exposure.Event{Kind: exposure.Reopen, Seq: 3}), 50, 0, false, false},
		{"a corrected place counts from the movement that was wrong", with(put(3, 20, "A2"), exposure.Event{Kind: exposure.Replace, Seq: 4, At: hour(90), Place: "K1", Corrects: 3}), 100, 10 * time.Hour, false, false},
		{"a correction of another movement counts from itself on", with(exposure.Event{Kind: exposure.Replace, Seq: 4, At: hour(90), Place: "K1", Corrects: 2}), 100, 80 * time.Hour, false, false},
		{"a scrapped spool's clock has stopped", with(exposure.Event{Kind: exposure.End, Seq: 3, At: hour(15)}), 100, 5 * time.Hour, false, false},
		{"what was scrapped by mistake was out in the open", with(exposure.Event{Kind: exposure.End, Seq: 3, At: hour(15)}, exposure.Event{Kind: exposure.Replace, Seq: 4, At: hour(20), Place: "K1", Corrects: 3}), 30, 5 * time.Hour, false, false},
		{"a damaged package leaves the exposure unknown", []exposure.Event{put(1, 0, "K1"), {Kind: exposure.Damage, Seq: 2, At: hour(1)}}, 2, 0, false, true},
		{"unknown it stays when it is opened", []exposure.Event{put(1, 0, "K1"), {Kind: exposure.Damage, Seq: 2, At: hour(1)}, opened(3, 5)}, 6, 0, false, true},
		{"a whole drying makes it known", []exposure.Event{put(1, 0, "A1"), {Kind: exposure.Damage, Seq: 2, At: hour(1)}, opened(3, 5), dried(4, 5, 9, exposure.All)}, 11, 2 * time.Hour, true, false},
		{"a drying in part does not", []exposure.Event{put(1, 0, "A1"), {Kind: exposure.Damage, Seq: 2, At: hour(1)}, opened(3, 5), dried(4, 5, 9, 500*time.Hour)}, 11, 2 * time.Hour, true, true},
		{"damage that never was is none", []exposure.Event{put(1, 0, "A1"), {Kind: exposure.Damage, Seq: 2, At: hour(1)}, {Kind: exposure.Moot, Seq: 3, Corrects: 2}}, 11, 0, false, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var track exposure.Track
			for _, e := range tt.events {
				track = track.With(e)
			}
			if diff := cmp.Diff(tt.events, track.Events()); diff != "" {
				t.Errorf("%q does not read back (-want +got):\n%s", track, diff)
			}
			c := track.Clock(cabinet, hour(tt.at))
			if c.Exposed != tt.exposed || c.Runs != tt.runs || c.Unknown != tt.unknown {
				t.Errorf("%v at %v h: exposed %v, runs %v, unknown %v; want %v, %v, %v", track, tt.at, c.Exposed, c.Runs, c.Unknown, tt.exposed, tt.runs, tt.unknown)
			}
			if whole := exposure.Reckon(tt.events, cabinet, hour(tt.at)); whole.Exposed != c.Exposed || whole.Runs != c.Runs || whole.Unknown != c.Unknown {
				t.Errorf("Reckon says %+v, the track %+v", whole, c)
			}
		})
	}
}

func TestIntervalsNameWhatBeganAndEndedThem(t *testing.T) {
	places := exposure.Places{"K1": exposure.NewDryness([]exposure.Span{{To: hour(40)}}, []exposure.Span{{From: hour(25), To: hour(27)}})}
	events := []exposure.Event{put(1, 0, "A1"), opened(2, 10), put(5, 20, "K1"), dried(7, 42, 48, exposure.All), put(7, 48, "A1")}
	type line struct {
		From, To     float64
		Place        string
		Counts       bool
		Why          exposure.Reason
		Began, Ended int64
	}
	var got []line
	for _, in := range exposure.Reckon(events, places, hour(50)).Intervals {
		got = append(got, line{in.From.Sub(zero).Hours(), in.To.Sub(zero).Hours(), in.Place, in.Counts, in.Why, in.Began, in.Ended})
	}
	want := []line{
		{0, 10, "A1", false, exposure.Sealed, 1, 2},
		{10, 20, "A1", true, exposure.InTheOpen, 2, 5},
		{20, 25, "K1", false, exposure.DryKept, 5, 0},
		{25, 27, "K1", true, exposure.OutOfAir, 0, 0},
		{27, 40, "K1", false, exposure.DryKept, 0, 0},
		{40, 42, "K1", true, exposure.InTheOpen, 0, 7}, // the shop calls it dry-kept no more
		{42, 48, "K1", false, exposure.Dried, 7, 7},
		{48, 50, "A1", true, exposure.InTheOpen, 7, 0},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("intervals (-want +got):\n%s", diff)
	}
}

// TestPropertiesOfTheClock holds what must be true of every history on the
// random ones of the brute-force test.
func TestPropertiesOfTheClock(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	future := 0
	for n := range 3000 {
		w := newWorld(r)
		track, at := w.track(), second(60+r.IntN(day-61))
		c := track.Clock(w.air, at)
		later := track.Clock(w.air, at.Add(time.Duration(r.IntN(300))*time.Second))
		if limit := 500 * time.Second; later.Exposed > c.Exposed {
			left, _ := c.Left(limit)
			if then, _ := later.Left(limit); then > left {
				t.Fatalf("history %d: %v more exposure leaves %v, before %v", n, later.Exposed-c.Exposed, then, left)
			}
		}
		if got := split(r, w).Clock(w.air, at); got.Exposed != c.Exposed || got.Runs != c.Runs {
			t.Fatalf("history %d: a stay split in two gives %v, before %v\n%v", n, got.Exposed, c.Exposed, track)
		}
		dry := exposure.Places{"D": exposure.NewDryness([]exposure.Span{{}}, nil)}
		for p, d := range w.air {
			dry[p] = d
		}
		still := track.With(exposure.Event{Kind: exposure.Put, Seq: 99, At: second(day + 200), Place: "D"}) // after the last oven
		if a, b := still.Clock(dry, second(day+200)), still.Clock(dry, second(10*day)); a.Exposed != b.Exposed {
			t.Fatalf("history %d: a dry stay adds %v\n%v", n, b.Exposed-a.Exposed, still)
		}
		if !c.OpenedAt.IsZero() {
			future += w.runsOut(t, n, track, at, c)
		}
	}
	if future < 300 {
		t.Errorf("only %d histories run out after the instant asked", future)
	}
}

// split returns the track with one more movement to where the spool stands.
func split(r *rand.Rand, w *world) (t exposure.Track) {
	in := r.IntN(len(w.events))
	for i, e := range w.events {
		t = t.With(e)
		next := second(day)
		if i+1 < len(w.events) {
			next = w.events[i+1].At
		}
		if i == in && e.Kind == exposure.Put && next.After(e.At) && (i+1 == len(w.events) || w.events[i+1].Kind == exposure.Put) {
			e.At, e.Seq = e.At.Add(next.Sub(e.At)/2).Truncate(time.Second), 1000
			t = t.With(e)
		}
	}
	return t
}

// runsOut checks that at the instant the exposure is the limit, and a second
// before it is not. It returns 1 if that instant is to come.
func (w *world) runsOut(t *testing.T, n int, track exposure.Track, at time.Time, c exposure.Clock) int {
	t.Helper()
	if past := c.Exposed / 2; past >= time.Second {
		end := track.RunsOut(w.air, at, past)
		if track.Clock(w.air, end).Exposed < past || track.Clock(w.air, end.Add(-time.Second)).Exposed >= past && end.After(c.OpenedAt) && !w.resetAt(end) {
			t.Fatalf("history %d at %v: %v was reached at %v, where the clock is %v\n%v", n, at, past, end, track.Clock(w.air, end).Exposed, track)
		}
	}
	end := track.RunsOut(w.air, at, c.Exposed+time.Hour)
	if end.IsZero() == c.Runs || c.Runs && end.Sub(at) != time.Hour {
		t.Fatalf("history %d at %v: an hour more runs out at %v, and the clock runs: %v", n, at, end, c.Runs)
	}
	if c.Runs {
		return 1
	}
	return 0
}

func (w *world) resetAt(at time.Time) bool {
	i := int(at.Sub(zero) / time.Second)
	return i < day && w.off[i] != 0
}

func ExampleTrack_Clock() {
	friday := time.Date(2026, 3, 6, 15, 0, 0, 0, time.UTC)
	t := exposure.Track("").
		With(exposure.Event{Kind: exposure.Put, Seq: 1, At: friday, Place: "A1"}).
		With(exposure.Event{Kind: exposure.Open, Seq: 2, At: friday})
	monday := time.Date(2026, 3, 9, 5, 0, 0, 0, time.UTC)
	fmt.Println(t.Clock(nil, monday).Exposed)
	fmt.Println(t.RunsOut(nil, monday, 72*time.Hour).Format(time.DateTime))
	// Output:
	// 62h0m0s
	// 2026-03-09 15:00:00
}
