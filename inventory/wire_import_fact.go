package inventory

import (
	"errors"
	"strings"
	"unicode"

	"wirehold/inventory/filler"
)

// factKind is the kind of a column that holds a fact of the data sheet.
const factKind = "fact"

// factColumns returns a column for each fact that a sheet may supply.
func factColumns() []ImportColumn {
	var out []ImportColumn
	for _, f := range SheetFacts() {
		label := f.Label
		if strings.IndexFunc(label, unicode.IsUpper) != 0 { // a label that follows on another's
			label = strings.ReplaceAll(f.Name, "_", " ")
		}
		out = append(out, ImportColumn{Name: f.Name, Label: label, Kind: factKind, Hint: f.Accepts()})
	}
	return out
}

// facts reads the cells of a data sheet's facts. A fact needs a source: the
// sheet with its revision, or the shop's own word.
func (r *rowReader) facts() filler.Facts {
	source := r.text("sheet")
	provenance := filler.DataSheet
	if word, _, _ := strings.Cut(strings.ToLower(source), " "); strings.Trim(word, ":,;") == "shop" {
		provenance = filler.Shop
	}
	var facts filler.Facts
	unsaid := "" // the first fact that nobody vouches for
	for _, c := range r.header.columns {
		if c.Kind != factKind {
			continue
		}
		for _, f := range r.fact(c) {
			if source == "" && unsaid == "" {
				unsaid = c.typed
			}
			f.Provenance, f.Source = provenance, source
			facts = append(facts, f)
		}
	}
	if unsaid != "" {
		r.fault("sheet", "say whose word %q is: title and revision of the data sheet, or \"shop\" and who says so", unsaid)
	}
	return facts
}

// fact reads one cell. A number without a unit takes that of the header.
func (r *rowReader) fact(c headerColumn) filler.Facts {
	text, ok := r.cell(c.Name)
	if !ok {
		return nil
	}
	text = inchMarks.Replace(text)
	if c.unit != "" && bareNumber(text) {
		text += " " + c.unit
	}
	known, _ := SheetFactNamed(c.Name) // the columns are made from it
	facts, err := known.Read(text)
	if e, ok := errors.AsType[*Error](err); ok {
		r.fault(c.Name, "%s", e.Detail)
	}
	return facts
}
