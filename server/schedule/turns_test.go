package schedule

import (
	"strings"
	"testing"
	"time"
)

func zoneNamed(t *testing.T, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// TestAWallClockOnTheDaysOnWhichClocksChange names the instants in UTC. The
// days and hours of change are those of the IANA time zone database (files
// northamerica and europe): in New York at 2:00 to 3:00 on the second Sunday
// of March and back on the first of November, in Berlin at 2:00 to 3:00 and at
// 3:00 to 2:00 on the last Sundays of March and October.
func TestAWallClockOnTheDaysOnWhichClocksChange(t *testing.T) {
	t.Parallel()
	const newYork, berlin = "America/New_York", "Europe/Berlin"
	tests := []struct{ name, zone, spec, day, want string }{
		{"six in winter", newYork, "06:00", "2025-03-08", "2025-03-08T11:00:00Z"},
		{"six on the day the clocks go forward", newYork, "06:00", "2025-03-09", "2025-03-09T10:00:00Z"},
		{"an hour that is skipped comes when the clocks have gone over it", newYork, "02:30", "2025-03-09", "2025-03-09T07:00:00Z"},
		{"the first minute of the gap", newYork, "02:00", "2026-03-08", "2026-03-08T07:00:00Z"},
		{"the first minute after the gap", newYork, "03:00", "2026-03-08", "2026-03-08T07:00:00Z"},
		{"a skipped hour in 2027", newYork, "02:30", "2027-03-14", "2027-03-14T07:00:00Z"},
		{"six in summer", newYork, "06:00", "2025-11-01", "2025-11-01T10:00:00Z"},
		{"six on the day the clocks go back", newYork, "06:00", "2025-11-02", "2025-11-02T11:00:00Z"},
		{"an hour that comes twice is the first of the two", newYork, "01:30", "2025-11-02", "2025-11-02T05:30:00Z"},
		{"a doubled hour in 2026", newYork, "01:30", "2026-11-01", "2026-11-01T05:30:00Z"},
		{"the minute after the doubled hour", newYork, "02:00", "2027-11-07", "2027-11-07T07:00:00Z"},
		{"a skipped hour in Berlin", berlin, "02:30", "2025-03-30", "2025-03-30T01:00:00Z"},
		{"a skipped hour in Berlin in 2026", berlin, "02:30", "2026-03-29", "2026-03-29T01:00:00Z"},
		{"six in Berlin on the day the clocks go forward", berlin, "06:00", "2027-03-28", "2027-03-28T04:00:00Z"},
		{"a doubled hour in Berlin", berlin, "02:30", "2025-10-26", "2025-10-26T00:30:00Z"},
		{"a doubled hour in Berlin in 2026", berlin, "02:30", "2026-10-25", "2026-10-25T00:30:00Z"},
		{"six in Berlin on the day the clocks go back", berlin, "06:00", "2027-10-31", "2027-10-31T05:00:00Z"},
		{"midnight that is skipped", "America/Santiago", "00:00", "2025-09-07", "2025-09-07T04:00:00Z"},
	}
	for _, tt := range tests {
		t.Run(tt.name+" in "+tt.zone, func(t *testing.T) {
			t.Parallel()
			zone := zoneNamed(t, tt.zone)
			turns, err := parseSpec(tt.spec, zone)
			if err != nil {
				t.Fatal(err)
			}
			midnight, err := time.ParseInLocation(time.DateOnly, tt.day, zone)
			if err != nil {
				t.Fatal(err)
			}
			got := turns.Next(midnight.Add(-time.Second))
			if got.UTC().Format(time.RFC3339) != tt.want {
				t.Errorf("%s on %s in %s = %s, want %s", tt.spec, tt.day, tt.zone, got.UTC().Format(time.RFC3339), tt.want)
			}
			if again := turns.Next(got); again.Sub(got) < 22*time.Hour {
				t.Errorf("%s on %s in %s comes again after %s", tt.spec, tt.day, tt.zone, again.Sub(got))
			}
		})
	}
}

// TestAWallClockComesOnceEachLocalDay goes through each day of three years at
// each half hour, in zones that change by an hour, by half an hour and never.
func TestAWallClockComesOnceEachLocalDay(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"America/New_York", "Europe/Berlin", "Australia/Lord_Howe", "America/Santiago", "Asia/Tokyo", "UTC"} {
		zone := zoneNamed(t, name)
		for half := range 48 {
			spec := time.Date(2000, 1, 1, half/2, half%2*30, 0, 0, time.UTC).Format("15:04")
			turns, err := parseSpec(spec, zone)
			if err != nil {
				t.Fatal(err)
			}
			days := map[string]int{}
			end := time.Date(2028, 1, 1, 0, 0, 0, 0, zone)
			for turn := turns.Next(time.Date(2025, 1, 1, 0, 0, 0, 0, zone).Add(-time.Second)); turn.Before(end); turn = turns.Next(turn) {
				local := turn.In(zone)
				days[local.Format(time.DateOnly)]++
				if shown := local.Format("15:04"); shown < spec || shown > spec && turn.Add(-time.Minute).In(zone).Format("2006-01-02 15:04") >= local.Format("2006-01-02 ")+spec {
					t.Errorf("%s in %s came at %s", spec, name, local)
				}
			}
			if len(days) != 3*365 {
				t.Errorf("%s in %s came on %d days of three years, want 1095", spec, name, len(days))
			}
			for day, n := range days {
				if n != 1 {
					t.Errorf("%s in %s came %d times on %s, want once", spec, name, n, day)
				}
			}
		}
	}
}

