package inventory

import (
	"slices"
	"testing"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
)

func TestHowASpoolStandsOnTheBoard(t *testing.T) {
	at := time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)
	stop := fit.ExposureTurn{After: 72 * time.Hour, Outcome: fit.Stops, Demanded: fit.Claim{Text: "72 h"}}
	caution := fit.ExposureTurn{After: 24 * time.Hour, Outcome: fit.Caution, Demanded: fit.Claim{Text: "24 h"}}
	tests := []struct {
		name  string
		open  time.Duration // for how long; less than zero is sealed
		turns []fit.ExposureTurn
		stand BoardStand
		left  time.Duration

		unknown bool
	}{
		{"a sealed one has no clock", -1, []fit.ExposureTurn{stop}, BoardSealed, 0, false},
		{"one that nobody gives a limit", time.Hour, nil, BoardUnknown, 0, false},
		{"just opened", 0, []fit.ExposureTurn{stop}, BoardInTime, 72 * time.Hour, false},
		{"a shift before its limit", 64 * time.Hour, []fit.ExposureTurn{stop}, BoardNear, 8 * time.Hour, false},
		{"at its limit", 72 * time.Hour, []fit.ExposureTurn{stop}, BoardNear, 0, false},
		{"a second past it", 72*time.Hour + time.Second, []fit.ExposureTurn{stop}, BoardPast, -time.Second, false},
		{"past a caution, and what is left is to the stop", 30 * time.Hour, []fit.ExposureTurn{caution, stop}, BoardCaution, 42 * time.Hour, false},
		{"past both", 80 * time.Hour, []fit.ExposureTurn{caution, stop}, BoardPast, -8 * time.Hour, false},
		{"one whose package was found damaged", time.Hour, []fit.ExposureTurn{stop}, BoardUnknown, 0, true},
		{"past the only limit, which cautions", 25 * time.Hour, []fit.ExposureTurn{caution}, BoardCaution, -time.Hour, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, clock := SpoolLine{Spool: Spool{Code: "W7K2-3"}}, exposure.Clock{At: at}
			if tt.open >= 0 {
				s.OpenedAt = at.Add(-tt.open)
				clock = exposure.Clock{At: at, OpenedAt: s.OpenedAt, Exposed: tt.open, Runs: true, Unknown: tt.unknown}
			}
			got := lineOnBoard(s, tt.turns, clock, 8*time.Hour)
			if got.Stand != tt.stand || got.Left != tt.left {
				t.Errorf("lineOnBoard(open %s, %v) = %s, left %s; want %s, left %s", tt.open, tt.turns, got.Stand, got.Left, tt.stand, tt.left)
			}
		})
	}
}

func TestTheBoardIsInOrderOfTimeLeft(t *testing.T) {
	line := func(code Code, stand BoardStand, left time.Duration) BoardLine {
		return BoardLine{SpoolLine: SpoolLine{Spool: Spool{Code: code}}, Stand: stand, Left: left, Limited: stand != BoardUnknown && stand != BoardSealed}
	}
	lines := []BoardLine{line("sealed", BoardSealed, 0), line("good", BoardInTime, 60*time.Hour), line("unknown", BoardUnknown, 0), line("near", BoardNear, time.Hour), line("past", BoardPast, -5*time.Hour)}
	slices.SortStableFunc(lines, byTimeLeft)
	var got []Code
	for _, l := range lines {
		got = append(got, l.Code)
	}
	if want := []Code{"past", "near", "good", "unknown", "sealed"}; !slices.Equal(got, want) {
		t.Errorf("order is %v, want %v", got, want)
	}
}
