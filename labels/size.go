package labels

import (
	"fmt"
	"slices"

	"wirehold/inventory/unit"
)

// size is the stock a label is printed on.
type size struct {
	width, height unit.Length
}

// size100x75 is the thermal label of 100 x 75 mm.
var size100x75 = size{100 * unit.Millimetre, 75 * unit.Millimetre}

// pdfDPI is the printer a PDF is laid out for. A PDF's symbols have modules of
// whole dots on a 203 dpi head and on its multiples; no module is whole at
// both 203 and 300 dpi, so a 300 dpi printer is better served by its own PNG.
const pdfDPI = 203

// resolutions lists the printer heads, in dots an inch, that a PNG can be
// drawn for (printer_module rows of testdata/barcodes.csv).
func resolutions() []int { return []int{203, 300, 600} }

func checkDPI(dpi int) error {
	if !slices.Contains(resolutions(), dpi) {
		return &FieldError{"dpi", fmt.Sprintf("%d is none of the resolutions %v", dpi, resolutions())}
	}
	return nil
}

// dots converts a length to printer dots, to the nearest.
func dots(l unit.Length, dpi int) int {
	return int((int64(l)*int64(dpi) + int64(unit.Inch)/2) / int64(unit.Inch))
}
