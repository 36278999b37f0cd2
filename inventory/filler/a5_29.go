package filler

import (
	"slices"
	"strconv"
	"strings"
)

// a529 reads AWS A5.29/A5.29M, low-alloy flux cored electrodes: E, strength,
// position, T, usability number, hyphen, composition, gas letter, hyphen, J,
// hydrogen; "E81T1-Ni1C-JH4". The number stands right behind T, which tells it
// from A5.20.
//
// Departure from the specification: a wire classified with both gases may be
// written "E81T1-Ni1C/M".
type a529 struct {
	*tubular
	compositions keySet
	letters      keySet
	hydrogens    keySet
	impact       map[string][]Fact // by strength, usability and composition: "8T1-Ni1"
	jDegrees     int               // by how much J lowers the impact temperature, degF
}

func newA529(t *table) grammar {
	g := &a529{
		tubular:      newTubular(t),
		compositions: newKeySet(t.keys("composition")),
		letters:      newKeySet(singleLetters(t.keys("gas_suffix"))),
		hydrogens:    newKeySet(keysWith(t.keys("supplementary"), "H")),
		impact:       map[string][]Fact{},
	}
	for _, key := range t.keys("impact") {
		g.impact[strings.Replace(strings.TrimPrefix(key, "E"), "X", "", 1)] = t.at("impact", key)
	}
	_, words, _ := strings.Cut(t.first("supplementary", "J", "meaning"), " at ")
	degrees, _, _ := strings.Cut(words, " ")
	g.jDegrees, _ = strconv.Atoi(degrees)
	return g
}

func (g *a529) read(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	c, bad := g.stem(s, r)
	if bad != nil {
		return Decoded{}, bad
	}
	number, u, bad := g.number(s)
	if bad != nil {
		return Decoded{}, bad
	}
	if !s.eat('-') && !s.spaced() {
		return Decoded{}, s.fail(c.noHyphen(number))
	}
	composition, ok := s.longest(g.compositions)
	if !ok {
		return Decoded{}, s.failNear(g.compositions, "AWS A5.29 has a composition here: "+g.compositions.words)
	}
	by := r.put(number, u.means)
	r.put("-", joins)
	r.add(g.table.at("form", "T"), span{"T", by.at - 1})
	r.add(g.table.at("deposit", "all"), span{})
	r.add(g.strength[c.strength], c.strengthSpan)
	g.addUsability(r, c, number, u, by)
	g.composition(r, u, composition)
	if bad := g.gas(s, r, c, u, composition); bad != nil {
		return Decoded{}, bad
	}
	g.addImpact(r, c, number, composition, by)
	if bad := g.supplements(s, r); bad != nil {
		return Decoded{}, bad
	}
	return r.decoded(), nil
}

// composition writes the composition suffix with what it gives.
func (g *a529) composition(r *reading, u *usability, key string) {
	rows := g.table.at("composition", key)
	by := r.put(key, valueOf(rows, "alloy_family")+", "+valueOf(rows, "weld_metal_ranges"))
	r.add(forShielding(rows, u.shielding), by)
}

// forShielding keeps the rows that hold for wires of a shielding, "self" or "external".
func forShielding(rows []Fact, shielding string) []Fact {
	out := make([]Fact, 0, len(rows))
	for _, f := range rows {
		if kind, special := strings.CutSuffix(f.Condition, "-shielded types only"); special {
			if kind != shielding {
				continue
			}
			f.Condition = ""
		}
		out = append(out, f)
	}
	return out
}

// gas reads the gas letter, or the two of a wire classified with both.
func (g *a529) gas(s *scanner, r *reading, c tubularStem, u *usability, composition string) *SyntaxError {
	r.facts = slices.DeleteFunc(r.facts, func(f Fact) bool { return f.Name == "gas" && u.shielding == "external" })
	start := s.pos
	letter, ok := s.longest(g.letters)
	switch {
	case ok && u.shielding == "self":
		return s.failAt(s.at[start], "a self-shielded class takes no gas letter")
	case !ok && u.shielding == "external":
		for _, f := range g.table.at("gas_suffix", "(none)") {
			f.Note, f.Value = f.Value, "not specified"
			r.add([]Fact{f}, span{})
		}
		r.note("the gas letter %s is missing: a wire of this class needs gas, read on the box which", oneOf(g.letters.list))
		return nil
	case !ok:
		return nil
	}
	if u.shielding != "external" { // TG
		r.facts = slices.DeleteFunc(r.facts, func(f Fact) bool { return f.Name == "gas" })
	}
	rows := g.table.at("gas_suffix", letter)
	first := half{key: letter, span: r.put(letter, "gas "+rows[0].Value)}
	first.facts = first.facts.with(rows, first.span)
	second, bad := g.secondGas(s, r, c, composition, letter)
	if bad != nil {
		return bad
	}
	halves := []half{first}
	if second.key != "" {
		halves = append(halves, second)
	}
	r.addAgreed(halves)
	return nil
}

// secondGas reads "/M", "/-Ni1M" or the second class in full.
func (g *a529) secondGas(s *scanner, r *reading, c tubularStem, composition, first string) (half, *SyntaxError) {
	if !s.eat('/') {
		return half{}, nil
	}
	if s.word(c.lead) {
		s.longest(g.numbers)
	}
	s.eat('-')
	if other, ok := s.longest(g.compositions); ok && other != composition {
		return half{}, s.fail("one wire has one composition, " + composition)
	}
	start := s.pos
	letter, ok := s.longest(g.letters)
	if !ok || letter == first {
		return half{}, s.failAt(s.at[start], "the other gas letter stands here: "+g.letters.words)
	}
	rows := g.table.at("gas_suffix", letter)
	r.put("/", "also classified")
	h := half{key: letter, span: r.put(letter, "gas "+rows[0].Value)}
	h.facts = h.facts.with(rows, h.span)
	return h, nil
}

// addImpact takes the impact of the class, where the table has it.
func (g *a529) addImpact(r *reading, c tubularStem, number, composition string, by span) {
	rows := g.impact[c.strength+"T"+number+"-"+composition]
	r.add(rows, r.to(by, span{composition, by.at + len(number) + 1}))
	if rows == nil {
		r.note("impact of this class is not known here: read the box or data sheet")
	}
}

// supplements reads the J and the hydrogen designator that may end a designation.
func (g *a529) supplements(s *scanner, r *reading) *SyntaxError {
	start := s.pos
	s.eat('-')
	if rows := g.table.at("supplementary", "J"); rows != nil && s.eat('J') {
		r.put("-", joins)
		g.lower(r, rows, r.put("J", rows[0].Value))
		hyphen := s.eat('-')
		if key, ok := s.longest(g.hydrogens); ok {
			r.putHydrogen(key)
		} else if hyphen {
			return s.failNear(g.hydrogens, "a hydrogen designator is "+g.hydrogens.words)
		}
	} else {
		s.pos = start
	}
	return r.hydrogen(s, g.hydrogens, "; after the class come J and a hydrogen designator only")
}

// lower applies J: the impact of the class holds at a lower temperature.
func (g *a529) lower(r *reading, rows []Fact, by span) {
	r.add(rows, by)
	for i, f := range r.facts {
		degrees, err := strconv.Atoi(f.Value)
		switch {
		case f.Name == "impact_min_energy" && f.Unit != "":
		case f.Name == "impact_temperature" && err == nil:
			f.Value = strconv.Itoa(degrees - g.jDegrees)
		default:
			continue
		}
		f.Provenance, f.Source, f.From, f.At = rows[0].Provenance, rows[0].Source, by.text, by.at
		r.facts[i] = f
	}
}
