package labels

import (
	"bytes"
	"encoding/binary"
	"flag"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"slices"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// holdGolden compares a picture with the one that is kept, pixel by pixel.
func holdGolden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	is, was := decodePNG(t, got), decodePNG(t, kept)
	if is.Rect != was.Rect {
		t.Fatalf("the picture is %v, %s is %v", is.Rect, file, was.Rect)
	}
	differ := 0
	for i, v := range is.Pix {
		if v != was.Pix[i] {
			differ++
		}
	}
	if differ > 0 {
		t.Errorf("%d pixels differ from %s; look at both, then run with -update", differ, file)
	}
}

// One label of each kind, as the coarsest printer prints it.
func TestGoldenOfEachKind(t *testing.T) {
	t.Parallel()
	p := press()
	for _, k := range Kinds() {
		var got bytes.Buffer
		if err := p.PNG(&got, []Label{usualOf(t, k)}, on(UsualSize, 203)); err != nil {
			t.Errorf("%s: %v", k, err)
			continue
		}
		holdGolden(t, fmt.Sprintf("../testdata/golden/label_%s_100x75.png", k), got.Bytes())
	}
}

// A spool of a shop without a base address: its QR holds the facts themselves.
func TestGoldenWithoutAnAddress(t *testing.T) {
	t.Parallel()
	l := usualOf(t, KindSpool)
	l.Link = ""
	var got bytes.Buffer
	if err := press().PNG(&got, []Label{l}, on(UsualSize, 203)); err != nil {
		t.Fatal(err)
	}
	holdGolden(t, "../testdata/golden/label_spool_offline_100x75.png", got.Bytes())
}

// All kinds on all metric stock on one sheet, a third of the dots: to be looked
// at.
func TestGoldenContactSheet(t *testing.T) {
	t.Parallel()
	const gap, times = 8, 3
	p := press()
	width, height := gap, gap
	type put struct {
		at  image.Point
		img *image.Gray
	}
	var all []put
	for _, size := range []string{"50x25", "75x50", "100x75", "100x150"} {
		x := gap
		for _, k := range Kinds() {
			var b bytes.Buffer
			if err := p.PNG(&b, []Label{usualOf(t, k)}, on(size, 203)); err != nil {
				t.Errorf("%s on %s: %v", k, size, err)
				continue
			}
			img := smaller(decodePNG(t, b.Bytes()), times)
			all = append(all, put{image.Pt(x, height), img})
			x += img.Rect.Dx() + gap
		}
		width, height = max(width, x), height+all[len(all)-1].img.Rect.Dy()+gap
	}
	sheet := image.NewGray(image.Rect(0, 0, width, height))
	for i := range sheet.Pix {
		sheet.Pix[i] = 0xB0
	}
	for _, one := range all {
		for y := range one.img.Rect.Dy() {
			copy(sheet.Pix[(one.at.Y+y)*sheet.Stride+one.at.X:], one.img.Pix[y*one.img.Stride:y*one.img.Stride+one.img.Rect.Dx()])
		}
	}
	var got bytes.Buffer
	if err := png.Encode(&got, sheet); err != nil {
		t.Fatal(err)
	}
	holdGolden(t, "../testdata/golden/labels_contact_sheet.png", got.Bytes())
}

func TestEqualLabelsGiveEqualBytes(t *testing.T) {
	t.Parallel()
	_, labels := all()
	renderings := map[string]func(io.Writer) error{
		"PDF": func(w io.Writer) error { return renderAll(w, labels) },
		"PNG": func(w io.Writer) error { return renderOne(w, labels[0], 300) },
	}
	for name, render := range renderings {
		var first bytes.Buffer
		if err := render(&first); err != nil {
			t.Fatal(err)
		}
		for range 5 {
			var again bytes.Buffer
			if err := render(&again); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(first.Bytes(), again.Bytes()) {
				t.Fatalf("%s: two renderings of the same labels differ", name)
			}
		}
	}
}

// One bit a dot, and the resolution written so that a printer does not scale.
func TestPNGForm(t *testing.T) {
	t.Parallel()
	sizes := map[int][2]int{203: {799, 599}, 300: {1181, 886}, 600: {2362, 1772}}
	for dpi, perMetre := range map[int]uint32{203: 7992, 300: 11811, 600: 23622} {
		var b bytes.Buffer
		if err := renderOne(&b, usual(), dpi); err != nil {
			t.Fatal(err)
		}
		data := b.Bytes()
		width, height := binary.BigEndian.Uint32(data[16:]), binary.BigEndian.Uint32(data[20:])
		if got := [2]int{int(width), int(height)}; got != sizes[dpi] {
			t.Errorf("%d dpi: %v dots, want %v for 100 x 75 mm", dpi, got, sizes[dpi])
		}
		if depth, kind := data[24], data[25]; depth != 1 || kind != 3 {
			t.Errorf("%d dpi: depth %d and colour type %d, want 1 and 3 (palette)", dpi, depth, kind)
		}
		want := slices.Concat([]byte("pHYs"), binary.BigEndian.AppendUint32(nil, perMetre), binary.BigEndian.AppendUint32(nil, perMetre), []byte{1})
		if got := data[37 : 37+len(want)]; !bytes.Equal(got, want) {
			t.Errorf("%d dpi: the second chunk is % x, want pHYs with %d dots a metre: % x", dpi, got, perMetre, want)
		}
		for y, img := 0, renderPNG(t, usual(), dpi); y < img.Rect.Dy(); y++ {
			for x := range img.Rect.Dx() {
				if r, g, b, _ := img.At(x, y).RGBA(); r != g || g != b || r != 0 && r != 0xffff {
					t.Fatalf("%d dpi: dot %d,%d is %v, want black or white", dpi, x, y, img.At(x, y))
				}
			}
		}
	}
}

func TestPDFForm(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := renderAll(&b, []Spool{usual(), {Code: "PQ9XX-K"}}); err != nil {
		t.Fatal(err)
	}
	// 100 x 75 mm in points, to the hundredth.
	if want := []byte("/MediaBox [0 0 283.46 212.60]"); !bytes.Contains(b.Bytes(), want) {
		t.Errorf("the PDF lacks %s", want)
	}
	if got := bytes.Count(b.Bytes(), []byte("/Type /Page\n")); got != 2 {
		t.Errorf("the PDF of 2 labels has %d pages", got)
	}
	if bytes.Contains(b.Bytes(), []byte("/Subtype /Image")) {
		t.Error("the PDF holds an image, want vectors only")
	}
}
