package filler

import (
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/unit"
)

// SizeDecoded is a wire size as a box marks it, held against the sizes that
// the tables list (AWS A5.02, ISO 17632 and ISO 544 by testdata/diameters.csv).
type SizeDecoded struct {
	Size   unit.Length
	Inch   bool // it was typed in inches
	Listed bool // a specification lists it, as it was typed
	Facts  Facts
	Notes  []string // what a person must know before taking it for another size
}

// String returns the size in the unit that it was typed in, which DecodeSize
// reads back: ".045 in", "1.2 mm".
func (d SizeDecoded) String() string {
	if d.Inch {
		if text := d.Size.Inches(); lengthIs(text, d.Size) {
			return text
		}
	}
	return d.Size.String()
}

func lengthIs(text string, want unit.Length) bool {
	l, err := unit.ParseLength(text)
	return err == nil && l == want
}

// largestWire is more than any wire that is welded from a spool measures.
const largestWire = 10 * unit.Millimetre

// DecodeSize reads a wire size with its unit: ".045 in", "3/64 in", "1.2 mm". A
// size that no specification lists is read too, with the listed ones beside it
// in the notes. What is no length with a unit, or is no wire, is a
// [*SyntaxError].
//
// DecodeSize is pure and safe for concurrent use.
func DecodeSize(text string) (SizeDecoded, error) {
	size, err := unit.ParseLength(text)
	switch {
	case err != nil:
		return SizeDecoded{}, unread(text, "size", "give a number with its unit, such as .045 in, 3/64 in or 1.2 mm")
	case size <= 0 || size > largestWire:
		return SizeDecoded{}, unread(text, "size", "a wire is thicker than nothing and no thicker than "+largestWire.String())
	}
	t := sizes()
	d := SizeDecoded{Size: size, Inch: !strings.HasSuffix(strings.ToLower(strings.TrimSpace(text)), "m")}
	if of := t.printed[size]; of != 0 && of != size && d.Inch {
		d.Size = of
		d.Notes = append(d.Notes, size.Inches()+" is how "+of.Inches()+" is printed as a decimal")
	}
	for _, row := range t.rows {
		if row.fits(d) {
			f := row.Fact
			f.From = d.String()
			d.Facts = append(d.Facts, f)
			d.Listed = d.Listed || row.lists && row.inch == d.Inch
		}
	}
	d.Notes = append(d.Notes, t.notes(d)...)
	return d, nil
}

// unread is the fault of a text as a whole: at its end if it is a number that
// lacks the unit, at its first character otherwise.
func unread(text, what, detail string) *SyntaxError {
	bad := &SyntaxError{Text: text, Detail: detail, what: what}
	trimmed := strings.TrimSpace(text)
	if strings.Trim(trimmed, "0123456789./- ") == "" {
		bad.At = strings.Index(text, trimmed) + len(trimmed)
		return bad
	}
	bad.At = strings.Index(text, trimmed)
	for _, r := range trimmed {
		bad.Char = string(r)
		break
	}
	return bad
}

// sizeRow is what the table says of the sizes from low to high.
type sizeRow struct {
	Fact
	low, high unit.Length
	lists     bool // it says that a specification lists the size
	inch      bool // in inches
	label     bool // it says how boxes mark another size: low is that mark
	of        unit.Length
}

// fits tells whether the row is about the size. A tolerance is about sizes in
// its own unit.
func (r sizeRow) fits(d SizeDecoded) bool {
	if strings.HasPrefix(r.Name, "tolerance") && (r.Unit == "in") != d.Inch {
		return false
	}
	return r.low <= d.Size && d.Size <= r.high
}

// sizeTable is the rows on sizes and packages.
type sizeTable struct {
	rows     []sizeRow
	packages []packageRow
	printed  map[unit.Length]unit.Length // fractions by the decimal that boxes print: 0.047 in for 3/64 in
}

// sizes is built once; nothing changes it afterwards.
var sizes = sync.OnceValue(func() *sizeTable {
	t := &sizeTable{printed: map[unit.Length]unit.Length{}}
	for _, r := range mustReadRows(sizeTableName) {
		f := rowFact(r)
		switch r[2] {
		case "size", "metric_size", "nearest_pair", "tolerance", "use":
			t.addSize(r, f)
		case "spool", "coil with support", "coil without support", "drum", "market_package":
			t.addPackage(r, f)
		}
	}
	return t
})

