package unit

import (
	"fmt"
	"math/big"
	"strings"
)

// Grams is a weight in whole grams.
type Grams int64

// A pound is 453.59237 g exactly (NIST SP 811, Appendix B).
var gramsPerPound = big.NewRat(45359237, 100000)

// ParseGrams reads "12.7 kg", "450 g" or "33 lb", rounded to the gram. A
// weight without a unit, or below zero, is a [*ParseError].
func ParseGrams(text string) (Grams, error) {
	bad := &ParseError{text, `weight: give a number with its unit, such as "12.7 kg", "450 g" or "33 lb"`}
	number, unit, ok := split(text)
	if !ok {
		return 0, bad
	}
	var per *big.Rat
	switch strings.ToLower(unit) {
	case "g":
		per = big.NewRat(1, 1)
	case "kg":
		per = big.NewRat(1000, 1)
	case "lb", "lbs":
		per = gramsPerPound
	default:
		return 0, bad
	}
	n, ok := whole(number, per)
	if !ok {
		return 0, bad
	}
	return Grams(n), nil
}

// String writes the weight in kilograms, to the gram: "12.7 kg".
func (g Grams) String() string {
	return scaled(int64(g), 3, 3) + " kg"
}

// Pounds writes the weight in pounds to one decimal: "28.0 lb".
func (g Grams) Pounds() string {
	lb := new(big.Rat).Quo(big.NewRat(int64(g), 1), gramsPerPound)
	return fmt.Sprintf("%s lb", lb.FloatString(1))
}
