package labels

import "image"

// pad is the white above and below the text of a row.
func (a *layout) pad() int { return a.mm10(4) }

// within is area without its white above and below.
func (a *layout) within(area image.Rectangle) image.Rectangle {
	return image.Rect(area.Min.X, area.Min.Y+a.pad(), area.Max.X, area.Max.Y-a.pad())
}

// taller is how much larger the large facts may stand where there is height to
// spare, in hundredths.
func (a *layout) taller(tenths int) int {
	if a.tall {
		return tenths * 160 / 100
	}
	return tenths
}

// captionColumn is the width that a large fact leaves to captions: none if it
// has none itself.
func (a *layout) captionColumn(f Fact) int {
	if f.Caption == "" {
		return 0
	}
	return a.captions
}

// huge is the largest row: a fact, and the words beside it.
func (a *layout) huge(f Fact) func(width int) (row, error) {
	return func(width int) (row, error) {
		first := a.cell(f, a.bold(a.taller(150), 60, 2))
		beside := cell{f.Field + " words", "", clean(f.Beside), a.bold(a.taller(60), 26, 2)}
		captions := a.captionColumn(f)
		room := width - captions
		share := room
		if beside.words != "" {
			share = room * 55 / 100
		}
		need, err := first.need(share)
		if err != nil {
			return row{}, err
		}
		return row{f.Field, a.mm10(a.taller(118)), max(need+2*a.pad(), a.mm10(92)), true, func(area image.Rectangle) ([]item, error) {
			area = a.within(area)
			left := image.Rect(area.Min.X, area.Min.Y, area.Min.X+captions+share, area.Max.Y)
			items, em, err := a.layOut(first, left, captions)
			a.big, a.largest = min(a.big, em), em
			if err != nil || beside.words == "" {
				return items, err
			}
			right := area
			for _, i := range items {
				right.Min.X = max(right.Min.X, i.box().Max.X+a.mm10(30))
			}
			more, _, err := a.layOut(beside, right, 0)
			return append(items, more...), err
		}}, nil
	}
}

// large is the row of a fact read at arm's length.
func (a *layout) large(f Fact) func(width int) (row, error) {
	return func(width int) (row, error) {
		c := a.cell(f, a.bold(a.taller(90), 43, 2))
		captions := a.captionColumn(f)
		need, err := c.need(width - captions)
		if err != nil {
			return row{}, err
		}
		least := 66
		if a.scale < 100 {
			least = 54 // small stock has the same rows on less height
		}
		return row{c.field, a.mm10(a.taller(83)), max(need+2*a.pad(), a.mm10(least)), true, func(area image.Rectangle) ([]item, error) {
			c.style.largest = max(c.style.least, min(c.style.largest, a.largest))
			items, em, err := a.layOut(c, a.within(area), captions)
			a.big = min(a.big, em)
			return items, err
		}}, nil
	}
}

// middle are the rows of what the thing is: two facts a row, the first alone if
// they are odd, and then each sentence over the whole width.
func (a *layout) middle() []func(width int) (row, error) {
	var rows []func(int) (row, error)
	facts, wide := a.pairs()
	if len(facts)%2 == 1 {
		rows = append(rows, a.cells(58, 50, a.bold(46, 22, 2), facts[0]))
		facts = facts[1:]
	} else if len(facts) > 0 {
		rows = append(rows, a.cells(58, 50, a.bold(46, 22, 2), facts[0], facts[1]))
		facts = facts[2:]
	}
	for ; len(facts) > 0; facts = facts[2:] {
		rows = append(rows, a.cells(46, 40, a.bold(40, 20, 2), facts[0], facts[1]))
	}
	for _, f := range wide {
		rows = append(rows, a.cells(64, 28, a.bold(32, 20, 2), f))
	}
	return rows
}

// mostSentenceLines is how many lines a sentence may take: the longest reason
// that is kept goes into them on the largest stock.
const mostSentenceLines = 12

// pairs parts the facts of the middle rank into those that stand side by side
// and those that want the whole width.
func (a *layout) pairs() (narrow, wide []Fact) {
	for _, f := range a.ranked(Middle) {
		if f.Wide {
			wide = append(wide, f)
			continue
		}
		narrow = append(narrow, f)
	}
	return narrow, wide
}

// cells is a row of one fact, or of two side by side, that wants and at least
// takes these tenths of a millimetre of height. No text in it is larger than
// the smallest of the large facts.
func (a *layout) cells(want, least int, s style, facts ...Fact) func(width int) (row, error) {
	return func(width int) (row, error) {
		split, gap := width, a.mm10(20)
		second := 0
		if len(facts) == 2 {
			split, second = width*54/100, a.captionWidth(facts[1].Caption)
		}
		captions := []int{a.captions, second}
		areas := []image.Rectangle{{Max: image.Pt(split, 0)}, {Min: image.Pt(split+gap, 0), Max: image.Pt(width, 0)}}
		r := row{field: facts[0].Field, want: a.mm10(want), need: a.mm10(least)}
		cells := make([]cell, len(facts))
		for i, f := range facts {
			cells[i] = a.cell(f, s)
			need, err := cells[i].need(areas[i].Dx() - captions[i])
			if err != nil {
				return row{}, err
			}
			if need += 2 * a.pad(); need > r.need {
				r.need, r.field = need, f.Field
			}
		}
		r.layOut = func(area image.Rectangle) ([]item, error) {
			return a.sideBySide(a.within(area), cells, areas, captions)
		}
		return r, nil
	}
}

// sideBySide sets each cell within its columns of area.
func (a *layout) sideBySide(area image.Rectangle, cells []cell, columns []image.Rectangle, captions []int) ([]item, error) {
	var items []item
	for i, c := range cells {
		c.style.largest = max(c.style.least, min(c.style.largest, a.big))
		at := image.Rect(area.Min.X+columns[i].Min.X, area.Min.Y, area.Min.X+columns[i].Max.X, area.Max.Y)
		placed, _, err := a.layOut(c, at, captions[i])
		if err != nil {
			return nil, err
		}
		items = append(items, placed...)
	}
	return items, nil
}
