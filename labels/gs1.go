package labels

import (
	"fmt"
	"strings"

	"wirehold/inventory"
)

// Element is one application identifier of a GS1 element string with its value.
type Element struct {
	AI    string // "01", "3102"
	Value string
	means string
}

// String writes the element as it stands beneath a symbol: "(10)LOT7F31".
func (e Element) String() string { return "(" + e.AI + ")" + e.Value }

// separator ends a value whose length is not predefined: FNC1, which a reader
// sends as the ASCII group separator.
const separator = '\x1d'

// separators are what readers are set to send for FNC1 where a keyboard has no
// key for it. None of them can stand in a value: they are outside the character
// set 82 of the GS1 General Specifications (from memory).
var separators = strings.NewReplacer("\u241d", string(separator), "|", string(separator), "^", string(separator), "~", string(separator))

// ReadElements reads a GS1 element string as a reader sends it, "0109521234543213"
// with the group separator (or |, ^ or ~) for FNC1, or as it stands beneath the
// symbol, "(01)09521234543213(10)7F31". The symbology identifier must be gone.
// Check digits, lengths, characters and dates are verified.
//
// The error is [inventory.Invalid] with field "scan".
func ReadElements(text string) ([]Element, error) {
	rest := strings.TrimLeft(separators.Replace(text), string(separator))
	bracketed := strings.HasPrefix(rest, "(")
	var elements []Element
	for rest != "" {
		e, after, err := readElement(rest, bracketed)
		if err != nil {
			return nil, err
		}
		for _, before := range elements {
			if before.AI == e.AI && before.Value != e.Value {
				return nil, badScan("(%s) stands twice in it, as %s and %s: scan one box at a time", e.AI, before.Value, e.Value)
			}
		}
		elements, rest = append(elements, e), after
	}
	if len(elements) == 0 {
		return nil, badScan("there is nothing in it")
	}
	return elements, nil
}

// badScan is the error of a scan that cannot be read.
func badScan(format string, args ...any) error {
	return inventory.Invalidf("scan", "this is no box's code: %s", fmt.Sprintf(format, args...))
}

// readElement reads the first element of text.
func readElement(text string, bracketed bool) (e Element, rest string, err error) {
	ai, body, row, err := readIdentifier(text, bracketed)
	if err != nil {
		return e, "", err
	}
	value, rest := body, ""
	switch end := endOf(body, row, bracketed); {
	case end >= 0:
		value, rest = body[:end], body[end:]
	case row.fixed && len(body) > row.most:
		value, rest = body[:row.most], body[row.most:]
	}
	e = Element{AI: ai, Value: value, means: row.means}
	return e, strings.TrimLeft(rest, string(separator)), e.check(row)
}

// readIdentifier reads "10" or "(10)" off text.
func readIdentifier(text string, bracketed bool) (ai, body string, row gs1Row, err error) {
	inner := text
	if bracketed {
		inner = strings.TrimPrefix(text, "(")
	}
	row, ok := gs1RowOf(inner)
	if !ok || !allDigits(inner[:row.digits]) {
		return "", "", row, badScan("%q begins with no application identifier that is known", clipped(text))
	}
	ai, body = inner[:row.digits], inner[row.digits:]
	if !bracketed {
		return ai, body, row, nil
	}
	body, ok = strings.CutPrefix(body, ")")
	if !ok || inner == text {
		return "", "", row, badScan("%q: an application identifier stands in brackets, as in (10)7F31", clipped(text))
	}
	return ai, body, row, nil
}

// endOf returns where the value at the start of body ends, by a separator or by
// the bracket of the next identifier; -1 if neither is there.
func endOf(body string, row gs1Row, bracketed bool) int {
	if bracketed {
		return nextBracket(body)
	}
	end := strings.IndexByte(body, separator)
	if row.fixed && end > row.most {
		return -1 // the separator ends a later value
	}
	return end
}

// nextBracket returns where the next "(ai)" of a known identifier begins: a
// bracket may stand in a value too.
func nextBracket(body string) int {
	for i := range len(body) {
		if body[i] != '(' {
			continue
		}
		inner := body[i+1:]
		if row, ok := gs1RowOf(inner); ok && allDigits(inner[:row.digits]) && strings.HasPrefix(inner[row.digits:], ")") {
			return i
		}
	}
	return -1
}

// check verifies the value by its row.
func (e Element) check(row gs1Row) error {
	n := len(e.Value)
	switch {
	case row.fixed && n != row.most:
		return badScan("(%s) has %d characters after it, and must have %d: scan it again", e.AI, n, row.most)
	case n < row.least || n > row.most:
		return badScan("(%s) has %d characters after it, and may have %d to %d: if the reader leaves separators out, set it to send them (GS, ASCII 29)", e.AI, n, row.least, row.most)
	case row.kind != "text" && !allDigits(e.Value):
		return badScan("(%s) is %q, and must be digits", e.AI, e.Value)
	}
	for _, r := range e.Value {
		if !strings.ContainsRune(set82, r) {
			return badScan("(%s) is %q: %q cannot stand in it", e.AI, e.Value, r)
		}
	}
	switch e.means {
	case "gtin", "content", "sscc":
		return checkDigit(e.String(), e.Value)
	case "made", "packed", "best before", "expires":
		_, err := e.day(referenceDay)
		return err
	}
	return nil
}

// set82 is what a value may be written with: the invariant part of ISO/IEC 646
// (GS1 General Specifications figure 7.11-1, from memory).
const set82 = `!"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz`

func allDigits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

func checkDigit(shown, number string) error {
	last := len(number) - 1
	if want := inventory.GS1CheckDigit(number[:last]); number[last] != want {
		return badScan("the check digit of %s is wrong: one digit is misread; scan it again", shown)
	}
	return nil
}

func clipped(text string) string {
	const most = 30
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}
