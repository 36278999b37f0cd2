package inventory

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// DayTime is a time of day on the clock on the shop's wall, in minutes after
// midnight: 0 to 1439.
type DayTime int

func (t DayTime) good() bool { return t >= 0 && t < 24*60 }

// String writes it as the clock shows it: "15:30".
func (t DayTime) String() string { return fmt.Sprintf("%02d:%02d", int(t)/60, int(t)%60) }

// ParseDayTime reads what String writes; "7:05" too.
func ParseDayTime(text string) (DayTime, error) {
	at, err := time.Parse("15:04", strings.TrimSpace(text))
	if err != nil {
		return 0, fmt.Errorf("%q is no time of day: write it as 15:30", clip(text))
	}
	return DayTime(at.Hour()*60 + at.Minute()), nil
}

// on returns the instant at which the clock in the zone of day shows t on that
// day: the first, where it goes back and shows t twice. Where it skips t in
// spring, it is the instant as if it had not.
func (t DayTime) on(day time.Time) time.Time {
	at := time.Date(day.Year(), day.Month(), day.Day(), int(t)/60, int(t)%60, 0, 0, day.Location())
	if before := at.Add(-time.Hour); dayTimeOf(before) == dayTimeOf(at) {
		return before
	}
	return at
}

// dayTimeOf returns what the clock shows at an instant, in the instant's zone.
func dayTimeOf(at time.Time) DayTime { return DayTime(at.Hour()*60 + at.Minute()) }

// Weekdays is a set of days of the week; zero is none.
type Weekdays uint8

// weekdays are the days as they are written, in the order of ISO 8601.
var weekdays = [...]struct {
	name string
	day  time.Weekday
}{{"Mon", time.Monday}, {"Tue", time.Tuesday}, {"Wed", time.Wednesday}, {"Thu", time.Thursday}, {"Fri", time.Friday}, {"Sat", time.Saturday}, {"Sun", time.Sunday}}

// Has reports whether the day is in the set.
func (w Weekdays) Has(day time.Weekday) bool { return w&(1<<day) != 0 }

// String writes the days, runs of three and more as one: "Mon-Fri", "Sat,Sun".
func (w Weekdays) String() string {
	var parts []string
	for i := 0; i < len(weekdays); i++ {
		if !w.Has(weekdays[i].day) {
			continue
		}
		last := i
		for last+1 < len(weekdays) && w.Has(weekdays[last+1].day) {
			last++
		}
		switch last - i {
		case 0:
			parts = append(parts, weekdays[i].name)
		case 1:
			parts = append(parts, weekdays[i].name, weekdays[last].name)
		default:
			parts = append(parts, weekdays[i].name+"-"+weekdays[last].name)
		}
		i = last
	}
	return strings.Join(parts, ",")
}

// parseWeekdays reads what String writes, in any case; "Fri-Mon" goes over the
// end of the week.
func parseWeekdays(text string) (Weekdays, error) {
	var out Weekdays
	for part := range strings.SplitSeq(text, ",") {
		first, last, span := strings.Cut(strings.TrimSpace(part), "-")
		from, to := weekdayNamed(first), weekdayNamed(last)
		if !span {
			to = from
		}
		if from < 0 || to < 0 {
			return 0, fmt.Errorf("%q names no days: write them as Mon-Fri or Sat,Sun", clip(text))
		}
		for i := from; ; i = (i + 1) % len(weekdays) {
			out |= 1 << weekdays[i].day
			if i == to {
				break
			}
		}
	}
	return out, nil
}

// weekdayNamed returns the place in weekdays of the day so named; -1 if there
// is none.
func weekdayNamed(name string) int {
	for i, d := range weekdays {
		if strings.EqualFold(strings.TrimSpace(name), d.name) {
			return i
		}
	}
	return -1
}

// ShiftEnd is when a shift ends, on which days.
type ShiftEnd struct {
	Days Weekdays
	At   DayTime
}

