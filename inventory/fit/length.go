package fit

import (
	"strings"

	"wirehold/inventory/unit"
)

// parseLength reads what [unit.ParseLength] reads. Whole and decimal
// millimetres, as the tables have them, it reads without the exact arithmetic
// that inches need: a check reads many.
func parseLength(text string) (unit.Length, error) {
	number, ok := strings.CutSuffix(text, " mm")
	if !ok || number == "" || len(number) > 8 {
		return unit.ParseLength(text)
	}
	var length, step unit.Length = 0, 0
	for _, digit := range []byte(number) {
		switch {
		case digit == '.' && step == 0:
			step = unit.Millimetre
			continue
		case digit < '0' || digit > '9':
			return unit.ParseLength(text)
		case step == 0:
			length = 10*length + unit.Length(digit-'0')*unit.Millimetre
			continue
		}
		step /= 10
		length += unit.Length(digit-'0') * step
	}
	if step != 0 && step < 1 || number == "." {
		return unit.ParseLength(text)
	}
	return length, nil
}
