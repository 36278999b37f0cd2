package unit

import (
	"math/big"
	"strconv"
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
	if l, ok := plainLength(text); ok {
		return l, nil
	}
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

// plainLength reads what most tables write, "19 mm" or "1.2 mm", without an
// exact fraction; ok is false for all else.
func plainLength(text string) (l Length, ok bool) {
	number, ok := strings.CutSuffix(text, " mm")
	n, per := int64(0), int64(Millimetre)
	point := false
	if !ok || number == "" || len(number) > 8 || number[0] == '.' || number[len(number)-1] == '.' {
		return 0, false
	}
	for _, c := range []byte(number) {
		switch {
		case c == '.' && !point:
			point = true
			continue
		case c < '0' || c > '9' || point && per == 1:
			return 0, false
		case point:
			per /= 10
		}
		n = n*10 + int64(c-'0')
	}
	return Length(n * per), true
}

// String writes the length in millimetres, exactly: "1.143 mm".
func (l Length) String() string { return l.Millimetres(6) }

// Millimetres writes the length in millimetres with at most places decimals.
func (l Length) Millimetres(places int) string {
	return scaled(int64(l), 6, places) + " mm"
}

// Inches writes the length in inches as the trade does: three decimals without
// a leading zero for a thousandth (".045 in"), a fraction for a 64th above
// 1/16 ("3/32 in"), and up to four decimals for anything else.
func (l Length) Inches() string {
	const thousandth, sixtyFourth = Inch / 1000, Inch / 64
	switch { // what has no 64ths needs no exact fraction
	case l >= 0 && l < Inch && l%thousandth == 0 && (l < Inch/8 || l%sixtyFourth != 0):
		digits := strconv.Itoa(1000 + int(l/thousandth))
		return "." + digits[1:] + " in"
	case l >= 0 && l < 1_000_000*Millimetre && l%sixtyFourth != 0:
		return strings.TrimPrefix(scaled(int64((l*10_000+Inch/2)/Inch), 4, 4), "0") + " in"
	}
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
