package filler

import (
	"cmp"
	"slices"
	"strings"
)

// a518 reads AWS A5.18/A5.18M, carbon steel for gas shielded welding: solid
// wires and rods, ER, strength, S, hyphen, composition ("ER70S-6", "ER70S-2N"),
// and metal cored ones, E, strength, C, hyphen, type, gas letter ("E70C-6M"),
// each with an optional hydrogen designator. Their classes are the rows of the
// table; the metric form of a strength stands for the same class.
type a518 struct {
	table     *table
	metric    map[string]metricForm // metric strength to what it stands for
	strengths keySet
	forms     map[string]*a518Form // by form letter, S or C
	letters   []string             // gas letters of metal cored classes
	hydrogens keySet
}

// metricForm is a metric strength: "48" stands for "70" and means 480 MPa.
type metricForm struct {
	us   string
	rows []Fact // the row that says so, and the tensile strength it states
}

// a518Form is the classes of one form, by strength and by what follows the hyphen.
type a518Form struct {
	letter, lead string // "S" and "ER", or "C" and "E"
	kind         string // of its rows
	classes      map[string]keySet
	rows         map[string][]Fact // by class: "ER70S-6"
	wild         map[string][]Fact // by strength: the rows of "ER70S-x"
}

func newA518(t *table) grammar {
	g := &a518{
		table:     t,
		metric:    map[string]metricForm{},
		hydrogens: newKeySet(keysWith(t.keys("supplementary"), "H")),
		letters:   t.keys("gas_suffix"),
		forms: map[string]*a518Form{
			"S": newA518Form(t, "solid", "ER", "S"),
			"C": newA518Form(t, "metal_cored", "E", "C"),
		},
	}
	var strengths []string
	for _, f := range []string{"S", "C"} {
		for strength := range g.forms[f].classes {
			if !slices.Contains(strengths, strength) {
				strengths = append(strengths, strength)
			}
		}
	}
	slices.Sort(strengths)
	us := strengths[0]
	for _, key := range t.keys("solid") {
		for _, f := range t.at("solid", key) {
			if f.Name == "A5.18M_prefix" {
				metric, rows := metricStrength(f)
				g.metric[metric] = metricForm{us, rows}
				strengths = append(strengths, metric)
			}
		}
	}
	g.strengths = newKeySet(strengths)
	return g
}

// metricStrength reads the row "ER48S-x (480 MPa)": the strength as it is
// written, and the facts it gives.
func metricStrength(f Fact) (string, []Fact) {
	class, stress, _ := strings.Cut(f.Value, " (")
	number, unit, _ := strings.Cut(strings.TrimSuffix(stress, ")"), " ")
	written, _, _ := strings.Cut(strings.TrimLeft(class, "ER"), "S-")
	tensile := f
	tensile.Name, tensile.Value, tensile.Unit = "tensile_min", number, unit
	return written, []Fact{f, tensile}
}

// newA518Form sorts the rows of one kind into classes. "E70C-G(C|M)" is two
// classes, "E70C-xx" every class of that strength.
func newA518Form(t *table, kind, lead, letter string) *a518Form {
	f := &a518Form{letter: letter, lead: lead, kind: kind, rows: map[string][]Fact{}, wild: map[string][]Fact{}}
	suffixes := map[string][]string{}
	for _, key := range t.keys(kind) {
		stem, suffix, ok := strings.Cut(key, letter+"-")
		strength, is := strings.CutPrefix(stem, lead)
		if !ok || !is {
			continue
		}
		if strings.Trim(suffix, "x") == "" {
			f.wild[strength] = append(f.wild[strength], t.at(kind, key)...)
			continue
		}
		for _, one := range alternatives(suffix) {
			class := stem + letter + "-" + one
			if f.rows[class] == nil {
				suffixes[strength] = append(suffixes[strength], one)
			}
			f.rows[class] = append(f.rows[class], t.at(kind, key)...)
		}
	}
	f.classes = map[string]keySet{}
	for strength, list := range suffixes {
		slices.SortFunc(list, byNumber)
		f.classes[strength] = newKeySet(list)
	}
	return f
}

// alternatives writes "G(C|M)" out: "GC", "GM".
func alternatives(suffix string) []string {
	stem, list, ok := strings.Cut(strings.TrimSuffix(suffix, ")"), "(")
	if !ok {
		return []string{suffix}
	}
	var out []string
	for one := range strings.SplitSeq(list, "|") {
		out = append(out, stem+one)
	}
	return out
}

