package filler

import (
	"slices"
	"strings"
)

// covered reads low-hydrogen covered electrodes, which stores keep beside
// wires because the time they may lie open is published. AWS A5.1: E, strength,
// position and covering digit, M or -1, hydrogen, R; "E7018-1-H4R". AWS A5.5
// has a composition in place of M and -1: "E8018-C3-H4R", "E11018M".
// Other coverings are refused.
type covered struct {
	table        *table
	strengths    keySet
	coverings    keySet // position and covering digit: "18"
	suffixes     keySet // of A5.1: M, -1
	compositions keySet // of A5.5
	hydrogens    keySet
}

func newCovered(t *table) grammar {
	return &covered{
		table: t, strengths: newKeySet(t.keys("strength")), coverings: newKeySet(t.keys("covering")),
		suffixes: newKeySet(t.keys("suffix")), compositions: newKeySet(t.keys("composition")),
		hydrogens: newKeySet(keysWith(t.keys("supplementary"), "H")),
	}
}

// coveredClass is a designation as far as its exposure limit needs it.
type coveredClass struct {
	strength, covering, suffix string
	hydrogen, resistant        bool
}

func (g *covered) read(s *scanner) (Decoded, *SyntaxError) {
	r, short := newReading(g.table), shortSpec(g.table.spec)
	if !s.eat('E') {
		return Decoded{}, s.fail("a designation of AWS " + short + " begins with E")
	}
	start := s.pos
	digits, ok := s.digits(4, 5)
	if !ok {
		return Decoded{}, s.fail("four or five digits of AWS " + short + " stand after E")
	}
	c := coveredClass{strength: digits[:len(digits)-2], covering: digits[len(digits)-2:]}
	if _, ok := g.strengths.spelt[c.strength]; !ok {
		return Decoded{}, s.failAt(s.at[start], "AWS "+short+" has strength "+g.strengths.words+" here")
	}
	if _, ok := g.coverings.spelt[c.covering]; !ok {
		bad := s.failAt(s.at[start+len(c.strength)], "of AWS "+short+" only low-hydrogen electrodes are read: position and covering "+g.coverings.words)
		bad.sure = true // no wire has so many digits behind E
		return Decoded{}, bad
	}
	g.putStem(r, c)
	if bad := g.suffix(s, r, &c); bad != nil {
		return Decoded{}, bad
	}
	if bad := g.supplements(s, r, &c); bad != nil {
		return Decoded{}, bad
	}
	r.add(g.exposure(c), span{string(r.out), 0})
	return r.decoded(), nil
}

// putStem writes "E7018" with what it gives.
func (g *covered) putStem(r *reading, c coveredClass) {
	rows := g.table.at("covering", c.covering)
	lead := r.put("E", "covered electrode")
	strength := r.put(c.strength, strengthMeans(g.table.at("strength", c.strength)))
	position := r.put(c.covering[:1], "positions: "+strings.ReplaceAll(valueOf(rows, "positions"), "|", ", "))
	covering := r.put(c.covering[1:], valueOf(rows, "covering")+", "+valueOf(rows, "polarity"))
	for _, kind := range []string{"form", "process"} {
		r.add(g.table.at(kind, "all"), lead)
	}
	r.add(g.table.at("deposit", "all"), span{})
	r.add(g.table.at("strength", c.strength), strength)
	r.add(only(rows, "positions"), position)
	r.add(without(rows, "positions"), r.to(position, covering))
	r.add(g.table.at("impact", c.covering), r.to(position, covering))
}

// suffix reads M or -1 of A5.1, the composition of A5.5.
func (g *covered) suffix(s *scanner, r *reading, c *coveredClass) *SyntaxError {
	if len(g.compositions.list) > 0 {
		return g.composition(s, r, c)
	}
	key, ok := s.longest(g.suffixes)
	if !ok {
		return nil
	}
	rows := g.table.at("suffix", key)
	c.suffix = key
	if hyphen := strings.HasPrefix(key, "-"); hyphen {
		r.put("-", joins)
	}
	means := valueOf(rows, "meaning")
	if means == "" {
		means = impactMeans(rows)
	}
	by := r.put(strings.TrimPrefix(key, "-"), means)
	r.facts = slices.DeleteFunc(r.facts, func(f Fact) bool {
		return slices.ContainsFunc(rows, func(row Fact) bool { return row.Name == f.Name })
	})
	r.add(rows, by)
	return nil
}

// composition reads what tells A5.5 from A5.1. M of the military classes has
// no hyphen.
func (g *covered) composition(s *scanner, r *reading, c *coveredClass) *SyntaxError {
	hyphen := s.eat('-')
	start := s.pos
	key, ok := s.longest(g.compositions)
	military := strings.HasPrefix(key, "M")
	if !ok || !hyphen && !military && !s.gap[start] {
		return s.failAt(s.at[start], "a hyphen and the composition stand here in AWS A5.5: "+g.compositions.words)
	}
	rows := g.table.at("composition", key)
	if only := valueOf(rows, "strengths"); only != "" && !slices.Contains(strings.Split(only, "|"), c.strength) {
		return s.failAt(s.at[start], key+" goes with strength "+oneOf(strings.Split(only, "|"))+" only")
	}
	if !military {
		r.put("-", joins)
	}
	c.suffix = "-X"
	r.add(without(rows, "strengths"), r.put(key, valueOf(rows, "alloy_family")))
	return nil
}

// supplements reads hydrogen and R.
func (g *covered) supplements(s *scanner, r *reading, c *coveredClass) *SyntaxError {
	hyphen := s.eat('-')
	if key, ok := s.longest(g.hydrogens); ok {
		c.hydrogen = true
		r.put("-", joins)
		r.putHydrogen(key)
	} else if hyphen || s.peek() == 'H' {
		return s.failNear(g.hydrogens, "a hydrogen designator is "+g.hydrogens.words)
	}
	if rows := g.table.at("supplementary", "R"); rows != nil && s.eat('R') {
		c.resistant = true
		r.add(rows, r.put("R", rows[0].Value))
	}
	if !s.end() {
		return s.fail("nothing of " + g.table.spec + " stands here")
	}
	return nil
}

// exposure finds how long the electrode may lie open by AWS D1.1.
func (g *covered) exposure(c coveredClass) []Fact {
	class := "E" + c.strength + "XX"
	switch {
	case c.suffix == "-X":
		class += "-X"
	case c.suffix == "M":
		class = "E" + c.strength + c.covering + "M"
	case c.resistant && c.hydrogen:
		class += "HZR"
	case c.resistant:
		class += "R"
	}
	return g.table.at("exposure", class)
}
