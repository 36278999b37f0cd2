package reorder_test

import (
	"testing"

	"wirehold/inventory/reorder"
	"wirehold/inventory/unit"
)

func TestShort(t *testing.T) {
	tests := []struct {
		name            string
		usable, minimum unit.Grams
		missing         unit.Grams
		short           bool
	}{
		{"below the minimum", 45_000, 60_000, 15_000, true},
		{"at the minimum", 60_000, 60_000, 0, false},
		{"above it", 75_000, 60_000, 0, false},
		{"a gram below", 59_999, 60_000, 1, true},
		{"no minimum is never short", 0, 0, 0, false},
	}
	for _, tt := range tests {
		if missing, short := reorder.Short(tt.usable, tt.minimum); missing != tt.missing || short != tt.short {
			t.Errorf("%s: Short(%v, %v) = %v, %v, want %v, %v", tt.name, tt.usable, tt.minimum, missing, short, tt.missing, tt.short)
		}
	}
}