func (g *a518) read(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	form, strength, bad := g.stem(s, r)
	if bad != nil {
		return Decoded{}, bad
	}
	class := cmp.Or(g.metric[strength].us, strength)
	by := g.putStem(r, form, strength, class)
	s.eat('-')
	suffix, ok := s.longest(form.classes[class])
	if !ok {
		return Decoded{}, s.failNear(form.classes[class], "after "+form.lead+strength+form.letter+"- comes "+form.classes[class].words)
	}
	halves := []half{g.class(r, form, by, class, suffix)}
	if r.repeatedHydrogen(s, g.hydrogens); form.letter == "C" && s.peek() == '/' {
		second, bad := g.second(s, r, form, by, class, suffix)
		if bad != nil {
			return Decoded{}, bad
		}
		halves = append(halves, second)
	}
	r.addAgreed(halves)
	after := ""
	if form.letter == "S" {
		after = g.nuclear(s, r)
	}
	if bad := r.hydrogen(s, g.hydrogens, after); bad != nil {
		return Decoded{}, bad
	}
	if class != strength {
		r.note("metric form: what the tables give in ksi, ft-lbf and degF for %s%s%s is left out, read the box", form.lead, class, form.letter)
	}
	return r.decoded(), nil
}

// stem reads "ER70S" or "E70C"; it writes the lead only.
func (g *a518) stem(s *scanner, r *reading) (*a518Form, string, *SyntaxError) {
	if !s.eat('E') {
		return nil, "", s.fail("a designation of AWS A5.18 begins with ER or E")
	}
	rod := s.eat('R')
	if rod {
		r.put("ER", "electrode or rod")
	} else {
		r.put("E", "electrode")
	}
	start := s.pos
	strength, ok := s.longest(g.strengths)
	if !ok {
		return nil, "", s.failNear(g.strengths, "AWS A5.18 has strength "+g.strengths.words+" here")
	}
	form, bad := g.form(s, rod, strength)
	if bad != nil {
		return nil, "", bad
	}
	if class := cmp.Or(g.metric[strength].us, strength); len(form.classes[class].list) == 0 {
		return nil, "", s.failAt(s.at[start], "AWS A5.18 has no "+form.lead+strength+form.letter)
	}
	return form, strength, nil
}

// form reads the form letter and holds it against the lead: ER…S, E…C.
func (g *a518) form(s *scanner, rod bool, strength string) (*a518Form, *SyntaxError) {
	switch c := s.peek(); {
	case c == 'S' && rod:
		s.pos++
		return g.forms["S"], nil
	case c == 'C' && !rod:
		s.pos++
		return g.forms["C"], nil
	case c == 'S':
		return nil, s.fail("a solid wire is ER" + strength + "S")
	case c == 'C':
		return nil, s.fail("a metal cored wire is E" + strength + "C, without R")
	}
	return nil, s.fail("S (solid) or C (metal cored) stands after the strength")
}

// stemSpans is where strength and form letter stand.
type stemSpans struct{ strength, form span }

// putStem writes the strength, the form letter and the hyphen, with what they give.
func (g *a518) putStem(r *reading, form *a518Form, strength, class string) stemSpans {
	var by stemSpans
	metric := g.metric[strength].rows
	means := strength + " ksi minimum tensile strength"
	if len(metric) > 0 {
		means = metric[1].Value + " " + metric[1].Unit + " minimum tensile strength"
	}
	by.strength = r.put(strength, means)
	meaning := g.table.at(form.kind, form.letter)
	by.form = r.put(form.letter, valueOf(meaning, "meaning"))
	r.put("-", joins)
	r.add(g.table.at("form", form.letter), by.form)
	r.add(meaning, by.form)
	r.add(g.table.at("deposit", "all"), span{})
	r.add(metric, by.strength)
	r.add(form.wild[class], by.form)
	return by
}

// class writes what follows the hyphen, with the facts of the class. The last
// letter of a metal cored class is its gas.
func (g *a518) class(r *reading, form *a518Form, by stemSpans, class, suffix string) half {
	number, letter := g.cut(form, suffix)
	rows := form.rows[form.lead+class+form.letter+"-"+suffix]
	means := "class " + form.lead + class + form.letter + "-" + suffix
	if composition := valueOf(rows, "wire_composition"); composition != "" {
		means = "composition " + composition
	}
	whole := r.put(number, means)
	gas := whole
	if letter != "" {
		gas = r.put(letter, "gas "+valueOf(g.table.at("gas_suffix", letter), "gas"))
		whole = r.to(whole, gas)
	}
	h := half{key: suffix, class: form.lead + by.strength.text + form.letter + "-" + suffix, span: whole}
	for _, f := range rows {
		switch {
		case by.strength.text != class && usUnit(f.Unit):
		case f.Name == "tensile_min":
			h.facts = h.facts.with([]Fact{f}, by.strength)
		case f.Name == "gas":
			h.facts = h.facts.with([]Fact{f}, gas)
		default:
			h.facts = h.facts.with([]Fact{f}, whole)
		}
	}
	h.facts = h.facts.confirm(g.table.at("gas_suffix", letter), gas)
	return h
}

// usUnit tells whether a value belongs to the U.S. customary edition, A5.18.
func usUnit(unit string) bool { return unit == "ksi" || unit == "ft-lbf" || unit == "degF" }

// nuclear reads the N that may end a solid class.
func (g *a518) nuclear(s *scanner, r *reading) (after string) {
	rows := g.table.at("solid", "N (last)")
	if len(rows) > 0 && s.eat('N') {
		r.add(rows, r.put("N", rows[0].Value))
		return ""
	}
	return "; N (nuclear) or a hydrogen designator may"
}
