package inventory

import (
	"testing"
	"time"
)

func zoned(t *testing.T, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func TestShiftEndsRoundTrip(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, typed, want string }{
		{"a span of days", "Mon-Fri 15:30", "Mon-Fri 15:30"},
		{"single days in any case", "sun,SAT 6:05", "Sat,Sun 06:05"},
		{"over the end of the week", "Sat-Mon 22:00", "Mon,Sat,Sun 22:00"},
		{"every day", "Mon-Sun 00:00", "Mon-Sun 00:00"},
		{"no time", "Mon-Fri", ""},
		{"no such day", "Mon-Fry 15:30", ""},
		{"no such time", "Mon 24:00", ""},
		{"nothing", "", ""},
	}
	for _, tt := range tests {
		got, err := ParseShiftEnd(tt.typed)
		if (err == nil) != (tt.want != "") || err == nil && got.String() != tt.want {
			t.Errorf("%s: ParseShiftEnd(%q) = %q, %v, want %q", tt.name, tt.typed, got, err, tt.want)
		}
		if err == nil {
			if again, err := ParseShiftEnd(got.String()); err != nil || again != got {
				t.Errorf("%s: ParseShiftEnd(%q) = %v, %v, want %v", tt.name, got, again, err, got)
			}
		}
	}
}

func TestShiftEndsFollowTheClockOnTheWall(t *testing.T) {
	t.Parallel()
	lisbon := zoned(t, "Europe/Lisbon") // its clock goes on by an hour on 2026-03-29 at 01:00, back on 2026-10-25 at 02:00
	shop := Shop{ShiftEnds: []ShiftEnd{{1<<time.Monday | 1<<time.Tuesday | 1<<time.Wednesday | 1<<time.Thursday | 1<<time.Friday, 15*60 + 30}, {1 << time.Saturday, 12 * 60}}}
	nights := Shop{ShiftEnds: []ShiftEnd{{1 << time.Sunday, 90}}}
	tests := []struct {
		name           string
		shop           Shop
		at, last, next string // RFC 3339; an empty one is none
	}{
		{"in the week", shop, "2026-11-25T10:00:00Z", "2026-11-24T15:30:00Z", "2026-11-25T15:30:00Z"},
		{"at the end itself", shop, "2026-11-25T15:30:00Z", "2026-11-25T15:30:00Z", "2026-11-26T15:30:00Z"},
		{"over the weekend", shop, "2026-11-28T20:00:00Z", "2026-11-28T12:00:00Z", "2026-11-30T15:30:00Z"},
		{"across the spring change", shop, "2026-03-28T18:00:00Z", "2026-03-28T12:00:00Z", "2026-03-30T14:30:00Z"},
		{"across the autumn change", shop, "2026-10-24T18:00:00Z", "2026-10-24T11:00:00Z", "2026-10-26T15:30:00Z"},
		{"an end that the clock skips", nights, "2026-03-29T00:00:00Z", "2026-03-22T01:30:00Z", "2026-03-29T01:30:00Z"},
		{"an end that the clock shows twice ends one shift", nights, "2026-10-25T00:00:00Z", "2026-10-18T00:30:00Z", "2026-10-25T00:30:00Z"},
		{"no shifts", Shop{}, "2026-11-25T10:00:00Z", "", ""},
	}
	for _, tt := range tests {
		at, err := time.Parse(time.RFC3339, tt.at)
		if err != nil {
			t.Fatal(err)
		}
		for name, of := range map[string]struct {
			find func(time.Time) (time.Time, bool)
			want string
		}{"LastShiftEnd": {tt.shop.LastShiftEnd, tt.last}, "NextShiftEnd": {tt.shop.NextShiftEnd, tt.next}} {
			got, ok := of.find(at.In(lisbon))
			if ok != (of.want != "") || ok && got.UTC().Format(time.RFC3339) != of.want {
				t.Errorf("%s: %s(%s) = %s, %t, want %q", tt.name, name, tt.at, got.UTC().Format(time.RFC3339), ok, of.want)
			}
		}
	}
}

func TestQuietHours(t *testing.T) {
	t.Parallel()
	lisbon := zoned(t, "Europe/Lisbon")
	tests := []struct {
		name, typed, at string
		want            bool
	}{
		{"before they begin", "20:00-06:00", "2026-11-25T19:59:59Z", false},
		{"as they begin", "20:00-06:00", "2026-11-25T20:00:00Z", true},
		{"past midnight", "20:00-06:00", "2026-11-26T05:59:59Z", true},
		{"as they end", "20:00-06:00", "2026-11-26T06:00:00Z", false},
		{"in summer, by the clock on the wall", "20:00-06:00", "2026-07-01T19:00:00Z", true},
		{"within a day", "12:00-13:00", "2026-11-25T12:30:00Z", true},
		{"none", "", "2026-11-25T00:00:00Z", false},
	}
	for _, tt := range tests {
		q, err := ParseQuietHours(tt.typed)
		if err != nil || q.String() != tt.typed {
			t.Fatalf("%s: ParseQuietHours(%q) = %q, %v", tt.name, tt.typed, q, err)
		}
		at, err := time.Parse(time.RFC3339, tt.at)
		if err != nil {
			t.Fatal(err)
		}
		if got := q.At(at.In(lisbon)); got != tt.want {
			t.Errorf("%s: At(%s) = %t, want %t", tt.name, tt.at, got, tt.want)
		}
	}
	for _, typed := range []string{"20:00", "20-6", "20:00-25:00", "x-y", "06:00-06:00"} {
		if q, err := ParseQuietHours(typed); KindOf(err) != Invalid {
			t.Errorf("ParseQuietHours(%q) = %v, %v, want invalid", typed, q, err)
		}
	}
}
