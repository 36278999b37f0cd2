package filler

import (
	"slices"
	"strings"
)

// halves reads "1C" or, of classes held together, "1C/-1M".
func (g *a520) halves(s *scanner, r *reading, c a520Class) ([]half, *SyntaxError) {
	first, bad := g.half(s, r, c, "")
	if bad != nil {
		return nil, bad
	}
	halves := []half{first}
	r.repeatedHydrogen(s, g.hydrogens)
	for s.peek() == '/' {
		if last := halves[len(halves)-1]; !slices.Contains(g.dual, g.dualKey(last.key)) {
			return nil, s.fail("-" + last.key + " is classed alone; classes held together are of " + oneOf(g.dual) + " only")
		}
		s.eat('/')
		s.word(c.stem)
		s.eat('-')
		start := s.pos
		r.put("/-", "also classified")
		next, bad := g.half(s, r, c, g.numberOfLetter(s, halves[len(halves)-1].key))
		if bad != nil {
			return nil, bad
		}
		if !slices.Contains(g.dual, g.dualKey(next.key)) {
			return nil, s.failAt(s.at[start], "-"+next.key+" is classed alone; classes held together are of "+oneOf(g.dual)+" only")
		}
		if slices.ContainsFunc(halves, func(h half) bool { return g.dualKey(h.key) == g.dualKey(next.key) }) {
			return nil, s.failAt(s.at[start], "-"+next.key+" is named already")
		}
		halves = append(halves, next)
	}
	return halves, nil
}

// dualKey is the name of a class in the wording of the dual_class rows, where
// C is not written.
func (g *a520) dualKey(key string) string {
	if slices.Contains(g.undated, strings.TrimSuffix(key, "C")) {
		return strings.TrimSuffix(key, "C")
	}
	return key
}

// numberOfLetter is the number that a gas letter alone stands for behind a
// class: of "1C/M" it is 1. It is "*" if a number comes next.
func (g *a520) numberOfLetter(s *scanner, key string) string {
	number := g.number(key)
	if _, letter := g.letters.spelt[string(s.peekText())]; letter && number != key {
		return number
	}
	return "*"
}

// half reads a usability number, its gas letter and J, D, Q. second is empty
// for the first class; for another it is its number, if a letter alone stands
// for it, or "*".
func (g *a520) half(s *scanner, r *reading, c a520Class, second string) (half, *SyntaxError) {
	number, ok := second, second != "" && second != "*"
	if !ok {
		number, ok = s.longest(g.numbers)
	}
	if !ok {
		return half{}, s.fail("a usability number of AWS A5.20 stands here: " + g.numbers.words)
	}
	if d := s.peek(); '0' <= d && d <= '9' {
		return half{}, s.fail("AWS A5.20 has no usability number " + number + string(d) + "; it has " + g.numbers.words)
	}
	letter, u, bad := g.gasLetter(s, number)
	if bad != nil {
		return half{}, bad
	}
	h := half{key: number + letter, class: c.stem + "-" + number + letter}
	h.span = r.put(number, u.means)
	h.facts = h.facts.with(g.admit(c, u.rows, number+letter == u.key && letter == ""), span{number + letter, h.span.at})
	switch {
	case letter != "":
		rows := g.table.at("gas_suffix", letter)
		by := r.put(letter, "gas "+rows[0].Value)
		h.facts = h.facts.with(Facts(u.rows).Named("gas"), by).confirm(rows, by)
		h.span = r.to(h.span, by)
	case u.key != number:
		h.facts = h.facts.with(g.undatedGas(u), h.span)
	}
	bad = g.extra(s, r, &h, second != "")
	return h, bad
}

