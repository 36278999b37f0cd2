package inventory

import (
	"testing"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// TestTheClockOnASetUpCard holds the sentences against figures worked out by
// hand. It is Wednesday 10:00 in UTC, 11:00 on the shop's wall.
func TestTheClockOnASetUpCard(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)
	wall := time.FixedZone("wall", 3600)
	limit := func(hours int, outcome fit.Outcome, p filler.Provenance) func(exposure.Clock) ExposureLimit {
		return func(c exposure.Clock) ExposureLimit {
			after := time.Duration(hours) * time.Hour
			l := ExposureLimit{ExposureTurn: fit.ExposureTurn{After: after, Outcome: outcome, Demanded: fit.Claim{Source: "a source", Provenance: p}}}
			if l.Left, _ = c.Left(after); c.Runs || l.Left < 0 {
				l.RunsOut = at.Add(l.Left)
			}
			return l
		}
	}
	sheet, memory := limit(72, fit.Stops, filler.DataSheet), limit(48, fit.Caution, filler.Memory)
	open := func(hours float64, runs bool) exposure.Clock {
		return exposure.Clock{At: at, OpenedAt: at.Add(-200 * time.Hour), Exposed: time.Duration(hours * float64(time.Hour)), Runs: runs}
	}
	tests := []struct {
		name           string
		clock          exposure.Clock
		limits         []func(exposure.Clock) ExposureLimit
		outcome        fit.Outcome
		says, do, also string
		sure           bool
	}{
		{"open and running", open(31, true), []func(exposure.Clock) ExposureLimit{sheet}, fit.Passed,
			"Open 31 h of 72 h. Runs out Fri 04:00 if it stays out.", "", "", true},
		{"running out today", open(66.5, true), []func(exposure.Clock) ExposureLimit{sheet}, fit.Passed,
			"Open 66 h 30 min of 72 h. Runs out 16:30 if it stays out.", "", "", true},
		{"running out soon", open(70.5, true), []func(exposure.Clock) ExposureLimit{sheet}, fit.Caution,
			"Open 70 h 30 min of 72 h. Runs out 12:30 if it stays out.", ExposureNearAlert.Advice(), "", true},
		{"soon out of time in a dry cabinet", open(70.5, false), []func(exposure.Clock) ExposureLimit{sheet}, fit.Passed,
			"Open 70 h 30 min of 72 h. The clock stands: it is kept dry. 1 h 30 min left.", "", "", true},
		{"in a dry cabinet", open(31, false), []func(exposure.Clock) ExposureLimit{sheet}, fit.Passed,
			"Open 31 h of 72 h. The clock stands: it is kept dry. 41 h left.", "", "", true},
		{"past what stops", open(80, true), []func(exposure.Clock) ExposureLimit{sheet}, fit.Stops,
			"Open 80 h: past its limit of 72 h since 03:00.", "Weld no more with it. Bring it back to the store.", "", true},
		{"past what is from memory", open(80, true), []func(exposure.Clock) ExposureLimit{memory}, fit.Caution,
			"Open 80 h: past its limit of 48 h since Tue 03:00.", "Ask the welding engineer before it is used.", "", false},
		{"before what is from memory", open(31, true), []func(exposure.Clock) ExposureLimit{memory}, fit.Caution,
			"Open 31 h of 48 h. Runs out Thu 04:00 if it stays out.", "", "", false},
		{"past what cautions, before what stops", open(50, true), []func(exposure.Clock) ExposureLimit{memory, sheet}, fit.Caution,
			"Open 50 h of 72 h. Runs out Thu 09:00 if it stays out.", "", "It is past 48 h (memory: a source): ask the welding engineer before it is used.", true},
		{"before both", open(31, true), []func(exposure.Clock) ExposureLimit{memory, sheet}, fit.Passed,
			"Open 31 h of 72 h. Runs out Fri 04:00 if it stays out.", "", "From Thu 04:00 on, past 48 h (memory: a source), ask the welding engineer.", true},
		{"no limit", open(31, true), nil, fit.Caution,
			"Open 31 h.", "Nobody gives a limit: read the data sheet, or ask the welding engineer.", "", false},
		{"sealed", exposure.Clock{At: at}, []func(exposure.Clock) ExposureLimit{sheet}, fit.Passed,
			"Sealed: its clock has not begun. Once opened it may stay out 72 h.", "", "", true},
		{"sealed without a limit", exposure.Clock{At: at}, nil, fit.Passed, "Sealed: its clock has not begun.", "", "", false},
		{"torn while sealed", exposure.Clock{At: at, Unknown: true}, []func(exposure.Clock) ExposureLimit{sheet}, fit.Stops,
			"Exposure not known: its package was damaged while it was sealed.", "Do not weld with it: take a fresh spool.", "Or dry it.", true},
		{"torn, and no limit stops", exposure.Clock{At: at, Unknown: true}, []func(exposure.Clock) ExposureLimit{memory}, fit.Caution,
			"Exposure not known: its package was damaged while it was sealed.", "Ask the welding engineer before it is used.", "Or dry it.", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			e := Exposure{Clock: tt.clock, Near: 4 * time.Hour}
			if tt.clock.Unknown {
				e.Remedy = "Or dry it."
			}
			for _, l := range tt.limits {
				e.Limits = append(e.Limits, l(tt.clock))
			}
			got := e.Card(wall)
			if got.Outcome != tt.outcome || got.Says != tt.says || got.Do != tt.do || got.Also != tt.also || got.Sure != tt.sure {
				t.Errorf("Card of %+v:\ngot  %s %q %q %q sure %t\nwant %s %q %q %q sure %t", tt.clock, got.Outcome, got.Says, got.Do, got.Also, got.Sure, tt.outcome, tt.says, tt.do, tt.also, tt.sure)
			}
		})
	}
}
