package labels

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/makiuchi-d/gozxing/oned"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// toGrey copies an image to grey levels.
func toGrey(img image.Image) *image.Gray {
	b := img.Bounds()
	if grey, ok := img.(*image.Gray); ok {
		return grey
	}
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	if p, ok := img.(*image.Paletted); ok {
		for y := range b.Dy() {
			for x := range b.Dx() {
				out.Pix[y*out.Stride+x] = color.GrayModel.Convert(p.Palette[p.Pix[y*p.Stride+x]]).(color.Gray).Y
			}
		}
		return out
	}
	for y := range b.Dy() {
		for x := range b.Dx() {
			r, g, bl, a := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
			out.Pix[y*out.Stride+x] = uint8((r + g + bl + 3*(0xFFFF-a)) / 3 >> 8) // on white paper
		}
	}
	return out
}

// larger repeats every dot n times across and down, as a camera that is near
// enough sees several pixels a dot.
func larger(img *image.Gray, n int) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, img.Rect.Dx()*n, img.Rect.Dy()*n))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			out.Pix[y*out.Stride+x] = img.Pix[y/n*img.Stride+x/n]
		}
	}
	return out
}

// smaller is the mean of each n by n pixels.
func smaller(img *image.Gray, n int) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, img.Rect.Dx()/n, img.Rect.Dy()/n))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			sum := 0
			for i := range n * n {
				sum += int(img.Pix[(y*n+i/n)*img.Stride+x*n+i%n])
			}
			out.Pix[y*out.Stride+x] = uint8(sum / (n * n))
		}
	}
	return out
}

// turnedBy turns an image by degrees around its middle, white coming in at the
// corners, between pixels by their distance.
func turnedBy(img *image.Gray, degrees float64) *image.Gray {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	w, h := img.Rect.Dx(), img.Rect.Dy()
	width, height := int(float64(w)*cos+float64(h)*math.Abs(sin))+2, int(float64(h)*cos+float64(w)*math.Abs(sin))+2
	out := image.NewGray(image.Rect(0, 0, width, height))
	at := func(x, y int) float64 {
		if x < 0 || y < 0 || x >= w || y >= h {
			return 255
		}
		return float64(img.Pix[y*img.Stride+x])
	}
	for y := range height {
		for x := range width {
			dx, dy := float64(x)-float64(width)/2, float64(y)-float64(height)/2
			sx, sy := dx*cos+dy*sin+float64(w)/2, -dx*sin+dy*cos+float64(h)/2
			fx, fy := math.Floor(sx), math.Floor(sy)
			ix, iy, tx, ty := int(fx), int(fy), sx-fx, sy-fy
			v := at(ix, iy)*(1-tx)*(1-ty) + at(ix+1, iy)*tx*(1-ty) + at(ix, iy+1)*(1-tx)*ty + at(ix+1, iy+1)*tx*ty
			out.Pix[y*out.Stride+x] = uint8(v + 0.5)
		}
	}
	return out
}

// blurred is the mean of each pixel with its neighbours within the radius, done
// twice: close to a lens out of focus.
func blurred(img *image.Gray, radius int) *image.Gray {
	for range 2 {
		img = meanAcross(meanAcross(img, radius), radius)
	}
	return img
}

// meanAcross takes the mean along rows and returns the image with rows and
// columns exchanged, so that two calls blur both ways.
func meanAcross(img *image.Gray, radius int) *image.Gray {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, h, w))
	for y := range h {
		row := img.Pix[y*img.Stride : y*img.Stride+w]
		for x := range w {
			sum, n := 0, 0
			for i := max(0, x-radius); i <= min(w-1, x+radius); i++ {
				sum, n = sum+int(row[i]), n+1
			}
			out.Pix[x*out.Stride+y] = uint8(sum / n)
		}
	}
	return out
}

