package labels

import "image"

// banner is the hatched band of a hold tag with its words in the middle. It is
// seen as such without colour, from across the shop.
func (a *layout) banner(width int) (row, error) {
	c := cell{"banner", "", clean(a.label.Banner), a.bold(a.taller(150), 50, 1)}
	side := a.mm10(130)
	need, err := c.need(width - 2*side - a.mm10(40))
	if err != nil {
		return row{}, err
	}
	return row{"banner", a.mm10(a.taller(150)), max(need+a.mm10(20), a.mm10(90)), false, func(area image.Rectangle) ([]item, error) {
		area.Max.Y -= a.mm10(6)
		b, ok := c.style.fit(c.words, width-2*side-a.mm10(40), area.Dy()-a.mm10(10))
		if !ok {
			return nil, &FieldError{"banner", "too long"}
		}
		x := area.Min.X + (area.Dx()-b.width)/2
		baseline := area.Min.Y + (area.Dy()-b.height())/2 + b.ascent
		left, right := area, area
		left.Max.X, right.Min.X = x-a.mm10(20), x+b.width+a.mm10(20)
		return append(b.texts("banner", x, baseline), stripes{left, a.mm10(30)}, stripes{right, a.mm10(30)}), nil
	}}, nil
}

// hatching is the band at the foot of a hold tag.
func (a *layout) hatching(int) (row, error) {
	high := a.mm10(50)
	return row{"banner", high, high, false, func(area image.Rectangle) ([]item, error) {
		area.Min.Y += a.mm10(10)
		return []item{stripes{area, a.mm10(30)}}, nil
	}}, nil
}

// title says what sort of label it is.
func (a *layout) title(width int) (row, error) {
	c := cell{"title", "", clean(a.label.Title), a.bold(34, 24, 1)}
	need, err := c.need(width)
	if err != nil {
		return row{}, err
	}
	return row{"title", a.mm10(44), need + 2*a.pad(), false, func(area image.Rectangle) ([]item, error) {
		items, _, err := a.layOut(c, a.within(area), 0)
		return items, err
	}}, nil
}
