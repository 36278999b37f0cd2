package unit

import (
	"math/big"
	"strings"
)

// Celsius is a temperature in whole thousandths of a degree Celsius, which is
// finer than any logger reads and keeps a tenth of a degree Fahrenheit.
type Celsius int64

// Degree is one degree Celsius.
const Degree Celsius = 1000

// absoluteZero bounds what is a temperature at all.
const absoluteZero Celsius = -273_150

// Degrees Fahrenheit are degrees Celsius x 9/5 + 32, exactly (testdata/units.csv).
var (
	thousand    = big.NewRat(1000, 1)
	fahrenheit0 = big.NewRat(32, 1)
	nineFifths  = big.NewRat(9, 5)
)

// ParseCelsius reads "25C", "25 °C", "-3.5 degC" or "77 F", rounded to the
// thousandth of a degree Celsius. A temperature without a scale, or below
// absolute zero, is a [*ParseError].
func ParseCelsius(text string) (Celsius, error) {
	bad := &ParseError{text, `temperature: give a number with its scale, such as "25 °C", "25C" or "77 F"`}
	number, scale, ok := split(text)
	if !ok {
		return 0, bad
	}
	switch strings.ToLower(scale) {
	case "c", "°c", "degc":
	case "f", "°f", "degf":
		number.Sub(number, fahrenheit0).Quo(number, nineFifths)
	default:
		return 0, bad
	}
	n, ok := signed(number.Mul(number, thousand))
	if !ok || Celsius(n) < absoluteZero {
		return 0, bad
	}
	return Celsius(n), nil
}

// CelsiusOf returns a temperature given as a plain number of degrees Celsius,
// as JSON and loggers have it; false where it is no temperature.
func CelsiusOf(degrees float64) (Celsius, bool) {
	number := new(big.Rat).SetFloat64(degrees)
	if number == nil {
		return 0, false
	}
	n, ok := signed(number.Mul(number, thousand))
	return Celsius(n), ok && Celsius(n) >= absoluteZero
}

// signed returns r rounded to a whole number, halves away from zero; false if
// it is past all reason.
func signed(r *big.Rat) (int64, bool) {
	n, ok := whole(new(big.Rat).Abs(r), big.NewRat(1, 1))
	if r.Sign() < 0 {
		n = -n
	}
	return n, ok && n < 1<<40 && n > -1<<40
}

// String writes the temperature in degrees Celsius, to the thousandth:
// "25 °C".
func (c Celsius) String() string { return decimal(big.NewRat(int64(c), 1000), 3) + " °C" }

// Tenth writes the temperature to one decimal, as it is shown: "25.0 °C".
func (c Celsius) Tenth() string { return unsigned(big.NewRat(int64(c), 1000).FloatString(1)) + " °C" }

// Fahrenheit writes the temperature in degrees Fahrenheit to one decimal:
// "77.0 °F".
func (c Celsius) Fahrenheit() string {
	f := big.NewRat(int64(c), 1000)
	return unsigned(f.Mul(f, nineFifths).Add(f, fahrenheit0).FloatString(1)) + " °F"
}

// Degrees returns the number of degrees Celsius, for a formula or a plot.
func (c Celsius) Degrees() float64 { return float64(c) / 1000 }

// unsigned takes the sign from a nought.
func unsigned(s string) string {
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}
