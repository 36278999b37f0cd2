package labels

import (
	"bytes"
	"fmt"
	"html"
	"image"
	"io"
	"math"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// drawing paints sheets as SVG, a dot being one unit.
type drawing struct {
	origin image.Point
	bars   bytes.Buffer // one path of all that is black but for letters
	words  bytes.Buffer
	said   []string // what a reader that cannot see it is told
	used   map[mark]int
	order  []mark
}

// svg draws a page and writes it.
func (s *setter) svg(w io.Writer, pg page, dpi int) error {
	d := &drawing{used: map[mark]int{}}
	for i := range pg.sheets {
		d.origin = pg.at[i]
		pg.sheets[i].paint(d)
	}
	var out bytes.Buffer
	width, height := pg.bounds.Dx(), pg.bounds.Dy()
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%.5fmm" height="%.5fmm" viewBox="0 0 %d %d">`+"\n",
		millimetres(width, dpi), millimetres(height, dpi), width, height)
	fmt.Fprintf(&out, "<desc>%s</desc>\n<defs>\n", html.EscapeString(strings.Join(d.said, "\n")))
	for n, m := range d.order {
		if err := s.raster.outline(&out, n, m); err != nil {
			return fmt.Errorf("draw %q: %w", m.r, err)
		}
	}
	fmt.Fprintf(&out, `</defs>`+"\n"+`<rect width="%d" height="%d" fill="#fff"/>`+"\n"+`<path shape-rendering="crispEdges" d="%s"/>`+"\n%s</svg>\n",
		width, height, d.bars.Bytes(), d.words.Bytes())
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("write SVG: %w", err)
	}
	return nil
}

// millimetres is the length of so many dots, rounded down: a reader that rounds
// up to whole pixels must not find one more.
func millimetres(n, dpi int) float64 {
	return math.Floor(float64(n)*25.4/float64(dpi)*1e5) / 1e5
}

func (d *drawing) bar(r image.Rectangle) {
	r = r.Add(d.origin)
	fmt.Fprintf(&d.bars, "M%d %dh%dv%dh-%dz", r.Min.X, r.Min.Y, r.Dx(), r.Dy(), r.Dx())
}

func (d *drawing) stripes(s stripes) {
	for _, shape := range s.shapes() {
		for i, p := range shape {
			p = p.Add(d.origin)
			fmt.Fprintf(&d.bars, "%s%d %d", map[bool]string{true: "M", false: "L"}[i == 0], p.X, p.Y)
		}
		d.bars.WriteString("z")
	}
}

// text places the outline of each character; a character is defined once.
func (d *drawing) text(t text) {
	d.said = append(d.said, t.words)
	at := t.baseline.Add(d.origin)
	fmt.Fprintf(&d.words, `<g transform="translate(%d %d) scale(%.6f)">`, at.X, at.Y, float64(t.em)/float64(t.face.perEm))
	units := 0
	for _, r := range t.words {
		m := mark{t.face, r, 0}
		n, ok := d.used[m]
		if !ok {
			n = len(d.order)
			d.used[m], d.order = n, append(d.order, m)
		}
		if r != ' ' {
			fmt.Fprintf(&d.words, `<use href="#c%d" x="%d"/>`, n, units)
		}
		units += t.face.glyph(r).advance
	}
	d.words.WriteString("</g>\n")
}

// outline writes a character in font units, its origin on the baseline.
func (p *raster) outline(w io.Writer, n int, m mark) error {
	segments, err := m.face.font.LoadGlyph(&p.buf, m.face.glyph(m.r).index, fixed.I(m.face.perEm), nil)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, `<path id="c%d" d="`, n)
	for _, s := range segments {
		arguments := map[sfnt.SegmentOp]int{sfnt.SegmentOpMoveTo: 1, sfnt.SegmentOpLineTo: 1, sfnt.SegmentOpQuadTo: 2, sfnt.SegmentOpCubeTo: 3}[s.Op]
		fmt.Fprint(w, map[sfnt.SegmentOp]string{sfnt.SegmentOpMoveTo: "M", sfnt.SegmentOpLineTo: "L", sfnt.SegmentOpQuadTo: "Q", sfnt.SegmentOpCubeTo: "C"}[s.Op])
		for i, a := range s.Args[:arguments] {
			if i > 0 {
				fmt.Fprint(w, " ")
			}
			fmt.Fprintf(w, "%d %d", a.X.Round(), a.Y.Round())
		}
	}
	_, err = fmt.Fprint(w, "Z\"/>\n")
	return err
}