// String writes it as it is typed: "Mon-Fri 15:30".
func (e ShiftEnd) String() string { return e.Days.String() + " " + e.At.String() }

// ParseShiftEnd reads what String writes. What it cannot read is [Invalid] for
// the field "shift_ends".
func ParseShiftEnd(text string) (ShiftEnd, error) {
	i := strings.LastIndexAny(strings.TrimSpace(text), " \t")
	if i < 0 {
		return ShiftEnd{}, Invalidf("shift_ends", "%q is no end of a shift: write days and a time, such as Mon-Fri 15:30", clip(text))
	}
	text = strings.TrimSpace(text)
	days, err := parseWeekdays(text[:i])
	if err != nil {
		return ShiftEnd{}, Invalidf("shift_ends", "%v", err)
	}
	at, err := ParseDayTime(text[i:])
	if err != nil {
		return ShiftEnd{}, Invalidf("shift_ends", "%v", err)
	}
	return ShiftEnd{days, at}, nil
}

// NextShiftEnd returns the first end of a shift after the instant at, in the
// zone of at. ok is false where the shop has none.
func (s Shop) NextShiftEnd(at time.Time) (end time.Time, ok bool) {
	for days := range 9 { // a clock that is moved may put this week's end before at
		for _, end := range s.shiftEndsOn(at.AddDate(0, 0, days-1)) {
			if end.After(at) {
				return end, true
			}
		}
	}
	return time.Time{}, false
}

// LastShiftEnd returns the latest end of a shift at or before the instant at,
// in the zone of at. ok is false where the shop has none.
func (s Shop) LastShiftEnd(at time.Time) (end time.Time, ok bool) {
	for days := range 9 {
		for _, end := range slices.Backward(s.shiftEndsOn(at.AddDate(0, 0, 1-days))) {
			if !end.After(at) {
				return end, true
			}
		}
	}
	return time.Time{}, false
}

// shiftEndsOn returns when shifts end on the day of the instant, in order.
func (s Shop) shiftEndsOn(day time.Time) (out []time.Time) {
	for _, e := range s.ShiftEnds {
		if e.Days.Has(day.Weekday()) {
			out = append(out, e.At.on(day))
		}
	}
	slices.SortFunc(out, time.Time.Compare)
	return out
}

// QuietHours is the time of day in which only what is urgent is sent. Equal
// times are no quiet hours.
type QuietHours struct{ From, To DayTime }

// None reports whether there are no quiet hours.
func (q QuietHours) None() bool { return q.From == q.To }

// At reports whether the instant is in the quiet hours, in its own zone. They
// begin with From, end before To, and may go over midnight.
func (q QuietHours) At(at time.Time) bool {
	t := dayTimeOf(at)
	if q.From <= q.To {
		return t >= q.From && t < q.To
	}
	return t >= q.From || t < q.To
}

// String writes them as they are typed: "20:00-06:00"; empty for none.
func (q QuietHours) String() string {
	if q.None() {
		return ""
	}
	return q.From.String() + "-" + q.To.String()
}

// ParseQuietHours reads what String writes. What it cannot read is [Invalid]
// for the field "quiet".
func ParseQuietHours(text string) (QuietHours, error) {
	if strings.TrimSpace(text) == "" {
		return QuietHours{}, nil
	}
	first, last, ok := strings.Cut(text, "-")
	from, err := ParseDayTime(first)
	if err != nil || !ok {
		return QuietHours{}, Invalidf("quiet", "write two times, such as 20:00-06:00")
	}
	to, err := ParseDayTime(last)
	if err != nil {
		return QuietHours{}, Invalidf("quiet", "%v", err)
	}
	if from == to {
		return QuietHours{}, Invalidf("quiet", "%s is the beginning and the end: leave it empty where there are no quiet hours", from)
	}
	return QuietHours{from, to}, nil
}
