package unit

import (
	"math/big"
	"strings"
)

// Speed is a wind speed in whole millimetres a second.
type Speed int64

// A mile is 1609.344 m exactly (NIST SP 811, Appendix B).
var (
	mmPerSecondPerMPH = big.NewRat(1609344, 3600)
	mmPerSecondPerKMH = big.NewRat(1000000, 3600)
)

// ParseSpeed reads "5 mph", "8 km/h" or "2.2 m/s", rounded to the millimetre a
// second. A speed without a unit, or below zero, is a [*ParseError].
func ParseSpeed(text string) (Speed, error) {
	bad := &ParseError{text, `wind speed: give a number with its unit, such as "5 mph", "8 km/h" or "2 m/s"`}
	number, unit, ok := split(text)
	if !ok {
		return 0, bad
	}
	var per *big.Rat
	switch strings.ToLower(unit) {
	case "mph":
		per = mmPerSecondPerMPH
	case "km/h":
		per = mmPerSecondPerKMH
	case "m/s":
		per = big.NewRat(1000, 1)
	default:
		return 0, bad
	}
	n, ok := whole(number, per)
	if !ok {
		return 0, bad
	}
	return Speed(n), nil
}

// String writes the speed in metres a second, exactly: "2.235 m/s".
func (s Speed) String() string { return decimal(big.NewRat(int64(s), 1000), 3) + " m/s" }

// MPH writes the speed in miles an hour to one decimal: "5 mph".
func (s Speed) MPH() string {
	return decimal(new(big.Rat).Quo(big.NewRat(int64(s), 1), mmPerSecondPerMPH), 1) + " mph"
}
