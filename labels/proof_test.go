package labels

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

// drawn is one label as it came out of a format.
type drawn struct {
	name  string
	label *Label
	sheet *sheet
	image *image.Gray
	file  string // where tools read it
}

// proof collects what was drawn and how often it was read.
type proof struct {
	mu    sync.Mutex
	dir   string
	reads map[string]int // by decoder
}

func newProof(t *testing.T) *proof { return &proof{dir: t.TempDir(), reads: map[string]int{}} }

func (p *proof) count(decoder string, n int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.reads[decoder] += n
}

// check measures each symbol dot by dot and has it read by the decoders.
func (p *proof) check(t *testing.T, d drawn) {
	t.Helper()
	if err := read(d.image, d.sheet, d.label, 1, 0); err != nil {
		t.Errorf("%s: gozxing: %v", d.name, err)
	}
	var want []string
	for _, item := range d.sheet.items {
		sym, ok := item.(symbol)
		if !ok {
			continue
		}
		p.count("gozxing", 1)
		checkRaster(t, d.name, darkOf(d.image), sym, quietOf(sym))
		if content := contentOf(d.label, sym); isDataMatrix(sym) {
			p.readByDmtx(t, d, sym, content)
		} else {
			want = append(want, content)
		}
	}
	if got, err := zbar(d.file); err != nil || !saysAll(got, want) {
		t.Errorf("%s: zbarimg reads %q (%v), want %q", d.name, got, err, want)
	}
	p.count("zbar", len(want))
	p.count("labels", 1)
}

func (p *proof) say(t *testing.T) {
	t.Helper()
	t.Logf("labels drawn, and symbols measured dot by dot and read: %v", p.reads)
}

// quietOf is the quiet zone of a symbol in modules, by its standard.
func quietOf(sym symbol) int {
	switch {
	case len(sym.matrix) == 1:
		return 10
	case isDataMatrix(sym):
		return 2
	}
	return 4
}

func (p *proof) readByDmtx(t *testing.T, d drawn, sym symbol, want string) {
	t.Helper()
	file := writeGrey(t, larger(crop(d.image, sym, d.sheet.bounds, 1, 0), 2), d.file+".dm.png")
	out, err := exec.Command("dmtxread", "-N1", "-m5000", file).Output()
	if err != nil || string(out) != want {
		t.Errorf("%s: dmtxread reads %q (%v), want %q", d.name, out, err, want)
	}
	p.count("dmtxread", 1)
}

// combination is one kind on one stock for one printer.
type combination struct {
	kind Kind
	size Size
	dpi  int
}

// combinations are all kinds on all stock for all printers with
// WIREHOLD_LABELS=all; else each
// kind on each stock, for two printers in turn: rasterising for 600 dpi is slow.
func combinations() []combination {
	var out []combination
	for i, size := range Sizes() {
		for j, dpi := range Resolutions() {
			if !everyLabel() && j != i%2 {
				continue
			}
			for _, k := range Kinds() {
				out = append(out, combination{k, size, dpi})
			}
		}
	}
	return out
}

func (c combination) String() string { return fmt.Sprintf("%s on %s at %d dpi", c.kind, c.size, c.dpi) }

// hardLabel is a hard label that the stock has room for.
func (c combination) hardLabel(t testing.TB, f fonts, seed uint64) (*Label, *sheet) {
	for ; ; seed += 10_000 {
		l := roll(seed).label(t, c.kind)
		if s := sheetOf(t, f, &l, c.size, c.dpi); s != nil {
			return &l, s
		}
	}
}

// tools skips the test, or fails it where all must be there, without a program.
func tools(t *testing.T, names ...string) {
	t.Helper()
	for _, name := range names {
		tool(t, name)
	}
}

// Every kind on every stock for every printer, as PNG: a thousand labels and
// more with WIREHOLD_LABELS=all.
func TestEveryPNGIsReadBack(t *testing.T) {
	t.Parallel()
	tools(t, "zbarimg", "dmtxread")
	times := 1
	if everyLabel() {
		times = 5
	}
	p, press := newProof(t), press()
	all := combinations()
	workers(len(all)*times, func(i int) {
		c := all[i%len(all)]
		f, err := newFonts()
		if err != nil {
			t.Error(err)
			return
		}
		l, s := c.hardLabel(t, f, uint64(i))
		var b bytes.Buffer
		if err := press.PNG(&b, []Label{*l}, Print{Size: c.size, DPI: c.dpi}); err != nil {
			t.Errorf("%s: %v", c, err)
			return
		}
		file := filepath.Join(p.dir, fmt.Sprintf("%d.png", i))
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Error(err)
		}
		p.check(t, drawn{c.String() + ", PNG", l, s, decodePNG(t, b.Bytes()), file})
	})
	p.say(t)
}

