package filler

import (
	"slices"
	"strings"
)

// isoA reads tubular cored electrodes by system A of ISO 17632 and of ISO
// 18276, which has the higher strengths: T, strength, impact, composition, core,
// gas, position, hydrogen; "T 46 3 1Ni B M21 1 H5". Position and hydrogen may
// be left out, and a plain carbon-manganese steel has no composition symbol.
//
// Departures from the standard: spaces between the symbols may be left out as
// long as one reading only is possible, and two gas symbols may stand together
// with a slash.
type isoA struct {
	name         string // "ISO 17632-A"
	table        *table
	strength     map[string][]Fact
	strengths    keySet
	impact       map[string][]Fact
	impacts      keySet
	composition  map[string][]Fact // "" is none
	compositions keySet
	core         map[string][]Fact
	cores        keySet
	gas          *isoGas
	position     map[string][]Fact
	positionSays map[string]string
	positions    keySet
	hydrogens    keySet
	base         *table // ISO 17632, of which the other letters are
	always       []Fact // of every wire: polarity is not fixed
}

func newISO17632A(b book) grammar {
	t := b.of("ISO 17632")
	g := newISOA("ISO 17632-A", t, t, func(rows []Fact) []Fact { return rows })
	g.gas = newISOGas(t, "gas@2004")
	return g
}

// newISO18276A borrows every letter but strength and composition.
func newISO18276A(b book) grammar {
	const note = "as ISO 17632-A"
	g := newISOA("ISO 18276-A", b.of("ISO 18276"), b.of("ISO 17632"), func(rows []Fact) []Fact { return borrowed(rows, note) })
	gas := newISOGas(b.of("ISO 17632"), "gas@2004")
	for key, f := range gas.facts {
		gas.facts[key] = borrowed([]Fact{f}, note)[0]
	}
	g.gas = gas
	return g
}

// newISOA makes the grammar of strength and composition in t and all else in
// base, of which take says how it counts here.
func newISOA(name string, t, base *table, take func([]Fact) []Fact) *isoA {
	g := &isoA{name: name, table: t, base: base, strength: map[string][]Fact{}, impact: map[string][]Fact{},
		composition: map[string][]Fact{}, core: map[string][]Fact{}, position: map[string][]Fact{}}
	g.strengths = newKeySet(t.keys("strength_A"))
	for _, key := range g.strengths.list {
		g.strength[key] = withTensileMin(whenever(t.at("strength_A", key), "multi-run", "single-run"))
	}
	g.impacts = isoImpacts(base, "system A", g.impact, take)
	g.readCompositions(t)
	g.readCores(base, take)
	for _, key := range base.keys("position_A") {
		g.position[key] = take(base.at("position_A", key))
	}
	g.positions, g.positionSays = isoPositions(base, "position_A")
	g.hydrogens = isoHydrogens(base)
	return g
}

func (g *isoA) readCompositions(t *table) {
	var keys []string
	for _, key := range t.keys("composition_A") {
		symbol := strings.TrimSuffix(key, "(none)")
		g.composition[symbol] = t.at("composition_A", key)
		if symbol != "" {
			keys = append(keys, symbol)
		}
	}
	g.compositions = newKeySet(keys)
	for _, key := range keys { // ISO prints a comma, boxes a point too
		g.compositions.spelt[strings.ToUpper(strings.ReplaceAll(key, ",", "."))] = key
	}
}

func (g *isoA) readCores(base *table, take func([]Fact) []Fact) {
	var keys []string
	for _, key := range base.keys("core_A") {
		if key == "(all)" {
			g.always = take(base.at("core_A", key))
			continue
		}
		keys = append(keys, key)
		g.core[key] = take(renamed(append(slices.Clone(base.at("core_A", key)), formOfCore(base, key)...), "characteristic", "core"))
	}
	g.cores = newKeySet(keys)
}

// formOfCore says whether a core is flux or metal: the row of the letter, or
// of all others.
func formOfCore(t *table, core string) []Fact {
	if rows := t.at("form", core); rows != nil {
		return rows
	}
	return t.at("form", "T")
}

// isoAClass is a designation that has been read.
type isoAClass struct {
	strength, impact, composition, core string
	gases                               []string
	position, hydrogen                  string
}

func (g *isoA) read(s *scanner) (Decoded, *SyntaxError) {
	if !s.eat('T') {
		return Decoded{}, s.fail("a designation of " + g.name + " begins with T")
	}
	var c isoAClass
	var ok bool
	if c.strength, ok = s.longest(g.strengths); !ok {
		return Decoded{}, s.failNear(g.strengths, g.name+" has strength "+g.strengths.words+" here")
	}
	start := s.pos
	if c.impact, ok = s.longest(g.impacts); !ok {
		return Decoded{}, s.fail("an impact symbol of " + g.name + " stands after the strength: " + g.impacts.words)
	}
	if singleRun(g.strength[c.strength]) && g.impact[c.impact][0].Value != "none required" {
		return Decoded{}, s.failAt(s.at[start], "a single-run wire ("+c.strength+") has no impact symbol but Z")
	}
	found, bad := g.rest(s, c)
	switch {
	case len(found) == 0:
		return Decoded{}, bad
	case len(found) > 1:
		one, other := g.decoded(found[0]), g.decoded(found[1])
		return Decoded{}, s.failAt(s.at[0], "this may be "+one.Designation+" or "+other.Designation+": put spaces between the symbols")
	}
	return g.decoded(found[0]), nil
}

