package schedule

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/robfig/cron/v3"
)

// turns are the instants at which a job is due: the same in every replica,
// whenever it was started.
type turns struct {
	cron.Schedule
	words string
}

// parseSpec reads when a job is due. A line of cron counts in UTC, where no
// hour is skipped or comes twice: "*/5 * * * *". "06:00", "Mon 06:00" and
// "Mon,Thu 06:00" are times of day on the clock on the shop's wall, in zone.
func parseSpec(spec string, zone *time.Location) (turns, error) {
	if clock, words, ok := parseWallClock(spec, zone); ok {
		return turns{clock, words}, nil
	}
	s, err := cron.NewParser(cron.SecondOptional | cron.Minute | cron.Hour | cron.Dom | cron.Month | cron.Dow).Parse(spec)
	if err != nil {
		return turns{}, err
	}
	if in, ok := s.(*cron.SpecSchedule); ok {
		in.Location = time.UTC
	}
	if s.Next(time.Unix(0, 0).UTC()).IsZero() {
		return turns{}, fmt.Errorf("no instant is like that")
	}
	return turns{s, cronWords(spec)}, nil
}

// latest returns the latest turn at or before the instant at; the zero time if
// there was none within four years.
func (t turns) latest(at time.Time) (turn time.Time) {
	at = at.UTC()
	for _, back := range [...]time.Duration{time.Minute, time.Hour, 25 * time.Hour, 8 * 24 * time.Hour, 366 * 24 * time.Hour, 4 * 366 * 24 * time.Hour} {
		for next := t.Next(at.Add(-back)); !next.IsZero() && !next.After(at); next = t.Next(next) {
			turn = next
		}
		if !turn.IsZero() {
			return turn
		}
	}
	return turn
}

// overdue reports whether a job that ran last at ran should have run twice
// since.
func (t turns) overdue(ran, at time.Time) bool {
	return at.After(t.Next(t.Next(ran.UTC())))
}

// wallClock is a time of day on the shop's wall. It comes once each local day:
// where clocks go forward over it, at the first instant after the gap; where
// they go back and show it twice, the first time.
type wallClock struct {
	zone         *time.Location
	days         []time.Weekday // none is every day
	hour, minute int
}

var dayNames = [...]string{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"}

func parseWallClock(spec string, zone *time.Location) (clock wallClock, words string, ok bool) {
	days, at, hasDays := strings.Cut(strings.TrimSpace(spec), " ")
	if !hasDays {
		days, at = "", days
	}
	t, err := time.Parse("15:04", at)
	if err != nil || len(at) != len("15:04") {
		return wallClock{}, "", false
	}
	clock = wallClock{zone: zone, hour: t.Hour(), minute: t.Minute()}
	when := "every day"
	if hasDays {
		var names []string
		for name := range strings.SplitSeq(days, ",") {
			day := slices.IndexFunc(dayNames[:], func(d string) bool { return strings.EqualFold(d, name) })
			if day < 0 {
				return wallClock{}, "", false
			}
			clock.days = append(clock.days, time.Weekday(day))
			names = append(names, time.Weekday(day).String())
		}
		when = "every " + strings.Join(names, " and ")
	}
	return clock, fmt.Sprintf("%s at %s by the shop's clock (%s)", when, at, zone), true
}

// Next returns the first turn after the instant after. It makes a wallClock a
// [cron.Schedule].
func (w wallClock) Next(after time.Time) time.Time {
	year, month, day := after.In(w.zone).Date()
	for n := -1; n <= 8; n++ {
		noon := time.Date(year, month, day+n, 12, 0, 0, 0, time.UTC) // names the day alone
		if len(w.days) > 0 && !slices.Contains(w.days, noon.Weekday()) {
			continue
		}
		if turn := w.on(noon); turn.After(after) {
			return turn
		}
	}
	return time.Time{}
}

// on returns the instant at which the clock shows the time on that day for the
// first time, or has gone over it.
func (w wallClock) on(day time.Time) time.Time {
	// Each offset of the zone near that day is tried, earliest result first. An
	// instant that does not show the time lies in a gap or is of another offset.
	shown := time.Date(day.Year(), day.Month(), day.Day(), w.hour, w.minute, 0, 0, time.UTC)
	for at := shown.Add(-26 * time.Hour); ; {
		local := at.In(w.zone)
		_, offset := local.Zone()
		_, ends := local.ZoneBounds()
		turn := shown.Add(-time.Duration(offset) * time.Second)
		if ends.IsZero() || turn.Before(ends) {
			if turn.Before(at) {
				turn = at // the clock went over it at the change just before
			}
			return turn.UTC()
		}
		at = ends
	}
}

// cronWords says what the commonest lines of cron mean; the line itself if it
// is another.
func cronWords(spec string) string {
	fields := strings.Fields(spec)
	if len(fields) == 6 && fields[0] == "0" {
		fields = fields[1:]
	}
	if len(fields) == 6 {
		if n, ok := every(fields[0]); ok && strings.Join(fields[1:], "") == "*****" {
			return fmt.Sprintf("every %d seconds", n)
		}
	}
	if len(fields) != 5 || strings.Join(fields[2:], "") != "***" {
		return "by the cron line " + spec + " in UTC"
	}
	minute, errMinute := strconv.Atoi(fields[0])
	hour, errHour := strconv.Atoi(fields[1])
	n, repeated := every(fields[0])
	switch {
	case fields[0] == "*" && fields[1] == "*":
		return "every minute"
	case repeated && fields[1] == "*":
		return fmt.Sprintf("every %d minutes", n)
	case errMinute == nil && fields[1] == "*":
		return fmt.Sprintf("every hour at %d minutes past", minute)
	case errMinute == nil && errHour == nil:
		return fmt.Sprintf("every day at %02d:%02d UTC", hour, minute)
	}
	return "by the cron line " + spec + " in UTC"
}

// every reads "*/5".
func every(field string) (int, bool) {
	after, ok := strings.CutPrefix(field, "*/")
	n, err := strconv.Atoi(after)
	return n, ok && err == nil
}
