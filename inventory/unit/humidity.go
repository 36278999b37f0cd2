package unit

import (
	"math/big"
	"strings"
)

// Humidity is a relative humidity in whole thousandths of a percent: the
// pressure of the water vapour in the air, of what the air could hold over
// water at its temperature (WMO No. 8).
type Humidity int64

// Percent is one percent of relative humidity; Saturated is air that holds all
// it can.
const (
	Percent   Humidity = 1000
	Saturated          = 100 * Percent
)

// ParseHumidity reads "60 %", "60%RH" or "60.5 % RH", rounded to the
// thousandth of a percent. One without the sign, or outside 0 to 100 %, is a
// [*ParseError].
func ParseHumidity(text string) (Humidity, error) {
	bad := &ParseError{text, `relative humidity: give a number from 0 to 100 with its sign, such as "60 %" or "60 %RH"`}
	number, sign, ok := split(text)
	if !ok {
		return 0, bad
	}
	switch strings.ToLower(strings.ReplaceAll(sign, " ", "")) {
	case "%", "%rh":
	default:
		return 0, bad
	}
	n, ok := signed(number.Mul(number, thousand))
	if !ok || n < 0 || Humidity(n) > Saturated {
		return 0, bad
	}
	return Humidity(n), nil
}

// HumidityOf returns a relative humidity given as a plain number of percent,
// as JSON and loggers have it; false where it is outside 0 to 100.
func HumidityOf(percent float64) (Humidity, bool) {
	number := new(big.Rat).SetFloat64(percent)
	if number == nil {
		return 0, false
	}
	n, ok := signed(number.Mul(number, thousand))
	return Humidity(n), ok && n >= 0 && Humidity(n) <= Saturated
}

// String writes the humidity to the thousandth of a percent: "60 %RH".
func (h Humidity) String() string { return decimal(big.NewRat(int64(h), 1000), 3) + " %RH" }

// Tenth writes the humidity to one decimal, as it is shown: "60.0 %RH".
func (h Humidity) Tenth() string { return big.NewRat(int64(h), 1000).FloatString(1) + " %RH" }

// Percents returns the number of percent, for a formula or a plot.
func (h Humidity) Percents() float64 { return float64(h) / 1000 }