// median takes the middle one of each pixel and its neighbours within the
// radius: what a reader does against dust.
func median(img *image.Gray, radius int) *image.Gray {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewGray(img.Rect)
	var seen []uint8
	for y := range h {
		for x := range w {
			seen = seen[:0]
			for j := max(0, y-radius); j <= min(h-1, y+radius); j++ {
				seen = append(seen, img.Pix[j*img.Stride+max(0, x-radius):j*img.Stride+min(w-1, x+radius)+1]...)
			}
			slices.Sort(seen)
			out.Pix[y*out.Stride+x] = seen[len(seen)/2]
		}
	}
	return out
}

// faded leaves so much of the contrast, around a middle grey: a worn head, or
// a label in the shade.
func faded(img *image.Gray, contrast float64) *image.Gray {
	out := image.NewGray(img.Rect)
	for i, v := range img.Pix {
		out.Pix[i] = uint8(128 + (float64(v)-127.5)*contrast)
	}
	return out
}

// dusted turns this share of the pixels to black or white at random, in grains
// of the width given: dust and drop-outs.
func dusted(img *image.Gray, share float64, grain int, d dice) *image.Gray {
	out := image.NewGray(img.Rect)
	copy(out.Pix, img.Pix)
	w, h := img.Rect.Dx(), img.Rect.Dy()
	for range int(share * float64(w*h) / float64(grain*grain)) {
		x, y, shade := d.IntN(w-grain), d.IntN(h-grain), uint8(255*d.IntN(2))
		for i := range grain * grain {
			out.Pix[(y+i/grain)*out.Stride+x+i%grain] = shade
		}
	}
	return out
}

// read decodes every symbol of a sheet with gozxing, each where it stands, and
// returns what could not be read as it must.
func read(img *image.Gray, s *sheet, l *Label, scale int, degrees float64) error {
	for _, i := range s.items {
		sym, ok := i.(symbol)
		if !ok {
			continue
		}
		got, err := readOne(crop(img, sym, s.bounds, scale, degrees), sym)
		if want := contentOf(l, sym); err != nil || got != want {
			return fmt.Errorf("%s symbol of %d modules, %d dots each: read %q (%v), want %q", sym.field, len(sym.matrix[0]), sym.x, got, err, want)
		}
	}
	return nil
}

