package filler

import (
	"slices"
	"strings"
)

// a59 reads AWS A5.9/A5.9M, bare stainless wires and rods: ER and the alloy
// type, "ER308LSi". Two types that one wire meets may stand together,
// "ER316L/316". There is no strength, gas or polarity in it.
//
// A type whose number the tables know, with letters that they know, is read
// with a note even if they do not hold its composition.
type a59 struct {
	table    *table
	types    keySet // that the tables name
	numbers  keySet // of the types: "308", "2209"
	letters  keySet // that may follow one: L, H, Si, Mo
	rows     map[string][]Fact
	listed   map[string]bool // types with a composition
	patterns []alloyPattern  // rows of several types: "ER3xx"
}

// alloyPattern is rows that hold for each type that begins so.
type alloyPattern struct {
	prefix string
	rows   []Fact
}

func newA59(t *table) grammar {
	g := &a59{table: t, rows: map[string][]Fact{}, listed: map[string]bool{}, letters: newKeySet(t.keys("suffix_letter"))}
	var types, numbers []string
	for _, key := range append(slices.Clone(t.keys("solid")), t.keys("listed")...) {
		alloy := strings.TrimPrefix(key, "ER")
		if prefix, wild := strings.CutSuffix(alloy, strings.Repeat("x", strings.Count(alloy, "x"))); wild && prefix != alloy {
			g.patterns = append(g.patterns, alloyPattern{prefix, t.at("solid", key)})
			continue
		}
		if rows := t.at("solid", key); rows != nil {
			g.rows[alloy], g.listed[alloy] = rows, true
		} else {
			g.rows[alloy] = t.at("listed", key)
		}
		types = append(types, alloy)
		if number := strings.TrimRight(alloy, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"); !slices.Contains(numbers, number) {
			numbers = append(numbers, number)
		}
	}
	slices.Sort(numbers)
	g.types, g.numbers = newKeySet(types), newKeySet(numbers)
	return g
}

func (g *a59) read(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	if !s.word("ER") {
		return Decoded{}, s.fail("a designation of AWS A5.9 begins with ER")
	}
	r.put("ER", "electrode or rod")
	first, bad := g.alloy(s)
	if bad != nil {
		return Decoded{}, bad
	}
	halves := []half{g.half(r, first, "ER")}
	if s.eat('/') {
		s.word("ER")
		start := s.pos
		second, bad := g.alloy(s)
		switch {
		case bad != nil:
			return Decoded{}, bad
		case second == first:
			return Decoded{}, s.failAt(s.at[start], second+" is named already")
		}
		r.put("/", "also classified")
		halves = append(halves, g.half(r, second, "ER"))
	}
	if !s.end() {
		return Decoded{}, s.fail("nothing of AWS A5.9 stands behind the alloy type")
	}
	lead := span{"ER", 0}
	r.add(g.table.at("form", "ER"), lead)
	r.add(g.table.at("deposit", "all"), span{})
	r.add(g.table.at("base", "basis"), span{})
	r.addAgreed(halves)
	return r.decoded(), nil
}

// alloy reads an alloy type: one that the tables name, or a number and letters
// that they know.
func (g *a59) alloy(s *scanner) (string, *SyntaxError) {
	const unknown = "no such alloy type in the tables of AWS A5.9; they have ER"
	alloy, ok := s.longest(g.types)
	if !ok {
		if alloy, ok = s.longest(g.numbers); !ok {
			return "", s.failNear(g.numbers, unknown+strings.Join(g.numbers.list, ", ER")+" and letters behind them")
		}
	}
	if c := s.peek(); '0' <= c && c <= '9' && !s.spaced() {
		return "", s.fail(unknown + strings.Join(g.numbers.list, ", ER") + " and letters behind them")
	}
	for !s.end() && !s.spaced() {
		letter, ok := s.longest(g.letters)
		if !ok {
			break
		}
		if strings.HasSuffix(alloy, letter) || (letter == "L" || letter == "H") && !g.bare(alloy) {
			return "", s.failAt(s.at[s.pos-len(letter)], letter+" does not stand behind "+alloy)
		}
		alloy += letter
	}
	return alloy, nil
}

// bare tells whether a type is a number alone.
func (g *a59) bare(alloy string) bool {
	_, ok := g.numbers.spelt[alloy]
	return ok
}

// half writes an alloy type and collects what it gives.
func (g *a59) half(r *reading, alloy, lead string) half {
	h := half{key: alloy, class: lead + alloy}
	number := strings.TrimRight(alloy, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz")
	h.span = r.put(number, "alloy type "+alloy)
	for rest := alloy[len(number):]; rest != ""; {
		letter := rest
		for _, key := range g.letters.list {
			if strings.HasPrefix(rest, key) {
				letter = key
			}
		}
		means := g.table.first("suffix_letter", letter, "meaning")
		if means == "" {
			means = "with " + letter
		}
		h.span = r.to(h.span, r.put(letter, means))
		rest = rest[len(letter):]
	}
	for _, p := range g.patterns {
		if strings.HasPrefix(alloy, p.prefix) {
			h.facts = h.facts.with(p.rows, span{h.class, 0})
		}
	}
	if r.out[0] == lead[0] && h.span.at > len(lead) { // the second of two: its lead is not written
		for i := range h.facts {
			h.facts[i].From, h.facts[i].At = h.span.text, h.span.at
		}
	}
	if g.listed[alloy] {
		h.facts = h.facts.with(g.rows[alloy], h.span)
	} else {
		r.note("the composition of %s is not in the tables: read the box or data sheet", h.class)
	}
	return h
}
