package labels

import (
	"image"

	"wirehold/inventory/unit"
)

// row is a strip across a label or across part of it.
type row struct {
	field  string
	want   int  // height in dots if there is room
	need   int  // least height in dots
	spare  bool // takes a share of height that nobody wants
	layOut func(area image.Rectangle) ([]item, error)
}

// stack lays rows out from the top of area down. The error is a [*FieldError]
// naming the row that needs the most above what it wants.
func stack(rows []row, area image.Rectangle) ([]item, error) {
	heights, err := share(rows, area.Dy())
	if err != nil {
		return nil, err
	}
	var items []item
	y := area.Min.Y
	for i, r := range rows {
		placed, err := r.layOut(image.Rect(area.Min.X, y, area.Max.X, y+heights[i]))
		if err != nil {
			return nil, err
		}
		items = append(items, placed...)
		y += heights[i]
	}
	return items, nil
}

// share divides height among rows: each has what it needs; what is left goes
// to what they want, in proportion, and then to those that take spare height.
func share(rows []row, height int) ([]int, error) {
	needed, wanted, spares := 0, 0, 0
	for _, r := range rows {
		needed += r.need
		wanted += max(0, r.want-r.need)
		if r.spare {
			spares++
		}
	}
	left := height - needed
	if left < 0 {
		return nil, &FieldError{neediest(rows), "too long: it does not fit on the label at the smallest size that can be read"}
	}
	heights := make([]int, len(rows))
	for i, r := range rows {
		heights[i] = r.need
		if wanted > 0 {
			heights[i] += max(0, r.want-r.need) * min(left, wanted) / wanted
		}
		if r.spare && left > wanted {
			heights[i] += (left - wanted) / spares
		}
	}
	return heights, nil
}

// neediest names the row that needs most above what it wants. Rows of fixed
// height are never to blame.
func neediest(rows []row) string {
	worst, field := 0, rows[0].field
	for i, r := range rows {
		if r.need != r.want && (i == 0 || r.need-r.want > worst) {
			worst, field = r.need-r.want, r.field
		}
	}
	return field
}

// cell is a captioned text within a row.
type cell struct {
	field, caption, words string
	style                 style
}

// grid is what the rows of one label have in common.
type grid struct {
	dpi   int
	fonts fonts
	scale int // in hundredths of 100 x 75 mm stock
}

// tenths converts tenths of a millimetre to dots, whatever the stock.
func (g grid) tenths(n int) int { return dots(unit.Length(n)*unit.Millimetre/10, g.dpi) }

// mm10 converts tenths of a millimetre on 100 x 75 mm stock to dots.
func (g grid) mm10(tenths int) int {
	return dots(unit.Length(tenths)*unit.Millimetre/10*unit.Length(g.scale)/100, g.dpi)
}

// leastFont is the smallest text on any label, in tenths of a millimetre: 4.8
// points, of which a 203 dpi head still draws each stroke (practice).
const leastFont = 17

// bold is a style with font sizes in tenths of a millimetre on 100 x 75 mm
// stock. What is small enough to be read there is so on larger stock.
func (g grid) bold(largest, least, lines int) style {
	least = max(min(g.mm10(least), g.tenths(least)), g.tenths(leastFont))
	return style{g.fonts.bold, max(g.mm10(largest), least), least, lines}
}

// regular is a style with font sizes in tenths of a millimetre.
func (g grid) regular(largest, least, lines int) style {
	s := g.bold(largest, least, lines)
	s.face = g.fonts.regular
	return s
}

// caption is the style of the small word that says what a text is.
func (g grid) caption() style { return g.regular(21, 21, 1) }

// captionWidth is the column that captions stand in, gap included.
func (g grid) captionWidth(captions ...string) int {
	widest := 0
	for _, c := range captions {
		adv, _, _ := g.fonts.regular.measure(c)
		widest = max(widest, g.fonts.regular.scale(adv, g.caption().largest))
	}
	return widest + g.mm10(15)
}

// need is the least height at which c fits into width dots of text.
func (c cell) need(width int) (int, error) {
	b, ok := c.style.set(c.words, c.style.least, width)
	if !ok || len(b.lines) > c.style.lines {
		return 0, &FieldError{c.field, "too long: it does not fit across the label at the smallest size that can be read"}
	}
	return b.height(), nil
}

// layOut sets c as large as area allows: the caption in its column at the left,
// on the first baseline; the text in the middle of the height.
func (g grid) layOut(c cell, area image.Rectangle, captionWidth int) ([]item, int, error) {
	b, ok := c.style.fit(c.words, area.Dx()-captionWidth, area.Dy())
	if !ok {
		return nil, 0, &FieldError{c.field, "too long for its place on the label"}
	}
	baseline := area.Min.Y + (area.Dy()-b.height())/2 + b.ascent
	items := b.texts(c.field, area.Min.X+captionWidth, baseline)
	if c.caption != "" {
		s := g.caption()
		s.largest = min(s.largest, b.em)
		if label, ok := s.set(c.caption, s.largest, captionWidth); ok {
			items = append(items, label.texts(c.field+" caption", area.Min.X, baseline)...)
		}
	}
	return items, b.em, nil
}
