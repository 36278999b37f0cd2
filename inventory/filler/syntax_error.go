package filler

import (
	"cmp"
	"fmt"
	"strings"
	"unicode/utf8"
)

// SyntaxError says at which character a text stops being a designation that
// the tables know, and what belongs there instead.
type SyntaxError struct {
	Text   string // as it was given
	At     int    // byte offset of the character in Text; len of the trimmed text if something is missing at its end
	Char   string // the character at fault; empty at the end of the text
	Detail string // what was expected, or the remedy

	sure bool   // the text can be of no other specification
	what string // "gas"; empty is a classification
}

// shownText is how much of a text an error repeats, in bytes.
const shownText = 60

// Error names the character, its place counted from 1, and the remedy.
func (e *SyntaxError) Error() string {
	text := e.Text
	if len(text) > shownText {
		cut := shownText
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		text = text[:cut] + "…"
	}
	what := cmp.Or(e.what, "classification")
	if e.Char == "" {
		return fmt.Sprintf("%s %q stops too early: %s", what, text, e.Detail)
	}
	place := utf8.RuneCountInString(e.Text[:e.At]) + 1
	return fmt.Sprintf("%s %q, character %d (%q): %s", what, text, place, e.Char, e.Detail)
}

// oneOf writes a list for a person: "6, 7 or 49".
func oneOf(words []string) string {
	switch n := len(words); n {
	case 0:
		return "nothing"
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
}
