package labels

import (
	"bytes"
	"encoding/binary"
	"flag"
	"image/png"
	"io"
	"os"
	"slices"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func TestGoldenPNG(t *testing.T) {
	t.Parallel()
	const golden = "../testdata/golden/label_spool_100x75.png"
	var got bytes.Buffer
	if err := renderOne(&got, usual(), 203); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	file, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	want, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatalf("%s: %v", golden, err)
	}
	img := renderPNG(t, usual(), 203)
	if img.Bounds() != want.Bounds() {
		t.Fatalf("the usual label is %v, %s is %v", img.Bounds(), golden, want.Bounds())
	}
	differ, is, was := 0, darkOf(img), darkOf(want)
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if is(x, y) != was(x, y) {
				differ++
			}
		}
	}
	if differ > 0 {
		t.Errorf("%d dots of the usual label differ from %s; look at both, then run with -update", differ, golden)
	}
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
