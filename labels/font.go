package labels

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// face is one font, measured in its own units. The Go fonts (BSD licence) are
// embedded, so a label looks the same on every machine. A face is not safe for
// concurrent use: it belongs to one setter.
type face struct {
	name   string // style in the PDF: "" or "B"
	font   *sfnt.Font
	buf    sfnt.Buffer
	latin  [0x250]glyph // glyphs of these characters, once they are measured
	glyphs map[rune]glyph
	cuts   map[string]*parts
	fits   map[wish]block
	perEm  int
}

// mostKept is how many texts a face remembers before it forgets them all.
const mostKept = 4096

// wish is a text with the room there is for it, in dots.
type wish struct {
	words                                string
	largest, least, lines, width, height int
}

// glyph holds what layout needs of one character, in font units; ascent and
// descent are of its ink.
type glyph struct {
	index                    sfnt.GlyphIndex
	advance, ascent, descent int
	known                    bool
}

// tofu stands for a character the font does not have: a box that is seen.
const tofu = '□'

type fonts struct{ regular, bold *face }

func newFonts() (fonts, error) {
	regular, err := newFace("", goregular.TTF)
	if err != nil {
		return fonts{}, err
	}
	bold, err := newFace("B", gobold.TTF)
	return fonts{regular, bold}, err
}

func newFace(name string, ttf []byte) (*face, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("label font %q: %w", name, err)
	}
	return &face{name: name, font: f, glyphs: map[rune]glyph{}, cuts: map[string]*parts{}, fits: map[wish]block{}, perEm: int(f.UnitsPerEm())}, nil
}

// glyph returns the measures of r, or of the visible box if the font lacks r.
func (f *face) glyph(r rune) glyph {
	if r >= 0 && int(r) < len(f.latin) && f.latin[r].known {
		return f.latin[r]
	}
	g, ok := f.glyphs[r]
	if ok {
		return g
	}
	index, err := f.font.GlyphIndex(&f.buf, r)
	if err != nil || index == 0 {
		if r == tofu {
			panic("labels: the embedded font has no box for missing characters")
		}
		g = f.glyph(tofu)
	} else {
		bounds, advance, err := f.font.GlyphBounds(&f.buf, index, fixed.I(f.perEm), font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("labels: embedded font, glyph %d: %v", index, err))
		}
		g = glyph{index, advance.Ceil(), -bounds.Min.Y.Floor(), bounds.Max.Y.Ceil(), true}
	}
	if r >= 0 && int(r) < len(f.latin) {
		f.latin[r] = g
		return g
	}
	if len(f.glyphs) >= mostKept {
		clear(f.glyphs)
	}
	f.glyphs[r] = g
	return g
}

// has reports whether the font can draw r itself.
func (f *face) has(r rune) bool { return r == tofu || f.glyph(r).index != f.glyph(tofu).index }

// measure returns the advance of text and the reach of its ink above and below
// the baseline, in font units.
func (f *face) measure(text string) (advance, ascent, descent int) {
	for _, r := range text {
		g := f.glyph(r)
		advance += g.advance
		ascent, descent = max(ascent, g.ascent), max(descent, g.descent)
	}
	return advance, ascent, descent
}

// scale converts font units at a size of em dots to dots, rounded up.
func (f *face) scale(units, em int) int { return (units*em + f.perEm - 1) / f.perEm }

// drawable replaces each character that f lacks by the visible box, so that
// the PDF shows and holds what the PNG shows.
func (f *face) drawable(text string) string {
	return strings.Map(func(r rune) rune {
		if f.has(r) {
			return r
		}
		return tofu
	}, text)
}

// clean composes accents (NFC) and turns runs of blanks, line ends and control
// characters into single blanks.
func clean(text string) string {
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, norm.NFC.String(text))
	return strings.Join(strings.Fields(text), " ")
}
