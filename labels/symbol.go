package labels

import (
	"fmt"
	"image"
	"image/color"

	"github.com/boombuler/barcode"

	"wirehold/inventory/unit"
)

// matrix holds the modules of a symbol row by row, true for dark, without a
// quiet zone. A linear symbol has one row.
type matrix [][]bool

// Quiet zones, in modules on each side.
const (
	code128Quiet = 10 // ISO/IEC 15417 (memory; testdata/barcodes.csv J-09)
	qrQuiet      = 4  // ISO/IEC 18004 (memory)

	// One is asked for, and print two (testdata/barcodes.csv J-07).
	dataMatrixQuiet = 2
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

// dataMatrixX is the range of testdata/barcodes.csv J-05.
func dataMatrixX() moduleRange { return moduleRange{254 * unit.Micrometre, 495 * unit.Micrometre} }

// dots returns the widest module, in whole dots, with which modules fit into
// width dots. It reports false if that is narrower than a scanner reads.
func (m moduleRange) dots(modules, width, dpi int) (int, bool) {
	x := min(width/modules, dots(m.wanted, dpi))
	return x, x >= m.leastDots(dpi)
}

// leastDots is the narrowest module in whole dots (testdata/barcodes.csv,
// printer_module).
func (m moduleRange) leastDots(dpi int) int {
	return int((int64(m.least)*int64(dpi) + int64(unit.Inch) - 1) / int64(unit.Inch))
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

// placeCode128 is text as Code 128, as wide as width dots allow, quiet zone
// inside, its corner at the origin and its bars of no length yet.
func placeCode128(field, text string, width, dpi int) (symbol, error) {
	m, err := code128Matrix(text)
	if err != nil {
		return symbol{}, &FieldError{field, err.Error()}
	}
	modules := len(m[0]) + 2*code128Quiet
	x, ok := linearX().dots(modules, width, dpi)
	if !ok {
		return symbol{}, &FieldError{field, fmt.Sprintf("%q is too long to scan: its bars would be narrower than %s", text, linearX().least)}
	}
	return symbol{field: field, matrix: m, x: x, origin: image.Pt(code128Quiet*x, 0), outline: image.Rect(0, 0, modules*x, 0)}, nil
}

// square is a matrix code before it has a size.
type square struct {
	field  string
	matrix matrix
	quiet  int // modules on each side
	module moduleRange
}

// newQR is text as QR.
func newQR(field, text string) (square, error) {
	m, err := qrMatrix(text)
	if err != nil {
		return square{}, &FieldError{field, err.Error()}
	}
	return square{field, m, qrQuiet, matrixX()}, nil
}

// newCodeSquare is a code as Data Matrix, or as QR if it holds letters that
// Data Matrix is not drawn for here.
func newCodeSquare(field, code string) (square, error) {
	m, err := dataMatrix(code)
	if err != nil {
		return newQR(field, code)
	}
	return square{field, m, dataMatrixQuiet, dataMatrixX()}, nil
}

func (q square) modules() int { return len(q.matrix) + 2*q.quiet }

// least is the smallest side, in dots, at which q can be read.
func (q square) least(dpi int) int { return q.modules() * q.module.leastDots(dpi) }

// side is the side that q takes of so many dots; zero if it cannot be read
// there.
func (q square) side(dots, dpi int) int {
	x, ok := q.module.dots(q.modules(), dots, dpi)
	if !ok {
		return 0
	}
	return x * q.modules()
}

// place is q as large as side dots allow, quiet zone inside, its corner at the
// origin.
func (q square) place(side, dpi int) (symbol, error) {
	x, ok := q.module.dots(q.modules(), side, dpi)
	if !ok {
		return symbol{}, q.tooSmall()
	}
	all := q.modules() * x
	return symbol{field: q.field, matrix: q.matrix, x: x, tall: x, origin: image.Pt(q.quiet*x, q.quiet*x), outline: image.Rect(0, 0, all, all)}, nil
}

func (q square) tooSmall() error {
	return &FieldError{q.field, fmt.Sprintf("too much to scan: modules would be smaller than %s", q.module.least)}
}