// crop is the part of a picture that a scanner is held over: the symbol, its
// quiet zone, and a little around it.
func crop(img *image.Gray, sym symbol, bounds image.Rectangle, scale int, degrees float64) *image.Gray {
	box := sym.outline.Inset(-2)
	if degrees == 0 {
		return sub(img, image.Rect(box.Min.X*scale, box.Min.Y*scale, box.Max.X*scale, box.Max.Y*scale))
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	var r image.Rectangle
	for _, p := range []image.Point{box.Min, box.Max, {X: box.Min.X, Y: box.Max.Y}, {X: box.Max.X, Y: box.Min.Y}} {
		dx, dy := float64(p.X*scale)-float64(bounds.Dx()*scale)/2, float64(p.Y*scale)-float64(bounds.Dy()*scale)/2
		q := image.Pt(int(dx*cos-dy*sin)+img.Rect.Dx()/2, int(dx*sin+dy*cos)+img.Rect.Dy()/2)
		r = r.Union(image.Rectangle{Min: q, Max: q.Add(image.Pt(1, 1))})
	}
	return sub(img, r)
}

func sub(img *image.Gray, r image.Rectangle) *image.Gray {
	r = r.Intersect(img.Rect)
	out := image.NewGray(image.Rect(0, 0, r.Dx(), r.Dy()))
	for y := range r.Dy() {
		copy(out.Pix[y*out.Stride:(y+1)*out.Stride], img.Pix[(r.Min.Y+y)*img.Stride+r.Min.X:])
	}
	return out
}

// contentOf is what a symbol of the label must hold.
func contentOf(l *Label, sym symbol) string {
	if sym.field == "code" {
		return l.Code
	}
	if l.Link != "" {
		return l.Link
	}
	for n := len(l.Offline); n > 0; n-- {
		text := strings.Join(l.Offline[:n], betweenFacts)
		if m, err := qrMatrix(text); err == nil && hexadecimal(m) == hexadecimal(sym.matrix) {
			return text
		}
	}
	return "no number of the facts"
}

func readOne(img *image.Gray, sym symbol) (string, error) {
	var reader gozxing.Reader = oned.NewCode128Reader()
	if len(sym.matrix) > 1 {
		reader = qrcode.NewQRCodeReader()
		if isDataMatrix(sym) {
			reader = datamatrix.NewDataMatrixReader()
		}
	}
	text, err := decode(reader, img)
	// Its search for corners fails on some clean pictures. A phone takes many
	// frames: look from nearer, from farther away, turned a little, and less sharp.
	for _, look := range []func() *image.Gray{
		func() *image.Gray { return smaller(img, 2) },
		func() *image.Gray { return smaller(img, max(2, sym.x/3)) },
		func() *image.Gray { return larger(img, 2) },
		func() *image.Gray { return blurred(img, 1) },
		func() *image.Gray { return blurred(larger(img, 2), 2) },
		func() *image.Gray { return turnedBy(img, 1.5) },
		func() *image.Gray { return turnedBy(smaller(img, 2), 4) },
		func() *image.Gray { return median(img, 1) },
		func() *image.Gray { return median(img, 2) },
		func() *image.Gray { return median(smaller(img, 2), 1) },
	} {
		if err == nil {
			break
		}
		text, err = decode(reader, look())
	}
	return text, err
}

func decode(reader gozxing.Reader, img *image.Gray) (string, error) {
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return "", err
	}
	got, err := reader.Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true, gozxing.DecodeHintType_CHARACTER_SET: "UTF-8"})
	if err != nil {
		return "", err
	}
	return got.GetText(), nil
}

// isDataMatrix tells by the solid left edge.
func isDataMatrix(sym symbol) bool {
	for _, row := range sym.matrix {
		if !row[0] {
			return false
		}
	}
	return len(sym.matrix) > 1
}

// decodePNG returns the picture that a PNG holds.
func decodePNG(t testing.TB, b []byte) *image.Gray {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return toGrey(img)
}

// workers runs f for n numbers, two at a time: what the machine of the checks
// has.
func workers(n int, f func(i int)) {
	var wait sync.WaitGroup
	free := make(chan struct{}, 2)
	for i := range n {
		free <- struct{}{}
		wait.Go(func() {
			defer func() { <-free }() // also where f ends the test
			f(i)
		})
	}
	wait.Wait()
}

// everyLabel reports whether over a thousand labels are read back, rather than
// one of each sort: it takes minutes.
func everyLabel() bool { return os.Getenv("WIREHOLD_LABELS") == "all" }

// zbar reads all Code 128 and QR symbols of an image file as text. (Its XML
// mangles letters with accents: not what is in the symbol.)
func zbar(file string) (string, error) {
	out, err := exec.Command("zbarimg", "-q", "--raw", "-Sdisable", "-Scode128.enable", "-Sqrcode.enable", file).Output()
	if exit, ok := errors.AsType[*exec.ExitError](err); ok && exit.ExitCode() == 4 {
		return "", nil // no symbol
	}
	return string(out), err
}

// saysAll reports whether what zbar read is the contents, in any order.
func saysAll(got string, contents []string) bool {
	slices.Sort(contents)
	forth := strings.Join(contents, "\n")
	slices.Reverse(contents)
	back := strings.Join(contents, "\n")
	got = strings.TrimSuffix(got, "\n")
	return got == forth || got == back // a label has two at most
}

// writeGrey writes an image where tools can read it.
func writeGrey(t testing.TB, img *image.Gray, file string) string {
	t.Helper()
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}
