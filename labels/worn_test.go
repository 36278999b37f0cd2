package labels

import (
	"bytes"
	"fmt"
	"image"
	"testing"
)

// worn are the ways in which a printed label is worse than it was drawn. A dot
// is three pixels: what a scanner sees that is near enough.
func worn(img *image.Gray, sym symbol, bounds image.Rectangle, d dice) map[string]*image.Gray {
	near := larger(img, pixels)
	piece := crop(near, sym, bounds, pixels, 0)
	return map[string]*image.Gray{
		"turned by 2 degrees": crop(turnedBy(near, 2), sym, bounds, pixels, 2),
		"blurred":             blurred(piece, pixels),
		"15 % contrast":       faded(piece, 0.15),
		"3 % dust":            dusted(piece, 0.03, 2, d),
	}
}

// pixels is how many pixels a dot is in the pictures of worn labels.
const pixels = 3

// Labels of every kind on every stock, at the coarsest printer, turned,
// blurred, faded and dusty, are read by a decoder not written here; a thousand
// of them with WIREHOLD_LABELS=all.
func TestWornLabelsAreReadBack(t *testing.T) {
	t.Parallel()
	tools(t, "zbarimg", "dmtxread") // for what the first decoder does not read
	times := 1
	if everyLabel() {
		times = 14 // 72 kinds and sizes: 1,008 labels
	}
	var all []combination
	for _, size := range Sizes() {
		for _, k := range Kinds() {
			all = append(all, combination{k, size, 203})
		}
	}
	press, p := press(), newProof(t)
	workers(len(all)*times, func(i int) {
		c := all[i%len(all)]
		f, err := newFonts()
		if err != nil {
			t.Error(err)
			return
		}
		l, s := c.hardLabel(t, f, uint64(20_000+i))
		var b bytes.Buffer
		if err := press.PNG(&b, []Label{*l}, Print{Size: c.size, DPI: c.dpi}); err != nil {
			t.Errorf("%s: %v", c, err)
			return
		}
		p.checkWorn(t, fmt.Sprintf("%s, label %d", c, i), decodePNG(t, b.Bytes()), l, s, roll(uint64(i)))
	})
	t.Logf("%d labels; symbols read: %v", len(all)*times, p.reads)
}

func (p *proof) checkWorn(t *testing.T, name string, img *image.Gray, l *Label, s *sheet, d dice) {
	t.Helper()
	for _, item := range s.items {
		sym, ok := item.(symbol)
		if !ok {
			continue
		}
		want := contentOf(l, sym)
		for how, picture := range worn(img, sym, s.bounds, d) {
			if got, err := readOne(picture, sym); err == nil && got == want {
				p.count(how, 1)
				continue
			}
			got, err := p.readByTool(t, picture, sym, fmt.Sprintf("%s/%p.png", p.dir, picture))
			if err != nil || got != want {
				t.Errorf("%s, %s: the %s symbol of %d modules, %d dots each, reads %q (%v), want %q", name, how, sym.field, len(sym.matrix[0]), sym.x, got, err, want)
				continue
			}
			p.count(how+", by the second decoder", 1)
		}
	}
}
