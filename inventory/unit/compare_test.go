package unit

import (
	"testing"

	"pgregory.net/rapid"
)

func TestStressAtLeast(t *testing.T) {
	tests := []struct {
		name       string
		have, want string
		ok         bool
	}{
		{"the same strength", "70 ksi", "70 ksi", true},
		{"70 ksi is 483 MPa, not 490", "70 ksi", "490 MPa", false},
		{"70 ksi is 483 MPa", "70 ksi", "483 MPa", true},
		{"490 MPa is 71 ksi", "490 MPa", "70 ksi", true},
		{"480 MPa rounds to 70 ksi", "480 MPa", "70 ksi", true},
		{"479 MPa rounds to 69 ksi", "479 MPa", "70 ksi", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			have, errHave := ParseStress(tt.have)
			want, errWant := ParseStress(tt.want)
			if got := have.AtLeast(want); got != tt.ok || errHave != nil || errWant != nil {
				t.Errorf("%v.AtLeast(%v): got %v, want %v (%v, %v)", have, want, got, tt.ok, errHave, errWant)
			}
		})
	}
}

func TestToughnessMeets(t *testing.T) {
	tests := []struct {
		name       string
		have, want string
		ok         bool
	}{
		{"the same test", "20 ft-lbf at -20 degF", "20 ft-lbf at -20 degF", true},
		{"colder is better", "20 ft-lbf at -40 degF", "20 ft-lbf at -20 degF", true},
		{"warmer is not", "20 ft-lbf at 0 degF", "20 ft-lbf at -20 degF", false},
		{"less energy is not", "20 ft-lbf at -20 degF", "40 ft-lbf at -20 degF", false},
		{"20 ft-lbf is 27 J and -20 degF is -29 degC", "20 ft-lbf at -20 degF", "27 J at -29 degC", true},
		{"-29 degC does not hold at -30", "20 ft-lbf at -20 degF", "27 J at -30 degC", false},
		{"27 J is 20 ft-lbf", "27 J at -30 degC", "20 ft-lbf at -20 degF", true},
		{"-40 is -40", "27 J at -40 degC", "20 ft-lbf at -40 degF", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			have, errHave := ParseToughness(tt.have)
			want, errWant := ParseToughness(tt.want)
			if got := have.Meets(want); got != tt.ok || errHave != nil || errWant != nil {
				t.Errorf("%v.Meets(%v): got %v, want %v (%v, %v)", have, want, got, tt.ok, errHave, errWant)
			}
		})
	}
}

func TestNothingGivenIsZero(t *testing.T) {
	if !(Stress{}).IsZero() || (Stress{70, KSI}).IsZero() || !(Toughness{}).IsZero() || (Toughness{Energy: Energy{20, Joule}}).IsZero() {
		t.Error("IsZero: a zero value is given, or a given one is zero")
	}
}

// TestStrongerStaysStronger: more strength never meets less of a demand.
func TestStrongerStaysStronger(t *testing.T) {
	units := rapid.SampledFrom([]StressUnit{KSI, MPa})
	rapid.Check(t, func(t *rapid.T) {
		have := Stress{rapid.IntRange(1, 2000).Draw(t, "have"), units.Draw(t, "unit")}
		want := Stress{rapid.IntRange(1, 2000).Draw(t, "want"), units.Draw(t, "other")}
		more := Stress{have.Value + rapid.IntRange(1, 100).Draw(t, "more"), have.Unit}
		if have.AtLeast(want) && !more.AtLeast(want) {
			t.Fatalf("%v meets %v and %v does not", have, want, more)
		}
	})
}
