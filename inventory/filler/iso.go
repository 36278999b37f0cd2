package filler

import (
	"slices"
	"strings"
)

// parts is what a space between the symbols of an ISO designation means.
const parts = "parts the symbols"

// symbol writes the next symbol of an ISO designation, behind a space.
func (r *reading) symbol(text, means string) span {
	if len(r.out) > 0 {
		r.put(" ", parts)
	}
	return r.put(text, means)
}

// isoGas is the gas symbols of a cored or solid wire: those of ISO 14175, NO
// for none, and the letters of an older edition.
type isoGas struct {
	keys  keySet
	facts map[string]Fact // gas
	means map[string]string
	old   map[string]string // note on a symbol of an older edition
	self  map[string]bool   // no gas
	edge  Fact              // row that gives the provenance of shielding
}

// newISOGas reads the rows of kind gas; table is ISO 17632's, 17633's or
// 14341's, older the kind of the rows of an older edition.
func newISOGas(t *table, older string) *isoGas {
	g := &isoGas{facts: map[string]Fact{}, means: map[string]string{}, old: map[string]string{}, self: map[string]bool{}}
	var keys []string
	add := func(key, value string, row Fact) {
		keys = append(keys, key)
		row.Name, row.Value, row.Note = "gas", value, ""
		g.facts[key], g.means[key] = row, "gas "+value
	}
	if rows := t.at("gas", "(symbol)"); rows != nil {
		g.edge = rows[0]
		for _, symbol := range gases().symbols.list {
			add(symbol, symbol, rows[0])
			g.means[symbol] = "gas " + gases().boundsOf(symbol)
		}
	}
	if rows := t.at("gas", "NO"); rows != nil {
		add("NO", "none", rows[0])
		g.self["NO"] = true
	}
	for _, key := range t.keys(older) {
		row := t.at(older, key)[0]
		value := strings.Replace(row.Value, "no gas", "none", 1)
		add(key, value, row)
		g.self[key] = value == "none"
		g.old[key] = row.Note
	}
	g.keys = newKeySet(keys)
	return g
}

// add writes gas symbols that one wire holds together, mostly one, with what they give.
func (g *isoGas) add(r *reading, symbols []string) {
	var halves []half
	for i, key := range symbols {
		var by span
		if i == 0 {
			by = r.symbol(key, g.means[key])
		} else {
			r.put("/", "or")
			by = r.put(key, g.means[key])
		}
		h := half{key: key, class: key, span: by}
		h.facts = h.facts.with([]Fact{g.facts[key]}, by)
		halves = append(halves, h)
		if note, old := g.old[key]; old {
			r.note("%s is a gas symbol of an older edition (%s); %s", key, g.facts[key].Value, oldBounds(note))
		}
		if key == "Z" {
			r.note("gas Z lies outside the groups of ISO 14175: read the mixture on the box")
		}
	}
	r.addAgreed(halves)
}

// oldBounds says that an old symbol of mixed gas took in more.
func oldBounds(note string) string {
	words := "the mixture is on the box or data sheet"
	if note != "" {
		words = note + ": " + words
	}
	return words
}

// shielding says from the gas whether a wire is self-shielded, for cores that
// leave it open.
func (g *isoGas) shielding(symbol string) Fact {
	f := g.facts[symbol]
	f.Name, f.Value = "shielding", "external"
	if g.self[symbol] {
		f.Value = "self"
	}
	return f
}

// isoPositions are the position symbols of a system with the words for their
// codes: "PA" is flat.
func isoPositions(t *table, kind string) (keySet, map[string]string) {
	means := map[string]string{}
	for _, key := range t.keys(kind) {
		value := t.at(kind, key)[0].Value
		for _, code := range t.keys("position_code") {
			value = strings.ReplaceAll(value, code, code+" "+t.first("position_code", code, "meaning")+",")
		}
		means[key] = "positions: " + strings.TrimSuffix(value, ",")
	}
	return newKeySet(t.keys(kind)), means
}

// hydrogenISO writes the hydrogen symbol that may end a designation of ISO.
func (r *reading) hydrogenISO(key string, t *table, kind string) {
	rows := t.at(kind, key)
	by := r.symbol(key, "diffusible hydrogen at most "+rows[0].Value+" "+rows[0].Unit)
	r.add(rows, by)
	r.add(t.at(kind, "Hx"), by)
}

// isoImpacts fills facts with what each impact symbol demands in a system.
func isoImpacts(t *table, system string, facts map[string][]Fact, take func([]Fact) []Fact) keySet {
	var keys []string
	for _, key := range t.keys("impact") {
		rows := impactFacts(t.at("impact", key), system)
		if rows == nil || key == "(any)" || valueOf(t.at("impact", key), "temperature") == "" {
			continue
		}
		if rows[0].Value != "none required" {
			rows = append(rows, t.at("impact", "(any)")...)
		}
		keys, facts[key] = append(keys, key), take(rows)
	}
	return newKeySet(keys)
}

// isoHydrogens are the hydrogen symbols; Hx stands for each of them in the table.
func isoHydrogens(t *table) keySet {
	return newKeySet(slices.DeleteFunc(keysWith(t.keys("hydrogen"), "H"), func(k string) bool { return k == "Hx" }))
}

// choices returns the keys that come next, the longest first.
func (s *scanner) choices(keys keySet) []string {
	var out []string
	for n := s.run(keys.max); n > 0; n-- {
		if key, ok := keys.spelt[string(s.norm[s.pos:s.pos+n])]; ok {
			out = append(out, key)
		}
	}
	return out
}

// furthest keeps the error that lies further along.
func furthest(a, b *SyntaxError) *SyntaxError {
	if a == nil || b != nil && b.At > a.At {
		return b
	}
	return a
}

// singleRun tells whether rows on strength are of a single-run wire.
func singleRun(rows []Fact) bool {
	return slices.ContainsFunc(rows, func(f Fact) bool { return f.Name == "passes" && f.Value == "single only" })
}
