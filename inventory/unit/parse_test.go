package unit

import (
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// printed is what a Parse function returned, as its String method writes it.
func printed[T fmt.Stringer](parse func(string) (T, error)) func(string) (string, error) {
	return func(text string) (string, error) {
		v, err := parse(text)
		if err != nil {
			return "", err
		}
		return v.String(), nil
	}
}

func TestParse(t *testing.T) {
	grams, length, speed := printed(ParseGrams), printed(ParseLength), printed(ParseSpeed)
	stress, toughness := printed(ParseStress), printed(ParseToughness)
	tests := []struct {
		name  string
		parse func(string) (string, error)
		text  string
		want  string // empty if the text must be refused
	}{
		{"kilograms", grams, "12.7 kg", "12.7 kg"},
		{"grams", grams, "450 g", "0.45 kg"},
		{"pounds to the gram", grams, "33 lb", "14.969 kg"},
		{"no space before the unit", grams, "15kg", "15 kg"},
		{"a unit in capitals", grams, "15 KG", "15 kg"},
		{"half a gram goes up", grams, "0.5 g", "0.001 kg"},
		{"a weight without a unit", grams, "12.7", ""},
		{"a weight below zero", grams, "-1 kg", ""},
		{"a weight with an exponent", grams, "1e3 g", ""},
		{"a unit without a weight", grams, "kg", ""},
		{"a weight in metres", grams, "3 m", ""},
		{"a weight past all reason", grams, "99999999999999999 kg", ""},
		{"millimetres", length, "1.2 mm", "1.2 mm"},
		{"thousandths without a zero", length, ".045 in", "1.143 mm"},
		{"a fraction", length, "3/64 in", "1.190625 mm"},
		{"a fraction with the inch mark", length, `5/64"`, "1.984375 mm"},
		{"a whole number and a fraction", length, "1 1/2 in", "38.1 mm"},
		{"metres", length, "2 m", "2000 mm"},
		{"a length without a unit", length, "1.2", ""},
		{"a length below zero", length, "-3 mm", ""},
		{"nothing at all", length, "", ""},
		{"a fraction of nothing", length, "1/0 in", ""},
		{"two points", length, "1.2.3 mm", ""},
		{"a point alone", length, ". mm", ""},
		{"a sign in the middle", length, "1-2 mm", ""},
		{"a comma for a point", length, "1,2 mm", ""},
		{"a negative fraction", length, "1 -1/2 in", ""},
		{"miles an hour", speed, "5 mph", "2.235 m/s"},
		{"kilometres an hour", speed, "8 km/h", "2.222 m/s"},
		{"metres a second", speed, "2.2 m/s", "2.2 m/s"},
		{"a speed without a unit", speed, "5", ""},
		{"knots", speed, "5 kn", ""},
		{"ksi", stress, "70 ksi", "70 ksi"},
		{"MPa in small letters", stress, "490 mpa", "490 MPa"},
		{"a strength without a unit", stress, "70", ""},
		{"a strength in halves", stress, "70.5 ksi", ""},
		{"no strength", stress, "0 ksi", ""},
		{"a strength past all reason", stress, "99999999 ksi", ""},
		{"foot-pounds", toughness, "20 ft-lbf at -20 degF", "20 ft-lbf at -20 degF"},
		{"joules and a degree sign", toughness, "27 J at -30 °C", "27 J at -30 degC"},
		{"an energy without a temperature", toughness, "20 ft-lbf", ""},
		{"a temperature without a unit", toughness, "20 ft-lbf at -20", ""},
		{"an energy without a unit", toughness, "20 at -20 degF", ""},
		{"no energy", toughness, "0 J at 0 degC", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.parse(tt.text)
			bad := &ParseError{}
			if got != tt.want || (err != nil) != (tt.want == "") || err != nil && !errors.As(err, &bad) {
				t.Errorf("Parse(%q): got %q, %v; want %q", tt.text, got, err, tt.want)
			}
			if err != nil && bad.Text != tt.text {
				t.Errorf("Parse(%q): the error quotes %q", tt.text, bad.Text)
			}
		})
	}
}

