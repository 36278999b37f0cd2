package filler

import (
	"slices"
	"strings"
)

// iso17633 reads tubular cored electrodes of stainless steel. System A: T,
// alloy symbol, core, gas, position; "T 23 12 L R M21 3". System B: TS, alloy
// type, hyphen, F, M or R, gas, position; "TS 309L-F M21 1". There is no
// strength, impact or polarity in it.
//
// The alloy symbols of system A are read with or without their inner spaces.
// Two gas symbols may stand together with a slash.
type iso17633 struct {
	name      string // "ISO 17633-A"
	table     *table
	lead      string // "T" or "TS"
	alloys    []isoAlloy
	core      map[string][]Fact
	cores     keySet
	gas       *isoGas
	position  map[string][]Fact
	says      map[string]string
	positions keySet
	near      map[string][]Fact // what the table says of one designation
}

// isoAlloy is an alloy symbol with what it gives.
type isoAlloy struct {
	symbol string // "23 12 L"
	upper  string
	rows   []Fact
	listed bool // the tables have its composition
}

func newISO17633A(b book) grammar {
	t, base := b.of("ISO 17633"), b.of("ISO 17632")
	g := newISO17633("ISO 17633-A", "T", t, base, "core_A", "position_A", t.keys("position"))
	for _, kind := range []string{"alloy", "alloy@ISO 3581 guide", "listed"} {
		for _, key := range t.keys(kind) {
			g.addAlloy(key, without(t.at(kind, key), "exists"))
		}
	}
	for _, key := range t.keys("example") {
		g.near[key] = t.at("example", key)
	}
	return g
}

// newISO17633B takes the alloy types of AWS A5.22, from memory.
func newISO17633B(b book) grammar {
	t, base := b.of("ISO 17633"), b.of("ISO 17632")
	g := newISO17633("ISO 17633-B", "TS", t, base, "core_B", "position_B", nil)
	for _, key := range b.of("A5.22").keys("type") {
		g.addAlloy(key, []Fact{{Name: "aws_type_near", Value: key, Provenance: Memory}})
	}
	return g
}

func newISO17633(name, lead string, t, base *table, cores, positions string, note []string) *iso17633 {
	g := &iso17633{name: name, lead: lead, table: t, core: map[string][]Fact{}, position: map[string][]Fact{}, near: map[string][]Fact{}}
	for _, key := range t.keys(cores) {
		g.core[key] = renamed(append(slices.Clone(t.at(cores, key)), formOfCore(t, key)...), "characteristic", "core")
	}
	g.cores = newKeySet(t.keys(cores))
	g.gas = newISOGas(t, "gas_old")
	for _, key := range base.keys(positions) {
		g.position[key] = borrowed(base.at(positions, key), "as "+strings.Replace(name, "17633", "17632", 1))
		for _, n := range note {
			g.position[key] = append(g.position[key], renamed(t.at("position", n), "positions", "positions_rule")...)
		}
	}
	g.positions, g.says = isoPositions(base, positions)
	return g
}

func (g *iso17633) addAlloy(symbol string, rows []Fact) {
	listed := slices.ContainsFunc(rows, func(f Fact) bool { return f.Name == "Cr" })
	for i := range g.alloys {
		if g.alloys[i].symbol == symbol {
			g.alloys[i].rows = append(g.alloys[i].rows, rows...)
			g.alloys[i].listed = g.alloys[i].listed || listed
			return
		}
	}
	g.alloys = append(g.alloys, isoAlloy{symbol, strings.ToUpper(symbol), slices.Clone(rows), listed})
}

// phrase reads words that may have lost the spaces between them, but not got
// one within.
func (s *scanner) phrase(upper string) bool {
	at := s.pos
	for i := range len(upper) {
		if upper[i] == ' ' {
			continue
		}
		inner := i > 0 && upper[i-1] != ' '
		if at == len(s.norm) || s.norm[at] != upper[i] || inner && s.gap[at] {
			return false
		}
		at++
	}
	s.pos = at
	return true
}

// iso17633Class is a designation that has been read.
type iso17633Class struct {
	alloy    isoAlloy
	core     string
	gases    []string
	position string
}