// rest reads what follows the impact in every way that is possible.
func (g *isoA) rest(s *scanner, c isoAClass) (found []isoAClass, bad *SyntaxError) {
	start := s.pos
	if s.near(g.compositions) > 1 {
		bad = s.failNear(g.compositions, "no such composition: "+g.compositions.words)
	}
	for _, composition := range append(s.choices(g.compositions), "") {
		s.pos = start + len(composition)
		c.composition = composition
		core, ok := s.longest(g.cores)
		if !ok {
			bad = furthest(bad, s.fail("the core stands here ("+g.cores.words+"), before it a composition if there is one ("+g.compositions.words+")"))
			continue
		}
		c.core = core
		afterCore := s.pos
		if len(s.choices(g.gas.keys)) == 0 {
			bad = furthest(bad, s.fail("a gas symbol of ISO 14175, or NO for no gas, stands after the core"))
		}
		for _, gas := range s.choices(g.gas.keys) {
			s.pos = afterCore + len(gas)
			one := c
			one.gases = []string{gas}
			if worse := g.tail(s, &one, afterCore); worse != nil {
				bad = furthest(bad, worse)
				continue
			}
			found = append(found, one)
		}
	}
	return found, bad
}

// tail reads a second gas, position and hydrogen.
func (g *isoA) tail(s *scanner, c *isoAClass, afterCore int) *SyntaxError {
	if bad := g.suits(s, c.core, c.gases[0], afterCore); bad != nil {
		return bad
	}
	if s.eat('/') {
		second := s.pos
		key, ok := s.longest(g.gas.keys)
		if !ok || key == c.gases[0] || g.gas.self[key] || g.gas.self[c.gases[0]] {
			return s.failAt(s.at[second], "another gas symbol stands behind /")
		}
		c.gases = append(c.gases, key)
	}
	if d := s.peek(); '0' <= d && d <= '9' && !s.spaced() && len(c.gases[0]) == 1 {
		return s.fail("a space stands between a gas letter of 2004 and the position")
	}
	c.position, _ = s.longest(g.positions)
	c.hydrogen, _ = s.longest(g.hydrogens)
	if !s.end() {
		return s.fail("behind the gas come a position (" + g.positions.words + ") and a hydrogen symbol (" + g.hydrogens.words + ") only")
	}
	return nil
}

// suits holds the gas against the core.
func (g *isoA) suits(s *scanner, core, gas string, at int) *SyntaxError {
	switch shielding := valueOf(g.core[core], "shielding"); {
	case shielding == "self" && !g.gas.self[gas]:
		return s.failAt(s.at[at], "core "+core+" is self-shielded: NO stands here")
	case shielding == "external" && g.gas.self[gas]:
		return s.failAt(s.at[at], "core "+core+" needs gas: its symbol stands here")
	}
	return nil
}

// decoded writes a designation that has been read with what it gives.
func (g *isoA) decoded(c isoAClass) Decoded {
	r := newReading(g.table)
	r.add(g.table.at("deposit", "all"), span{})
	r.symbol("T", "tubular cored electrode")
	r.add(g.strength[c.strength], r.symbol(c.strength, strengthMeans(g.strength[c.strength], "yield_min")))
	r.add(g.impact[c.impact], r.symbol(c.impact, impactMeans(g.impact[c.impact])))
	g.putComposition(r, c.composition)
	shielding := g.putCore(r, c)
	if c.position != "" {
		r.add(g.position[c.position], r.symbol(c.position, g.positionSays[c.position]))
	} else {
		r.note("the position symbol is left out: read the positions on the box")
	}
	if c.hydrogen != "" {
		r.hydrogenISO(c.hydrogen, g.base, "hydrogen")
	}
	r.add(g.always, span{})
	r.add(classTest(g.table, shielding), span{})
	d := r.decoded()
	d.Spec = g.name
	return d
}

func (g *isoA) putComposition(r *reading, key string) {
	rows := g.composition[key]
	switch {
	case key == "":
		r.add(rows, span{})
	case rows[0].Name == "exists":
		r.symbol(key, "composition "+key)
		r.note("the composition of %s is not in the tables: read the box or data sheet", key)
	default:
		r.add(rows, r.symbol(key, "composition "+rows[0].Value))
	}
}

// putCore writes core and gas. A single-run strength outweighs what the core
// says of passes; a core that leaves the shielding open has that of its gas.
func (g *isoA) putCore(r *reading, c isoAClass) (shielding string) {
	core, single := g.core[c.core], singleRun(g.strength[c.strength])
	if single {
		core = without(core, "passes")
	} else if valueOf(core, "passes") == "single only" {
		r.note("core %s is for one run only, but strength %s is of a multi-run wire: read the box", c.core, c.strength)
	}
	r.add(core, r.symbol(c.core, "core: "+valueOf(core, "core")))
	g.gas.add(r, c.gases)
	if shielding = valueOf(core, "shielding"); shielding == "" {
		f, first := g.gas.shielding(c.gases[0]), len(r.out)-len(strings.Join(c.gases, "/"))
		shielding = f.Value
		r.add([]Fact{f}, span{c.gases[0], first})
	}
	return shielding
}

// classTest is the diameter on which a class is proved.
func classTest(t *table, shielding string) []Fact {
	if shielding == "self" {
		return t.at("class_test", "self-shielded")
	}
	return t.at("class_test", "gas shielded")
}
