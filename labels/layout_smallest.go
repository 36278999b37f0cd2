package labels

import (
	"errors"
	"image"
	"slices"
	"strings"
)

// smallest lays the label out on stock for a few lines: text at the left and
// Data Matrix at the right, its code below; or bars below everything.
func (a *layout) smallest(area image.Rectangle) ([]item, error) {
	if a.label.bars {
		return a.aboveBars(area)
	}
	code := style{a.fonts.bold, a.tenths(26), a.tenths(18), 2}
	side := min(a.tenths(115), area.Dx()*30/100)
	shape, err := newCodeSquare("code", a.label.Code)
	if err != nil {
		return nil, err
	}
	if least := shape.least(a.dpi); least > side && least <= a.tenths(130) {
		side = least // a lot of letters that only QR holds
	}
	square, err := shape.place(side, a.dpi)
	if err != nil {
		return nil, err
	}
	column := max(square.outline.Dx(), a.tenths(100))
	words, ok := code.fit(clean(a.label.Code), column, area.Dy()-square.outline.Dy()-a.tenths(8))
	if !ok {
		column = max(column, area.Dx()*40/100)
		if words, ok = code.fit(clean(a.label.Code), column, area.Dy()-square.outline.Dy()-a.tenths(8)); !ok {
			return nil, &FieldError{"code", "too long to print"}
		}
	}
	column = max(square.outline.Dx(), words.width)
	left := area
	left.Max.X -= column + a.tenths(10)
	items, err := a.lines(left)
	if err != nil {
		return nil, err
	}
	high := square.outline.Dy() + a.tenths(8) + words.height()
	top := area.Min.Y + (area.Dy()-high)/2
	x := area.Max.X - column
	items = append(items, square.at(image.Pt(x+(column-square.outline.Dx())/2, top)))
	return append(items, words.texts("code", x+(column-words.width)/2, top+square.outline.Dy()+a.tenths(8)+words.ascent)...), nil
}

// aboveBars lays the facts out above Code 128 of the code.
func (a *layout) aboveBars(area image.Rectangle) ([]item, error) {
	bars, err := placeCode128("code", a.label.Code, area.Dx(), a.dpi)
	if err != nil {
		return nil, err
	}
	code := style{a.fonts.bold, a.tenths(28), a.tenths(20), 1}
	words, ok := code.fit(a.label.Code, area.Dx(), a.tenths(30))
	if !ok {
		return nil, &FieldError{"code", "too long to print"}
	}
	tall := a.tenths(65)
	top := area.Max.Y - words.height() - a.tenths(8) - tall
	above := area
	above.Max.Y = top - a.tenths(8)
	items, err := a.lines(above)
	if err != nil {
		return nil, err
	}
	items = append(items, bars.tallAt(image.Pt(area.Min.X+(area.Dx()-bars.outline.Dx())/2, top), tall))
	return append(items, words.texts("code", area.Min.X+(area.Dx()-words.width)/2, area.Max.Y-words.descent)...), nil
}

// lines stacks the facts without captions: the large ones a row each, the
// others together.
func (a *layout) lines(area image.Rectangle) ([]item, error) {
	var makers []func(int) (row, error)
	if a.label.Banner != "" {
		makers = append(makers, a.smallBanner)
	}
	add := func(field, words string, bold bool, want, largest, least, lines int) {
		s := style{a.fonts.regular, a.tenths(largest), a.tenths(least), lines}
		if bold {
			s.face = a.fonts.bold
		}
		makers = append(makers, a.oneLine(cell{field, "", words, s}, want))
	}
	for _, f := range a.ranked(Huge) {
		add(f.Field, f.alone(), true, 62, 60, 21, 2)
	}
	for _, f := range a.ranked(Big) {
		add(f.Field, f.alone(), true, 42, 42, 20, 3)
	}
	var rest []string
	for _, f := range append(a.ranked(Middle), a.ranked(Low)...) {
		rest = append(rest, f.alone())
	}
	if a.leftOff != "" {
		rest = append(rest, a.leftOff)
	}
	if len(rest) > 0 {
		add("cautions", strings.Join(rest, ", "), false, 44, 23, 16, 5)
	}
	rows, err := makeRows(makers, area.Dx())
	if err != nil {
		return nil, a.named(err)
	}
	items, err := stack(rows, area)
	return items, a.named(err)
}

// named says which of the facts that stand together is too long, where one is.
func (a *layout) named(err error) error {
	fault, ok := errors.AsType[*FieldError](err)
	rest := append(a.ranked(Middle), a.ranked(Low)...)
	if !ok || fault.Field != "cautions" || len(rest) == 0 {
		return err
	}
	longest := slices.MaxFunc(rest, func(a, b Fact) int { return len(a.Words) - len(b.Words) })
	return &FieldError{longest.Field, fault.Reason}
}

// oneLine is a row of one text, in the middle of its height.
func (a *layout) oneLine(c cell, want int) func(width int) (row, error) {
	return func(width int) (row, error) {
		need, err := c.need(width)
		if err != nil {
			return row{}, err
		}
		white := a.tenths(3)
		return row{c.field, max(a.tenths(want), need+white), need + white, c.style.face == a.fonts.bold, func(area image.Rectangle) ([]item, error) {
			area.Max.Y -= white
			items, _, err := a.layOut(c, area, 0)
			return items, err
		}}, nil
	}
}

// smallBanner is the hatched band of the smallest hold tag.
func (a *layout) smallBanner(width int) (row, error) {
	c := cell{"banner", "", clean(a.label.Banner), style{a.fonts.bold, a.tenths(50), a.tenths(28), 1}}
	side := a.tenths(45)
	if _, err := c.need(width - 2*side - a.tenths(20)); err != nil {
		return row{}, err
	}
	high := a.tenths(56)
	return row{"banner", high, high, false, func(area image.Rectangle) ([]item, error) {
		area.Max.Y -= a.tenths(6)
		b, ok := c.style.fit(c.words, width-2*side-a.tenths(20), area.Dy())
		if !ok {
			return nil, &FieldError{"banner", "too long"}
		}
		x := area.Min.X + (area.Dx()-b.width)/2
		left, right := area, area
		left.Max.X, right.Min.X = x-a.tenths(10), x+b.width+a.tenths(10)
		return append(b.texts("banner", x, area.Min.Y+(area.Dy()-b.height())/2+b.ascent), stripes{left, a.tenths(16)}, stripes{right, a.tenths(16)}), nil
	}}, nil
}
