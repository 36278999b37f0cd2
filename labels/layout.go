package labels

import (
	"fmt"
	"image"
	"strings"
)

// spoolLayout is one attempt to lay out a spool's label: with some optional
// lines, or without.
type spoolLayout struct {
	grid
	spool    Spool
	wire     bool // the trade name is printed
	cautions int  // how many of the cautions are printed
	captions int  // width of the caption column
	big      int  // size of the smallest text among polarity, gas and passes
}

// layOutSpool lays l out for stock of the given size at dpi.
//
// Optional lines are left off in this order until the rest fits: cautions from
// the last to the first; then the trade name, trying all cautions again. The
// last line of the label says what was left off.
func layOutSpool(l Spool, stock size, dpi int) (sheet, error) {
	if err := l.check(); err != nil {
		return sheet{}, err
	}
	f, err := newFonts()
	if err != nil {
		return sheet{}, err
	}
	return layOutSpoolIn(f, l, stock, dpi)
}

// layOutSpoolIn is layOutSpool with fonts already measured.
func layOutSpoolIn(f fonts, l Spool, stock size, dpi int) (sheet, error) {
	var err error
	for _, wire := range []bool{true, false} {
		for cautions := len(l.Cautions); cautions >= 0; cautions-- {
			a := spoolLayout{grid: grid{dpi, f}, spool: l, wire: wire, cautions: cautions}
			s := sheet{dpi: dpi, bounds: image.Rect(0, 0, dots(stock.width, dpi), dots(stock.height, dpi))}
			if s.items, err = a.arrange(s.bounds.Inset(a.mm10(25))); err == nil {
				return s, nil
			}
		}
	}
	return sheet{}, err
}

// arrange stacks the label's rows in area. Heights and font sizes are those of
// 100 x 75 mm stock, in tenths of a millimetre.
func (a *spoolLayout) arrange(area image.Rectangle) ([]item, error) {
	a.captions = a.captionWidth("POLARITY", "PASSES", "OPENED")
	l := a.spool
	a.big = area.Dy()
	makers := []func(width int) (row, error){
		a.polarity,
		a.large(cell{"gas", "GAS", known(l.Gas), a.bold(90, 43, 2)}),
		a.large(cell{"passes", "PASSES", known(l.Passes), a.bold(90, 43, 2)}),
		a.line,
	}
	makers = append(makers, a.middle()...)
	makers = append(makers, a.line, a.lower, a.small)
	rows, err := makeRows(makers, area.Dx())
	if err != nil {
		return nil, err
	}
	return stack(rows, area)
}

