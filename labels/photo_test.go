package labels

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"

	"wirehold/inventory"
)

// TestReadPhotoOfReferenceSymbols photographs symbols that the reference encoder
// drew (zint, of testdata/barcodes.csv) at an angle, small in the picture, soft
// and noisy.
func TestReadPhotoOfReferenceSymbols(t *testing.T) {
	t.Parallel()
	zint := tool(t, "zint")
	tests := []struct {
		name, want string
		args       []string
	}{
		{"a label's Code 128", "W7K2M-3", []string{"-b", "20", "-d", "W7K2M-3"}},
		{"a QR link", "https://store.example/spools/W7K2M-3", []string{"-b", "58", "-d", "https://store.example/spools/W7K2M-3"}},
		{"a small Data Matrix", "W7K2M-3", []string{"-b", "71", "--square", "-d", "W7K2M-3"}},
		{"GS1-128", "]C1010952123454321310LOT7F31\x1d21SP000123", []string{"-b", "16", "-d", "[01]09521234543213[10]LOT7F31[21]SP000123"}},
		{"GS1 DataMatrix", "]d2010952123454321310LOT7F31\x1d21SP000123", []string{"-b", "71", "--square", "--gs1", "-d", "[01]09521234543213[10]LOT7F31[21]SP000123"}},
		{"an EAN-13 on a box", "9521234543213", []string{"-b", "13", "-d", "952123454321"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			path := filepath.Join(t.TempDir(), "symbol.png")
			if out, err := exec.Command(zint, append(tt.args, "-o", path, "--scale=3", "--whitesp=4", "--vwhitesp=4")...).CombinedOutput(); err != nil {
				t.Fatalf("zint: %v\n%s", err, out)
			}
			got, err := ReadPhoto(photographed(t, path))
			if err != nil || !slices.Contains(got, tt.want) {
				t.Errorf("ReadPhoto = %q, %v; want %q", got, err, tt.want)
			}
		})
	}
}

// photographed lays the picture at path on a grey table, turned by 4 degrees,
// and returns what a phone would send of it.
func photographed(t *testing.T, path string) []byte {
	t.Helper()
	symbol := readPNG(t, path)
	b := symbol.Bounds()
	table := image.NewGray(image.Rect(0, 0, b.Dx()*2+800, b.Dy()*2+800))
	draw.Draw(table, table.Bounds(), image.NewUniform(color.Gray{150}), image.Point{}, draw.Src)
	sin, cos := math.Sincos(4 * math.Pi / 180)
	const scale = 1.3
	draw.BiLinear.Transform(table, f64.Aff3{scale * cos, -scale * sin, 300, scale * sin, scale * cos, 250}, symbol, b, draw.Over, nil)
	noise := rand.New(rand.NewPCG(7, 7))
	for i, v := range table.Pix {
		table.Pix[i] = uint8(min(max(float64(v)*0.8+30+noise.NormFloat64()*6, 0), 255))
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, table, &jpeg.Options{Quality: 75}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestReadPhotoRefuses(t *testing.T) {
	t.Parallel()
	var blank bytes.Buffer
	if err := png.Encode(&blank, image.NewGray(image.Rect(0, 0, 200, 100))); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name    string
		content []byte
	}{
		{"nothing", nil},
		{"a text", []byte("W7K2M-3")},
		{"a picture without a code", blank.Bytes()},
		{"a picture cut short", blank.Bytes()[:60]},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if got, err := ReadPhoto(tt.content); inventory.KindOf(err) != inventory.Invalid {
				t.Errorf("ReadPhoto(%d bytes) = %q, %v; want Invalid", len(tt.content), got, err)
			}
		})
	}
}
