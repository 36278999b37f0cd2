package filler

import (
	"slices"
	"strings"
)

// tubular is what AWS A5.29 and A5.36 share: E, strength, position, T and a
// usability number right behind it, "E81T1". The strength has one digit or
// two, so the digit before T is the position.
type tubular struct {
	table     *table
	strengths keySet
	positions keySet
	numbers   keySet                // "1", "11", "G", and "14S" where the table has it
	strength  map[string][]Fact     // by strength
	usability map[string]*usability // by number
}

// usability is what a usability number gives.
type usability struct {
	shielding string
	positions string   // if the number narrows those of digit 1
	listed    []string // position digits of the classes; nil if the table does not say
	open      []string // attributes left open
	means     string
	at        map[string][]Fact // its facts by position digit, and the positions themselves
}

func newTubular(t *table) *tubular {
	g := &tubular{table: t, positions: newKeySet(t.keys("position")), strengths: newKeySet(t.keys("strength")),
		strength: map[string][]Fact{}, usability: map[string]*usability{}}
	for _, key := range g.strengths.list {
		g.strength[key] = withTensileMin(whenever(t.at("strength", key), "weld metal", "multiple pass", t.metric()+" form"))
	}
	var numbers []string
	for _, key := range t.keys("usability") {
		number := strings.TrimPrefix(key, "T")
		numbers = append(numbers, number)
		g.usability[number] = newUsability(t, t.at("usability", key))
	}
	slices.SortFunc(numbers, byNumber)
	g.numbers = newKeySet(numbers)
	return g
}

// metric is the name of the metric edition: "A5.29M".
func (t *table) metric() string { return shortSpec(t.spec) + "M" }

func newUsability(t *table, rows []Fact) *usability {
	u := &usability{shielding: valueOf(rows, "shielding"), means: usabilityMeans(rows), at: map[string][]Fact{}}
	for _, f := range rows {
		switch {
		case f.Name == "position_digits":
			u.listed = strings.Split(f.Value, "|")
		case f.Value == "not specified":
			u.open = append(u.open, f.Name)
		case f.Name == "positions":
			u.positions = f.Value
		}
	}
	for _, p := range t.keys("position") {
		u.at[p] = atPosition(rows, p)
		if digit := t.at("position", p); u.positions == "" || digit[0].Value != "all" {
			u.at[p] = append(without(u.at[p], "positions"), digit...)
		}
	}
	return u
}

// tubularStem is a designation up to the T.
type tubularStem struct {
	strength, position         string
	strengthSpan, positionSpan span
	lead                       string // "E81T"
	metric                     bool
}

// stem reads "E81T" and writes it.
func (g *tubular) stem(s *scanner, r *reading) (tubularStem, *SyntaxError) {
	short := shortSpec(g.table.spec)
	var c tubularStem
	if !s.eat('E') {
		return c, s.fail("a designation of AWS " + short + " begins with E")
	}
	start := s.pos
	digits, ok := s.digits(2, 3)
	if !ok {
		return c, s.fail("strength and position of AWS " + short + " stand after E: " + g.strengths.words + ", then " + g.positions.words)
	}
	last := len(digits) - 1
	c.strength, c.position = digits[:last], digits[last:]
	if g.strength[c.strength] == nil {
		return c, s.failAt(s.at[start], "AWS "+short+" has strength "+g.strengths.words+" here")
	}
	if _, ok := g.positions.spelt[c.position]; !ok {
		return c, s.failAt(s.at[start+last], "AWS "+short+" has position "+g.positions.words+" after the strength")
	}
	if next := s.peek(); next == 'C' || next == 'S' { // another specification, which says more
		s.pos = start
	}
	if !s.eat('T') {
		return c, s.fail("T for a tubular wire stands after the position")
	}
	c.metric = valueUnit(g.strength[c.strength]) == "MPa"
	r.put("E", "electrode")
	c.strengthSpan = r.put(c.strength, strengthMeans(g.strength[c.strength]))
	positions := g.table.at("position", c.position)
	c.positionSpan = r.put(c.position, "positions: "+strings.ReplaceAll(positions[0].Value, "|", ", "))
	r.put("T", "tubular")
	c.lead = string(r.out)
	return c, nil
}

// valueUnit is the unit of the first row that has one.
func valueUnit(rows []Fact) string {
	for _, f := range rows {
		if f.Unit != "" && f.Unit != "%" {
			return f.Unit
		}
	}
	return ""
}

// number reads a usability number.
func (g *tubular) number(s *scanner) (string, *usability, *SyntaxError) {
	short := shortSpec(g.table.spec)
	number, ok := s.longest(g.numbers)
	switch {
	case !ok && s.peek() == '-': // AWS A5.20, which says more
		return "", nil, s.failAt(s.at[0], "AWS "+short+" has no hyphen before the usability number")
	case !ok:
		return "", nil, s.fail("a usability number of AWS " + short + " stands here: " + g.numbers.words)
	}
	if d := s.peek(); '0' <= d && d <= '9' {
		return "", nil, s.fail("AWS " + short + " has no usability number " + number + string(d) + "; it has " + g.numbers.words)
	}
	return number, g.usability[number], nil
}

// addUsability takes the facts of a usability number as given by the
// characters by; its positions come from their digit, unless the number says
// more.
func (g *tubular) addUsability(r *reading, c tubularStem, number string, u *usability, by span) {
	own := len(r.facts)
	r.add(u.at[c.position], by)
	for i := range r.facts[own:] {
		if f := &r.facts[own+i]; f.Name == "positions" && f.Value != u.positions {
			f.From, f.At = c.positionSpan.text, c.positionSpan.at
		}
	}
	g.remark(r, c, number, u)
}

// remark notes what a usability number leaves open or does not list.
func (g *tubular) remark(r *reading, c tubularStem, number string, u *usability) {
	if len(u.listed) > 0 && !slices.Contains(u.listed, c.position) {
		r.note("the class lists position %s only (E%s%sT%s)", oneOf(u.listed), c.strength, u.listed[0], number)
	}
	if len(u.open) > 0 {
		r.note("T%s does not fix %s: take it from the box or data sheet", number, strings.Join(u.open, ", "))
	}
	if p := valueOf(u.at[c.position], "polarity"); strings.Contains(p, " or ") {
		r.note("T%s in position %s: %s, as the maker recommends", number, c.position, p)
	}
}

// noHyphen says where the hyphen belongs.
func (c tubularStem) noHyphen(number string) string {
	return "a hyphen stands after T" + number + " in AWS A5.29 (E81T1-Ni1C) and A5.36 (E71T1-C1A0-CS1); AWS A5.20 has the hyphen before the number (" + c.lead + "-" + number + ")"
}
