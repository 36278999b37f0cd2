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

// polaritySign is a polarity of one sign with it: "DCEN (−)". Empty where there
// is more to say.
func (l Spool) polaritySign() string {
	words := l.polarityWords()
	for _, usual := range [...]string{"electrode negative (−)", "electrode positive (+)"} {
		if words == usual {
			return clean(l.Polarity) + " " + usual[strings.Index(usual, "("):]
		}
	}
	return ""
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

// check refuses a label that contradicts itself.
func (l Spool) check() error {
	words := strings.ToLower(l.PolarityWords)
	opposite := map[string]string{"DCEN": "positive", "DCEP": "negative"}[clean(l.Polarity)]
	if opposite != "" && strings.Contains(words, opposite) {
		return &FieldError{"polarity", fmt.Sprintf("%s is not %q", l.Polarity, l.PolarityWords)}
	}
	return nil
}

// Label is the label that stays with the wire. The error is a [*FieldError]
// where it contradicts itself.
func (l Spool) Label() (Label, error) {
	if err := l.check(); err != nil {
		return Label{}, err
	}
	out := Label{Kind: KindSpool, Code: l.Code, Aid: decides, Link: l.URL, Offline: l.facts(), Needed: 4, Facts: l.setting()}
	out.Facts = append(out.Facts,
		Fact{Field: "classification", Name: "class", Caption: "CLASS", Words: known(l.Classification), Rank: Middle, Goes: 6, Small: true},
		Fact{Field: "diameter", Caption: "DIAM.", Words: l.diameter(), Rank: Middle, Goes: 5, Small: true},
		Fact{Field: "wire", Name: "trade name", Caption: "WIRE", Words: known(l.Wire), Rank: Middle, Goes: 1},
		Fact{Field: "thickness", Name: "plate", Caption: "PLATE", Words: known(l.Thickness), Rank: Middle, Goes: 3, Small: true},
		Fact{Field: "lot", Caption: "LOT", Words: known(l.Lot), Rank: Low, Lines: 1, Goes: 4, Small: true})
	if opened := clean(l.Opened); opened != "" {
		out.Facts = append(out.Facts, Fact{Field: "opened", Caption: "OPENED", Words: opened, Rank: Low, Lines: 1, Goes: 2, Small: true})
	} else {
		out.Blanks = []Blank{{"opened", "OPENED", []string{"date", "time"}, 2, true}}
	}
	for _, c := range l.Cautions {
		out.Notes = append(out.Notes, clean(c))
	}
	return out, nil
}

// setting is what a welder sets the machine by: what never goes.
func (l Spool) setting() []Fact {
	return []Fact{
		{Field: "polarity", Caption: "POLARITY", Words: known(l.Polarity), Beside: l.polarityWords(), Short: l.polaritySign(), Rank: Huge},
		{Field: "gas", Caption: "GAS", Words: known(l.Gas), Rank: Big},
		{Field: "passes", Caption: "PASSES", Words: known(l.Passes), Rank: Big},
	}
}

// HubLabel is the small copy on the spool's hub, which stays when the flange's
// label is torn off: what the machine is set by, the size and the code.
func (l Spool) HubLabel() (Label, error) {
	out, err := l.Label()
	if err != nil {
		return Label{}, err
	}
	out.Kind, out.Blanks = KindHub, nil
	out.Facts = slices.DeleteFunc(out.Facts, func(f Fact) bool { return f.Field == "wire" || f.Field == "opened" || f.Field == "thickness" })
	return out, nil
}

// facts is the QR content of a label without a base address: the same facts
// as plain text, most important first.
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
