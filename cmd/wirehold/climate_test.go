package main

import (
	"strings"
	"testing"
)

// The figures are those of testdata/psychrometrics.csv: P001 to P063.
func TestClimateDewpoint(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		args  []string
		holds []string // of what is printed, or of the error
		fails bool
	}{
		{"an ordinary day", []string{"--t", "25C", "--rh", "60"}, []string{"dew point", "16.7 °C", "13.78 g/m³", "25 °C, 60 %RH", "Magnus formula over water, WMO No. 8"}, false},
		{"degrees Fahrenheit and a percent sign", []string{"--t", "77F", "--rh", "50%"}, []string{"13.9 °C", "56.9 °F"}, false},
		{"frost", []string{"--t=-5C", "--rh", "70"}, []string{"dew point", "-9.6 °C", "frost point", "-8.5 °C", "over ice"}, false},
		{"JSON", []string{"--t", "25C", "--rh", "50", "--json"}, []string{`"dew_point_c":13.85`, `"absolute_humidity_g_m3":11.48`, `"formula":"Magnus formula over water`}, false},
		{"a temperature without a scale", []string{"--t", "25", "--rh", "60"}, []string{`--t "25" is not a temperature`}, true},
		{"more than saturated", []string{"--t", "25C", "--rh", "101"}, []string{"--rh", "from 0 to 100"}, true},
		{"an oven", []string{"--t", "120C", "--rh", "5"}, []string{"holds from -45 °C to 60 °C"}, true},
	}
	for _, tt := range tests {
		out, err := command(t, append([]string{"climate", "dewpoint"}, tt.args...)...)
		if (err != nil) != tt.fails {
			t.Errorf("%s: climate dewpoint %v: got %v, want failure %v", tt.name, tt.args, err, tt.fails)
			continue
		}
		if err != nil {
			out = err.Error()
		}
		for _, want := range tt.holds {
			if !strings.Contains(out, want) {
				t.Errorf("%s: climate dewpoint %v: got\n%s\nwant %q in it", tt.name, tt.args, out, want)
			}
		}
	}
}
