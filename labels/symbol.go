package labels

import (
	"fmt"
	"image"
	"image/color"
	"strings"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/code128"
	"github.com/boombuler/barcode/qr"

	"wirehold/inventory/unit"
)

// matrix holds the modules of a symbol row by row, true for dark, without a
// quiet zone. A linear symbol has one row.
type matrix [][]bool

// Quiet zones, in modules on each side.
const (
	code128Quiet = 10 // ISO/IEC 15417 (memory; testdata/barcodes.csv J-09)
	qrQuiet      = 4  // ISO/IEC 18004 (memory)
)

// moduleRange is how wide a module may be.
type moduleRange struct{ least, wanted unit.Length }

// linearX is for hand scanners: a quarter of a millimetre is two dots at 203
// dpi (testdata/barcodes.csv J-dpi-203-0.250) and still read (practice); half a
// millimetre is taken where there is room, for dust and worn heads (practice).
func linearX() moduleRange { return moduleRange{250 * unit.Micrometre, 500 * unit.Micrometre} }

// matrixX is for phones: a third of a millimetre at least (practice), and up
// to 1.5 times the width of a linear module (testdata/barcodes.csv J-06).
func matrixX() moduleRange { return moduleRange{330 * unit.Micrometre, 750 * unit.Micrometre} }

// dots returns the widest module, in whole dots, with which modules fit into
// width dots. It reports false if that is narrower than a scanner reads.
func (m moduleRange) dots(modules, width, dpi int) (int, bool) {
	least := int((int64(m.least)*int64(dpi) + int64(unit.Inch) - 1) / int64(unit.Inch))
	x := min(width/modules, dots(m.wanted, dpi))
	return x, x >= least
}

// code128Matrix encodes text as Code 128, check character included. Text must
// be ASCII: the encoder takes some other letters for function characters.
func code128Matrix(text string) (matrix, error) {
	code, err := code128.Encode(text)
	if err != nil {
		return nil, fmt.Errorf("code 128 of %q: %w", text, err)
	}
	return modulesOf(code, 1), nil
}

// qrMatrix encodes text as QR, error correction level M. The library's Auto
// and Numeric modes lose characters (testdata/barcodes.csv K-01): only its
// alphanumeric and byte modes are used.
func qrMatrix(text string) (matrix, error) {
	mode := qr.Unicode
	if strings.Trim(text, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:") == "" {
		mode = qr.AlphaNumeric
	}
	code, err := qr.Encode(text, qr.M, mode)
	if err != nil {
		return nil, fmt.Errorf("QR of %q: %w", text, err)
	}
	return modulesOf(code, code.Bounds().Dy()), nil
}

func modulesOf(code barcode.Barcode, rows int) matrix {
	b := code.Bounds()
	m := make(matrix, rows)
	for y := range m {
		m[y] = make([]bool, b.Dx())
		for x := range m[y] {
			grey := color.GrayModel.Convert(code.At(b.Min.X+x, b.Min.Y+y)).(color.Gray)
			m[y][x] = grey.Y < 128
		}
	}
	return m
}

// placeCode128 draws text as Code 128 over the height of area, in the middle
// of its width with the quiet zone inside.
func placeCode128(field, text string, area image.Rectangle, dpi int) (symbol, error) {
	m, err := code128Matrix(text)
	if err != nil {
		return symbol{}, &FieldError{field, err.Error()}
	}
	modules := len(m[0]) + 2*code128Quiet
	x, ok := linearX().dots(modules, area.Dx(), dpi)
	if !ok {
		return symbol{}, &FieldError{field, fmt.Sprintf("%q is too long to scan: its bars would be narrower than %s", text, linearX().least)}
	}
	left := area.Min.X + (area.Dx()-modules*x)/2
	return symbol{
		field: field, matrix: m, x: x, tall: area.Dy(),
		origin:  image.Pt(left+code128Quiet*x, area.Min.Y),
		outline: image.Rect(left, area.Min.Y, left+modules*x, area.Max.Y),
	}, nil
}

// placeQR draws text as QR in the lower right corner of area, quiet zone
// inside.
func placeQR(field, text string, area image.Rectangle, dpi int) (symbol, error) {
	m, err := qrMatrix(text)
	if err != nil {
		return symbol{}, &FieldError{field, err.Error()}
	}
	modules := len(m) + 2*qrQuiet
	x, ok := matrixX().dots(modules, min(area.Dx(), area.Dy()), dpi)
	if !ok {
		return symbol{}, &FieldError{field, fmt.Sprintf("%d bytes are too many to scan: modules would be smaller than %s", len(text), matrixX().least)}
	}
	corner := area.Max.Sub(image.Pt(modules*x, modules*x))
	return symbol{
		field: field, matrix: m, x: x, tall: x,
		origin:  corner.Add(image.Pt(qrQuiet*x, qrQuiet*x)),
		outline: image.Rectangle{Min: corner, Max: area.Max},
	}, nil
}
