package filler

import (
	"slices"
	"strings"
)

// a520 reads AWS A5.20/A5.20M, carbon steel flux cored electrodes:
// E, strength, position, T, hyphen, usability number, gas letter, J, D or Q,
// hydrogen; "E71T-12MJ-H4". The hyphen before the number is what tells it from
// A5.29 and A5.36.
//
// Departures from the specification: of classes that may be held together the
// tables give the pairs only; each is written in full, "E71T-1C/-1M".
type a520 struct {
	table     *table
	strengths keySet
	positions keySet
	numbers   keySet // usability without gas letter: "1", "11", "GS"
	letters   keySet // gas letters
	extras    keySet // J, D, Q
	hydrogens keySet
	usability map[string]*a520Usability // by number and letter: "1C", "11"
	undated   []string                  // numbers whose missing letter was CO2 in the 1995 edition
	dual      []string                  // classes that may be held together
}

// a520Usability is what one usability designator gives, made ready at load.
type a520Usability struct {
	key       string
	rows      []Fact
	means     string   // in short
	strengths []string // strength digits for which there are tensile rows
	positions []string // position digits of the classes that are listed
	unfixed   []string // attributes that the class leaves open
}

func newA520(t *table) grammar {
	g := &a520{
		table:     t,
		strengths: newKeySet(t.keys("strength")),
		positions: newKeySet(t.keys("position")),
		letters:   newKeySet(singleLetters(t.keys("gas_suffix"))),
		usability: map[string]*a520Usability{},
	}
	hydrogens := keysWith(t.keys("supplementary"), "H")
	g.hydrogens = newKeySet(hydrogens)
	g.extras = newKeySet(singleLetters(t.keys("supplementary")))
	var numbers []string
	for _, key := range t.keys("usability") {
		g.usability[key] = newA520Usability(key, t.at("usability", key))
		if n := g.number(key); !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	slices.SortFunc(numbers, byNumber)
	g.numbers = newKeySet(numbers)
	_, list, _ := strings.Cut(t.first("gas_suffix", "(none)", "gas"), "if the number is ")
	g.undated = strings.Fields(list)
	for _, key := range t.keys("dual_class") {
		g.dual = append(g.dual, strings.Split(key, "|")...)
	}
	return g
}

// number cuts the gas letter off a usability designator: "12M" to "12".
func (g *a520) number(key string) string {
	last := key[len(key)-1:]
	if _, letter := g.letters.spelt[last]; letter && key[0] >= '0' && key[0] <= '9' {
		return key[:len(key)-1]
	}
	return key
}

func newA520Usability(key string, rows []Fact) *a520Usability {
	u := &a520Usability{key: key, rows: rows}
	var means []string
	for _, f := range rows {
		if strength, ok := strings.CutPrefix(f.Condition, "strength digit "); ok && f.Name == "tensile" {
			strength, _, _ = strings.Cut(strength, " ")
			u.strengths = append(u.strengths, strength)
			slices.Sort(u.strengths)
		}
		switch {
		case f.Name == "position_digits":
			u.positions = strings.Split(f.Value, "|")
		case f.Value == "not specified":
			u.unfixed = append(u.unfixed, f.Name)
		case f.Condition == "" && (f.Name == "shielding" || f.Name == "polarity" || f.Name == "passes"):
			means = append(means, f.Name+" "+f.Value)
		}
	}
	u.means = "usability: " + strings.Join(means, ", ")
	return u
}

func singleLetters(keys []string) []string {
	var out []string
	for _, k := range keys {
		if len(k) == 1 {
			out = append(out, k)
		}
	}
	return out
}

// a520Class is the designation as far as conditions in the table ask for it.
type a520Class struct {
	strength, position string
	stem               string // "E71T"
}

func (g *a520) read(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	c, bad := g.stem(s, r)
	if bad != nil {
		return Decoded{}, bad
	}
	halves, bad := g.halves(s, r, c)
	if bad != nil {
		return Decoded{}, bad
	}
	for _, h := range halves {
		g.remark(r, c, h)
	}
	r.addAgreed(halves)
	if len(halves) > 1 {
		whole := r.to(halves[0].span, halves[len(halves)-1].span)
		for _, key := range g.table.keys("dual_class") {
			r.add(g.table.at("dual_class", key), whole)
		}
	}
	if bad := r.hydrogen(s, g.hydrogens, "; after the class come J, D or Q and a hydrogen designator only"); bad != nil {
		return Decoded{}, bad
	}
	return r.decoded(), nil
}

// stem reads "E71T-".
func (g *a520) stem(s *scanner, r *reading) (a520Class, *SyntaxError) {
	var c a520Class
	if !s.eat('E') {
		return c, s.fail("a designation of AWS A5.20 begins with E")
	}
	r.put("E", "electrode")
	var ok bool
	if c.strength, ok = s.longest(g.strengths); !ok {
		return c, s.failNear(g.strengths, "AWS A5.20 has strength "+g.strengths.words+" after E")
	}
	rows := g.table.at("strength", c.strength)
	strength := r.put(c.strength, rows[0].Value+" "+rows[0].Unit+" minimum tensile strength")
	if c.position, ok = s.longest(g.positions); !ok {
		return c, s.fail("AWS A5.20 has position " + g.positions.words + " after the strength")
	}
	positions := g.table.at("position", c.position)
	position := r.put(c.position, "positions: "+strings.ReplaceAll(positions[0].Value, "|", ", "))
	if !s.eat('T') {
		return c, s.fail("T for a tubular wire stands after the position")
	}
	c.stem = string(r.out) + "T"
	tubular := r.put("T", "tubular, flux cored")
	if !s.eat('-') {
		return c, s.fail("put the hyphen before the usability number: " + c.stem +
			"-… is AWS A5.20, a number right after T is AWS A5.29 or A5.36")
	}
	r.put("-", joins)
	r.add(g.table.at("form", "T"), tubular)
	r.add(g.table.at("deposit", "all"), span{})
	r.add(g.admit(c, rows, true), strength)
	r.add(positions, position)
	return c, nil
}

// admit keeps the rows whose condition on the designation holds, without it;
// those of gas only where no letter stands for it.
func (g *a520) admit(c a520Class, rows []Fact, gas bool) []Fact {
	out := make([]Fact, 0, len(rows))
	for i := range rows {
		condition, ok := c.holds(rows[i].Condition)
		if !ok || !gas && rows[i].Name == "gas" {
			continue
		}
		out = append(out, rows[i])
		out[len(out)-1].Condition = condition
	}
	return out
}

// holds evaluates a condition of the tables that speaks of the designation
// itself, such as "strength digit 7", "position digit 1", "E70T-5, and as classified" or
// "E7xT-"; any other is kept. Of a class that a condition names the position alone
// is compared: its number is the row's own designator, and 49 is 7 in the
// metric edition.
func (c a520Class) holds(condition string) (kept string, ok bool) {
	if digit, is := strings.CutPrefix(condition, "strength digit "); is {
		digit, _, _ = strings.Cut(digit, " ")
		return "", digit == c.strength
	}
	if digit, is := strings.CutPrefix(condition, "position digit "); is {
		return "", digit == c.position
	}
	if before, _, is := strings.Cut(condition, "T-"); is {
		position := before[len(before)-1:]
		return "", position == "x" || position == c.position
	}
	return condition, true
}
