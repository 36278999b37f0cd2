package inventory

import (
	"testing"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

func TestOpeningSomewhere(t *testing.T) {
	at := time.Date(2026, 3, 2, 10, 0, 0, 0, time.UTC)
	place := func(code Code, dry bool, degrees unit.Celsius, percent unit.Humidity, ago time.Duration) PlaceClimate {
		return PlaceClimate{Place: Place{Code: code, Name: string(code), DryKept: dry},
			Latest: []exposure.Reading{{Logger: "L", At: at.Add(-ago), Air: exposure.Air{Temperature: degrees * unit.Degree, Humidity: percent * unit.Percent}}}}
	}
	yard := place("yard", false, 8, 60, time.Hour)
	bay := place("bay", false, 25, 60, time.Hour) // dew point 16.7 °C
	tests := []struct {
		name  string
		from  PlaceClimate
		all   []PlaceClimate
		does  exposure.Condensation // empty where nothing is known
		where Code
	}{
		{"a cold spool into a warm bay", yard, []PlaceClimate{yard, bay}, exposure.Sweats, "bay"},
		{"the dampest air counts", yard, []PlaceClimate{place("cell", false, 20, 30, 0), bay}, exposure.Sweats, "bay"},
		{"a spool that is a little above the dew point", place("rack", false, 19, 40, 0), []PlaceClimate{bay}, exposure.NearDewPoint, "bay"},
		{"a spool as warm as the bay", place("rack", false, 24, 40, 0), []PlaceClimate{bay}, exposure.StaysDry, "bay"},
		{"the air of a dry cabinet is no air to open in", yard, []PlaceClimate{place("cabinet", true, 25, 60, 0)}, "", ""},
		{"a reading of yesterday says nothing", yard, []PlaceClimate{place("bay", false, 25, 60, 24*time.Hour)}, "", ""},
		{"nor does one of where the spool lies", place("yard", false, 8, 60, 24*time.Hour), []PlaceClimate{bay}, "", ""},
		{"no reading at all", PlaceClimate{}, []PlaceClimate{bay}, "", ""},
		{"its own air is not held against it", yard, []PlaceClimate{yard}, "", ""},
	}
	for _, tt := range tests {
		o, known := OpeningSomewhere(tt.from, tt.all, at)
		if o.Does != tt.does || known != (tt.does != "") || o.Into.Code != tt.where {
			t.Errorf("%s: OpeningSomewhere: got %q in %q, known %v; want %q in %q", tt.name, o.Does, o.Into.Code, known, tt.does, tt.where)
		}
	}
}
