package filler

import (
	"slices"
	"strings"
)

// a536 reads AWS A5.36/A5.36M, carbon and low-alloy cored electrodes. Open
// scheme: E, strength, position, T, usability (S added: single pass), hyphen,
// gas symbol of ISO 14175 unless self-shielded, condition, impact, hyphen,
// composition, D or Q, hydrogen; "E81T1-M21A8-Ni1-H4". Behind S come gas and
// hydrogen only. The fixed classes, "E71T-1C", are those of A5.20 and A5.18
// and are read as A5.36 only if the label names it (a5_36_fixed.go).
//
// Departures from the specification: the hyphen before the usability number of
// "E71T-11-AZ-CS3" is tolerated, and a composition that is left out is noted.
type a536 struct {
	*tubular
	gases        keySet
	conditions   keySet
	impacts      [2]keySet // U.S., metric
	impact       [2]map[string][]Fact
	compositions keySet
	composition  map[string]*a536Composition
	supplements  keySet // D, Q
	hydrogens    keySet
	singlePass   []Fact // what S says
	fixed        *a536Fixed
}

// a536Composition is what a composition designator gives.
type a536Composition struct {
	facts []Fact // deposit among them
	means string
}

func newA536(b book) grammar {
	t := b.of("A5.36")
	g := &a536{
		tubular:     newTubular(t),
		conditions:  newKeySet(t.keys("condition")),
		composition: map[string]*a536Composition{},
		supplements: newKeySet(singleLetters(t.keys("supplementary"))),
		hydrogens:   newKeySet(keysWith(t.keys("supplementary"), "H")),
		fixed:       newA536Fixed(b),
	}
	g.gases = newKeySet(slices.DeleteFunc(slices.Clone(t.keys("gas")), func(k string) bool { return k == "(none)" }))
	for i, system := range []string{"A5.36", "A5.36M"} {
		var keys []string
		g.impact[i] = map[string][]Fact{}
		for _, key := range t.keys("impact") {
			if facts := impactFacts(t.at("impact", key), system); facts != nil {
				keys = append(keys, key)
				g.impact[i][key] = facts
			}
		}
		slices.SortFunc(keys, byNumber)
		g.impacts[i] = newKeySet(keys)
	}
	for _, f := range t.at("structure", "S") {
		if f.Name == "meaning" && f.Value == "single pass" {
			f.Name, f.Value = "passes", "single only"
			g.singlePass = append(g.singlePass, f)
		}
	}
	g.readCompositions(t, b.of("A5.29"))
	for number, u := range g.usability {
		for p, rows := range u.at {
			named := rows[0]
			named.Name, named.Value = "usability", "T"+number
			u.at[p] = append(rows, named)
		}
	}
	return g
}

// readCompositions makes ready the carbon steel compositions of the table and
// those that it takes from A5.29.
func (g *a536) readCompositions(t, lowAlloy *table) {
	var keys []string
	for _, key := range t.keys("composition") {
		if strings.Contains(key, " ") {
			continue
		}
		rows := t.at("composition", key)
		keys = append(keys, key)
		g.composition[key] = &a536Composition{append(slices.Clone(rows), t.at("deposit", "CS")...), valueOf(rows, "use")}
	}
	for _, key := range lowAlloy.keys("composition") {
		rows := borrowed(lowAlloy.at("composition", key), "composition as A5.29")
		for _, other := range t.keys("composition") {
			if strings.Contains(other, " ") {
				rows = append(rows, t.at("composition", other)...)
			}
		}
		keys = append(keys, key)
		means := valueOf(rows, "alloy_family") + ", " + valueOf(rows, "weld_metal_ranges")
		g.composition[key] = &a536Composition{append(rows, t.at("deposit", "low alloy")...), means}
	}
	g.compositions = newKeySet(keys)
}

func (g *a536) read(s *scanner) (Decoded, *SyntaxError) {
	start := s.pos
	d, bad := g.open(s)
	if bad != nil && s.named == "A5.36" {
		end := s.pos
		s.pos = start
		fixed, worse := g.fixed.read(s)
		if worse == nil {
			return fixed, nil
		}
		if worse.At > bad.At {
			bad = worse
		} else {
			s.pos = end
		}
	}
	return d, bad
}

// open reads a designation of the open scheme.
func (g *a536) open(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	c, bad := g.stem(s, r)
	if bad != nil {
		return Decoded{}, bad
	}
	hyphen := s.eat('-')
	number, u, bad := g.number(s)
	if bad != nil {
		return Decoded{}, g.unless(hyphen, s, bad)
	}
	if single := g.usability[number+"S"]; single != nil && s.eat('S') {
		number, u = number+"S", single
	}
	by := r.put(number, u.means)
	if strings.HasSuffix(number, "S") || s.peek() == 'S' {
		if hyphen { // AWS A5.20: E71T-GS
			return Decoded{}, g.unless(hyphen, s, s.fail("write the usability number right behind T"))
		}
		if s.eat('S') {
			by = r.to(by, r.put("S", "single pass"))
			u = u.singlePass(g.singlePass)
		}
		return g.single(s, r, c, number, u, by)
	}
	if !s.eat('-') && !s.spaced() {
		return Decoded{}, g.unless(hyphen, s, s.fail(c.noHyphen(number)))
	}
	r.put("-", joins)
	if bad := g.multiple(s, r, c, number, u, by); bad != nil {
		return Decoded{}, g.unless(hyphen, s, bad)
	}
	if bad := g.tail(s, r, u); bad != nil {
		return Decoded{}, bad
	}
	return r.decoded(), nil
}

