package exposure_test

import (
	"fmt"
	"testing"
	"time"

	"wirehold/inventory/exposure"
)

var opened = time.Date(2026, 3, 6, 15, 0, 0, 0, time.UTC)

func TestSince(t *testing.T) {
	tests := []struct {
		name       string
		opened, at time.Time
		want       time.Duration
	}{
		{"a sealed spool is not exposed", time.Time{}, opened, 0},
		{"at the opening it begins", opened, opened, 0},
		{"a weekend counts whole", opened, opened.Add(62 * time.Hour), 62 * time.Hour},
		{"to the second", opened, opened.Add(time.Second), time.Second},
		{"before the opening there is none", opened, opened.Add(-time.Hour), 0},
	}
	for _, tt := range tests {
		if got := exposure.Since(tt.opened, tt.at); got != tt.want {
			t.Errorf("%s: Since(%v, %v) = %v, want %v", tt.name, tt.opened, tt.at, got, tt.want)
		}
	}
}

func TestRunsOutIsWhereSinceReachesTheLimit(t *testing.T) {
	// 72 h: AWS D1.8, cl. 6, as told by Practical Welding Today, May 2009
	// (testdata/exposure_rules.csv, E001).
	end := exposure.RunsOut(opened, 72*time.Hour)
	if got := exposure.Since(opened, end); got != 72*time.Hour {
		t.Errorf("Since(opened, RunsOut(opened, 72 h)) = %v, want 72 h", got)
	}
	if end := exposure.RunsOut(time.Time{}, time.Hour); !end.IsZero() {
		t.Errorf("a sealed spool runs out at %v", end)
	}
}

func ExampleSince() {
	friday := time.Date(2026, 3, 6, 15, 0, 0, 0, time.UTC)
	monday := time.Date(2026, 3, 9, 5, 0, 0, 0, time.UTC)
	fmt.Println(exposure.Since(friday, monday))
	// Output: 62h0m0s
}
