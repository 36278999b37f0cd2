package fit

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"wirehold/inventory/filler"
)

// translation is one language but English, from the tables.
type translation struct {
	sentences map[string]string
	words     map[string]map[string]string // by kind
	joins     [][2]string                  // what parts words: " or "
	prefixes  [][2]string                  // what stands before a name: "feeder "
}

// translations are the languages but English.
var translations = sync.OnceValue(func() map[Language]*translation {
	out := map[Language]*translation{}
	for _, l := range Languages()[1:] {
		out[l] = readTranslation(string(l))
	}
	return out
})

func readTranslation(column string) *translation {
	t := &translation{map[string]string{}, map[string]map[string]string{}, nil, nil}
	for _, m := range readTable("tables/sentences.csv") {
		t.sentences[m["en"]] = m[column]
	}
	for _, m := range readTable("tables/words.csv") {
		pair := [2]string{m["en"], m[column]}
		switch kind := m["kind"]; kind {
		case "join":
			t.joins = append(t.joins, pair)
		case "prefix":
			t.prefixes = append(t.prefixes, pair)
		default:
			if t.words[kind] == nil {
				t.words[kind] = map[string]string{}
			}
			t.words[kind][pair[0]] = pair[1]
		}
	}
	return t
}

// say says m; a pattern that has no row stays English. A sentence begins large
// where the English one does.
func (t *translation) say(m *Message) string {
	parts := make([]any, len(m.parts))
	for i, p := range m.parts {
		parts[i] = t.part(p)
	}
	format, ok := t.sentences[string(m.pattern)]
	if !ok {
		format = string(m.pattern)
	}
	out := fmt.Sprintf(format, parts...)
	if first, size := utf8.DecodeRuneInString(out); unicode.IsUpper(rune((string(m.pattern) + "a")[0])) {
		return string(unicode.ToUpper(first)) + out[size:]
	}
	return out
}

// part is a part of a sentence in this language. Numbers stay what they are,
// for the pattern may count on it.
func (t *translation) part(p any) any {
	switch p := p.(type) {
	case string, int:
		return p
	case source:
		return t.source(string(p))
	case topic:
		return t.words["topic"][string(p)]
	case *Message:
		if p == nil {
			return ""
		}
		return t.say(p)
	case unreckoned:
		return t.say(p.says)
	case filler.Provenance:
		return t.word(string(p))
	}
	return t.word(fmt.Sprint(p))
}

// figure is a number in a text, but not the 2 of CO2.
var figure = regexp.MustCompile(`(?:\.|\b)\d[\d.]*(?:[/-]\d+)*`)

// word says a text of the rules' vocabulary: by its row, whatever its figures,
// or else by what it is put together of. What has no row stays.
func (t *translation) word(text string) string {
	if said, ok := t.words["word"][text]; ok {
		return said
	}
	figures := figure.FindAllString(text, -1)
	if said, ok := t.words["word"][figure.ReplaceAllString(text, "%s")]; ok {
		for _, f := range figures {
			said = strings.Replace(said, "%s", f, 1)
		}
		return said
	}
	for _, j := range t.joins {
		if before, after, ok := strings.Cut(text, j[0]); ok {
			return t.word(before) + j[1] + t.word(after)
		}
	}
	if name, kind, ok := strings.Cut(strings.TrimSuffix(text, ")"), " ("); ok && strings.HasSuffix(text, ")") {
		return t.word(name) + " (" + t.word(kind) + ")"
	}
	return t.prefixed(text)
}

// prefixed says what stands before a name: "feeder F3".
func (t *translation) prefixed(text string) string {
	for _, p := range t.prefixes {
		if name, ok := strings.CutPrefix(text, p[0]); ok {
			return p[1] + t.prefixed(name)
		}
	}
	return text
}

// source says what is ours in the name of a source: whose record it is, and
// that a fact is read from some characters. The names of papers stay.
func (t *translation) source(text string) string {
	if before, after, ok := strings.Cut(text, "; "); ok {
		return t.source(before) + "; " + t.source(after)
	}
	if before, after, ok := strings.Cut(text, `, from "`); ok {
		return t.source(before) + ", " + t.words["word"]["from"] + ` "` + after
	}
	if said, ok := t.words["word"][text]; ok {
		return said
	}
	return t.prefixed(text)
}
