package labels

import (
	"image"
	"strings"
	"unicode/utf8"
)

// style says how a text may be set.
type style struct {
	face           *face
	largest, least int // font size in dots
	lines          int // most lines it may wrap to
}

// block is a text as it fits: its lines and their one size.
type block struct {
	style
	lines                    []string
	em                       int
	width                    int // of the longest line
	ascent, descent, leading int // in dots; ascent is a capital's or more
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
	for _, word := range unbroken(s.face.drawable(words)) {
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
			_, capital, _ := s.face.measure("H")
			b.ascent = s.face.scale(max(ascent, capital), em)
		}
		if i == len(b.lines)-1 {
			b.descent = s.face.scale(descent, em)
		}
	}
	return b, true
}

// unbroken splits text where a line may end: at blanks, but not between a
// number and the one or two letters of its unit.
func unbroken(text string) []string {
	var parts []string
	for _, word := range strings.Fields(text) {
		if last := len(parts) - 1; last >= 0 && utf8.RuneCountInString(strings.TrimRight(word, ",;.)")) <= 2 && endsInDigit(parts[last]) && !endsInDigit(word) {
			parts[last] += " " + word
			continue
		}
		parts = append(parts, word)
	}
	return parts
}

func endsInDigit(s string) bool { return strings.LastIndexAny(s, "0123456789") == len(s)-1 }

// fit sets words as large as they go into width by height dots, and reports
// false if they do not go at the least size.
func (s style) fit(words string, width, height int) (block, bool) {
	for em := s.largest; em >= s.least; em-- {
		b, ok := s.set(words, em, width)
		if ok && len(b.lines) <= s.lines && b.height() <= height {
			return s.balance(b, words, width, height), true
		}
	}
	return block{}, false
}

// balance evens out the lines of b, so that none holds a lone last word.
func (s style) balance(b block, words string, width, height int) block {
	for step := max(1, b.em/4); len(b.lines) > 1; {
		width -= step
		narrower, ok := s.set(words, b.em, width)
		if !ok || len(narrower.lines) > len(b.lines) || narrower.height() > height {
			break
		}
		b = narrower
	}
	return b
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
