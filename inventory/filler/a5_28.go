package filler

import (
	"slices"
	"strings"
)

// a528 reads AWS A5.28/A5.28M, low-alloy steel for gas shielded welding: solid
// wires and rods, ER, strength, S, hyphen, composition ("ER80S-D2"), and metal
// cored ones, E, strength, C, hyphen, composition ("E80C-Ni1"), behind which a
// gas letter may stand; each with an optional hydrogen designator.
//
// A strength and a composition that the tables know but not together is read,
// with a note, for the tables do not hold every class. A composition that is a
// number means something at its own strengths only.
type a528 struct {
	table     *table
	forms     map[byte]*a528Form // by form letter, S or C
	strengths keySet
	us        map[string]string // metric strength to the U.S. one it stands for
	letters   keySet
	hydrogens keySet
}

// a528Form is the classes of one form.
type a528Form struct {
	letter, lead string // "S" and "ER", or "C" and "E"
	rows         map[string][]Fact
	any          []Fact // of every class of the form: "ERxxS-x"
	compositions keySet
}

func newA528(t *table) grammar {
	g := &a528{
		table:     t,
		us:        map[string]string{},
		letters:   newKeySet(t.keys("gas_suffix")),
		hydrogens: newKeySet(keysWith(t.keys("supplementary"), "H")),
		strengths: newKeySet(t.keys("strength")),
		forms: map[byte]*a528Form{
			'S': newA528Form(t, "solid", "ER", "S"),
			'C': newA528Form(t, "metal_cored", "E", "C"),
		},
	}
	g.share()
	for _, key := range g.strengths.list {
		if us := t.first("strength", key, "us_prefix"); us != "" {
			g.us[key] = us
		}
	}
	return g
}

// share lets each form have the compositions of the other, but for numbers.
func (g *a528) share() {
	all := slices.Concat(g.forms['S'].compositions.list, g.forms['C'].compositions.list)
	for _, f := range g.forms {
		keys := slices.Clone(f.compositions.list)
		for _, key := range all {
			if !slices.Contains(keys, key) && (key[0] < '0' || key[0] > '9') {
				keys = append(keys, key)
			}
		}
		f.compositions = newKeySet(keys)
	}
}

func newA528Form(t *table, kind, lead, letter string) *a528Form {
	f := &a528Form{letter: letter, lead: lead, rows: map[string][]Fact{}}
	compositions := slices.Clone(t.keys("composition"))
	for _, key := range t.keys(kind) {
		strength, composition, _ := strings.Cut(strings.TrimPrefix(key, lead), letter+"-")
		rows := t.at(kind, key)
		if strings.HasPrefix(strength, "x") {
			f.any = append(f.any, rows...)
			continue
		}
		f.rows[strength+letter+"-"+composition] = rows
		if !slices.Contains(compositions, composition) {
			compositions = append(compositions, composition)
		}
	}
	f.compositions = newKeySet(compositions)
	return f
}

func (g *a528) read(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	if !s.eat('E') {
		return Decoded{}, s.fail("a designation of AWS A5.28 begins with ER or E")
	}
	rod := s.eat('R')
	strength, ok := s.longest(g.strengths)
	if !ok {
		return Decoded{}, s.fail("AWS A5.28 has strength " + g.strengths.words + " here")
	}
	f, bad := g.form(s, rod, strength)
	if bad != nil {
		return Decoded{}, bad
	}
	s.eat('-')
	start := s.pos
	composition, ok := s.longest(f.compositions)
	if !ok {
		return Decoded{}, s.failNear(f.compositions, "after "+f.lead+strength+f.letter+"- comes "+f.compositions.words)
	}
	if bad := g.known(s, start, f, strength, composition); bad != nil {
		return Decoded{}, bad
	}
	g.put(r, f, strength, composition)
	after := ""
	if f.letter == "C" {
		g.gas(s, r)
		after = "; a gas letter or a hydrogen designator may"
	}
	if bad := r.hydrogen(s, g.hydrogens, after); bad != nil {
		return Decoded{}, bad
	}
	return r.decoded(), nil
}

