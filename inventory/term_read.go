package inventory

import (
	"regexp"
	"slices"
	"strings"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Meaning is what was understood of a text typed into a search: "gasless .035"
// is self-shielded flux cored wire of a size. What was not understood is left
// as words.
type Meaning struct {
	Names []NameRead
	Sizes []SizeRead
	Words []string
}

// NameRead is a name people use, as it was typed.
type NameRead struct {
	Typed string      // "flux core"
	Terms []TradeTerm // more than one: it must be asked which
}

// Processes returns the processes that the name may stand for.
func (n NameRead) Processes() []fit.Process { return processesOf(n.Terms) }

// SizeRead is a wire size, as it was typed.
type SizeRead struct {
	Typed string // ".035"
	Size  unit.Length
}

// Near is how far a wire's size may be from the one typed to be found: boxes
// print 1.1 and 1.2 mm for .045 in (testdata/diameters.csv; practice). A search
// only finds; which sizes fit is the fit check's to say.
const Near = 60 * unit.Micrometre

// Understood reports whether anything was understood.
func (m Meaning) Understood() bool { return len(m.Names)+len(m.Sizes) > 0 }

// Unclear returns the first name that may stand for several processes; false
// if there is none.
func (m Meaning) Unclear() (NameRead, bool) {
	for _, n := range m.Names {
		if len(n.Processes()) > 1 {
			return n, true
		}
	}
	return NameRead{}, false
}

// With returns the text of the search with one of the processes in place of an
// unclear name: "FCAW-S .035".
func (m Meaning) With(n NameRead, p fit.Process) string {
	parts := []string{string(p)}
	for _, other := range m.Names {
		if other.Typed != n.Typed {
			parts = append(parts, other.Typed)
		}
	}
	for _, s := range m.Sizes {
		parts = append(parts, s.Typed)
	}
	return strings.Join(append(parts, m.Words...), " ")
}

// mostNameWords is how many words a name may have.
const mostNameWords = 6

// Read understands what it can of a text. It is pure.
func (v Vocabulary) Read(text string) Meaning {
	var m Meaning
	words := strings.Fields(text)
	for i := 0; i < len(words); {
		if n, terms := v.longest(words[i:]); n > 0 {
			m.Names = append(m.Names, NameRead{strings.Join(words[i:i+n], " "), terms})
			i += n
			continue
		}
		if n, size := sizeAt(words[i:]); n > 0 {
			m.Sizes = append(m.Sizes, SizeRead{strings.Join(words[i:i+n], " "), size})
			i += n
			continue
		}
		m.Words = append(m.Words, words[i])
		i++
	}
	if len(m.Names) > 0 {
		m.Words = slices.DeleteFunc(m.Words, func(w string) bool { return plain(w) == "wire" })
	}
	return m
}

// longest returns how many of the first words are a name, and what it stands for.
func (v Vocabulary) longest(words []string) (int, []TradeTerm) {
	for n := min(len(words), mostNameWords); n > 0; n-- {
		if terms := v.Terms(strings.Join(words[:n], " ")); len(terms) > 0 {
			return n, terms
		}
	}
	return 0, nil
}

// sizeAt returns how many of the first words are a wire size, and which.
func sizeAt(words []string) (int, unit.Length) {
	if len(words) > 1 && wireUnit.MatchString(words[1]) {
		if size, err := unit.ParseLength(words[0] + " " + words[1]); err == nil && isWireSize(size) {
			return 2, size
		}
	}
	if size, ok := parseSize(words[0]); ok && isWireSize(size) {
		return 1, size
	}
	return 0, 0
}

var (
	wireUnit  = regexp.MustCompile(`^(?i:mm|in|in\.|inch|")$`)
	fraction  = regexp.MustCompile(`^[1-9]\d?/(8|16|32|64)$`)
	thousand  = regexp.MustCompile(`^0\d\d$`)
	inches    = regexp.MustCompile(`^0?\.\d{2,4}$`)
	bareMetre = regexp.MustCompile(`^\d\.\d$`)
)

// isWireSize reports whether a length can be a wire's: .020 in to 1/4 in, what
// testdata/diameters.csv lists and a little more.
func isWireSize(l unit.Length) bool { return l >= unit.Inch/50 && l <= unit.Inch/4 }

// parseSize reads a size as it is said in a shop: "3/32" and ".045" are inches,
// "045" thousandths, "1.2" millimetres; one with its unit is what it says.
func parseSize(text string) (unit.Length, bool) {
	switch {
	case fraction.MatchString(text), inches.MatchString(text):
		text += " in"
	case thousand.MatchString(text):
		text = "." + text + " in"
	case bareMetre.MatchString(text):
		text += " mm"
	}
	size, err := unit.ParseLength(text)
	return size, err == nil
}
