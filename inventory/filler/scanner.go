package filler

import (
	"cmp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// scanner walks over a designation as boxes print it: any case, any kind of
// dash, spaces between the tokens but never within one.
type scanner struct {
	text string
	norm []byte // upper case, dashes made '-', spaces left out
	at   []int  // byte offset in text of each byte of norm, then of the end
	gap  []bool // whether a space stood before that byte
	pos  int    // in norm

	named string // short name of the specification that the label names; empty if none
}

// dashes and slashes that stand for "-" and "/" on a label.
const (
	dashes  = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d"
	slashes = "\u2044\u2215\uff0f"
)

// scan prepares text. A character that no designation can hold is a fault.
func scan(text string) (*scanner, *SyntaxError) {
	s := &scanner{text: text, norm: make([]byte, 0, len(text)), at: make([]int, 0, len(text)+1), gap: make([]bool, 0, len(text)+1)}
	end, gap := 0, false
	for i, r := range text {
		switch {
		case unicode.IsSpace(r):
			gap = true
			continue
		case strings.ContainsRune(dashes, r):
			r = '-'
		case strings.ContainsRune(slashes, r):
			r = '/'
		case 'a' <= r && r <= 'z':
			r -= 'a' - 'A'
		case r <= ' ' || r > '~':
			return nil, s.failAt(i, "a designation has letters, digits, hyphens and slashes only")
		}
		s.norm, s.at, s.gap = append(s.norm, byte(r)), append(s.at, i), append(s.gap, gap)
		_, size := utf8.DecodeRuneInString(text[i:])
		end, gap = i+size, false
	}
	s.at, s.gap = append(s.at, end), append(s.gap, true)
	return s, nil
}

// failAt is a fault at a byte of the text.
func (s *scanner) failAt(at int, detail string) *SyntaxError {
	_, size := utf8.DecodeRuneInString(s.text[at:])
	char := s.text[at : at+size]
	if strings.TrimSpace(char) == "" {
		char = "" // only spaces follow
	}
	return &SyntaxError{Text: s.text, At: at, Char: char, Detail: detail}
}

// fail is a fault at the next character.
func (s *scanner) fail(detail string) *SyntaxError { return s.failAt(s.at[s.pos], detail) }

// failNear is a fault at the first character that begins none of keys.
func (s *scanner) failNear(keys keySet, detail string) *SyntaxError {
	return s.failAt(s.at[s.pos+s.near(keys)], detail)
}

func (s *scanner) end() bool { return s.pos == len(s.norm) }

// spaced tells whether a space stands before the next character.
func (s *scanner) spaced() bool { return s.gap[s.pos] }

// peek returns the next character, 0 at the end.
func (s *scanner) peek() byte {
	if s.end() {
		return 0
	}
	return s.norm[s.pos]
}

// peekText is the next character, for a message.
func (s *scanner) peekText() []byte {
	if s.end() {
		return nil
	}
	return s.norm[s.pos : s.pos+1]
}

// rest is what has not been read, normalised.
func (s *scanner) rest() []byte { return s.norm[s.pos:] }

// eat reads c if it comes next.
func (s *scanner) eat(c byte) bool {
	if s.peek() != c {
		return false
	}
	s.pos++
	return true
}

// run returns how many of the next max characters hang together.
func (s *scanner) run(max int) int {
	n := 0
	for n < max && s.pos+n < len(s.norm) && (n == 0 || !s.gap[s.pos+n]) {
		n++
	}
	return n
}

// word reads w, in upper case, if it comes next without a space in it.
func (s *scanner) word(w string) bool {
	if s.run(len(w)) != len(w) || string(s.norm[s.pos:s.pos+len(w)]) != w {
		return false
	}
	s.pos += len(w)
	return true
}

// longest reads the longest of keys that comes next and returns it as the
// standard spells it.
func (s *scanner) longest(keys keySet) (string, bool) {
	for n := s.run(keys.max); n > 0; n-- {
		if key, ok := keys.spelt[string(s.norm[s.pos:s.pos+n])]; ok {
			s.pos += n
			return key, true
		}
	}
	return "", false
}

// near returns how many of the next characters still begin one of keys.
func (s *scanner) near(keys keySet) int {
	best, n := 0, s.run(keys.max)
	for upper := range keys.spelt {
		i := 0
		for i < n && i < len(upper) && upper[i] == s.norm[s.pos+i] {
			i++
		}
		best = max(best, i)
	}
	return best
}

// digits reads the digits that come next, at least min and at most max; it
// reads nothing if there are fewer.
func (s *scanner) digits(min, max int) (string, bool) {
	n := 0
	for n < s.run(max) && '0' <= s.norm[s.pos+n] && s.norm[s.pos+n] <= '9' {
		n++
	}
	if n < min {
		return "", false
	}
	s.pos += n
	return string(s.norm[s.pos-n : s.pos]), true
}

// keySet is a set of designators a scanner can look for.
type keySet struct {
	spelt map[string]string // upper case to the standard's spelling
	list  []string          // as they were given
	words string            // the list as a person reads it
	max   int               // length of the longest
}

func newKeySet(keys []string) keySet {
	k := keySet{spelt: make(map[string]string, len(keys)), list: keys, words: oneOf(keys)}
	for _, key := range keys {
		k.spelt[strings.ToUpper(key)] = key
		k.max = max(k.max, len(key))
	}
	return k
}

// byNumber orders designators: numbers by size, then the rest by letter.
func byNumber(a, b string) int {
	x, errA := strconv.Atoi(a)
	y, errB := strconv.Atoi(b)
	switch {
	case errA == nil && errB == nil:
		return cmp.Compare(x, y)
	case errA == nil:
		return -1
	case errB == nil:
		return 1
	}
	return cmp.Compare(a, b)
}
