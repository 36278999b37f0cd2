package unit

import (
	"errors"
	"fmt"
	"math"
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
	celsius, humidity := printed(ParseCelsius), printed(ParseHumidity)
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
		{"degrees Celsius without a space", celsius, "25C", "25 °C"},
		{"a degree sign", celsius, "-3.5 °C", "-3.5 °C"},
		{"degrees as the tables spell them", celsius, "26.7 degC", "26.7 °C"},
		{"degrees Fahrenheit", celsius, "77 F", "25 °C"},
		{"freezing in Fahrenheit", celsius, "32 °F", "0 °C"},
		{"Fahrenheit to the thousandth", celsius, "80.1F", "26.722 °C"},
		{"both scales meet", celsius, "-40 degF", "-40 °C"},
		{"absolute zero", celsius, "-273.15 C", "-273.15 °C"},
		{"colder than can be", celsius, "-273.16 C", ""},
		{"a temperature without a scale", celsius, "25", ""},
		{"kelvin", celsius, "298 K", ""},
		{"a comma for a point in a temperature", celsius, "25,5 C", ""},
		{"a temperature past all reason", celsius, "99999999999999999 C", ""},
		{"percent", humidity, "60 %", "60 %RH"},
		{"percent of relative humidity", humidity, "60.5 % RH", "60.5 %RH"},
		{"dry air", humidity, "0%", "0 %RH"},
		{"saturated air", humidity, "100 %rh", "100 %RH"},
		{"more than saturated", humidity, "100.001 %", ""},
		{"less than dry", humidity, "-1 %", ""},
		{"a humidity without its sign", humidity, "60", ""},
		{"a humidity in degrees", humidity, "60 C", ""},
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

func TestCelsiusFahrenheit(t *testing.T) {
	for text, want := range map[string]string{"25 C": "77.0 °F", "-40 C": "-40.0 °F", "0 C": "32.0 °F", "-17.778 C": "0.0 °F", "98.6 F": "98.6 °F", "60.1 F": "60.1 °F"} {
		if c, err := ParseCelsius(text); err != nil || c.Fahrenheit() != want {
			t.Errorf("ParseCelsius(%q).Fahrenheit(): got %q, %v; want %q", text, c.Fahrenheit(), err, want)
		}
	}
}

// TestPlainNumbers: what JSON has is read to the thousandth, and what is no
// number is none.
func TestPlainNumbers(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		name     string
		number   float64
		celsius  string // empty if it is no temperature
		humidity string // empty if it is no humidity
	}{
		{"a tenth", 23.4, "23.4 °C", "23.4 %RH"},
		{"half a thousandth goes up", 0.0005, "0.001 °C", "0.001 %RH"},
		{"below freezing", -5.25, "-5.25 °C", ""},
		{"nought", 0, "0 °C", "0 %RH"},
		{"more than saturated", 101, "101 °C", ""},
		{"colder than can be", -300, "", ""},
		{"not a number", nan, "", ""},
		{"without end", inf, "", ""},
	}
	for _, tt := range tests {
		c, okC := CelsiusOf(tt.number)
		if okC != (tt.celsius != "") || okC && c.String() != tt.celsius {
			t.Errorf("%s: CelsiusOf(%v): got %v, %v; want %q", tt.name, tt.number, c, okC, tt.celsius)
		}
		h, okH := HumidityOf(tt.number)
		if okH != (tt.humidity != "") || okH && h.String() != tt.humidity {
			t.Errorf("%s: HumidityOf(%v): got %v, %v; want %q", tt.name, tt.number, h, okH, tt.humidity)
		}
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
		back(t, ParseCelsius, Celsius(rapid.Int64Range(int64(absoluteZero), 1<<40-1).Draw(t, "celsius")))
		back(t, ParseHumidity, Humidity(rapid.Int64Range(0, int64(Saturated)).Draw(t, "humidity")))
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
