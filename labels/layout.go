package labels

import (
	"fmt"
	"image"
	"slices"
	"strings"
)

// layout is one attempt to lay out a label: with some of what may be left off,
// or without.
type layout struct {
	grid
	label    *Label
	facts    []Fact  // that are printed
	blanks   []Blank // that are printed
	notes    []string
	leftOff  string // the words for what is not printed; empty if all is
	captions int    // width of the caption column
	big      int    // size of the smallest text among the large facts
	largest  int    // size of the largest fact: no other is larger
	tall     bool   // there is height to spare: stock higher than wide
}

// layOut lays l out for stock of the given size at dpi.
//
// What may be left off is, in the order of Goes, until the rest fits; notes
// before that, from the last to the first, tried again with each fact that
// goes. The last line of the label says what was left off. The error is a
// [*FieldError] for what needs the room.
func (f fonts) layOut(l *Label, stock Size, dpi int) (sheet, error) {
	if err := l.check(); err != nil {
		return sheet{}, err
	}
	s := sheet{dpi: dpi, bounds: image.Rect(0, 0, dots(stock.Width, dpi), dots(stock.Height, dpi))}
	going := l.going(stock)
	var err error
	for n := 0; n <= len(going); n++ {
		for notes := len(l.Notes); notes >= 0; notes-- {
			if stock.smallest() {
				notes = 0
			}
			a := l.without(going[:n], notes, stock.smallest())
			a.grid, a.tall = grid{dpi, f, stock.scale()}, stock.Height > stock.Width
			if s.items, err = a.arrange(s.bounds, stock); err == nil {
				return s, nil
			}
		}
	}
	return sheet{}, err
}

// going lists the fields that may be left off on the stock, the first to go
// first.
func (l *Label) going(stock Size) []string {
	small := stock.scale() < 100
	order := map[string]int{}
	var fields []string
	for _, f := range l.Facts {
		if f.Goes > 0 && (small || !f.Small) {
			fields, order[f.Field] = append(fields, f.Field), f.Goes
		}
	}
	for _, b := range l.Blanks {
		if b.Goes > 0 && (small || !b.Small) {
			fields, order[b.Field] = append(fields, b.Field), b.Goes
		}
	}
	slices.SortStableFunc(fields, func(a, b string) int { return order[a] - order[b] })
	return fields
}

// mostNamed is how many of the facts that are left off the smallest stock names.
const mostNamed = 3

// without returns the layout of l that leaves these fields off and keeps so
// many of the notes.
func (l *Label) without(gone []string, notes int, short bool) *layout {
	a := &layout{label: l, notes: l.Notes[:notes], facts: l.Facts, blanks: l.Blanks}
	var what []string
	if len(gone) > 0 {
		a.facts, a.blanks = nil, nil
		for _, f := range l.Facts {
			if slices.Contains(gone, f.Field) {
				what = append(what, f.called())
				continue
			}
			a.facts = append(a.facts, f)
		}
		for _, b := range l.Blanks {
			if slices.Contains(gone, b.Field) {
				what = append(what, b.Field)
				continue
			}
			a.blanks = append(a.blanks, b)
		}
	}
	if n := len(l.Notes) - notes; n > 0 {
		what = append(what, counted(n, "caution"))
	}
	switch {
	case len(what) > mostNamed && short:
		a.leftOff = fmt.Sprintf("No room for %d more facts.", len(what))
	case len(what) > 0:
		a.leftOff = "No room for: " + strings.Join(what, ", ") + "."
	}
	return a
}

// arrange lays the label out on stock whose bounds are given.
func (a *layout) arrange(bounds image.Rectangle, stock Size) ([]item, error) {
	a.big, a.largest = bounds.Dy(), bounds.Dy()
	if stock.smallest() {
		return a.smallest(bounds.Inset(a.tenths(15)))
	}
	return a.stacked(bounds.Inset(a.tenths(25)))
}

// stacked lays the label out as rows from the top down. Heights and font sizes
// are those of 100 x 75 mm stock, in tenths of a millimetre.
func (a *layout) stacked(area image.Rectangle) ([]item, error) {
	a.captions = a.captionWidth(a.columnCaptions()...)
	var makers []func(width int) (row, error)
	if a.label.Banner != "" {
		makers = append(makers, a.banner)
	}
	if a.label.Title != "" {
		makers = append(makers, a.title)
	}
	for _, f := range a.ranked(Huge) {
		makers = append(makers, a.huge(f))
	}
	for _, f := range a.ranked(Big) {
		makers = append(makers, a.large(f))
	}
	makers = append(makers, a.line)
	if middle := a.middle(); len(middle) > 0 {
		makers = append(append(makers, middle...), a.line)
	}
	for _, b := range a.blanks {
		if b.wide() {
			makers = append(makers, a.blank(b))
		}
	}
	makers = append(makers, a.lower)
	if a.label.Aid != "" || len(a.notes) > 0 || a.leftOff != "" {
		makers = append(makers, a.small)
	}
	if a.label.Banner != "" {
		makers = append(makers, a.hatching)
	}
	rows, err := makeRows(makers, area.Dx())
	if err != nil {
		return nil, err
	}
	return stack(rows, area)
}

func makeRows(makers []func(width int) (row, error), width int) ([]row, error) {
	rows := make([]row, 0, len(makers))
	for _, maker := range makers {
		r, err := maker(width)
		if err != nil {
			return nil, err
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// ranked lists the facts that are printed of one rank.
func (a *layout) ranked(r Rank) []Fact {
	var out []Fact
	for _, f := range a.facts {
		if f.Rank == r {
			out = append(out, f)
		}
	}
	return out
}

// columnCaptions lists the captions that stand in the first column.
func (a *layout) columnCaptions() []string {
	var out []string
	for _, f := range a.facts {
		if f.Rank != Middle {
			out = append(out, f.Caption)
		}
	}
	for _, b := range a.blanks {
		out = append(out, b.Caption)
	}
	narrow, wide := a.pairs()
	for i, f := range narrow {
		if i%2 == 0 {
			out = append(out, f.Caption)
		}
	}
	for _, f := range wide {
		out = append(out, f.Caption)
	}
	return out
}

// cell is the fact as it is set in the style.
func (a *layout) cell(f Fact, s style) cell {
	if f.Lines > 0 {
		s.lines = f.Lines
	}
	return cell{f.Field, f.Caption, clean(f.Words), s}
}

// line is a rule between groups of rows.
func (a *layout) line(int) (row, error) {
	high := a.mm10(14)
	return row{"line", high, high, false, func(area image.Rectangle) ([]item, error) {
		area.Min.Y += a.mm10(5)
		area.Max.Y = area.Min.Y + a.mm10(4)
		return []item{rule{area}}, nil
	}}, nil
}
