package filler

import (
	"slices"
	"strings"
)

// isoB reads tubular cored electrodes by system B of ISO 17632: T, strength,
// impact, usability, hyphen, position, gas, condition, composition, U, hydrogen;
// "T 55 4 T5-1 M21 A-N2-U H5". A single-pass wire has S behind the gas and
// neither impact nor condition: "T 49 T2-0 C1 S H10".
type isoB struct {
	table        *table
	strength     [2]map[string][]Fact // multi-run, single-run
	strengths    keySet
	impact       map[string][]Fact
	impacts      keySet
	usability    map[string][]Fact
	usabilities  keySet
	positions    keySet
	positionSays map[string]string
	gas          *isoGas
	single       []Fact // what S gives
	conditions   keySet
	compositions keySet
	hydrogens    keySet
}

func newISO17632B(b book) grammar {
	t := b.of("ISO 17632")
	g := &isoB{table: t, impact: map[string][]Fact{}, usability: map[string][]Fact{}, gas: newISOGas(t, "gas@2004"),
		strengths: newKeySet(t.keys("strength_B")), conditions: newKeySet(t.keys("condition_B"))}
	for i, run := range []string{"multi-run", "single-run (S)"} {
		g.strength[i] = map[string][]Fact{}
		for _, key := range g.strengths.list {
			rows := slices.DeleteFunc(slices.Clone(t.at("strength_B", key)), func(f Fact) bool { return f.Condition != run })
			g.strength[i][key] = withTensileMin(whenever(rows, run))
		}
	}
	for key := range g.gas.old { // the rows are of system A
		g.gas.facts[key] = borrowed([]Fact{g.gas.facts[key]}, "as ISO 17632-A of 2004")[0]
	}
	g.impacts = isoImpacts(t, "system B", g.impact, func(rows []Fact) []Fact { return rows })
	for _, key := range t.keys("usability_B") {
		g.usability[key] = append(renamed(t.at("usability_B", key), "all", "usability"), formOfUsability(t, key)...)
	}
	g.usabilities = newKeySet(t.keys("usability_B"))
	g.positions, g.positionSays = isoPositions(t, "position_B")
	for _, f := range t.at("gas", "S after the gas") {
		f.Name, f.Value, f.Condition = "passes", "single only", ""
		g.single = append(g.single, f)
	}
	g.compositions = newKeySet(slices.DeleteFunc(slices.Clone(t.keys("composition_B")), func(k string) bool { return k == "(none)" }))
	g.hydrogens = isoHydrogens(t)
	return g
}

// formOfUsability says whether the core is flux or metal.
func formOfUsability(t *table, key string) []Fact {
	if t.first("usability_B", key, "core") == "metal" {
		return t.at("form", "M")
	}
	if t.first("usability_B", key, "shielding") == "" {
		return t.at("form", "Z")
	}
	return t.at("form", "T")
}

// isoBClass is a designation that has been read.
type isoBClass struct {
	strength, impact, usability, position, gas string
	single                                     bool
	condition, composition                     string
	joules47                                   bool // U
	hydrogen                                   string
}

func (g *isoB) read(s *scanner) (Decoded, *SyntaxError) {
	c, bad := g.head(s)
	if bad == nil {
		bad = g.gasAndRun(s, &c)
	}
	if bad == nil {
		bad = g.tail(s, &c)
	}
	if bad != nil {
		return Decoded{}, bad
	}
	return g.decoded(c), nil
}

// head reads "T 55 4 T5-1".
func (g *isoB) head(s *scanner) (c isoBClass, bad *SyntaxError) {
	if !s.eat('T') {
		return c, s.fail("a designation of ISO 17632-B begins with T")
	}
	var ok bool
	if c.strength, ok = s.longest(g.strengths); !ok {
		return c, s.failNear(g.strengths, "ISO 17632-B has strength "+g.strengths.words+" here")
	}
	c.impact, _ = s.longest(g.impacts)
	if c.usability, ok = s.longest(g.usabilities); !ok {
		return c, s.failNear(g.usabilities, "an impact symbol ("+g.impacts.words+") and a usability ("+g.usabilities.words+") stand here")
	}
	if d := s.peek(); '0' <= d && d <= '9' {
		return c, s.fail("ISO 17632-B has no usability " + c.usability + string(d))
	}
	if !s.eat('-') {
		return c, s.fail("a hyphen and the position (" + g.positions.words + ") stand after the usability")
	}
	if c.position, ok = s.longest(g.positions); !ok {
		return c, s.fail("the position stands here: " + g.positions.words)
	}
	return c, nil
}