// form reads S or C and holds it against the lead.
func (g *a528) form(s *scanner, rod bool, strength string) (*a528Form, *SyntaxError) {
	f := g.forms[s.peek()]
	switch {
	case f == nil:
		return nil, s.fail("S (solid) or C (metal cored) stands after the strength")
	case f.letter == "S" && !rod:
		return nil, s.fail("a solid wire is ER" + strength + "S")
	case f.letter == "C" && rod:
		return nil, s.fail("a metal cored wire is E" + strength + "C, without R")
	}
	s.pos++
	return f, nil
}

// usStrength is the U.S. strength that a strength is or stands for.
func (g *a528) usStrength(strength string) string {
	if us, metric := g.us[strength]; metric {
		return us
	}
	return strength
}

// known refuses a class that means nothing: a number at a strength that does
// not have it, and what is AWS A5.18.
func (g *a528) known(s *scanner, start int, f *a528Form, strength, composition string) *SyntaxError {
	us := g.usStrength(strength)
	switch {
	case f.rows[us+f.letter+"-"+composition] != nil:
	case '0' <= composition[0] && composition[0] <= '9':
		return s.failAt(s.at[start], "AWS A5.28 has no "+f.lead+strength+f.letter+"-"+composition)
	case us == g.strengths.list[0] && g.table.at("composition", composition) != nil:
		return s.failAt(s.at[start], f.lead+strength+f.letter+"-"+composition+" is of AWS A5.18")
	}
	return nil
}

// put writes the class with what it gives.
func (g *a528) put(r *reading, f *a528Form, strength, composition string) {
	if f.letter == "S" {
		r.put("ER", "electrode or rod")
	} else {
		r.put("E", "electrode")
	}
	us := g.usStrength(strength)
	rows := f.rows[us+f.letter+"-"+composition]
	own := valueOf(rows, "tensile_min") != "" && us == strength
	digits := whenever(without(g.table.at("strength", strength), "us_prefix"), "A5.28M form")
	by := r.put(strength, strengthMeans(digits))
	form := r.put(f.letter, g.table.first("form", f.letter, "form"))
	r.put("-", joins)
	r.add(g.table.at("form", f.letter), form)
	r.add(g.table.at("deposit", "all"), span{})
	r.add(f.any, form)
	if !own {
		r.add(digits, by)
	}
	class := r.put(composition, g.compositionMeans(rows, composition))
	for i := range rows {
		switch {
		case us != strength && usUnit(rows[i].Unit):
		case rows[i].Name == "tensile_min":
			r.add(rows[i:i+1], by)
		default:
			r.add(rows[i:i+1], class)
		}
	}
	r.add(g.table.at("composition", composition), class)
	g.remark(r, f, strength, composition, rows)
}

func (g *a528) compositionMeans(rows []Fact, composition string) string {
	if c := valueOf(rows, "wire_composition"); c != "" {
		return "composition " + c
	}
	return "composition " + composition
}

// remark notes what the tables do not say of a class.
func (g *a528) remark(r *reading, f *a528Form, strength, composition string, rows []Fact) {
	class := f.lead + strength + f.letter + "-" + composition
	switch us := g.usStrength(strength); {
	case g.table.at("composition", composition) != nil:
		r.note("-%s does not fix the composition: take it from the box or data sheet", composition)
	case rows == nil:
		r.note("%s is no class of the tables: its composition and impact are not known here, read the box or data sheet", class)
	case us != strength:
		r.note("metric form: what the tables give in ksi, ft-lbf and degF for %s%s%s-%s is left out, read the box", f.lead, us, f.letter, composition)
	}
}

// gas reads the gas letter that may stand behind a metal cored class.
func (g *a528) gas(s *scanner, r *reading) {
	letter, ok := s.longest(g.letters)
	if !ok {
		return
	}
	rows := g.table.at("gas_suffix", letter)
	r.facts = without(r.facts, "gas")
	r.add(rows, r.put(letter, "gas "+rows[0].Value))
}