func makeRows(makers []func(width int) (row, error), width int) ([]row, error) {
	var rows []row
	for _, maker := range makers {
		r, err := maker(width)
		if err != nil {
			return nil, err
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// pad is the white above and below the text of a row.
func (a *spoolLayout) pad() int { return a.mm10(4) }

// within is area without its white above and below.
func (a *spoolLayout) within(area image.Rectangle) image.Rectangle {
	return image.Rect(area.Min.X, area.Min.Y+a.pad(), area.Max.X, area.Max.Y-a.pad())
}

// polarity is the largest row: the letters, then the words.
func (a *spoolLayout) polarity(width int) (row, error) {
	letters := cell{"polarity", "POLARITY", known(a.spool.Polarity), a.bold(150, 60, 2)}
	words := cell{"polarity words", "", a.spool.polarityWords(), a.bold(60, 26, 2)}
	gap := a.mm10(30)
	room := width - a.captions
	share := room
	if words.words != "" {
		share = room * 55 / 100
	}
	need, err := letters.need(share)
	if err != nil {
		return row{}, err
	}
	return row{"polarity", a.mm10(118), max(need+2*a.pad(), a.mm10(100)), true, func(area image.Rectangle) ([]item, error) {
		area = a.within(area)
		left := image.Rect(area.Min.X, area.Min.Y, area.Min.X+a.captions+share, area.Max.Y)
		items, em, err := a.layOut(letters, left, a.captions)
		if err != nil || words.words == "" {
			a.big = min(a.big, em)
			return items, err
		}
		a.big = min(a.big, em)
		right := area
		for _, i := range items {
			right.Min.X = max(right.Min.X, i.box().Max.X+gap)
		}
		more, _, err := a.layOut(words, right, 0)
		return append(items, more...), err
	}}, nil
}

// large is the row of a fact read at arm's length.
func (a *spoolLayout) large(c cell) func(width int) (row, error) {
	return func(width int) (row, error) {
		need, err := c.need(width - a.captions)
		if err != nil {
			return row{}, err
		}
		return row{c.field, a.mm10(83), max(need+2*a.pad(), a.mm10(72)), true, func(area image.Rectangle) ([]item, error) {
			items, em, err := a.layOut(c, a.within(area), a.captions)
			a.big = min(a.big, em)
			return items, err
		}}, nil
	}
}

// line is a rule between groups of rows.
func (a *spoolLayout) line(int) (row, error) {
	high := a.mm10(14)
	return row{"line", high, high, false, func(area image.Rectangle) ([]item, error) {
		area.Min.Y += a.mm10(5)
		area.Max.Y = area.Min.Y + a.mm10(4)
		return []item{rule{area}}, nil
	}}, nil
}

// middle is what the wire is. Without the trade name the classification has a
// row to itself.
func (a *spoolLayout) middle() []func(width int) (row, error) {
	l := a.spool
	class := cell{"classification", "CLASS", known(l.Classification), a.bold(46, 22, 2)}
	diameter := cell{"diameter", "DIAM.", l.diameter(), a.bold(46, 22, 2)}
	plate := cell{"thickness", "PLATE", known(l.Thickness), a.bold(36, 20, 2)}
	wire := cell{"wire", "WIRE", known(l.Wire), a.regular(36, 20, 2)}
	if !a.wire {
		return []func(int) (row, error){a.cells(58, 50, class), a.cells(46, 40, plate, diameter)}
	}
	return []func(int) (row, error){a.cells(58, 50, class, diameter), a.cells(46, 40, wire, plate)}
}

// cells is a row of one cell, or of two side by side, that wants and at least
// takes these tenths of a millimetre of height. No text in it is larger than
// the smallest of polarity, gas and passes.
func (a *spoolLayout) cells(want, least int, cells ...cell) func(width int) (row, error) {
	return func(width int) (row, error) {
		split, gap := width, a.mm10(20)
		if len(cells) == 2 {
			split = width * 54 / 100
		}
		captions := []int{a.captions, a.captionWidth("DIAM.", "PLATE")}
		areas := []image.Rectangle{{Max: image.Pt(split, 0)}, {Min: image.Pt(split+gap, 0), Max: image.Pt(width, 0)}}
		r := row{field: cells[0].field, want: a.mm10(want), need: a.mm10(least)}
		for i, c := range cells {
			need, err := c.need(areas[i].Dx() - captions[i])
			if err != nil {
				return row{}, err
			}
			if need += 2 * a.pad(); need > r.need {
				r.need, r.field = need, c.field
			}
		}
		r.layOut = func(area image.Rectangle) ([]item, error) {
			return a.sideBySide(a.within(area), cells, areas, captions)
		}
		return r, nil
	}
}

// sideBySide sets each cell within its columns of area.
func (a *spoolLayout) sideBySide(area image.Rectangle, cells []cell, columns []image.Rectangle, captions []int) ([]item, error) {
	var items []item
	for i, c := range cells {
		c.style.largest = min(c.style.largest, a.big)
		at := image.Rect(area.Min.X+columns[i].Min.X, area.Min.Y, area.Min.X+columns[i].Max.X, area.Max.Y)
		placed, _, err := a.layOut(c, at, captions[i])
		if err != nil {
			return nil, err
		}
		items = append(items, placed...)
	}
	return items, nil
}

// small is the last row: the cautions that are kept, and the aid line.
func (a *spoolLayout) small(width int) (row, error) {
	var lines []string
	for _, c := range a.spool.Cautions[:a.cautions] {
		lines = append(lines, clean(c))
	}
	lines = append(lines, a.leftOff()+aid)
	s := a.regular(24, 19, 3)
	_, need, err := s.paragraphs(lines, s.least, width)
	if err != nil {
		return row{}, err
	}
	return row{"cautions", a.mm10(51), need, false, func(area image.Rectangle) ([]item, error) {
		for em := s.largest; em >= s.least; em-- {
			blocks, height, err := s.paragraphs(lines, em, width)
			if err == nil && height <= area.Dy() {
				return placeParagraphs(blocks, image.Pt(area.Min.X, area.Max.Y-height)), nil
			}
		}
		return nil, &FieldError{"cautions", "too long"}
	}}, nil
}

// paragraphs sets each text at em dots, and returns their height together.
func (s style) paragraphs(texts []string, em, width int) (blocks []block, height int, err error) {
	for i, words := range texts {
		b, ok := s.set(words, em, width)
		if !ok || len(b.lines) > s.lines {
			return nil, 0, &FieldError{"cautions", fmt.Sprintf("caution %d is too long", i+1)}
		}
		blocks = append(blocks, b)
		height += len(b.lines) * b.leading
	}
	return blocks, height, nil
}

// placeParagraphs places blocks one below the other from top on.
func placeParagraphs(blocks []block, top image.Point) []item {
	var items []item
	for _, b := range blocks {
		baseline := top.Y + b.leading*80/100
		items = append(items, b.texts("cautions", top.X, baseline)...)
		top.Y += len(b.lines) * b.leading
	}
	return items
}

// leftOff says what the label does not print for want of room.
func (a *spoolLayout) leftOff() string {
	var what []string
	if !a.wire {
		what = append(what, "trade name")
	}
	switch n := len(a.spool.Cautions) - a.cautions; {
	case n == 1:
		what = append(what, "1 caution")
	case n > 1:
		what = append(what, fmt.Sprintf("%d cautions", n))
	}
	if len(what) == 0 {
		return ""
	}
	return "No room for: " + strings.Join(what, ", ") + ". "
}
