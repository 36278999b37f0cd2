package labels

import (
	"fmt"
	"image"
)

// small is the last row: the notes that are kept, what was left off, and who
// decides.
func (a *layout) small(width int) (row, error) {
	var lines []string
	for _, c := range a.notes {
		lines = append(lines, clean(c))
	}
	if last := clean(a.leftOff + " " + a.label.Aid); last != "" {
		lines = append(lines, last)
	}
	s := a.regular(24, 19, 3)
	_, need, err := s.paragraphs(lines, s.least, width)
	if err != nil {
		return row{}, err
	}
	return row{"cautions", max(need, a.mm10(51)), need, false, func(area image.Rectangle) ([]item, error) {
		for em := s.largest; em >= s.least; em-- {
			blocks, height, err := s.paragraphs(lines, em, width)
			if err == nil && height <= area.Dy() {
				return placeParagraphs(blocks, image.Pt(area.Min.X, area.Max.Y-height)), nil
			}
		}
		return nil, &FieldError{"cautions", "too long"}
	}}, nil
}

// counted is a number of things in words: "1 caution", "2 cautions".
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
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