func (g *iso17633) read(s *scanner) (Decoded, *SyntaxError) {
	if !s.word(g.lead) {
		return Decoded{}, s.fail("a designation of " + g.name + " begins with " + g.lead)
	}
	start := s.pos
	var found []iso17633Class
	bad := s.fail("no such alloy symbol in the tables of " + g.name + "; they have " + g.symbols())
	for _, alloy := range g.alloys {
		if s.pos = start; !s.phrase(alloy.upper) {
			continue
		}
		c, worse := g.rest(s, alloy)
		if worse == nil {
			found = append(found, c)
		}
		bad = furthest(bad, worse)
	}
	switch len(found) {
	case 0:
		return Decoded{}, bad
	case 1:
		return g.decoded(found[0]), nil
	}
	one, other := g.decoded(found[0]), g.decoded(found[1])
	return Decoded{}, s.failAt(s.at[start], "this may be "+one.Designation+" or "+other.Designation+": put spaces between the symbols")
}

func (g *iso17633) symbols() string {
	var out []string
	for _, a := range g.alloys {
		out = append(out, a.symbol)
	}
	return strings.Join(out, ", ")
}

// rest reads core, gas and position.
func (g *iso17633) rest(s *scanner, alloy isoAlloy) (iso17633Class, *SyntaxError) {
	c := iso17633Class{alloy: alloy}
	if g.lead == "TS" && !s.eat('-') {
		return c, s.fail("a hyphen and " + g.cores.words + " stand after the alloy type")
	}
	var ok bool
	if c.core, ok = s.longest(g.cores); !ok {
		return c, s.fail("the core stands after the alloy symbol: " + g.cores.words)
	}
	for len(c.gases) == 0 || len(c.gases) == 1 && s.eat('/') {
		start := s.pos
		key, ok := s.longest(g.gas.keys)
		if !ok || slices.Contains(c.gases, key) || g.gas.self[key] && len(c.gases) > 0 {
			return c, s.failAt(s.at[start], "a gas symbol of ISO 14175, or NO for no gas, stands here")
		}
		c.gases = append(c.gases, key)
		if bad := g.suits(s, c.core, key, start); bad != nil {
			return c, bad
		}
	}
	if c.position, ok = s.longest(g.positions); !ok {
		return c, s.fail("the position stands after the gas: " + g.positions.words)
	}
	if !s.end() {
		return c, s.fail("nothing of " + g.name + " stands behind the position")
	}
	return c, nil
}

// suits holds the gas against the core.
func (g *iso17633) suits(s *scanner, core, gas string, at int) *SyntaxError {
	if self := valueOf(g.core[core], "core") == "self-shielded"; self && !g.gas.self[gas] {
		return s.failAt(s.at[at], "core "+core+" is self-shielded: NO stands here")
	}
	return nil
}

// decoded writes a designation that has been read with what it gives.
func (g *iso17633) decoded(c iso17633Class) Decoded {
	r := newReading(g.table)
	r.add(g.table.at("deposit", "all"), span{})
	r.symbol(g.lead, "tubular cored electrode")
	r.add(c.alloy.rows, r.symbol(c.alloy.symbol, "alloy symbol"))
	core := valueOf(g.core[c.core], "core")
	if g.lead == "TS" {
		r.put("-", joins)
		r.add(g.core[c.core], r.put(c.core, "core: "+core))
	} else {
		r.add(g.core[c.core], r.symbol(c.core, "core: "+core))
	}
	g.gas.add(r, c.gases)
	first := c.gases[0]
	r.add([]Fact{g.gas.shielding(first)}, span{first, strings.LastIndex(string(r.out), strings.Join(c.gases, "/"))})
	r.add(g.position[c.position], r.symbol(c.position, g.says[c.position]))
	r.add(g.table.at("always", "all"), span{})
	if !c.alloy.listed {
		r.note("the composition of %s is not in the tables: read the box or data sheet", c.alloy.symbol)
	}
	d := r.decoded()
	d.Facts = d.Facts.with(g.near[d.Designation], span{d.Designation, 0})
	d.Spec = g.name
	return d
}