func TestSpecs(t *testing.T) {
	t.Parallel()
	from := time.Date(2026, 11, 25, 10, 2, 3, 0, time.UTC) // a Wednesday
	tests := []struct{ spec, words, next, latest string }{
		{"*/5 * * * *", "every 5 minutes", "2026-11-25T10:05:00Z", "2026-11-25T10:00:00Z"},
		{"*/15 * * * * *", "every 15 seconds", "2026-11-25T10:02:15Z", "2026-11-25T10:02:00Z"},
		{"* * * * *", "every minute", "2026-11-25T10:03:00Z", "2026-11-25T10:02:00Z"},
		{"7 * * * *", "every hour at 7 minutes past", "2026-11-25T10:07:00Z", "2026-11-25T09:07:00Z"},
		{"30 2 * * *", "every day at 02:30 UTC", "2026-11-26T02:30:00Z", "2026-11-25T02:30:00Z"},
		{"0 0 1 1 *", "by the cron line 0 0 1 1 * in UTC", "2027-01-01T00:00:00Z", "2026-01-01T00:00:00Z"},
		{"0 0 29 2 *", "by the cron line 0 0 29 2 * in UTC", "2028-02-29T00:00:00Z", "2024-02-29T00:00:00Z"},
		{"06:00", "every day at 06:00 by the shop's clock (Europe/Berlin)", "2026-11-26T05:00:00Z", "2026-11-25T05:00:00Z"},
		{"mon 06:00", "every Monday at 06:00 by the shop's clock (Europe/Berlin)", "2026-11-30T05:00:00Z", "2026-11-23T05:00:00Z"},
		{"Wed,Thu 23:30", "every Wednesday and Thursday at 23:30 by the shop's clock (Europe/Berlin)", "2026-11-25T22:30:00Z", "2026-11-19T22:30:00Z"},
	}
	for _, tt := range tests {
		turns, err := parseSpec(tt.spec, zoneNamed(t, "Europe/Berlin"))
		if err != nil {
			t.Errorf("parseSpec(%q): %v", tt.spec, err)
			continue
		}
		next, latest := turns.Next(from).UTC().Format(time.RFC3339), turns.latest(from).UTC().Format(time.RFC3339)
		if turns.words != tt.words || next != tt.next || latest != tt.latest {
			t.Errorf("parseSpec(%q) is %q, next %s, latest %s; want %q, %s, %s", tt.spec, turns.words, next, latest, tt.words, tt.next, tt.latest)
		}
	}
	for _, spec := range []string{"", "every full moon", "6:00", "25:00", "Funday 06:00", "@every 5m", "0 0 30 2 *", "* * *"} {
		if _, err := parseSpec(spec, time.UTC); err == nil {
			t.Errorf("parseSpec(%q) makes sense, want an error", spec)
		}
	}
}

func TestAJobIsOverdueAfterTwiceItsInterval(t *testing.T) {
	t.Parallel()
	turns, err := parseSpec("*/5 * * * *", time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	ran := time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)
	for after, want := range map[time.Duration]bool{5 * time.Minute: false, 10 * time.Minute: false, 10*time.Minute + time.Second: true} {
		if got := turns.overdue(ran, ran.Add(after)); got != want {
			t.Errorf("overdue %s after the last run = %t, want %t", after, got, want)
		}
	}
	if strings.Contains(turns.words, "cron") {
		t.Errorf("words = %q", turns.words)
	}
}