func TestLengthInches(t *testing.T) {
	for text, want := range map[string]string{
		".045 in": ".045 in", "1.143 mm": ".045 in", "1/16 in": "1/16 in", "3/64 in": "3/64 in", ".035 in": ".035 in",
		"3/32 in": "3/32 in", "3/4 in": "3/4 in", "1 1/2 in": "1 1/2 in", "2 in": "2 in", "1.2 mm": ".0472 in", "0 mm": ".000 in",
	} {
		l, err := ParseLength(text)
		if got := l.Inches(); err != nil || got != want {
			t.Errorf("ParseLength(%q).Inches(): got %q, %v; want %q", text, got, err, want)
		}
	}
}

func TestOtherColumns(t *testing.T) {
	if got := Grams(12_700).Pounds(); got != "28.0 lb" {
		t.Errorf("Grams(12700).Pounds(): got %q, want %q", got, "28.0 lb")
	}
	for want, s := range map[string]Speed{"5 mph": 2235, "5.1 mph": 2280, "0 mph": 0} {
		if got := s.MPH(); got != want {
			t.Errorf("Speed(%d).MPH(): got %q, want %q", s, got, want)
		}
	}
	if got := (27 * Inch / 64).Millimetres(2); got != "10.72 mm" {
		t.Errorf("27/64 in .Millimetres(2): got %q, want %q", got, "10.72 mm")
	}
}

// back fails the test unless parse reads what v writes as v.
func back[T interface {
	comparable
	fmt.Stringer
}](t *rapid.T, parse func(string) (T, error), v T) {
	t.Helper()
	if got, err := parse(v.String()); err != nil || got != v {
		t.Fatalf("Parse(%q): got %v, %v; want %v", v.String(), got, err, v)
	}
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(0, 1<<53-1).Draw(t, "n")
		back(t, ParseGrams, Grams(n))
		back(t, ParseLength, Length(n))
		back(t, ParseSpeed, Speed(n))
		back(t, ParseStress, Stress{rapid.IntRange(1, 1<<20-1).Draw(t, "stress"), rapid.SampledFrom([]StressUnit{KSI, MPa}).Draw(t, "unit")})
		back(t, ParseToughness, Toughness{
			Energy{rapid.IntRange(1, 1<<20-1).Draw(t, "energy"), rapid.SampledFrom([]EnergyUnit{FootPound, Joule}).Draw(t, "unit")},
			Temperature{rapid.IntRange(-400, 400).Draw(t, "at"), rapid.SampledFrom([]TemperatureUnit{Fahrenheit, CelsiusDeg}).Draw(t, "scale")},
		})
	})
}

// TestInchesRoundTrip: each thousandth below an inch and each 64th are exact.
func TestInchesRoundTrip(t *testing.T) {
	for n := Length(1); n <= 64*12; n++ {
		for _, l := range []Length{n * Inch / 64, n * Inch / 1000} {
			if got, err := ParseLength(l.Inches()); err != nil || got != l {
				t.Errorf("ParseLength(%q): got %v, %v; want %v", l.Inches(), got, err, l)
			}
		}
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"1.2 mm", ".045 in", "3/64 in", "1 1/2 in", `5/64"`, "1.2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLength(s)
		if err != nil {
			return
		}
		if again, err := ParseLength(l.String()); err != nil || again != l {
			t.Errorf("ParseLength(%q) = %d, and ParseLength(%q) = %d, %v", s, l, l, again, err)
		}
	})
}

func FuzzParseToughness(f *testing.F) {
	for _, s := range []string{"20 ft-lbf at -20 degF", "27 J at -30 degC", "27 at 0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseToughness(s)
		if err != nil {
			return
		}
		if again, err := ParseToughness(v.String()); err != nil || again != v {
			t.Errorf("ParseToughness(%q) = %v, and again %v, %v", s, v, again, err)
		}
	})
}
