package labels

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// Indices into the palette of a label's PNG: one bit a dot, no greys.
const (
	white = 0
	black = 1
)

// RenderPNG writes the label of l, on 100 x 75 mm stock, as a black and white
// PNG of one bit a dot for a printer of 203, 300 or 600 dpi. The same label
// always gives the same bytes.
//
// A character the font lacks prints as a box. The error is a [*FieldError]
// when l cannot be printed whole, or dpi is none of the three; otherwise it
// comes from w.
func RenderPNG(w io.Writer, l Spool, dpi int) error {
	if err := checkDPI(dpi); err != nil {
		return err
	}
	s, err := layOutSpool(l, size100x75, dpi)
	if err != nil {
		return err
	}
	p := newRaster(s.bounds)
	s.paint(p)
	if p.err != nil {
		return p.err
	}
	return encodePNG(w, p.image, dpi)
}

// raster paints a sheet dot by dot.
type raster struct {
	image *image.Paletted
	buf   sfnt.Buffer
	masks map[mark]*image.Alpha // ink, around the point a character starts at
	err   error
}

// mark is a character at a size.
type mark struct {
	face *face
	r    rune
	em   int
}

func newRaster(bounds image.Rectangle) *raster {
	palette := color.Palette{white: color.Gray{Y: 255}, black: color.Gray{Y: 0}}
	return &raster{image: image.NewPaletted(bounds, palette), masks: map[mark]*image.Alpha{}}
}

func (p *raster) bar(r image.Rectangle) {
	r = r.Intersect(p.image.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			p.image.SetColorIndex(x, y, black)
		}
	}
}

// text draws each character from a whole dot, so that it looks alike wherever
// it stands. A dot at least half covered is black.
func (p *raster) text(t text) {
	units := 0
	for _, r := range t.words {
		m, err := p.mask(mark{t.face, r, t.em})
		if err != nil {
			p.err = fmt.Errorf("draw %q: %w", r, err)
			return
		}
		x := t.baseline.X + (units*t.em+t.face.perEm/2)/t.face.perEm
		p.stamp(m, image.Pt(x, t.baseline.Y))
		units += t.face.glyph(r).advance
	}
}

func (p *raster) stamp(ink *image.Alpha, at image.Point) {
	b := ink.Rect
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if ink.AlphaAt(x, y).A >= 128 {
				if dot := at.Add(image.Pt(x, y)); dot.In(p.image.Rect) {
					p.image.SetColorIndex(dot.X, dot.Y, black)
				}
			}
		}
	}
}

// mask fills the outline of a character.
func (p *raster) mask(k mark) (*image.Alpha, error) {
	if m, ok := p.masks[k]; ok {
		return m, nil
	}
	segments, err := k.face.font.LoadGlyph(&p.buf, k.face.glyph(k.r).index, fixed.I(k.em), nil)
	if err != nil {
		return nil, err
	}
	b := segments.Bounds()
	area := image.Rect(b.Min.X.Floor(), b.Min.Y.Floor(), b.Max.X.Ceil(), b.Max.Y.Ceil())
	m := image.NewAlpha(area)
	z := vector.NewRasterizer(area.Dx(), area.Dy())
	trace(z, segments, area.Min)
	z.Draw(m, area, image.Opaque, image.Point{})
	p.masks[k] = m
	return m, nil
}

// trace hands an outline to z, whose origin is at from.
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

// encodePNG writes img with the resolution it is meant for in a pHYs chunk
// (ISO/IEC 15948, 11.3.5.3: dots a metre), which must stand before the data.
func encodePNG(w io.Writer, img *image.Paletted, dpi int) error {
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, img); err != nil {
		return fmt.Errorf("encode PNG: %w", err)
	}
	const header = 8 + 25 // signature and IHDR
	perMetre := uint32((dpi*10_000 + 127) / 254)
	chunk := []byte("pHYs")
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1) // the unit is the metre
	physical := binary.BigEndian.AppendUint32(nil, uint32(len(chunk)-4))
	physical = append(physical, chunk...)
	physical = binary.BigEndian.AppendUint32(physical, crc32.ChecksumIEEE(chunk))
	for _, part := range [][]byte{b.Bytes()[:header], physical, b.Bytes()[header:]} {
		if _, err := w.Write(part); err != nil {
			return fmt.Errorf("write PNG: %w", err)
		}
	}
	return nil
}
