package labels

import "image"

// sheet is one label as drawn at dpi: every position is in whole printer dots
// from the top left corner.
type sheet struct {
	dpi    int
	bounds image.Rectangle
	items  []item
}

// item is one thing on a sheet. Boxes of two items never meet.
type item interface {
	box() image.Rectangle // all its ink, and a symbol's quiet zone
	paint(painter)
}

// painter is a way to draw a sheet: all that a label consists of in the end is
// texts, filled black rectangles and hatching.
type painter interface {
	text(t text)
	bar(r image.Rectangle)
	stripes(s stripes)
}

func (s *sheet) paint(p painter) {
	for _, i := range s.items {
		i.paint(p)
	}
}

// text is one line of text.
type text struct {
	field    string // whose text it is: "polarity", "gas caption"
	words    string
	face     *face
	em       int         // font size in dots
	baseline image.Point // where its first character starts
	area     image.Rectangle
}

func (t text) box() image.Rectangle { return t.area }
func (t text) paint(p painter)      { p.text(t) }

// rule is a black line across the label.
type rule struct{ area image.Rectangle }

func (r rule) box() image.Rectangle { return r.area }
func (r rule) paint(p painter)      { p.bar(r.area) }

// frame is an empty box to write in by hand.
type frame struct {
	field string
	area  image.Rectangle
	line  int // thickness in dots
}

func (f frame) box() image.Rectangle { return f.area }

func (f frame) paint(p painter) {
	a := f.area
	p.bar(image.Rect(a.Min.X, a.Min.Y, a.Max.X, a.Min.Y+f.line))
	p.bar(image.Rect(a.Min.X, a.Max.Y-f.line, a.Max.X, a.Max.Y))
	p.bar(image.Rect(a.Min.X, a.Min.Y+f.line, a.Min.X+f.line, a.Max.Y-f.line))
	p.bar(image.Rect(a.Max.X-f.line, a.Min.Y+f.line, a.Max.X, a.Max.Y-f.line))
}

// symbol is a bar code or matrix code with its quiet zone.
type symbol struct {
	field   string
	matrix  matrix
	origin  image.Point // top left of the first module
	x       int         // module width in dots
	tall    int         // module height in dots: x, or a bar's length
	outline image.Rectangle
}

func (s symbol) box() image.Rectangle { return s.outline }

// at is the symbol with the corner of its quiet zone at p.
func (s symbol) at(p image.Point) symbol {
	by := p.Sub(s.outline.Min)
	s.origin, s.outline = s.origin.Add(by), s.outline.Add(by)
	return s
}

// tallAt is the linear symbol at p with bars of that length.
func (s symbol) tallAt(p image.Point, tall int) symbol {
	s = s.at(p)
	s.tall, s.outline.Max.Y = tall, s.outline.Min.Y+tall
	return s
}

// paint draws each run of dark modules as one bar, as high as the rows below
// repeat it.
func (s symbol) paint(p painter) {
	var open, next []stretch
	for row, modules := range s.matrix {
		next = next[:0]
		for from := 0; from < len(modules); {
			to := from
			for to < len(modules) && modules[to] == modules[from] {
				to++
			}
			if modules[from] {
				r := stretch{from, to, row}
				for i, above := range open {
					if above.from == from && above.to == to {
						r.top = above.top
						open[i].to = 0
					}
				}
				next = append(next, r)
			}
			from = to
		}
		s.close(p, open, row)
		open, next = next, open
	}
	s.close(p, open, len(s.matrix))
}

// stretch is dark modules of one row and those rows above that have the same.
type stretch struct{ from, to, top int }

// close draws the runs that do not go on in the row; those that do have no end.
func (s symbol) close(p painter, open []stretch, row int) {
	for _, r := range open {
		if r.to > 0 {
			p.bar(image.Rect(s.origin.X+r.from*s.x, s.origin.Y+r.top*s.tall, s.origin.X+r.to*s.x, s.origin.Y+row*s.tall))
		}
	}
}
