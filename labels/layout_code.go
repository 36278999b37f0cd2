package labels

import (
	"image"
	"strings"
)

// lower is the block of lot, opening and code at the left and QR at the right.
func (a *spoolLayout) lower(width int) (row, error) {
	side := a.mm10(233)
	left := width - side - a.mm10(20)
	rows, err := makeRows([]func(int) (row, error){a.lot, a.opened, a.code}, left)
	if err != nil {
		return row{}, err
	}
	return row{"code", side, a.mm10(213), false, func(area image.Rectangle) ([]item, error) {
		column := area
		column.Max.X = area.Min.X + left
		items, err := stack(rows, column)
		if err != nil {
			return nil, err
		}
		square := image.Rect(area.Max.X-side, area.Min.Y, area.Max.X, area.Max.Y)
		s, err := a.qr(square)
		return append(items, s), err
	}}, nil
}

// qr draws the label's address, or as many of its facts as fit.
func (a *spoolLayout) qr(area image.Rectangle) (symbol, error) {
	if a.spool.URL != "" {
		return placeQR("url", a.spool.URL, area, a.dpi)
	}
	facts := a.spool.facts()
	for n := len(facts); ; n-- {
		s, err := placeQR("url", strings.Join(facts[:n], "\n"), area, a.dpi)
		if err == nil || n == 1 {
			return s, err
		}
	}
}

func (a *spoolLayout) lot(width int) (row, error) {
	return a.field(45, cell{"lot", "LOT", known(a.spool.Lot), a.bold(40, 19, 1)}, width)
}

// field is a row of one cell in the lower block.
func (a *spoolLayout) field(want int, c cell, width int) (row, error) {
	need, err := c.need(width - a.captions)
	if err != nil {
		return row{}, err
	}
	return row{c.field, a.mm10(want), need + a.pad(), false, func(area image.Rectangle) ([]item, error) {
		area.Max.Y -= a.pad()
		items, _, err := a.layOut(c, area, a.captions)
		return items, err
	}}, nil
}

// opened is the moment the spool was opened, or boxes to write it in.
func (a *spoolLayout) opened(width int) (row, error) {
	if opened := clean(a.spool.Opened); opened != "" {
		return a.field(66, cell{"opened", "OPENED", opened, a.bold(40, 19, 1)}, width)
	}
	high := a.mm10(66)
	return row{"opened", high, high, false, func(area image.Rectangle) ([]item, error) {
		area.Max.Y -= a.mm10(8)
		baseline := area.Max.Y - a.mm10(18)
		s := a.caption()
		put := func(words string, x int) ([]item, int) {
			b, _ := s.set(words, s.largest, area.Dx())
			return b.texts("opened caption", x, baseline), x + b.width + a.mm10(10)
		}
		items, _ := put("OPENED", area.Min.X)
		date, x := put("date", area.Min.X+a.captions)
		split := x + a.mm10(240)
		time, y := put("time", split+a.mm10(20))
		items = append(append(items, date...), time...)
		return append(items,
			frame{"opened date", image.Rect(x, area.Min.Y, split, area.Max.Y), a.mm10(3)},
			frame{"opened time", image.Rect(y, area.Min.Y, area.Max.X, area.Max.Y), a.mm10(3)}), nil
	}}, nil
}

// code is the Code 128 symbol above its code as text, to be typed when it
// cannot be scanned.
func (a *spoolLayout) code(width int) (row, error) {
	c := cell{"code", "", a.spool.Code, a.bold(38, 26, 1)}
	if _, err := c.need(width); err != nil {
		return row{}, err
	}
	return row{"code", a.mm10(120), a.mm10(100), false, func(area image.Rectangle) ([]item, error) {
		b, ok := c.style.fit(c.words, area.Dx(), a.mm10(38))
		if !ok {
			return nil, &FieldError{"code", "too long to print"}
		}
		area.Max.Y -= a.mm10(6)
		bars := area
		bars.Max.Y -= b.height() + a.mm10(8)
		s, err := placeCode128("code", a.spool.Code, bars, a.dpi)
		if err != nil {
			return nil, err
		}
		centre := s.outline.Min.X + (s.outline.Dx()-b.width)/2
		return append(b.texts("code", centre, area.Max.Y-b.descent), s), nil
	}}, nil
}
