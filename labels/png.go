package labels

import (
	"fmt"
	"image"
	"image/draw"
	"io"
	"slices"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// bitmap is black and white, one bit a dot, rows padded to whole bytes, the
// first dot in the highest bit; 1 is black.
type bitmap struct {
	rect   image.Rectangle
	stride int // bytes a row
	bits   []byte
}

func newBitmap(r image.Rectangle, bits []byte) bitmap {
	b := bitmap{rect: r, stride: (r.Dx() + 7) / 8}
	if size := b.stride * r.Dy(); cap(bits) >= size {
		b.bits = bits[:size]
		clear(b.bits)
	} else {
		b.bits = make([]byte, size)
	}
	return b
}

// fill makes all of r black.
func (b bitmap) fill(r image.Rectangle) {
	if r = r.Intersect(b.rect).Sub(b.rect.Min); r.Empty() {
		return
	}
	first, last := r.Min.X/8, (r.Max.X-1)/8
	head, tail := byte(0xFF)>>(r.Min.X%8), byte(0xFF)<<(7-(r.Max.X-1)%8)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := b.bits[y*b.stride : (y+1)*b.stride]
		if first == last {
			row[first] |= head & tail
			continue
		}
		row[first] |= head
		for i := first + 1; i < last; i++ {
			row[i] = 0xFF
		}
		row[last] |= tail
	}
}

// stamp makes what is black in ink black, moved by at. Ink that would leave b
// is cut off.
func (b bitmap) stamp(ink bitmap, at image.Point) {
	left, top := at.X+ink.rect.Min.X-b.rect.Min.X, at.Y+ink.rect.Min.Y-b.rect.Min.Y
	if left < 0 {
		return // no text starts left of its label
	}
	shift := left % 8
	for y := range ink.rect.Dy() {
		if top+y < 0 || top+y >= b.rect.Dy() {
			continue
		}
		row := b.bits[(top+y)*b.stride : (top+y+1)*b.stride]
		for i, bits := range ink.bits[y*ink.stride : (y+1)*ink.stride] {
			if at := left/8 + i; at < len(row) {
				row[at] |= bits >> shift
				if shift > 0 && at+1 < len(row) {
					row[at+1] |= bits << (8 - shift)
				}
			}
		}
	}
}

// raster paints a sheet dot by dot.
type raster struct {
	page   bitmap
	origin image.Point // of the sheet being painted
	buf    sfnt.Buffer
	tracer vector.Rasterizer
	grey   []byte          // room for a character as it is traced
	marks  map[mark]bitmap // ink, around the point a character starts at
	kept   int             // bytes of ink in marks
	err    error
}

// mark is a character at a size.
type mark struct {
	face *face
	r    rune
	em   int
}

// mostInk is how many bytes of drawn characters a raster keeps before it
// forgets them all.
const mostInk = 8 << 20

func (p *raster) bar(r image.Rectangle) { p.page.fill(r.Add(p.origin)) }

func (p *raster) stripes(s stripes) {
	for y := s.area.Min.Y; y < s.area.Max.Y; y++ {
		for x := s.area.Min.X; x < s.area.Max.X; {
			end := x
			for end < s.area.Max.X && s.black(end, y) {
				end++
			}
			p.bar(image.Rect(x, y, end, y+1))
			for x = end; x < s.area.Max.X && !s.black(x, y); {
				x++
			}
		}
	}
}

// text draws each character from a whole dot, so that it looks alike wherever
// it stands. A dot at least half covered is black.
func (p *raster) text(t text) {
	units := 0
	for _, r := range t.words {
		m, err := p.mark(mark{t.face, r, t.em})
		if err != nil {
			p.err = fmt.Errorf("draw %q: %w", r, err)
			return
		}
		x := t.baseline.X + (units*t.em+t.face.perEm/2)/t.face.perEm
		p.page.stamp(m, image.Pt(x, t.baseline.Y).Add(p.origin))
		units += t.face.glyph(r).advance
	}
}

func (p *raster) mark(m mark) (bitmap, error) {
	if ink, ok := p.marks[m]; ok {
		return ink, nil
	}
	segments, err := m.face.font.LoadGlyph(&p.buf, m.face.glyph(m.r).index, fixed.I(m.em), nil)
	if err != nil {
		return bitmap{}, err
	}
	bounds := segments.Bounds()
	rect := image.Rect(bounds.Min.X.Floor(), bounds.Min.Y.Floor(), bounds.Max.X.Ceil(), bounds.Max.Y.Ceil())
	ink := p.ink(segments, rect)
	if p.kept += len(ink.bits); p.kept > mostInk {
		clear(p.marks)
		p.kept = len(ink.bits)
	}
	p.marks[m] = ink
	return ink, nil
}

// ink draws an outline that lies within r.
func (p *raster) ink(outline sfnt.Segments, r image.Rectangle) bitmap {
	width, height := r.Dx(), r.Dy()
	p.tracer.Reset(width, height)
	p.tracer.DrawOp = draw.Src // every dot is written: what grey holds does not matter
	trace(&p.tracer, outline, r.Min)
	p.grey = slices.Grow(p.grey[:0], width*height)[:width*height]
	grey := &image.Alpha{Pix: p.grey, Stride: width, Rect: image.Rect(0, 0, width, height)}
	p.tracer.Draw(grey, grey.Rect, image.Opaque, image.Point{})
	ink := newBitmap(r, nil)
	for y := range height {
		row := ink.bits[y*ink.stride : (y+1)*ink.stride]
		for x, a := range p.grey[y*width : (y+1)*width] {
			row[x/8] |= a >> 7 << 7 >> (x % 8) // half covered or more
		}
	}
	return ink
}

// trace gives a character's outline to z, whose origin is at from.
func trace(z *vector.Rasterizer, segments sfnt.Segments, from image.Point) {
	at := func(p fixed.Point26_6) (x, y float32) {
		return float32(p.X)/64 - float32(from.X), float32(p.Y)/64 - float32(from.Y)
	}
	for _, s := range segments {
		x, y := at(s.Args[0])
		x1, y1 := at(s.Args[1])
		x2, y2 := at(s.Args[2])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			z.ClosePath()
			z.MoveTo(x, y)
		case sfnt.SegmentOpLineTo:
			z.LineTo(x, y)
		case sfnt.SegmentOpQuadTo:
			z.QuadTo(x, y, x1, y1)
		case sfnt.SegmentOpCubeTo:
			z.CubeTo(x, y, x1, y1, x2, y2)
		}
	}
	z.ClosePath()
}

// png draws a page and writes it.
func (s *setter) png(w io.Writer, pg page, dpi int) error {
	p := &s.raster
	p.page, p.err = newBitmap(pg.bounds, p.page.bits), nil
	for i := range pg.sheets {
		p.origin = pg.at[i]
		pg.sheets[i].paint(p)
	}
	if p.err != nil {
		return p.err
	}
	if _, err := w.Write(s.packer.pack(p.page, dpi)); err != nil {
		return fmt.Errorf("write PNG: %w", err)
	}
	return nil
}
