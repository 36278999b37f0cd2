package fit

import (
	"strconv"
	"strings"

	"wirehold/inventory/unit"
)

// parseLength reads what [unit.ParseLength] reads. Millimetres and inches as
// the tables have them, whole, decimal and in fractions, it reads without the
// exact arithmetic that other lengths need: a check reads many.
func parseLength(text string) (unit.Length, error) {
	number, per := strings.TrimSuffix(text, " mm"), unit.Millimetre
	if len(number) == len(text) {
		number, per = strings.TrimSuffix(text, " in"), unit.Inch
	}
	if len(number) == len(text) || len(number) > 8 {
		return unit.ParseLength(text)
	}
	if length, ok := fraction(number, per); ok {
		return length, nil
	}
	if length, ok := decimal(number, per); ok {
		return length, nil
	}
	return unit.ParseLength(text)
}

// decimal reads "12" and "1.2"; ok is false for all else, and for what is no
// whole nanometre.
func decimal(number string, per unit.Length) (length unit.Length, ok bool) {
	step := unit.Length(0) // of the digit, behind the point
	for _, digit := range []byte(number) {
		switch {
		case digit == '.' && step == 0:
			step = per
			continue
		case digit < '0' || digit > '9':
			return 0, false
		case step == 0:
			length = 10*length + unit.Length(digit-'0')*per
			continue
		case step%10 != 0:
			return 0, false
		}
		step /= 10
		length += unit.Length(digit-'0') * step
	}
	return length, number != "" && number != "."
}

// fraction reads "3/64"; ok is false for all else, and for what is no whole
// nanometre.
func fraction(number string, per unit.Length) (length unit.Length, ok bool) {
	top, bottom, ok := strings.Cut(number, "/")
	if !ok || strings.HasPrefix(top, "0") || strings.HasPrefix(bottom, "0") {
		return 0, false
	}
	n, errTop := strconv.ParseUint(top, 10, 16)
	d, errBottom := strconv.ParseUint(bottom, 10, 16)
	if errTop != nil || errBottom != nil || unit.Length(n)*per%unit.Length(d) != 0 {
		return 0, false
	}
	return unit.Length(n) * per / unit.Length(d), true
}
