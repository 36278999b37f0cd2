package filler

import "slices"

// cut takes the gas letter off a metal cored class.
func (g *a518) cut(form *a518Form, suffix string) (number, letter string) {
	if last := suffix[len(suffix)-1:]; form.letter == "C" && slices.Contains(g.letters, last) {
		return suffix[:len(suffix)-1], last
	}
	return suffix, ""
}

// second reads the other gas of a metal cored wire that is classified with
// both: "/-6M", "/M" or the class in full.
func (g *a518) second(s *scanner, r *reading, form *a518Form, by stemSpans, class, first string) (half, *SyntaxError) {
	number, _ := g.cut(form, first)
	s.eat('/')
	s.word(form.lead + by.strength.text + form.letter)
	s.eat('-')
	start := s.pos
	suffix, ok := s.longest(form.classes[class])
	if !ok && !s.end() {
		s.pos = start + 1
		suffix = number + string(s.norm[start])
	}
	other, letter := "", ""
	if suffix != "" {
		other, letter = g.cut(form, suffix)
	}
	if other != number || letter == "" || suffix == first {
		return half{}, s.failAt(s.at[start], "the other gas of "+number+" stands here: "+oneOf(g.letters))
	}
	r.put("/-", "also classified")
	return g.class(r, form, by, class, suffix), nil
}
