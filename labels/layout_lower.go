package labels

import (
	"image"
	"strings"
)

// lower is the block of small facts, frames and bars at the left and of the
// square symbol at the right.
func (a *layout) lower(width int) (row, error) {
	side, most := a.mm10(233), max(a.mm10(233), a.tenths(200))
	square, err := a.square(side, most)
	if err != nil {
		return row{}, err
	}
	if side < square.least(a.dpi) {
		side = most
	}
	side = square.side(side, a.dpi)
	least := max(square.least(a.dpi), min(side, a.mm10(213)))
	left := width - side - a.mm10(20)
	rows, err := a.lowerLeft(left)
	if err != nil {
		return row{}, err
	}
	need, want := 0, 0
	for _, r := range rows {
		need, want = need+r.need, want+r.want
	}
	return row{"code", max(side, want), max(need, least), false, func(area image.Rectangle) ([]item, error) {
		column := area
		column.Max.X = area.Min.X + left
		items, err := stack(rows, column)
		if err != nil {
			return nil, err
		}
		placed, err := square.place(min(side, area.Dy()), a.dpi)
		if err != nil {
			return nil, err
		}
		high := placed.outline.Dy()
		return append(items, placed.at(image.Pt(area.Max.X-high, area.Min.Y+(area.Dy()-high)/2))), nil
	}}, nil
}

// lowerLeft are the rows of small facts, frames and bars.
func (a *layout) lowerLeft(width int) ([]row, error) {
	var makers []func(int) (row, error)
	for _, f := range a.ranked(Low) {
		makers = append(makers, func(width int) (row, error) { return a.low(45, f, width) })
	}
	for _, b := range a.blanks {
		if !b.wide() {
			makers = append(makers, a.blank(b))
		}
	}
	return makeRows(append(makers, a.code), width)
}

// square is the label's square symbol: QR of the link, or of as many of the
// facts as go into side dots; or, if not even what is needed goes into most
// dots, Data Matrix of the code.
func (a *layout) square(side, most int) (square, error) {
	if a.label.Link != "" {
		q, err := newQR("url", a.label.Link)
		if err == nil && q.least(a.dpi) > most {
			err = q.tooSmall()
		}
		return q, err
	}
	facts := a.label.Offline
	needed := min(len(facts), max(1, a.label.Needed))
	for n := len(facts); n >= needed; n-- {
		room := side
		if n == needed {
			room = most
		}
		if q, err := newQR("url", strings.Join(facts[:n], betweenFacts)); err == nil && q.least(a.dpi) <= room {
			return q, nil
		}
	}
	return newCodeSquare("code", a.label.Code)
}

// low is a row of one fact in the lower block.
func (a *layout) low(want int, f Fact, width int) (row, error) {
	c := a.cell(f, a.bold(40, 19, 2))
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

// blank is a row of frames to write in.
func (a *layout) blank(b Blank) func(width int) (row, error) {
	return func(int) (row, error) {
		high := max(a.mm10(66), a.tenths(58))
		if b.wide() {
			high = max(a.mm10(90), a.tenths(80))
		}
		return row{b.Field, high, high, false, func(area image.Rectangle) ([]item, error) {
			area.Max.Y -= a.mm10(8)
			return a.frames(b, area), nil
		}}, nil
	}
}

// wide reports whether the frames are too many for the lower block.
func (b Blank) wide() bool { return len(b.Parts) > 2 }

// frames divides what the captions leave of area among the frames.
func (a *layout) frames(b Blank, area image.Rectangle) []item {
	s, baseline := a.caption(), area.Max.Y-a.mm10(18)
	put := func(words string, x int) ([]item, int) {
		bl, _ := s.set(words, s.largest, area.Dx())
		return bl.texts(b.Field+" caption", x, baseline), x + bl.width + a.mm10(10)
	}
	items, _ := put(b.Caption, area.Min.X)
	gap, x := a.mm10(20), area.Min.X+a.captions
	room := area.Max.X - x - gap*(len(b.Parts)-1)
	for _, part := range b.Parts {
		bl, _ := s.set(part, s.largest, area.Dx())
		room -= bl.width + a.mm10(10)
	}
	for i, part := range b.Parts {
		caption, from := put(part, x)
		to := from + room/len(b.Parts)
		if i == len(b.Parts)-1 {
			to = area.Max.X
		}
		items = append(append(items, caption...), frame{b.Field + " " + part, image.Rect(from, area.Min.Y, to, area.Max.Y), max(1, a.mm10(3))})
		x = to + gap
	}
	return items
}

// leastBars is the least height of bars (practice: a hand scanner is aimed by
// eye); testdata/barcodes.csv J-04 wants 12.7 mm where there is room.
const leastBars, wantedBars = 50, 127

// code is the Code 128 symbol above its code as text, to be typed when it
// cannot be scanned.
func (a *layout) code(width int) (row, error) {
	c := cell{"code", "", clean(a.label.Code), a.bold(38, 26, 1)}
	words, err := c.need(width)
	if err != nil {
		return row{}, err
	}
	bars, err := placeCode128("code", a.label.Code, width, a.dpi)
	if err != nil {
		if !a.label.free {
			return row{}, err
		}
		return row{"code", a.mm10(60), words + a.mm10(10), false, func(area image.Rectangle) ([]item, error) {
			items, _, err := a.layOut(c, area, 0)
			return items, err
		}}, nil
	}
	gaps := a.mm10(14)
	need := max(words+gaps+a.tenths(leastBars), a.mm10(100))
	return row{"code", max(a.mm10(120), a.mm10(38)+gaps+min(a.mm10(90), a.tenths(wantedBars))), need, a.tall, func(area image.Rectangle) ([]item, error) {
		b, ok := c.style.fit(c.words, area.Dx(), min(a.mm10(38), area.Dy()-gaps-a.tenths(leastBars)))
		if !ok {
			return nil, &FieldError{"code", "too long to print"}
		}
		area.Max.Y -= a.mm10(6)
		tall := min(area.Dy()-b.height()-a.mm10(8), a.tenths(250))
		s := bars.tallAt(image.Pt(area.Min.X+(area.Dx()-bars.outline.Dx())/2, area.Max.Y-b.height()-a.mm10(8)-tall), tall)
		centre := s.outline.Min.X + (s.outline.Dx()-b.width)/2
		return append(b.texts("code", centre, area.Max.Y-b.descent), s), nil
	}}, nil
}
