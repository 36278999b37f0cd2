package labels

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"wirehold/inventory/unit"
)

// Spool is what a spool's label says, as plain text. An empty field is an
// unknown fact and prints as NOT KNOWN: READ THE BOX, but for those that say
// otherwise.
type Spool struct {
	Code           string      // "W7K2M-3": printable ASCII without blanks; must be given
	Polarity       string      // "DCEN", "DCEP", "DCEP or DCEN"
	PolarityWords  string      // "electrode negative"; empty = the words of Polarity, if it has any
	Gas            string      // "no gas", "75-80 % Ar + balance CO2"
	Passes         string      // "single pass only", "any number of passes"
	Thickness      string      // plate thickness it is meant for: "up to 19 mm"
	Classification string      // "E71T-11"
	Wire           string      // trade name; left off when nothing else makes room
	Diameter       unit.Length // printed in inch and mm; zero = unknown
	Marked         string      // the size as the box prints it: its sizes are printed in place of Diameter where they say something else
	Lot            string
	Opened         string   // "2026-11-25 07:10"; empty prints boxes to write date and time in
	Cautions       []string // short, most important first; the last are left off first; empty prints none
	URL            string   // what the QR symbol holds; empty = the facts above as plain text
}

// unknown is printed for a fact nobody supplied.
const unknown = "NOT KNOWN: READ THE BOX"

// aid ends every label: the program is an aid, and who decides.
const aid = "An aid. The box, the data sheet and SDS, the procedure and qualified people decide."

// FieldError says which field of a label cannot be printed, and why. Its
// message may be shown.
type FieldError struct {
	Field  string // as in the label's struct, lower case: "gas", "code"
	Reason string
}

func (e *FieldError) Error() string { return fmt.Sprintf("label: %s: %s", e.Field, e.Reason) }

// known returns text cleaned for printing, or the words for an unknown fact.
func known(text string) string {
	if text = clean(text); text == "" {
		return unknown
	}
	return text
}

// diameter writes the diameter in both units, as the trade does.
func (l Spool) diameter() string {
	if l.Diameter <= 0 {
		return unknown
	}
	if sizes := boxSizes(clean(l.Marked)); !saysSize(sizes, l.Diameter) {
		return "box: " + strings.Join(sizes, " / ")
	}
	return l.Diameter.Inches() + " / " + l.Diameter.Millimetres(1)
}

// sizeIn finds the sizes that a box prints: ".045 in (1.2 mm)".
var sizeIn = regexp.MustCompile(`[\d./]+(?: \d+/\d+)? ?(?:mm|in|")`)

// mostBoxSizes is how many of the sizes on a box a label has room for.
const mostBoxSizes = 2

// boxSizes returns the sizes that a box prints, each once.
func boxSizes(marked string) []string {
	var out []string
	for _, text := range sizeIn.FindAllString(marked, -1) {
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out[:min(len(out), mostBoxSizes)]
}

// saysSize reports whether every one of the sizes is the diameter, as the label
// would print it in one of its units. A box that prints none says nothing else.
func saysSize(sizes []string, d unit.Length) bool {
	for _, text := range sizes {
		size, err := unit.ParseLength(text)
		if err != nil {
			return false
		}
		if size != d && size.Millimetres(1) != d.Millimetres(1) {
			return false
		}
	}
	return true
}

// polarityWords returns the polarity in words with its sign, or nothing when
// the polarity is unknown or has no words. DCEN and DCEP are direct current
// with the electrode at the negative and positive terminal (AWS A3.0 terms).
func (l Spool) polarityWords() string {
	words, sign, usual := clean(l.PolarityWords), "", ""
	switch clean(l.Polarity) {
	case "":
		return ""
	case "DCEN":
		usual, sign = "electrode negative", "(−)"
	case "DCEP":
		usual, sign = "electrode positive", "(+)"
	case "AC":
		usual = "alternating current"
	}
	if words == "" {
		words = usual
	}
	if sign != "" && !strings.Contains(words, sign) {
		words += " " + sign
	}
	return words
}

// check refuses a label that cannot be scanned or that contradicts itself.
func (l Spool) check() error {
	if l.Code == "" {
		return &FieldError{"code", "a label needs a code"}
	}
	for _, r := range l.Code {
		if r <= ' ' || r > '~' {
			return &FieldError{"code", fmt.Sprintf("%q holds %q: only printable ASCII without blanks can be scanned and typed", l.Code, r)}
		}
	}
	words := strings.ToLower(l.PolarityWords)
	opposite := map[string]string{"DCEN": "positive", "DCEP": "negative"}[clean(l.Polarity)]
	if opposite != "" && strings.Contains(words, opposite) {
		return &FieldError{"polarity", fmt.Sprintf("%s is not %q", l.Polarity, l.PolarityWords)}
	}
	return nil
}

// facts is the QR content of a label without a base address: the same facts
// as plain text, a line each, most important first.
func (l Spool) facts() []string {
	facts := []string{l.Code}
	for _, f := range [][2]string{
		{"polarity", clean(l.Polarity)},
		{"gas", clean(l.Gas)},
		{"passes", clean(l.Passes)},
		{"class", clean(l.Classification)},
		{"lot", clean(l.Lot)},
		{"diameter", l.diameter()},
		{"plate", clean(l.Thickness)},
	} {
		if f[1] == "" || f[1] == unknown {
			f[1] = "not known"
		}
		facts = append(facts, f[0]+": "+f[1])
	}
	return facts
}
