package filler

import (
	"slices"
	"strings"
)

// a522 reads AWS A5.22/A5.22M, stainless steel: flux cored electrodes, E, alloy
// type, T, position, hyphen, suffix ("E309LT1-1", "E309LT1-1/4"), rods for
// GTAW ("R308LT1-5") and metal cored electrodes ("EC409"). The designation
// holds no strength.
type a522 struct {
	table     *table
	types     keySet
	cored     keySet // metal cored types, without EC
	positions keySet
	suffixes  keySet
	current   []string   // suffixes that are not withdrawn
	pairs     [][]string // suffixes one wire may hold together
	wild      []Fact     // rows of several suffixes: "1|3|4"
	wildOf    [][]string
}

func newA522(t *table) grammar {
	g := &a522{table: t}
	var positions, suffixes []string
	types, cored := slices.Clone(t.keys("type")), []string{}
	for _, key := range slices.Concat(keysWith(t.keys("metal_cored"), "EC"), t.keys("listed")) {
		if metal, ok := strings.CutPrefix(key, "EC"); ok {
			cored = append(cored, metal)
		} else {
			types = append(types, key)
		}
	}
	g.types = newKeySet(types)
	for _, key := range t.keys("position") {
		if len(key) == 1 {
			positions = append(positions, key)
		}
	}
	for _, key := range t.keys("suffix") {
		switch {
		case strings.Contains(key, "/"):
			g.pairs = append(g.pairs, strings.Split(key, "/"))
		case strings.Contains(key, "|"):
			for _, f := range t.at("suffix", key) {
				g.wild, g.wildOf = append(g.wild, f), append(g.wildOf, strings.Split(key, "|"))
			}
		default:
			suffixes = append(suffixes, key)
			if t.first("suffix", key, "status") == "" {
				g.current = append(g.current, key)
			}
		}
	}
	g.cored, g.positions, g.suffixes = newKeySet(cored), newKeySet(positions), newKeySet(suffixes)
	return g
}

func (g *a522) read(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	switch {
	case s.word("EC"):
		return g.metalCored(s, r)
	case s.eat('E'):
		r.put("E", "electrode")
		return g.fluxCored(s, r, false)
	case s.eat('R'):
		r.put("R", "rod")
		return g.fluxCored(s, r, true)
	}
	return Decoded{}, s.fail("a designation of AWS A5.22 begins with E, EC or R")
}

// metalCored reads what follows EC: the alloy type alone.
func (g *a522) metalCored(s *scanner, r *reading) (Decoded, *SyntaxError) {
	rows := g.table.at("metal_cored", "EC")
	ec := r.put("EC", valueOf(rows, "meaning"))
	r.add(g.table.at("form", "EC"), ec)
	r.add(g.table.at("deposit", "all"), span{})
	r.add(rows, ec)
	key, ok := s.longest(g.cored)
	if !ok {
		return Decoded{}, s.failNear(g.cored, "no such metal cored type in the tables; they have EC"+strings.Join(g.cored.list, ", EC"))
	}
	by := g.putType(r, key)
	r.add(g.table.at("metal_cored", "EC"+key), by)
	g.listed(r, "EC"+key)
	g.scope(r, false)
	if !s.end() {
		return Decoded{}, s.fail("EC" + key + " ends here: it gives the composition only")
	}
	return r.decoded(), nil
}

// listed notes that a type is known to exist, but no more.
func (g *a522) listed(r *reading, key string) {
	if g.table.at("listed", key) != nil {
		r.note("the composition of %s is not in the tables: read the box or data sheet", key)
	}
}

// putType writes an alloy type letter by letter, with what its L and H mean.
func (g *a522) putType(r *reading, key string) span {
	letters := strings.IndexFunc(key, func(c rune) bool { return c < '0' || c > '9' })
	if letters < 0 {
		return r.put(key, "alloy type "+key)
	}
	by := r.put(key[:letters], "alloy type "+key)
	for rest := key[letters:]; rest != ""; {
		one := rest[:1]
		rows := g.table.at("suffix_letter", one)
		if len(rows) == 0 { // an element: Mo, Nb, NiMo
			by = r.to(by, r.put(rest, "with "+rest))
			break
		}
		at := r.put(one, valueOf(rows, "meaning"))
		r.add(rows, at)
		by, rest = r.to(by, at), rest[1:]
	}
	return by
}

// fluxCored reads what follows E or R: "309LT1-1/4".
func (g *a522) fluxCored(s *scanner, r *reading, rod bool) (Decoded, *SyntaxError) {
	begin := s.pos
	alloy, bad := g.alloy(s)
	if bad != nil {
		return Decoded{}, bad
	}
	typeSpan := g.putType(r, alloy)
	g.listed(r, alloy)
	if rows := g.table.at("suffix_letter", "K"); !rod && len(rows) > 0 && s.eat('K') {
		r.add(rows, r.put("K", valueOf(rows, "meaning")))
	}
	if !s.eat('T') {
		return Decoded{}, s.fail("alloy type " + alloy + string(s.peekText()) + " is not in the tables of AWS A5.22; after " + alloy + " comes T")
	}
	tubular := r.put("T", "tubular, flux cored")
	position, ok := s.longest(g.positions)
	if !ok {
		return Decoded{}, s.fail("AWS A5.22 has position " + g.positions.words + " after T")
	}
	rows := g.table.at("position", position)
	positionSpan := r.put(position, "positions: "+strings.ReplaceAll(rows[0].Value, "|", ", "))
	stem := string(s.norm[begin:s.pos])
	s.eat('-')
	r.put("-", joins)
	r.add(g.table.at("form", "T"), tubular)
	r.add(g.table.at("deposit", "all"), span{})
	r.add(rows, positionSpan)
	halves, bad := g.halves(s, r, suffixed{alloy, typeSpan, position, stem, string(r.out), rod})
	if bad != nil {
		return Decoded{}, bad
	}
	r.addAgreed(halves)
	g.pair(r, halves)
	g.scope(r, true)
	if !s.end() {
		return Decoded{}, s.fail("nothing of AWS A5.22 stands after the suffix")
	}
	return r.decoded(), nil
}

