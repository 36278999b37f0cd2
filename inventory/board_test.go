package inventory

import (
	"slices"
	"testing"
	"time"

	"wirehold/inventory/fit"
)

func TestHowASpoolStandsOnTheBoard(t *testing.T) {
	at := time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)
	stop := exposureTurn{72 * time.Hour, fit.Stops, fit.Claim{Text: "72 h"}}
	caution := exposureTurn{24 * time.Hour, fit.Caution, fit.Claim{Text: "24 h"}}
	tests := []struct {
		name  string
		open  time.Duration // for how long; less than zero is sealed
		turns []exposureTurn
		stand BoardStand
		left  time.Duration
	}{
		{"a sealed one has no clock", -1, []exposureTurn{stop}, BoardSealed, 0},
		{"one that nobody gives a limit", time.Hour, nil, BoardUnknown, 0},
		{"just opened", 0, []exposureTurn{stop}, BoardInTime, 72 * time.Hour},
		{"a shift before its limit", 64 * time.Hour, []exposureTurn{stop}, BoardNear, 8 * time.Hour},
		{"at its limit", 72 * time.Hour, []exposureTurn{stop}, BoardNear, 0},
		{"a second past it", 72*time.Hour + time.Second, []exposureTurn{stop}, BoardPast, -time.Second},
		{"past a caution, and what is left is to the stop", 30 * time.Hour, []exposureTurn{caution, stop}, BoardCaution, 42 * time.Hour},
		{"past both", 80 * time.Hour, []exposureTurn{caution, stop}, BoardPast, -8 * time.Hour},
		{"past the only limit, which cautions", 25 * time.Hour, []exposureTurn{caution}, BoardCaution, -time.Hour},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := SpoolLine{Spool: Spool{Code: "W7K2-3"}}
			if tt.open >= 0 {
				s.OpenedAt = at.Add(-tt.open)
			}
			got := lineOnBoard(s, tt.turns, 8*time.Hour, at)
			if got.Stand != tt.stand || got.Left != tt.left || got.Limited && !got.RunsOut.Equal(at.Add(tt.left)) {
				t.Errorf("lineOnBoard(open %s, %v) = %s, left %s, runs out %s; want %s, left %s", tt.open, tt.turns, got.Stand, got.Left, got.RunsOut, tt.stand, tt.left)
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