// The same as PDF, a file of all kinds for each stock and printer, as the two
// tones that the printer has.
func TestEveryPDFIsReadBack(t *testing.T) {
	t.Parallel()
	tools(t, "pdftoppm", "zbarimg", "dmtxread")
	p, press := newProof(t), press()
	groups := slices.Collect(slices.Chunk(combinations(), len(Kinds())))
	workers(len(groups), func(i int) {
		f, err := newFonts()
		if err != nil {
			t.Error(err)
			return
		}
		var labels []Label
		var sheets []*sheet
		for j, c := range groups[i] {
			l, s := c.hardLabel(t, f, uint64(5000+100*i+j))
			labels, sheets = append(labels, *l), append(sheets, s)
		}
		c := groups[i][0]
		var b bytes.Buffer
		if err := press.PDF(&b, labels, Print{Size: c.size, DPI: c.dpi}, nil); err != nil {
			t.Errorf("%s: %v", c, err)
			return
		}
		file := filepath.Join(p.dir, fmt.Sprintf("%d.pdf", i))
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Error(err)
		}
		prefix := strings.TrimSuffix(file, ".pdf")
		if out, err := exec.Command("pdftoppm", "-r", fmt.Sprint(c.dpi), "-mono", "-png", file, prefix).CombinedOutput(); err != nil {
			t.Errorf("%s: pdftoppm: %v %s", c, err, out)
			return
		}
		for j := range labels {
			page := fmt.Sprintf("%s-%d.png", prefix, j+1)
			b, err := os.ReadFile(page)
			if err != nil {
				t.Error(err)
				return
			}
			p.check(t, drawn{groups[i][j].String() + ", PDF", &labels[j], sheets[j], decodePNG(t, b), page})
		}
	})
	p.say(t)
}

// The same as SVG.
func TestEverySVGIsReadBack(t *testing.T) {
	t.Parallel()
	tools(t, "rsvg-convert", "zbarimg", "dmtxread")
	p, press := newProof(t), press()
	all := combinations()
	workers(len(all), func(i int) {
		f, err := newFonts()
		if err != nil {
			t.Error(err)
			return
		}
		c := all[i]
		l, s := c.hardLabel(t, f, uint64(9000+i))
		var b bytes.Buffer
		if err := press.SVG(&b, []Label{*l}, Print{Size: c.size, DPI: c.dpi}); err != nil {
			t.Errorf("%s: %v", c, err)
			return
		}
		file := filepath.Join(p.dir, fmt.Sprintf("%d.svg", i))
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Error(err)
		}
		picture := strings.TrimSuffix(file, ".svg") + ".png"
		if out, err := exec.Command("rsvg-convert", "-d", fmt.Sprint(c.dpi), "-p", fmt.Sprint(c.dpi), "-o", picture, file).CombinedOutput(); err != nil {
			t.Errorf("%s: rsvg-convert: %v %s", c, err, out)
			return
		}
		png, err := os.ReadFile(picture)
		if err != nil {
			t.Error(err)
			return
		}
		img := decodePNG(t, png)
		if img.Rect.Size() != s.bounds.Size() {
			t.Errorf("%s, SVG: %v pixels, want %v: a dot is not a dot", c, img.Rect.Size(), s.bounds.Size())
			return
		}
		p.check(t, drawn{c.String() + ", SVG", l, s, img, picture})
	})
	p.say(t)
}

// readByTool reads one symbol with dmtxread or zbar.
func (p *proof) readByTool(t *testing.T, img *image.Gray, sym symbol, file string) (string, error) {
	t.Helper()
	writeGrey(t, img, file)
	if isDataMatrix(sym) {
		out, err := exec.Command("dmtxread", "-N1", "-m10000", file).Output()
		return string(out), err
	}
	got, err := zbar(file)
	return strings.TrimSuffix(got, "\n"), err
}