// gasAndRun reads the gas and S, and holds both against the usability.
func (g *isoB) gasAndRun(s *scanner, c *isoBClass) *SyntaxError {
	rows, start := g.usability[c.usability], s.pos
	var ok bool
	if c.gas, ok = s.longest(g.gas.keys); !ok {
		return s.failNear(g.gas.keys, "a gas symbol of ISO 14175, or NO for no gas, stands after the position")
	}
	switch shielding := valueOf(rows, "shielding"); {
	case shielding == "self" && !g.gas.self[c.gas]:
		return s.failAt(s.at[start], c.usability+" is self-shielded: NO stands here")
	case shielding == "external" && g.gas.self[c.gas]:
		return s.failAt(s.at[start], c.usability+" needs gas: its symbol stands here")
	}
	start = s.pos
	c.single = s.eat('S')
	switch {
	case !c.single && valueOf(rows, "passes") == "single only":
		return s.failAt(s.at[start], c.usability+" is single pass: S stands after the gas")
	case c.single && c.impact != "" && g.impact[c.impact][0].Value != "none required":
		return s.failAt(s.at[start], "a single-pass wire has no impact symbol")
	case !c.single && c.impact == "":
		return s.failAt(s.at[start], "the impact symbol is missing after the strength ("+g.impacts.words+"), or S after the gas")
	}
	return nil
}

// tail reads condition, composition, U and hydrogen.
func (g *isoB) tail(s *scanner, c *isoBClass) *SyntaxError {
	var ok bool
	if !c.single {
		if c.condition, ok = s.longest(g.conditions); !ok {
			return s.fail("the condition of the test stands here: " + g.conditions.words)
		}
	}
	for s.eat('-') {
		start := s.pos
		if key, ok := s.longest(g.compositions); ok && c.composition == "" && !c.joules47 {
			c.composition = key
		} else if s.pos = start; s.eat('U') && !c.joules47 && !c.single {
			c.joules47 = true
		} else {
			return s.failAt(s.at[start], "a composition ("+g.compositions.words+") or U stands behind the hyphen")
		}
	}
	c.hydrogen, _ = s.longest(g.hydrogens)
	if !s.end() {
		return s.fail("nothing of ISO 17632-B stands here; a hydrogen symbol (" + g.hydrogens.words + ") ends it")
	}
	return nil
}

// decoded writes a designation that has been read with what it gives.
func (g *isoB) decoded(c isoBClass) Decoded {
	r, run := newReading(g.table), 0
	if c.single {
		run = 1
	}
	r.add(g.table.at("deposit", "all"), span{})
	r.symbol("T", "tubular cored electrode")
	r.add(g.strength[run][c.strength], r.symbol(c.strength, strengthMeans(g.strength[run][c.strength])))
	var impact span
	if c.impact != "" {
		impact = r.symbol(c.impact, impactMeans(g.impact[c.impact]))
		r.add(g.impact[c.impact], impact)
	}
	rows, single := g.usability[c.usability], g.single
	if !c.single || valueOf(rows, "passes") == "single only" {
		single = nil
	} else {
		rows = without(rows, "passes")
	}
	r.add(rows, r.symbol(c.usability, usabilityMeans(g.usability[c.usability])))
	r.put("-", joins)
	r.add(g.table.at("position_B", c.position), r.put(c.position, g.positionSays[c.position]))
	g.gas.add(r, []string{c.gas})
	shielding := valueOf(rows, "shielding")
	if shielding == "" {
		f := g.gas.shielding(c.gas)
		shielding = f.Value
		r.add([]Fact{f}, span{c.gas, len(r.out) - len(c.gas)})
	}
	if c.single {
		r.add(single, r.symbol("S", "single pass"))
	}
	g.putTail(r, c, impact)
	g.remark(r, c, rows)
	r.add(classTest(g.table, shielding), span{})
	d := r.decoded()
	d.Spec = "ISO 17632-B"
	return d
}

// putTail writes condition, composition, U and hydrogen.
func (g *isoB) putTail(r *reading, c isoBClass, impact span) {
	if c.condition != "" {
		rows := g.table.at("condition_B", c.condition)
		r.add(renamed(rows, "meaning", "condition"), r.symbol(c.condition, rows[0].Value))
	}
	if rows := g.table.at("composition_B", c.composition); rows != nil {
		r.put("-", joins)
		r.add(rows, r.put(c.composition, "composition "+rows[0].Value))
	} else if c.composition == "" {
		r.add(g.table.at("composition_B", "(none)"), span{})
	}
	if c.joules47 {
		rows := g.table.at("impact", "U")
		r.put("-", joins)
		by := r.put("U", rows[0].Value)
		r.add(whenever(rows, "system B"), by)
		for _, f := range g.impact[c.impact] {
			if energy, _, _ := strings.Cut(rows[0].Value, " J"); f.Name == "impact_min_energy" && f.Unit == "J" {
				f.Value = energy
			} else if f.Name != "impact_temperature" {
				continue
			}
			f.Condition = "designator U"
			r.add([]Fact{f}, by)
		}
	}
	if c.hydrogen != "" {
		r.hydrogenISO(c.hydrogen, g.table, "hydrogen")
	}
}

// remark notes what the usability leaves open or does not list.
func (g *isoB) remark(r *reading, c isoBClass, rows []Fact) {
	for _, f := range rows {
		if f.Name == "polarity" && f.Note != "" {
			r.note("%s: %s", c.usability, f.Note)
		}
		if f.Name == "position_symbols" && !slices.Contains(strings.Split(f.Value, "|"), c.position) {
			r.note("%s lists position %s only", c.usability, oneOf(strings.Split(f.Value, "|")))
		}
		if f.Name == "usability" {
			r.note("%s does not fix polarity or passes: take them from the box or data sheet", c.usability)
		}
	}
}
