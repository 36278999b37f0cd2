package labels

import "image"

// stripes is a band of black bars that slant by 45 degrees, as wide as the
// white between them.
type stripes struct {
	area image.Rectangle
	wide int // of a bar along the band, in dots
}

func (s stripes) box() image.Rectangle { return s.area }
func (s stripes) paint(p painter)      { p.stripes(s) }

// shapes returns the corners of each bar, cut to the band.
func (s stripes) shapes() [][]image.Point {
	a, high := s.area, s.area.Dy()
	var out [][]image.Point
	for x := a.Min.X; x < a.Max.X+high; x += 2 * s.wide {
		// A bar runs from x..x+wide at the top to the left and down.
		var shape []image.Point
		add := func(px, py int) { shape = append(shape, image.Pt(px, py)) }
		left, right := x, x+s.wide
		edge := func(at int, up bool) {
			top, foot := image.Pt(at, a.Min.Y), image.Pt(at-high, a.Max.Y)
			if top.X > a.Max.X {
				top = image.Pt(a.Max.X, a.Min.Y+at-a.Max.X)
			}
			if foot.X < a.Min.X {
				foot = image.Pt(a.Min.X, a.Max.Y-(a.Min.X-foot.X))
			}
			if up {
				top, foot = foot, top
			}
			add(top.X, top.Y)
			add(foot.X, foot.Y)
		}
		if left > a.Max.X+high || left-high >= a.Max.X {
			break
		}
		edge(left, true) // up the left side
		if left < a.Max.X && right > a.Max.X {
			add(a.Max.X, a.Min.Y)
		}
		edge(right, false)
		if right-high > a.Min.X && left-high < a.Min.X {
			add(a.Min.X, a.Max.Y)
		}
		out = append(out, shape)
	}
	return out
}

// black reports whether the dot is on a bar.
func (s stripes) black(x, y int) bool {
	return s.area.Dy() > 0 && (x-s.area.Min.X+y-s.area.Min.Y)%(2*s.wide) < s.wide
}
