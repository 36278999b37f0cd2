package filler

import (
	"slices"
	"strings"
)

// a510 reads AWS A5.10/A5.10M, bare aluminium wires and rods: ER, or R for a
// rod only, and the alloy number, "ER5356". There is no strength, gas or
// polarity in it, and no tubular class exists.
type a510 struct {
	table  *table
	alloys keySet
	rows   map[string][]Fact
	listed map[string]bool // alloys with a composition
}

func newA510(t *table) grammar {
	g := &a510{table: t, rows: map[string][]Fact{}, listed: map[string]bool{}}
	var alloys []string
	for _, kind := range []string{"solid", "listed", "f_number"} {
		for _, key := range t.keys(kind) {
			for one := range strings.SplitSeq(key, "|") {
				fields := strings.Fields(one)
				alloy := strings.TrimPrefix(fields[len(fields)-1], "ER")
				if !slices.Contains(alloys, alloy) {
					alloys = append(alloys, alloy)
				}
				rows := t.at(kind, key)
				g.rows[alloy] = append(g.rows[alloy], without(rows, "exists")...)
				g.listed[alloy] = g.listed[alloy] || valueOf(rows, "wire_composition") != ""
			}
		}
	}
	slices.Sort(alloys)
	g.alloys = newKeySet(alloys)
	return g
}

func (g *a510) read(s *scanner) (Decoded, *SyntaxError) {
	r := newReading(g.table)
	lead := "ER"
	if !s.word("ER") {
		if lead = "R"; !s.eat('R') {
			return Decoded{}, s.fail("a designation of AWS A5.10 begins with ER or R")
		}
	}
	alloy, ok := s.longest(g.alloys)
	if !ok {
		return Decoded{}, s.failNear(g.alloys, "no such alloy in the tables of AWS A5.10; they have "+g.alloys.words)
	}
	if !s.end() {
		return Decoded{}, s.fail("nothing of AWS A5.10 stands behind the alloy number")
	}
	r.add(g.table.at("form", lead), r.put(lead, g.table.first("form", lead, "meaning")))
	by := r.put(alloy, "aluminium alloy "+alloy)
	r.facts = without(r.facts, "meaning")
	r.add(g.table.at("deposit", "all"), span{})
	r.add(g.rows[alloy], by)
	r.add(g.table.at("rule", "aluminium"), span{})
	if !g.listed[alloy] {
		r.note("the composition of %s%s is not in the tables: read the box or data sheet", lead, alloy)
	}
	return r.decoded(), nil
}
