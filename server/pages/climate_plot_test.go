package pages

import (
	"testing"
	"time"

	"wirehold/inventory"
)

func TestAPlotOfManyLoggersIsNotCutShort(t *testing.T) {
	t.Parallel()
	const day = inventory.ByDay
	tests := []struct {
		says    string
		length  time.Duration
		loggers int
		want    time.Duration
	}{
		{"a month of one", 31 * day, 1, inventory.ByHour},
		{"a month of twenty", 31 * day, 20, inventory.ByHour},
		{"a month of fifty", 31 * day, 50, day},
		{"ten years of one", 3653 * day, 1, day},
		{"ten years of twenty", 3653 * day, 20, 7 * day},
		{"ten years of a hundred", 3653 * day, 100, 28 * day},
		{"ten years of a thousand", 3653 * day, 1000, 28 * day},
	}
	for _, tt := range tests {
		if got := plotStep(tt.length, tt.loggers); got != tt.want {
			t.Errorf("%s: plotStep(%s, %d) = %s, want %s", tt.says, tt.length, tt.loggers, got, tt.want)
		}
	}
}
