package inventory

import "time"

// Day is a day of the calendar as papers and boxes print it: "2026-03-02",
// without a zone. Empty is not known. Days sort as texts do.
type Day string

// DayOf returns the day that an instant falls on in its own zone; empty for the
// zero time.
func DayOf(t time.Time) Day {
	if t.IsZero() {
		return ""
	}
	return Day(t.Format(time.DateOnly))
}

// Time returns the start of the day in UTC; the zero time if the day is not
// known.
func (d Day) Time() time.Time {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return time.Time{}
	}
	return t
}

// sound reports whether d is a day that wire may have been made, tested or
// used on: of the years 1950 to 2199. Another is a slip of the finger.
func (d Day) sound() bool {
	t := d.Time()
	return t.Year() >= 1950 && t.Year() < 2200
}

// begun reports whether the day has begun anywhere on earth: where days begin
// first they are 14 h ahead of UTC.
func (d Day) begun(at time.Time) bool { return d <= DayOf(at.UTC().Add(14*time.Hour)) }