// gasLetter reads the gas letter of a usability number and finds what the two
// give. Where a missing letter had a meaning in the 1995 edition it is that of
// the C class.
func (g *a520) gasLetter(s *scanner, number string) (string, *a520Usability, *SyntaxError) {
	var withLetter []string
	for _, l := range g.letters.list {
		if g.usability[number+l] != nil {
			withLetter = append(withLetter, l)
		}
	}
	start := s.pos
	letter, _ := s.longest(g.letters)
	u := g.usability[number+letter]
	switch {
	case u != nil:
		return letter, u, nil
	case letter != "" && len(withLetter) > 0:
		return "", nil, s.failAt(s.at[start], "-"+number+" takes gas letter "+oneOf(withLetter))
	case letter != "":
		return "", nil, s.failAt(s.at[start], "-"+number+" takes no gas letter (shielding: "+
			valueOf(g.usability[number].rows, "shielding")+")")
	case slices.Contains(g.undated, number) && g.usability[number+"C"] != nil:
		return "", g.usability[number+"C"], nil
	}
	return "", nil, s.fail("gas letter " + oneOf(withLetter) + " stands after -" + number)
}

// undatedGas is the gas of a class without its letter: CO2, if the label was
// made to the 1995 edition.
func (g *a520) undatedGas(u *a520Usability) []Fact {
	rows := slices.Clone(g.table.at("gas_suffix", "(none)"))
	for i := range rows {
		rows[i].Value = valueOf(u.rows, "gas")
	}
	return rows
}

// extra reads J, D and Q behind a class and lets them change its facts.
func (g *a520) extra(s *scanner, r *reading, h *half, second bool) *SyntaxError {
	seen := ""
	for {
		start := s.pos
		apart := s.spaced()
		if seen == "" && s.eat('-') {
			apart = true
		}
		key, ok := s.longest(g.extras)
		if !ok {
			s.pos = start
			return nil
		}
		switch {
		case second && apart && seen == "":
			return s.failAt(s.at[start], "write "+key+" right behind each class that it belongs to: E71T-9CJ/-9MJ")
		case strings.Contains(seen, key) || key == "J" && seen != "" || key != "J" && strings.ContainsAny(seen, "DQ"):
			return s.failAt(s.at[s.pos-1], "J comes first and once, then D or Q, once")
		}
		seen += key
		g.supplement(r, h, key)
	}
}

// supplement applies J, D or Q. The impact of J replaces that of the class; that of D is
// demanded beside it.
func (g *a520) supplement(r *reading, h *half, key string) {
	rows := slices.Clone(g.table.at("supplementary", key))
	means := valueOf(rows, "meaning")
	if energy := valueOf(rows, "impact_min_energy"); means == "" && energy != "" {
		means = "impact " + energy + " ft-lbf at " + valueOf(rows, "impact_temperature") + " degF"
	}
	by := r.put(key, means)
	for i, f := range rows {
		switch {
		case !strings.HasPrefix(f.Name, "impact_"):
		case key == "J":
			h.facts = slices.DeleteFunc(h.facts, func(have Fact) bool { return have.Name == f.Name })
		default:
			rows[i].Condition = "designator " + key
		}
	}
	h.facts = h.facts.with(rows, by)
	h.class += key
	h.span = r.to(h.span, by)
	if !slices.ContainsFunc(rows, func(f Fact) bool { return f.Name != "meaning" }) {
		r.note("%s: %s", key, means)
	}
}

// remark notes what the class leaves open or does not list.
func (g *a520) remark(r *reading, c a520Class, h half) {
	u := g.usability[h.key]
	if u == nil {
		u = g.usability[h.key+"C"]
		r.note("no gas letter: on a label made to the 1995 edition this is CO2; on a newer one the letter C or M is missing, read the box")
	}
	if len(u.positions) > 0 && !slices.Contains(u.positions, c.position) {
		r.note("the class lists position %s only (E%s%sT-%s)", oneOf(u.positions), c.strength, u.positions[0], h.key)
	}
	if len(u.strengths) > 0 && !slices.Contains(u.strengths, c.strength) {
		r.note("-%s is listed for strength %s only: what depends on it (yield, elongation, toughness) is not known for strength %s, read the box",
			h.key, oneOf(u.strengths), c.strength)
	}
	if len(u.unfixed) > 0 {
		r.note("-%s does not fix %s: take it from the box or data sheet", h.key, strings.Join(u.unfixed, ", "))
	}
	if f := h.facts.Named("polarity"); len(f) == 1 && strings.Contains(f[0].Value, " or ") {
		r.note("-%s in position %s: %s, as the maker recommends", h.key, c.position, f[0].Value)
	}
}
