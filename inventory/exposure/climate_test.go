package exposure

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"wirehold/inventory/unit"
)

// clockTime is an instant of the day that the tables are about.
func clockTime(hour, minute int) time.Time {
	return time.Date(2031, 3, 4, hour, minute, 0, 0, time.UTC)
}

func reads(logger string, hour, minute int, degrees unit.Celsius, percent unit.Humidity) Reading {
	return Reading{logger, clockTime(hour, minute), Air{degrees * unit.Degree, percent * unit.Percent}}
}

func ptr[T any](v T) *T { return &v }

// cabinet has 40 %RH at most, 15 to 45 °C, and an hour between readings.
func cabinet(hour int) Limits {
	return Limits{From: clockTime(hour, 0), MaxHumidity: ptr(40 * unit.Percent), Lowest: ptr(15 * unit.Degree), Highest: ptr(45 * unit.Degree), MaxGap: time.Hour}
}

func TestNotDry(t *testing.T) {
	undry := func(fromHour, fromMinute, toHour, toMinute int, c Cause) Undry {
		return Undry{Span{clockTime(fromHour, fromMinute), clockTime(toHour, toMinute)}, c}
	}
	tests := []struct {
		name     string
		readings []Reading
		limits   []Limits
		want     []Undry // of 8:00 to 12:00
	}{
		{"without limits it is dry by declaration", nil, nil, nil},
		{"limits with nothing in them declare it dry", nil, []Limits{{From: clockTime(0, 0), MaxGap: time.Hour}}, nil},
		{"before the first reading it is not dry", []Reading{reads("a", 11, 30, 20, 30)}, []Limits{cabinet(0)}, []Undry{undry(8, 0, 11, 30, Silent)}},
		{"before its limits it is dry by declaration", []Reading{reads("a", 11, 30, 20, 30)}, []Limits{cabinet(11)}, []Undry{undry(11, 0, 11, 30, Silent)}},
		{"air at the limit keeps it", []Reading{reads("a", 8, 0, 15, 40), reads("a", 9, 0, 45, 40), reads("a", 10, 0, 45, 0), reads("a", 11, 0, 20, 30)}, []Limits{cabinet(0)}, nil},
		{"silence counts from the instant the gap ran out", []Reading{reads("a", 8, 0, 20, 30), reads("a", 11, 0, 20, 30)}, []Limits{cabinet(0)}, []Undry{undry(9, 0, 11, 0, Silent)}},
		{"out from that reading until the next inside", []Reading{reads("a", 8, 0, 20, 30), reads("a", 8, 30, 20, 41), reads("a", 9, 0, 20, 50), reads("a", 9, 30, 20, 40), reads("a", 10, 30, 20, 30), reads("a", 11, 30, 20, 30)},
			[]Limits{cabinet(0)}, []Undry{undry(8, 30, 9, 30, TooDamp)}},
		{"out and then silent has two causes", []Reading{reads("a", 7, 30, 20, 50), reads("a", 9, 30, 12, 50), reads("a", 11, 30, 50, 30)},
			[]Limits{cabinet(0)}, []Undry{undry(8, 0, 8, 30, TooDamp), undry(8, 30, 9, 30, Silent), undry(9, 30, 10, 30, TooDamp|TooCold), undry(10, 30, 11, 30, Silent), undry(11, 30, 12, 0, TooWarm)}},
		{"of two loggers the worse counts", []Reading{reads("a", 8, 0, 20, 30), reads("b", 8, 0, 20, 45), reads("a", 8, 30, 20, 30), reads("b", 9, 0, 20, 35), reads("a", 9, 30, 20, 30), reads("b", 10, 0, 20, 30), reads("a", 10, 30, 20, 30), reads("b", 11, 0, 20, 30)},
			[]Limits{cabinet(0)}, []Undry{undry(8, 0, 9, 0, TooDamp)}},
		{"a logger that falls silent leaves the word to the other", []Reading{reads("b", 8, 0, 20, 45), reads("a", 8, 0, 20, 30), reads("a", 9, 0, 20, 30), reads("a", 10, 0, 20, 30), reads("a", 11, 0, 20, 30)},
			[]Limits{cabinet(0)}, []Undry{undry(8, 0, 9, 0, TooDamp)}},
		{"a reading is held against the limits in force", []Reading{reads("a", 8, 0, 20, 30), reads("a", 9, 0, 20, 30), reads("a", 10, 0, 20, 30), reads("a", 11, 0, 20, 30)},
			[]Limits{cabinet(0), {From: clockTime(9, 30), MaxHumidity: ptr(25 * unit.Percent), MaxGap: time.Hour}, {From: clockTime(11, 30), MaxGap: time.Hour}}, []Undry{undry(9, 30, 11, 30, TooDamp)}},
		{"what follows the window does not matter", []Reading{reads("a", 8, 0, 20, 30), reads("a", 13, 0, 20, 30)}, []Limits{cabinet(0)}, []Undry{undry(9, 0, 12, 0, Silent)}},
	}
	for _, tt := range tests {
		for range 2 {
			if diff := cmp.Diff(tt.want, NotDry(tt.readings, tt.limits, clockTime(8, 0), clockTime(12, 0))); diff != "" {
				t.Errorf("%s: NotDry(%v) (-want +got):\n%s", tt.name, tt.readings, diff)
			}
			for i := range tt.readings { // late readings, out of order
				j := len(tt.readings) - 1 - i
				if i < j {
					tt.readings[i], tt.readings[j] = tt.readings[j], tt.readings[i]
				}
			}
		}
	}
}

