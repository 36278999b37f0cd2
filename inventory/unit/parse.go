package unit

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
)

// ParseError says why a text is not a quantity. Its message may be shown.
type ParseError struct {
	Text string // what was typed
	Want string // what would have been understood, with an example
}

func (e *ParseError) Error() string {
	return fmt.Sprintf("%q is not a %s", e.Text, e.Want)
}

// split cuts "1 1/16 in" into the exact number 17/16 and the unit "in". The
// number may be a decimal, a fraction, or a whole number and a fraction. ok is
// false if there is no number, or if it is written with an exponent.
func split(text string) (number *big.Rat, unit string, ok bool) {
	text = strings.TrimSpace(text)
	end := strings.LastIndexAny(text, "0123456789.") + 1
	number, ok = parseNumber(strings.TrimSpace(text[:end]))
	return number, strings.TrimSpace(text[end:]), ok
}

func parseNumber(s string) (*big.Rat, bool) {
	if whole, frac, mixed := strings.Cut(s, " "); mixed && strings.Contains(frac, "/") {
		w, okWhole := parseNumber(whole)
		f, okFrac := parseNumber(strings.TrimSpace(frac))
		if !okWhole || !okFrac || w.Sign() < 0 || f.Sign() < 0 {
			return nil, false
		}
		return w.Add(w, f), true
	}
	if len(s) > 24 || strings.Trim(s, "0123456789./-") != "" || strings.LastIndex(s, "-") > 0 {
		return nil, false
	}
	if n, err := strconv.ParseInt(s, 10, 64); err == nil { // as most limits are: reading a fraction is slow
		return new(big.Rat).SetInt64(n), true
	}
	return new(big.Rat).SetString(s)
}

// whole returns number x perUnit as a whole number of the small unit. ok is
// false if it is not whole to within half of one, out of range, or negative.
func whole(number, perUnit *big.Rat) (n int64, ok bool) {
	r := new(big.Rat).Mul(number, perUnit)
	if r.Sign() < 0 {
		return 0, false
	}
	twice := new(big.Int).Mul(r.Num(), big.NewInt(2))
	twice.Add(twice, r.Denom())
	q := twice.Quo(twice, new(big.Int).Mul(r.Denom(), big.NewInt(2)))
	return q.Int64(), q.IsInt64() && q.Int64() < 1<<53
}

// scaled writes n x 10^-scale as [decimal] would, without a fraction of big
// numbers: with at most places decimals, a half rounded away from zero. scale is
// 18 at most.
func scaled(n int64, scale, places int) string {
	var digits [24]byte
	size := uint64(n)
	if n < 0 {
		size = -size
	}
	for ; scale > places; scale-- {
		last := size % 10
		size /= 10
		if scale == places+1 && last >= 5 {
			size++
		}
	}
	at := len(digits)
	for point := scale; size > 0 || point >= 0; point-- {
		if point == 0 && at < len(digits) {
			at--
			digits[at] = '.'
		}
		if digit := byte(size % 10); digit > 0 || at < len(digits) || point <= 0 {
			at--
			digits[at] = '0' + digit
		}
		size /= 10
	}
	text := string(digits[at:])
	if n < 0 && text != "0" {
		return "-" + text
	}
	return text
}

// decimal writes r with at most places decimals and no trailing zeros.
func decimal(r *big.Rat, places int) string {
	s := r.FloatString(places)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