// addSize takes a row on sizes; one that holds in both directions twice.
func (t *sizeTable) addSize(r []string, f Fact) {
	row := sizeRow{Fact: f, lists: f.Name == "inch_size" || f.Name == "listed size", inch: r[2] == "size"}
	if row.lists {
		row.Name, row.Value, row.Unit, row.Note = "listed_size", f.said(r[3]), "", r[0]+" "+r[1]
	}
	switch r[2] {
	case "tolerance", "use":
		row.low, row.high, row.Condition = sizeRange(r[3])
		row.Name = map[bool]string{true: "tolerance_" + f.Name, false: f.Name}[r[2] == "tolerance"]
		row.Note = strings.TrimPrefix(f.Note+"; "+r[0], "; ")
		if r[2] == "use" {
			row.Condition = "E70T-1 and E71T-1 kinds, " + r[3]
		}
	default:
		row.low, row.of = sizeOf(r[3]), sizeOf(r[3])
		row.high = row.low
		if _, decimal, ok := strings.Cut(r[3], "("); ok && row.lists {
			t.printed[sizeOf(strings.Replace(decimal, ")", "", 1))] = row.low
		}
	}
	t.rows = append(t.rows, row)
	switch other := sizeOf(f.Value + " " + f.Unit); {
	case r[2] == "nearest_pair":
		back := row
		back.low, back.Name, back.Value = sizeOf(f.Value), "inch_size", r[3]
		back.high = back.low
		t.rows = append(t.rows, back)
	case f.Name == "metric_label" && other > 0:
		back := row
		back.low, back.high, back.label, back.Name, back.Value, back.Unit = other, other, true, "label_of", r[3], ""
		t.rows = append(t.rows, back)
	}
}

// said is the size as its row names it, in whole: "1.2 mm", "3/64 (0.047) in".
func (f Fact) said(designator string) string {
	if f.Value == "listed size" {
		return designator
	}
	return f.Value + " " + f.Unit
}

// sizeOf reads "0.045 in", "3/64 (0.047) in" and "5/64 in (2.0 mm)"; zero if
// it is no length.
func sizeOf(text string) unit.Length {
	if before, after, ok := strings.Cut(text, " ("); ok {
		_, behind, _ := strings.Cut(after, ")")
		text = before + behind
	}
	l, err := unit.ParseLength(text)
	if err != nil {
		return 0
	}
	return l
}

// sizeRange reads "tubular 0.030 to 1/16 in", "solid 0.052 in and up" and
// "5/64 in (2.0 mm) and larger".
func sizeRange(text string) (low, high unit.Length, sort string) {
	if before, after, ok := strings.Cut(text, " "); ok && (before == "tubular" || before == "solid") {
		sort, text = before+" wire", after
	}
	text, smaller := strings.CutSuffix(text, " and smaller")
	text, larger := strings.CutSuffix(strings.TrimSuffix(text, " and up")+" and larger", " and larger")
	text = strings.TrimSuffix(text, " and larger")
	if from, to, ok := strings.Cut(text, " to "); ok {
		high = sizeOf(to)
		_, measure, _ := strings.Cut(to, " ")
		return sizeOf(from + " " + measure), high, sort
	}
	switch low = sizeOf(text); {
	case smaller:
		return 0, low, sort
	case larger:
		return low, largestWire, sort
	}
	return low, low, sort
}

// notes says where a size is no listed one, and where a mark is of a size that
// measures something else.
func (t *sizeTable) notes(d SizeDecoded) (out []string) {
	for _, r := range t.rows {
		if r.label && !d.Inch && r.fits(d) && r.of != d.Size {
			out = append(out, d.String()+" may be the mark of a wire of "+r.Value+", which measures "+r.of.Millimetres(3)+": measure it, or read the inch size")
		}
	}
	if d.Listed {
		return out
	}
	smaller, larger := t.beside(d)
	switch {
	case smaller != "" && larger != "":
		return append(out, "no listed size in this unit: the nearest are "+smaller+" and "+larger)
	default:
		return append(out, "no listed size in this unit: the nearest is "+smaller+larger)
	}
}

// beside returns the nearest listed sizes in the same unit; empty at the ends.
func (t *sizeTable) beside(d SizeDecoded) (smaller, larger string) {
	var listed []sizeRow
	for _, r := range t.rows {
		if r.lists && r.inch == d.Inch {
			listed = append(listed, r)
		}
	}
	slices.SortFunc(listed, func(a, b sizeRow) int { return int(a.low - b.low) })
	for _, r := range listed {
		switch {
		case r.low < d.Size:
			smaller = r.Value
		case r.low > d.Size && larger == "":
			larger = r.Value
		}
	}
	return smaller, larger
}

// Sizes returns the listed sizes as boxes write them, those in inches first,
// each from small to large.
func Sizes() []string {
	var out []string
	for _, inch := range [...]bool{true, false} {
		var listed []sizeRow
		for _, r := range sizes().rows {
			if r.lists && r.inch == inch {
				listed = append(listed, r)
			}
		}
		slices.SortFunc(listed, func(a, b sizeRow) int { return int(a.low - b.low) })
		for _, r := range listed {
			out = append(out, SizeDecoded{Size: r.low, Inch: inch}.String())
		}
	}
	return slices.Compact(out)
}
