package filler

import (
	"fmt"
	"slices"
)

// span is a run of characters of the canonical designation.
type span struct {
	text string
	at   int
}

// to joins two spans of the designation written so far.
func (r *reading) to(from, until span) span {
	return span{string(r.out[from.at : until.at+len(until.text)]), from.at}
}

// reading is a designation while it is being decoded.
type reading struct {
	table *table
	out   []byte
	parts []Part
	facts Facts
	notes []string

	repeated string // hydrogen designator that stood behind the first of two classes
}

func newReading(t *table) *reading {
	return &reading{table: t, out: make([]byte, 0, 24)}
}

// put writes the next characters of the canonical designation.
func (r *reading) put(text, means string) span {
	s := span{text, len(r.out)}
	if r.parts == nil {
		r.parts = make([]Part, 0, partsRoom)
	}
	r.out = append(r.out, text...)
	r.parts = append(r.parts, Part{Text: text, At: s.at, Means: means})
	return s
}

// note adds a remark once.
func (r *reading) note(format string, args ...any) {
	n := fmt.Sprintf(format, args...)
	if !slices.Contains(r.notes, n) {
		r.notes = append(r.notes, n)
	}
}

// add takes the facts of some rows as given by the characters s.
func (r *reading) add(rows []Fact, s span) { r.facts = r.facts.room().with(rows, s) }

func (r *reading) decoded() Decoded {
	return Decoded{
		Designation: string(r.out), Spec: r.table.spec, Edition: r.table.edition,
		Parts: r.parts, Facts: r.facts, Notes: r.notes,
	}
}

// How many facts of a designation and of a half of it, and how many parts, are
// made room for at once: most classes fit.
const factsRoom, halfRoom, partsRoom = 19, 19, 12

// room returns fs with room for the facts of a whole designation.
func (fs Facts) room() Facts {
	if fs == nil {
		return make(Facts, 0, factsRoom)
	}
	return fs
}

// with returns fs and the facts of some rows as given by the characters s.
func (fs Facts) with(rows []Fact, s span) Facts {
	if cap(fs)-len(fs) < len(rows) {
		fs = slices.Grow(fs, max(len(rows), halfRoom))
	}
	for i := range rows {
		fs = append(fs, rows[i])
		f := &fs[len(fs)-1]
		f.From, f.At = s.text, s.at
	}
	return fs
}

// confirm returns fs with the facts of rows that may say again what fs says. Of
// two rows that say the same the fact keeps the stronger provenance, and both
// sources if they are equally strong.
func (fs Facts) confirm(rows []Fact, s span) Facts {
	for n := range rows {
		i := fs.index(&rows[n])
		if i < 0 {
			fs = fs.with(rows[n:n+1], s)
			continue
		}
		switch have, f := &fs[i], rows[n]; {
		case f.Provenance.rank() > have.Provenance.rank():
			f.From, f.At = have.From, have.At
			*have = f
		case f.Provenance == have.Provenance:
			have.Source = bothSources(have.Source, f.Source)
		}
	}
	return fs
}

// index finds the fact that says the same as f: name, value, unit and
// condition; -1 if none does.
func (fs Facts) index(f *Fact) int {
	for i := range fs {
		g := &fs[i]
		if g.Name == f.Name && g.Value == f.Value && g.Unit == f.Unit && g.Condition == f.Condition {
			return i
		}
	}
	return -1
}

func bothSources(a, b string) string {
	if a == b || b == "" {
		return a
	}
	return a + "; " + b
}