// unless keeps quiet where the hyphen says that another specification is meant.
func (g *a536) unless(hyphen bool, s *scanner, bad *SyntaxError) *SyntaxError {
	if hyphen {
		return s.failAt(s.at[0], bad.Detail)
	}
	return bad
}

// singlePass returns the usability with S behind it.
func (u *usability) singlePass(passes []Fact) *usability {
	single := *u
	single.at = map[string][]Fact{}
	for p, rows := range u.at {
		single.at[p] = append(without(rows, "passes"), passes...)
	}
	return &single
}

// multiple reads gas, condition and impact, "M21A8", and takes the facts so far.
func (g *a536) multiple(s *scanner, r *reading, c tubularStem, number string, u *usability, by span) *SyntaxError {
	system := 0
	if c.metric {
		system = 1
	}
	gas, bad := g.gasKey(s, number, u)
	if bad != nil {
		return bad
	}
	condition, ok := s.longest(g.conditions)
	if !ok {
		return s.fail("the condition of the test stands here: " + g.conditions.words)
	}
	impact, ok := s.longest(g.impacts[system])
	if !ok {
		return s.fail("an impact designator stands after the condition: " + g.impacts[system].words)
	}
	r.add(g.strength[c.strength], c.strengthSpan)
	g.addForm(r, u, by)
	g.addUsability(r, c, number, u, by)
	g.putGas(r, u, gas)
	rows := g.table.at("condition", condition)
	r.add(renamed(rows, "meaning", "condition"), r.put(condition, rows[0].Value))
	r.add(g.impact[system][impact], r.put(impact, impactMeans(g.impact[system][impact])))
	return nil
}

// single reads what may follow a usability with S: "-C1", hydrogen.
func (g *a536) single(s *scanner, r *reading, c tubularStem, number string, u *usability, by span) (Decoded, *SyntaxError) {
	r.add(only(g.strength[c.strength], "tensile_min"), c.strengthSpan)
	g.addForm(r, u, by)
	g.addUsability(r, c, number, u, by)
	start := s.pos
	s.eat('-')
	_, symbol := s.longest(g.gases)
	if s.pos = start; symbol || u.shielding == "external" {
		s.eat('-')
		r.put("-", joins)
	}
	gas, bad := g.gasKey(s, number, u)
	if bad != nil {
		return Decoded{}, bad
	}
	g.putGas(r, u, gas)
	r.add(g.table.at("deposit", "(none)"), span{})
	if bad := r.hydrogen(s, g.hydrogens, "; behind S come gas and hydrogen only"); bad != nil {
		return Decoded{}, bad
	}
	return r.decoded(), nil
}

// addForm says whether the wire is flux cored or metal cored.
func (g *a536) addForm(r *reading, u *usability, by span) {
	for _, f := range u.at[g.positions.list[0]] {
		if f.Name == "core" && f.Value == "metal" {
			f.Name, f.Value = "form", "metal cored"
			r.add([]Fact{f}, by)
			return
		}
	}
	key := "T"
	if len(u.open) > 0 {
		key = "TG"
	}
	r.add(g.table.at("form", key), by)
}

// gasKey reads the gas symbol that a gas shielded wire has; it is empty if the
// wire has none.
func (g *a536) gasKey(s *scanner, number string, u *usability) (string, *SyntaxError) {
	start := s.pos
	key, ok := s.longest(g.gases)
	switch {
	case ok && u.shielding == "self":
		return "", s.failAt(s.at[start], "T"+number+" is self-shielded and takes no gas symbol")
	case !ok && u.shielding == "external":
		bad := s.failNear(g.gases, "T"+number+" needs gas: its symbol is missing before the condition ("+g.gases.words+")")
		_, condition := s.longest(g.conditions)
		_, impact := s.longest(g.impacts[0])
		bad.sure = condition && impact && s.peek() == '-'
		return "", bad
	}
	return key, nil
}

// putGas writes a gas symbol with what it gives, or its absence.
func (g *a536) putGas(r *reading, u *usability, key string) {
	switch {
	case key == "" && u.shielding == "self":
		f := g.table.at("gas", "(none)")[0]
		f.Name, f.Value = "gas", "none"
		r.add([]Fact{f}, span{})
	case key != "":
		r.facts = without(r.facts, "gas")
		f := g.table.at("gas", key)[0]
		by := r.put(key, "gas "+gases().boundsOf(key))
		f.Note, f.Name, f.Value = f.Value, "gas", key
		r.add([]Fact{f}, by)
	}
}

// tail reads composition, D or Q, and hydrogen.
func (g *a536) tail(s *scanner, r *reading, u *usability) *SyntaxError {
	start := s.pos
	s.eat('-')
	if key, ok := s.longest(g.compositions); ok {
		r.put("-", joins)
		r.add(forShielding(g.composition[key].facts, u.shielding), r.put(key, g.composition[key].means))
	} else {
		r.add(g.table.at("deposit", "(none)"), span{})
		r.note("the composition is missing (-CS1, -Ni1 …): read it on the box")
		s.pos = start
	}
	start = s.pos
	s.eat('-')
	if key, ok := s.longest(g.supplements); ok {
		rows := g.table.at("supplementary", key)
		r.put("-", joins)
		r.add(rows, r.put(key, rows[0].Value))
	} else {
		s.pos = start
	}
	after := "; behind the impact come composition, D or Q and hydrogen only"
	bad := r.hydrogen(s, g.hydrogens, after)
	if bad != nil && s.pos > start && s.peek() != 'H' && s.norm[s.pos-1] == '-' {
		bad.Detail = "a composition or a hydrogen designator stands here: " + g.compositions.words + "; " + g.hydrogens.words
	}
	return bad
}
