package labels

import (
	"strconv"
	"time"

	"wirehold/inventory/unit"
)

// referenceDay is any day by which a date is checked that is not placed in its
// century yet; 2000-02-29 is one.
var referenceDay = time.Date(2000, 2, 29, 0, 0, 0, 0, time.UTC)

// day reads YYMMDD. The century is that which brings it nearest to at: up to 49
// years before and 50 after (testdata/barcodes.csv C-val5, from memory). DD of
// 00 is no day: the last of the month (C-val4, from memory).
func (e Element) day(at time.Time) (time.Time, error) {
	yy, month, dd := pair(e.Value, 0), pair(e.Value, 2), pair(e.Value, 4)
	year := at.Year()/100*100 + yy
	switch ahead := yy - at.Year()%100; {
	case ahead >= 51:
		year -= 100
	case ahead <= -50:
		year += 100
	}
	last := time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC)
	switch {
	case month < 1 || month > 12:
		return time.Time{}, badScan("%s is no date: there is no month %02d", e, month)
	case dd == 0:
		return last, nil
	case dd > last.Day():
		return time.Time{}, badScan("%s is no date: there is no day %02d in that month", e, dd)
	}
	return time.Date(year, time.Month(month), dd, 0, 0, 0, 0, time.UTC), nil
}

// noDay reports whether the date names a month only.
func (e Element) noDay() bool { return len(e.Value) == 6 && e.Value[4:] == "00" }

// pair returns the two digits of text at i; what is no digit has been refused.
func pair(text string, i int) int {
	n, _ := strconv.Atoi(text[i : i+2]) // digits: checked by the row
	return n
}

// weight reads a value in kg or lb with the decimals that the last digit of the
// identifier gives: (3102)001500 is 15.00 kg (testdata/barcodes.csv C-val1).
func (e Element) weight(in string) (unit.Grams, error) {
	decimals := int(e.AI[3] - '0')
	if decimals > len(e.Value) {
		return 0, badScan("%s has more decimals than digits", e)
	}
	point := len(e.Value) - decimals
	g, err := unit.ParseGrams("0" + e.Value[:point] + "." + e.Value[point:] + "0 " + in)
	if err != nil {
		return 0, badScan("%s is no weight", e)
	}
	return g, nil
}
