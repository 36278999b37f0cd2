package labels

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/oned"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// tool finds a program that reads labels back. Without it the test is skipped,
// unless WIREHOLD_TOOLS=required says that it must be there.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("WIREHOLD_TOOLS") == "required" {
		t.Fatalf("%s is required: %v", name, err)
	}
	t.Skipf("%s is not installed", name)
	return ""
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(tool(t, name), args...)
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %q: %v\n%s", name, args, err, stderr.String())
	}
	return stdout.String()
}

// address is what the QR symbol of l must hold.
func address(l Spool) string {
	if l.URL != "" {
		return l.URL
	}
	return strings.Join(l.facts(), betweenFacts)
}

// checkGozxing reads both symbols of a whole label with a decoder in Go.
func checkGozxing(t *testing.T, name string, img image.Image, l Spool) {
	t.Helper()
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	hints := map[gozxing.DecodeHintType]any{
		gozxing.DecodeHintType_TRY_HARDER:    true,
		gozxing.DecodeHintType_CHARACTER_SET: "UTF-8",
	}
	for _, reader := range []struct {
		name string
		gozxing.Reader
		want string
	}{{"Code 128", oned.NewCode128Reader(), l.Code}, {"QR", qrcode.NewQRCodeReader(), address(l)}} {
		got, err := reader.Decode(bitmap, hints)
		if err != nil || got.GetText() != reader.want {
			t.Errorf("%s: gozxing reads %s as %v (error %v), want %q", name, reader.name, got, err, reader.want)
		}
	}
}

// checkZbar reads both symbols of an image file with zbar.
func checkZbar(t *testing.T, name, file string, l Spool) {
	t.Helper()
	got := run(t, "zbarimg", "-q", "--raw", file)
	want := []string{address(l) + "\n" + l.Code + "\n", l.Code + "\n" + address(l) + "\n"}
	if !slices.Contains(want, got) {
		t.Errorf("%s: zbarimg reads %q, want %q", name, got, want[0])
	}
}

func TestPNGIsReadBackByGozxing(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		for _, dpi := range Resolutions() {
			checkGozxing(t, fmt.Sprintf("%s, %d dpi", name, dpi), renderPNG(t, l, dpi), l)
		}
	}
}

func TestPNGIsReadBackByZbar(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		for _, dpi := range Resolutions() {
			file := filepath.Join(t.TempDir(), "label.png")
			var b bytes.Buffer
			if err := renderOne(&b, l, dpi); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			checkZbar(t, fmt.Sprintf("%s, %d dpi", name, dpi), file, l)
		}
	}
}

// all returns the hard labels in a fixed order.
func all() (names []string, labels []Spool) {
	byName := hard()
	for name := range byName {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		labels = append(labels, byName[name])
	}
	return names, labels
}

// writePDF writes all the hard labels to one file.
func writePDF(t *testing.T) (file string, names []string, labels []Spool) {
	t.Helper()
	names, labels = all()
	var b bytes.Buffer
	if err := renderAll(&b, labels); err != nil {
		t.Fatalf("renderAll: %v", err)
	}
	file = filepath.Join(t.TempDir(), "labels.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file, names, labels
}

// A PDF on its way to a 203 dpi printer: with grey levels, and as the two
// tones that the head can print.
func TestPDFIsReadBack(t *testing.T) {
	t.Parallel()
	file, names, labels := writePDF(t)
	for _, tone := range []string{"-gray", "-mono"} {
		for page, l := range labels {
			name := fmt.Sprintf("%s, PDF at 203 dpi %s", names[page], tone)
			prefix := filepath.Join(t.TempDir(), "page")
			number := fmt.Sprint(page + 1)
			run(t, "pdftoppm", "-r", "203", tone, "-png", "-singlefile", "-f", number, "-l", number, file, prefix)
			img := readPNG(t, prefix+".png")
			linear, square := symbols(t, layOut(t, l, 203))
			checkRaster(t, name, darkOf(img), linear, 10)
			checkRaster(t, name, darkOf(img), square, 4)
			checkRuns(t, name, darkOf(img), linear, l.Code)
			checkGozxing(t, name, img, l)
			checkZbar(t, name, prefix+".png", l)
		}
	}
}

func readPNG(t *testing.T, file string) image.Image {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return img
}

// What a person reads in the PDF is what the layout says, word by word.
func TestPDFSaysTheWords(t *testing.T) {
	t.Parallel()
	file, names, labels := writePDF(t)
	for page, l := range labels {
		number := fmt.Sprint(page + 1)
		said := run(t, "pdftotext", "-layout", "-enc", "UTF-8", "-f", number, "-l", number, file, "-")
		said = strings.Join(strings.Fields(said), " ")
		for _, i := range layOut(t, l, 203).items {
			if line, ok := i.(text); ok && !strings.Contains(said, line.words) {
				t.Errorf("%s: pdftotext reads %q, want %q in it", names[page], said, line.words)
			}
		}
	}
}
