package fit

import (
	"fmt"
	"strings"

	"wirehold/inventory/filler"
)

// pattern is a sentence, or a part of one, as it is in English, with %s, %q or
// %d where a part goes. Every pattern with a letter in it has its row in
// tables/sentences.csv.
type pattern string

// word is a text of the rules' own vocabulary, or several of them: "multiple
// passes", "flat and overhead", "12 in spool". What of it is in
// tables/words.csv is said in another language; names and numbers stay.
type word string

// topic is what a job may ask something about: "the base metal".
type topic string

// source is the name of a source as a part of a sentence.
type source string

// unreckoned is why wire cannot be reckoned.
type unreckoned struct{ says *Message }

func (u unreckoned) Error() string { return u.says.String() }

func cannotReckon(p pattern, parts ...any) error { return unreckoned{say(p, parts...)} }

// Message is a sentence, or a part of one, before it is said in a language. It
// is never changed once it is made.
type Message struct {
	pattern pattern
	// A part is a *Message, a word, a name or number as it stands (string, int),
	// or what prints itself.
	parts []any
	room  [3]any // of the parts, where there are no more: a check makes many messages
}

func say(p pattern, parts ...any) *Message {
	m := &Message{pattern: p}
	m.parts = append(m.room[:0], parts...)
	return m
}

// and returns m and what is said after it; m alone if that is nil.
func (m *Message) and(next *Message) *Message {
	if next == nil {
		return m
	}
	return say("%s %s", m, next)
}

// allOf writes "a and b and c"; nil of none.
func allOf(ms []*Message) *Message {
	var out *Message
	for _, m := range ms {
		if out == nil {
			out = m
			continue
		}
		out = say("%s and %s", out, m)
	}
	return out
}

// String says m in English; nil says nothing.
func (m *Message) String() string {
	if m == nil {
		return ""
	}
	return write(string(m.pattern), m.parts)
}

// Equal reports whether two messages say the same; both may be nil.
func (m *Message) Equal(other *Message) bool { return m.String() == other.String() }

// write is [fmt.Sprintf] for sentences: nearly all of them put texts in the
// place of %s, which needs none of its machinery.
func write(format string, args []any) string {
	var room [320]byte
	return string(appendText(room[:0], format, args))
}

func appendText(out []byte, format string, args []any) []byte {
	start, rest := len(out), format
	for _, arg := range args {
		before, after, ok := strings.Cut(rest, "%s")
		if !ok || strings.Contains(before, "%") {
			return fmt.Appendf(out[:start], format, args...)
		}
		out = append(out, before...)
		switch arg := arg.(type) {
		case string:
			out = append(out, arg...)
		case *Message:
			if arg != nil {
				out = appendText(out, string(arg.pattern), arg.parts)
			}
		case word:
			out = append(out, arg...)
		case topic:
			out = append(out, arg...)
		case source:
			out = append(out, arg...)
		case Polarity:
			out = append(out, arg...)
		case Process:
			out = append(out, arg...)
		case filler.Provenance:
			out = append(out, arg...)
		case fmt.Stringer:
			out = append(out, arg.String()...)
		default:
			out = fmt.Append(out, arg)
		}
		rest = after
	}
	if strings.Contains(rest, "%") {
		return fmt.Appendf(out[:start], format, args...)
	}
	return append(out, rest...)
}
