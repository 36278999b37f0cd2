package filler

import (
	"slices"
	"strings"
)

// a536Fixed reads the fixed classes that A5.36 carries: designations of A5.20
// and A5.18 on a label that names A5.36.
type a536Fixed struct {
	table   *table
	readers []grammar // of A5.20 and A5.18
}

func newA536Fixed(b book) *a536Fixed {
	return &a536Fixed{b.of("A5.36"), []grammar{newA520(b.of("A5.20")), newA518(b.of("A5.18"))}}
}

func (g *a536Fixed) read(s *scanner) (Decoded, *SyntaxError) {
	start := s.pos
	var worst *SyntaxError
	for _, reader := range g.readers {
		s.pos = start
		d, bad := reader.read(s)
		if bad == nil {
			return g.fix(s, start, d)
		}
		if worst == nil || bad.At > worst.At {
			worst = bad
		}
	}
	return Decoded{}, worst
}

// fix replaces the facts of d that A5.36 states itself. Its gas is a symbol and
// takes in more than the letter of A5.20 does, whose gas therefore stays.
func (g *a536Fixed) fix(s *scanner, start int, d Decoded) (Decoded, *SyntaxError) {
	class, rows := g.class(d.Designation)
	if rows == nil {
		return Decoded{}, s.failAt(s.at[start], d.Designation+" is no fixed class of AWS A5.36"+g.newName(d.Designation))
	}
	from := d.Spec
	d.Spec, d.Edition = g.table.spec, g.table.edition
	d.Facts = slices.DeleteFunc(d.Facts, func(f Fact) bool {
		return slices.ContainsFunc(rows, func(row Fact) bool { return row.Name == f.Name && row.Unit == f.Unit })
	})
	d.Facts = d.Facts.with(rows, span{class, 0})
	d.Facts = d.Facts.with(g.openForm(class), span{class, 0})
	d.Notes = append(d.Notes, "fixed class: what AWS A5.36 does not state here is as in "+from)
	return d, nil
}

// class finds the rows of the fixed class that a designation begins with: a
// whole class, of which X is any digit.
func (g *a536Fixed) class(designation string) (string, []Fact) {
	for _, key := range g.table.keys("fixed_class") {
		n := len(key)
		if !fits(key, designation) {
			continue
		}
		rows := renamed(withTensileMin(g.table.at("fixed_class", key)), "gas", "gas_symbol")
		for _, f := range rows {
			if f.Name == "tensile" && strings.HasSuffix(f.Value, " min") {
				f.Name, f.Value = "tensile_min", strings.TrimSuffix(f.Value, " min")
				rows = append(rows, f)
				break
			}
		}
		if strings.HasSuffix(key, "M") {
			rows = append(rows, g.table.at("fixed_class", "M suffix")...)
		}
		return designation[:n], rows
	}
	return "", nil
}

// fits tells whether a designation is the class that pattern names, be it
// followed by supplementary designators or not.
func fits(pattern, designation string) bool {
	n := len(pattern)
	if len(designation) < n || len(designation) > n && designation[n] != '-' {
		return false
	}
	for i := range n {
		digit := '0' <= designation[i] && designation[i] <= '9'
		if pattern[i] != designation[i] && !(pattern[i] == 'X' && digit) {
			return false
		}
	}
	return true
}

// openForm returns the rows that name the open form of an old class: of
// "-1C -1M" one, or of "E70C-xx metal cored" the beginning.
func (g *a536Fixed) openForm(class string) []Fact {
	for _, key := range g.table.keys("old_to_new") {
		for one := range strings.FieldsSeq(key) {
			stem, wild := strings.CutSuffix(one, "xx")
			if wild && strings.HasPrefix(class, stem) || !wild && strings.HasSuffix(class, "T"+one) {
				return g.table.at("old_to_new", key)
			}
		}
	}
	return nil
}

// newName says how a class that is not carried is written now.
func (g *a536Fixed) newName(designation string) string {
	class, _, _ := strings.Cut(designation, "-H")
	if rows := g.openForm(class); rows != nil {
		return "; its open form: " + rows[0].Value
	}
	return ""
}
