package unit

import (
	"math/big"
	"strings"
)

// Length is a length in whole nanometres, so that each thousandth and each
// 64th of an inch is exact.
type Length int64

// Lengths to reckon with. An inch is 25.4 mm exactly (NIST SP 811).
const (
	Micrometre Length = 1_000
	Millimetre Length = 1_000_000
	Inch       Length = 25_400_000
)

// ParseLength reads "1.2 mm", ".045 in", "3/64 in", `5/64"` or "1 1/2 in". A
// length without a unit, or below zero, is a [*ParseError].
func ParseLength(text string) (Length, error) {
	bad := &ParseError{text, `length: give a number with its unit, such as "1.2 mm", ".045 in" or "3/64 in"`}
	number, unit, ok := split(text)
	if !ok {
		return 0, bad
	}
	var per Length
	switch strings.ToLower(unit) {
	case "mm":
		per = Millimetre
	case "m":
		per = 1000 * Millimetre
	case "in", "in.", "inch", `"`:
		per = Inch
	default:
		return 0, bad
	}
	n, ok := whole(number, big.NewRat(int64(per), 1))
	if !ok {
		return 0, bad
	}
	return Length(n), nil
}

// String writes the length in millimetres, exactly: "1.143 mm".
func (l Length) String() string { return l.Millimetres(6) }

// Millimetres writes the length in millimetres with at most places decimals.
func (l Length) Millimetres(places int) string {
	return decimal(big.NewRat(int64(l), int64(Millimetre)), places) + " mm"
}

// Inches writes the length in inches as the trade does: three decimals without
// a leading zero for a thousandth (".045 in"), a fraction for a 64th above
// 1/16 ("3/32 in"), and up to four decimals for anything else.
func (l Length) Inches() string {
	inches := big.NewRat(int64(l), int64(Inch))
	sixtyFourths := new(big.Rat).Mul(inches, big.NewRat(64, 1))
	thousandths := new(big.Rat).Mul(inches, big.NewRat(1000, 1))
	switch {
	case sixtyFourths.IsInt() && (!thousandths.IsInt() || l >= Inch/8):
		return fraction(inches) + " in"
	case thousandths.IsInt() && l < Inch:
		return strings.TrimPrefix(inches.FloatString(3), "0") + " in"
	}
	return strings.TrimPrefix(decimal(inches, 4), "0") + " in"
}

// fraction writes 3/2 as "1 1/2".
func fraction(r *big.Rat) string {
	if r.IsInt() {
		return r.Num().String()
	}
	whole, rest := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	part := new(big.Rat).SetFrac(rest, r.Denom()).String()
	if whole.Sign() == 0 {
		return part
	}
	return whole.String() + " " + part
}
