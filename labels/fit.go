package labels

import (
	"image"
	"strings"
)

// style says how a text may be set.
type style struct {
	face          *face
	largest, least int // font size in dots
	lines         int // most lines it may wrap to
}

// block is a text as it fits: its lines and their one size.
type block struct {
	style
	lines                     []string
	em                        int
	width                     int // of the longest line
	ascent, descent, leading  int // all in dots
}

// leadingPercent is the distance of baselines, in hundredths of the font size:
// enough that an accented capital clears a descender in the Go fonts.
const leadingPercent = 118

func (b block) height() int { return b.ascent + (len(b.lines)-1)*b.leading + b.descent }

// set wraps words at a size of em dots to width dots. It reports false if a
// word is wider than that.
func (s style) set(words string, em, width int) (block, bool) {
	b := block{style: s, em: em, leading: (em*leadingPercent + 99) / 100}
	line := ""
	for _, word := range strings.Fields(s.face.drawable(words)) {
		longer := strings.TrimSpace(line + " " + word)
		if adv, _, _ := s.face.measure(longer); line != "" && s.face.scale(adv, em) > width {
			b.lines, longer = append(b.lines, line), word
		}
		if adv, _, _ := s.face.measure(word); s.face.scale(adv, em) > width {
			return block{}, false
		}
		line = longer
	}
	b.lines = append(b.lines, line)
	for i, l := range b.lines {
		adv, ascent, descent := s.face.measure(l)
		b.width = max(b.width, s.face.scale(adv, em))
		if i == 0 {
			b.ascent = s.face.scale(ascent, em)
		}
		if i == len(b.lines)-1 {
			b.descent = s.face.scale(descent, em)
		}
	}
	return b, true
}

// fit sets words as large as they go into width by height dots, and reports
// false if they do not go at the least size.
func (s style) fit(words string, width, height int) (block, bool) {
	for em := s.largest; em >= s.least; em-- {
		b, ok := s.set(words, em, width)
		if ok && len(b.lines) <= s.lines && b.height() <= height {
			return b, true
		}
	}
	return block{}, false
}

// texts places the block with its first baseline at y, its lines starting at x.
func (b block) texts(field string, x, y int) []item {
	var items []item
	for i, line := range b.lines {
		adv, ascent, descent := b.face.measure(line)
		at := image.Pt(x, y+i*b.leading)
		items = append(items, text{
			field: field, words: line, face: b.face, em: b.em, baseline: at,
			area: image.Rect(x, at.Y-b.face.scale(ascent, b.em), x+b.face.scale(adv, b.em), at.Y+b.face.scale(descent, b.em)),
		})
	}
	return items
}
