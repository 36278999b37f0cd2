package filler

import "slices"

// iso14341 reads solid wires of ISO 14341, system A: G, strength, impact, gas,
// wire composition, "G 46 5 M21 3Si1"; or the wire alone, "G 3Si1". Older
// labels have gas letters and G again before the composition: "G 42 4 M G3Si1".
// Strength, impact and yield are those of ISO 17632-A from memory, but for what
// the table says itself.
type iso14341 struct {
	table        *table
	strength     map[string][]Fact
	strengths    keySet
	impact       map[string][]Fact
	impacts      keySet
	gas          *isoGas
	compositions keySet
}

func newISO14341A(b book) grammar {
	const note = "as ISO 17632-A"
	t, base := b.of("ISO 14341"), b.of("ISO 17632")
	g := &iso14341{table: t, strength: map[string][]Fact{}, impact: map[string][]Fact{}, gas: newISOGas(t, "gas_old"),
		compositions: newKeySet(t.keys("composition"))}
	var strengths, impacts []string
	for _, key := range base.keys("strength_A") {
		rows := base.at("strength_A", key)
		if singleRun(rows) {
			continue
		}
		strengths = append(strengths, key)
		g.strength[key] = withTensileMin(whenever(instead(borrowed(rows, note), t.at("strength", key)), "multi-run"))
	}
	for _, key := range base.keys("impact") {
		facts := impactFacts(base.at("impact", key), "system A")
		if facts == nil || key == "(any)" {
			continue
		}
		impacts = append(impacts, key)
		g.impact[key] = instead(borrowed(facts, note), impactFacts(t.at("impact", key), "system A"))
	}
	g.strengths, g.impacts = newKeySet(strengths), newKeySet(impacts)
	return g
}

// instead returns rows with those of own in place of the ones of the same name.
func instead(rows, own []Fact) []Fact {
	out := slices.Clone(rows)
	for i := range out {
		for _, f := range own {
			if f.Name == out[i].Name && f.Value == out[i].Value {
				out[i] = f
			}
		}
	}
	return out
}

func (g *iso14341) read(s *scanner) (Decoded, *SyntaxError) {
	if !s.eat('G') {
		return Decoded{}, s.fail("a designation of ISO 14341-A begins with G")
	}
	r := newReading(g.table)
	lead := r.symbol("G", "solid wire for gas shielded arc welding")
	r.add(g.table.at("form", "all"), lead)
	r.add(g.table.at("deposit", "all"), span{})
	start := s.pos
	if strength, ok := s.longest(g.strengths); ok {
		if bad := g.weldMetal(s, r, strength); bad != nil {
			return Decoded{}, bad
		}
	} else {
		r.note("the wire alone: strength, impact and gas are not in the designation")
	}
	alone := s.pos == start
	older := ""
	if !alone && s.eat('G') {
		older = "G"
	}
	composition, ok := s.longest(g.compositions)
	switch {
	case !ok && alone:
		return Decoded{}, s.failNear(g.strengths, "strength ("+g.strengths.words+") or wire composition ("+g.compositions.words+") of ISO 14341-A stands here")
	case !ok:
		return Decoded{}, s.failNear(g.compositions, "the wire composition stands here: "+g.compositions.words)
	case !s.end():
		return Decoded{}, s.fail("nothing of ISO 14341-A stands behind the wire composition")
	}
	rows := g.table.at("composition", composition)
	r.add(rows, r.symbol(older+composition, "composition "+rows[0].Value))
	r.add(g.table.at("always", "all"), span{})
	if composition == "Z" {
		r.note("Z is any agreed composition: read the box or data sheet")
	}
	d := r.decoded()
	d.Spec = "ISO 14341-A"
	return d, nil
}

// weldMetal reads impact and gas behind the strength.
func (g *iso14341) weldMetal(s *scanner, r *reading, strength string) *SyntaxError {
	r.add(g.strength[strength], r.symbol(strength, strengthMeans(g.strength[strength], "yield_min")))
	impact, ok := s.longest(g.impacts)
	if !ok {
		return s.fail("an impact symbol stands after the strength: " + g.impacts.words)
	}
	r.add(g.impact[impact], r.symbol(impact, impactMeans(g.impact[impact])))
	var symbols []string
	for len(symbols) == 0 || len(symbols) == 1 && s.eat('/') {
		gas, ok := s.longest(g.gas.keys)
		if !ok || slices.Contains(symbols, gas) {
			return s.failNear(g.gas.keys, "a gas symbol of ISO 14175 stands here")
		}
		symbols = append(symbols, gas)
	}
	g.gas.add(r, symbols)
	return nil
}
