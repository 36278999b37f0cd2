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

// parts is a text cut where a line may end, each part measured in font units.
type parts struct {
	words                    []string
	advance, ascent, descent []int
	blank, capital           int // a blank's advance, a capital's ascent
}

// cut returns the text in its parts; it is measured once.
func (f *face) cut(text string) *parts {
	if p, ok := f.cuts[text]; ok {
		return p
	}
	p := &parts{words: unbroken(f.drawable(text))}
	p.blank, _, _ = f.measure(" ")
	_, p.capital, _ = f.measure("H")
	for _, w := range p.words {
		advance, ascent, descent := f.measure(w)
		p.advance, p.ascent, p.descent = append(p.advance, advance), append(p.ascent, ascent), append(p.descent, descent)
	}
	if len(f.cuts) >= mostKept {
		clear(f.cuts)
	}
	f.cuts[text] = p
	return p
}

// span is how the parts of a text fall into lines at one size.
type span struct {
	lines                  int
	width, ascent, descent int // in dots
}

// span breaks p into lines of width dots at a size of em dots. It reports false
// if a part is wider than that.
func (p *parts) span(f *face, em, width int) (span, bool) {
	s := span{lines: 1}
	line, ascent, descent := 0, p.capital, 0
	for i, advance := range p.advance {
		if f.scale(advance, em) > width {
			return span{}, false
		}
		longer := line + advance
		if line > 0 {
			longer += p.blank
			if f.scale(longer, em) > width {
				if s.lines == 1 {
					s.ascent = f.scale(ascent, em)
				}
				s.width, s.lines = max(s.width, f.scale(line, em)), s.lines+1
				longer, descent = advance, 0
			}
		}
		ascent, descent = max(ascent, p.ascent[i]), max(descent, p.descent[i])
		line = longer
	}
	if s.lines == 1 {
		s.ascent = f.scale(ascent, em)
	}
	s.width, s.descent = max(s.width, f.scale(line, em)), f.scale(descent, em)
	return s, true
}

// set wraps words at a size of em dots to width dots. It reports false if a
// word is wider than that.
func (s style) set(words string, em, width int) (block, bool) {
	p := s.face.cut(words)
	sp, ok := p.span(s.face, em, width)
	if !ok {
		return block{}, false
	}
	b := block{style: s, em: em, leading: leading(em), width: sp.width, ascent: sp.ascent, descent: sp.descent}
	from, line := 0, 0
	for i, advance := range p.advance {
		if i > from && s.face.scale(line+p.blank+advance, em) > width {
			b.lines = append(b.lines, strings.Join(p.words[from:i], " "))
			from, line = i, advance
			continue
		}
		if i > from {
			line += p.blank
		}
		line += advance
	}
	b.lines = append(b.lines, strings.Join(p.words[from:], " "))
	return b, true
}

func leading(em int) int { return (em*leadingPercent+99)/100 + 1 }

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

// goes reports whether p goes into width by height dots at a size of em dots.
func (s style) goes(p *parts, em, width, height int) bool {
	sp, ok := p.span(s.face, em, width)
	return ok && sp.lines <= s.lines && sp.ascent+(sp.lines-1)*leading(em)+sp.descent <= height
}

// fit sets words as large as they go into width by height dots, and reports
// false if they do not go at the least size. A text that goes at one size goes
// at every smaller one.
func (s style) fit(words string, width, height int) (block, bool) {
	wish := wish{words, s.largest, s.least, s.lines, width, height}
	if b, ok := s.face.fits[wish]; ok {
		return b, len(b.lines) > 0
	}
	p := s.face.cut(words)
	var b block
	if s.goes(p, s.least, width, height) {
		em, over := s.least, s.largest+1
		for em+1 < over {
			if mid := (em + over) / 2; s.goes(p, mid, width, height) {
				em = mid
			} else {
				over = mid
			}
		}
		b, _ = s.set(words, em, width)
		b = s.balance(b, words, width, height)
	}
	if len(s.face.fits) >= mostKept {
		clear(s.face.fits)
	}
	s.face.fits[wish] = b
	return b, len(b.lines) > 0
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
	items := make([]item, 0, len(b.lines))
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
