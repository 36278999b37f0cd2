package fit

import (
	"errors"
	"fmt"
	"testing"

	"wirehold/inventory/unit"
)

func TestWriteIsSprintf(t *testing.T) {
	for _, c := range []struct {
		format string
		args   []any
	}{
		{"plain", nil},
		{"100 %% of it", nil},
		{"%s at the start, %s in the middle, %s", []any{"a", "b", "c"}},
		{"%s and %s", []any{DCEP, FCAWG}},
		{"%s of %s", []any{unit.Grams(1200), Gas{CO2: 100}}},
		{"%s, %s, %s", []any{KnurledV, &Gas{Argon: 75, CO2: 25}, errors.New("why")}},
		{"%d of %s", []any{3, "spools"}},
		{"%s holds %d", []any{"it", 3}},
		{"%q is no %s", []any{"x", "weight"}},
		{"%s is 5 %% of %s", []any{"it", "all"}},
		{"an argument too few %s %s", []any{"a"}},
		{"an argument too many", []any{"a"}},
		{"a text with %s", []any{"%d in it"}},
	} {
		if got, want := write(c.format, c.args), fmt.Sprintf(c.format, c.args...); got != want {
			t.Errorf("write(%q, %v) = %q, want %q", c.format, c.args, got, want)
		}
	}
}