// alloy reads the alloy type.
func (g *a522) alloy(s *scanner) (string, *SyntaxError) {
	if alloy, ok := s.longest(g.types); ok {
		return alloy, nil
	}
	return "", s.fail("no such alloy type in the tables of AWS A5.22; they have " + g.types.words)
}

// suffixed is a flux cored designation as far as its suffix needs it.
type suffixed struct {
	alloy    string
	by       span // of the alloy type
	position string
	stem     string // normalised, without E: "309LT1"
	class    string // up to the suffix: "E309LT1-"
	rod      bool
}

// halves reads the suffix, or the two that one wire holds together, in the
// order in which the table names them.
func (g *a522) halves(s *scanner, r *reading, c suffixed) ([]half, *SyntaxError) {
	first, bad := g.suffix(s, c)
	if bad != nil {
		return nil, bad
	}
	keys := []string{first}
	if s.peek() == '/' {
		slash := s.pos
		s.pos++
		if start := s.pos; !s.eat('E') || !s.word(c.stem) {
			s.pos = start
			s.word("T" + c.position)
		}
		s.eat('-')
		start := s.pos
		second, bad := g.suffix(s, c)
		if bad != nil {
			return nil, bad
		}
		pair := slices.IndexFunc(g.pairs, func(p []string) bool {
			return slices.Equal(p, []string{first, second}) || slices.Equal(p, []string{second, first})
		})
		if pair < 0 {
			s.pos = slash
			return nil, s.failAt(s.at[start], "-"+first+" and -"+second+" are not classed together; only "+g.pairNames()+" are")
		}
		keys = g.pairs[pair]
	}
	var halves []half
	for i, key := range keys {
		if i > 0 {
			r.put("/", "also classified")
		}
		halves = append(halves, g.half(r, c, key))
	}
	return halves, nil
}

func (g *a522) pairNames() string {
	var names []string
	for _, p := range g.pairs {
		names = append(names, strings.Join(p, "/"))
	}
	return oneOf(names)
}

// suffix reads one suffix: not a withdrawn one, and a rod's for a rod only.
func (g *a522) suffix(s *scanner, c suffixed) (string, *SyntaxError) {
	start := s.pos
	key, ok := s.longest(g.suffixes)
	if !ok {
		return "", s.fail("AWS A5.22 has suffix " + oneOf(g.current) + " here")
	}
	rows := g.table.at("suffix", key)
	if status := valueOf(rows, "status"); status != "" {
		return "", s.failAt(s.at[start], "-"+key+" was "+status)
	}
	rod := strings.Contains(valueOf(rows, "process"), "rod")
	switch {
	case rod && !c.rod:
		return "", s.failAt(s.at[start], "-"+key+" is a rod: "+valueOf(rows, "process"))
	case c.rod && !rod:
		return "", s.failAt(s.at[start], "a rod (R) of AWS A5.22 takes no suffix "+key)
	case rod && c.position != "1":
		return "", s.failAt(s.at[start], "-"+key+" goes with T1 only: "+valueOf(rows, "process"))
	}
	return key, nil
}

// half writes one suffix and collects what it gives, with the alloy type's
// facts for wires of that suffix.
func (g *a522) half(r *reading, c suffixed, key string) half {
	rows := g.table.at("suffix", key)
	h := half{key: key, class: c.class + key}
	h.span = r.put(key, "shielding "+valueOf(rows, "shielding")+", gas "+valueOf(rows, "gas")+", polarity "+valueOf(rows, "polarity"))
	h.facts = h.facts.with(rows, h.span)
	for i, f := range g.wild {
		if slices.Contains(g.wildOf[i], key) {
			h.facts = h.facts.with([]Fact{f}, h.span)
		}
	}
	for _, f := range g.table.at("position", "-"+key+" types") {
		h.facts = h.facts.with([]Fact{f}, h.span)
		if f.Name == "position_digit_usual" && f.Value != c.position {
			r.note("-%s is usual as T%s only: %s", key, f.Value, f.Note)
		}
	}
	open := valueOf(rows, "mechanical") != ""
	for _, f := range g.table.at("type", c.alloy) {
		condition, ok := wiresHold(f.Condition, key)
		if !ok || open && f.Unit == "ksi" {
			continue
		}
		f.Condition = condition
		h.facts = h.facts.with([]Fact{f}, c.by)
	}
	if open {
		r.note("-%s does not fix gas, polarity, composition or strength: take them from the box or data sheet", key)
	}
	return h
}

// wiresHold evaluates a condition such as "-1 and -4 wires" for a suffix; any
// other condition is kept.
func wiresHold(condition, suffix string) (kept string, ok bool) {
	if !strings.HasPrefix(condition, "-") || !strings.Contains(condition, " wires") {
		return condition, true
	}
	return "", slices.Contains(strings.Fields(condition), "-"+suffix)
}

// pair adds what the table says of two suffixes held together.
func (g *a522) pair(r *reading, halves []half) {
	if len(halves) < 2 {
		return
	}
	r.add(g.table.at("suffix", halves[0].key+"/"+halves[1].key), r.to(halves[0].span, halves[1].span))
}

// scope adds what holds of every wire of the specification, no characters giving it.
func (g *a522) scope(r *reading, flux bool) {
	for _, key := range g.table.keys("scope") {
		if key != "flux cored" || flux {
			r.add(g.table.at("scope", key), span{})
		}
	}
}