// causeAt is the definition at one instant, worked out anew from all there is.
func causeAt(readings []Reading, limits []Limits, at time.Time) Cause {
	var force *Limits
	for i, l := range limits {
		if !l.From.After(at) && (force == nil || !l.From.Before(force.From)) {
			force = &limits[i]
		}
	}
	if force == nil || force.Declared() {
		return 0
	}
	latest := map[string]Reading{}
	for _, r := range readings {
		if l, ok := latest[r.Logger]; !r.At.After(at) && (!ok || r.At.After(l.At)) {
			latest[r.Logger] = r
		}
	}
	cause, speaks := Cause(0), false
	for _, r := range latest {
		if at.Sub(r.At) < force.MaxGap {
			speaks = true
			cause |= force.Breaks(r.Air)
		}
	}
	if !speaks {
		return Silent
	}
	return cause
}

// TestNotDryByTheMinute holds NotDry against a clock that asks the definition
// at each minute of random histories.
func TestNotDryByTheMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := clockTime(0, 0)
		minute := func(label string) time.Time {
			return start.Add(time.Duration(rapid.IntRange(0, 600).Draw(t, label)) * time.Minute)
		}
		met := map[Reading]bool{}
		var readings []Reading
		for range rapid.IntRange(0, 30).Draw(t, "readings") {
			r := Reading{Logger: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "logger"), At: minute("at")}
			if met[r] {
				continue
			}
			met[r] = true
			r.Air = Air{unit.Celsius(rapid.IntRange(10, 50).Draw(t, "t")) * unit.Degree, unit.Humidity(rapid.IntRange(30, 45).Draw(t, "rh")) * unit.Percent}
			readings = append(readings, r)
		}
		var limits []Limits
		for range rapid.IntRange(0, 3).Draw(t, "limits") {
			l := Limits{From: minute("from"), MaxGap: time.Duration(rapid.IntRange(1, 120).Draw(t, "gap")) * time.Minute}
			if rapid.Bool().Draw(t, "damp") {
				l.MaxHumidity = ptr(unit.Humidity(rapid.IntRange(30, 45).Draw(t, "most")) * unit.Percent)
			}
			if rapid.Bool().Draw(t, "warm") {
				l.Lowest, l.Highest = ptr(15*unit.Degree), ptr(40*unit.Degree)
			}
			limits = append(limits, l)
		}
		from, to := minute("window"), minute("end")
		got := NotDry(readings, limits, from, to)
		for at := start; at.Before(start.Add(12 * time.Hour)); at = at.Add(time.Minute) {
			want, have := Cause(0), Cause(0)
			if !at.Before(from) && at.Before(to) {
				want = causeAt(readings, limits, at)
			}
			for _, u := range got {
				if u.Holds(at) {
					have |= u.Cause
				}
			}
			if have != want {
				t.Fatalf("NotDry(%v, %v, %s, %s) at %s: got %q, want %q", readings, limits, from, to, at, have, want)
			}
		}
		for i := 1; i < len(got); i++ {
			if got[i].From.Before(got[i-1].To) || got[i].From.Equal(got[i-1].To) && got[i].Cause == got[i-1].Cause {
				t.Fatalf("NotDry: %v and %v are not apart", got[i-1], got[i])
			}
		}
	})
}
