package labels

import (
	"fmt"

	"github.com/boombuler/barcode/datamatrix"
)

// dataMatrix encodes text as Data Matrix (ISO/IEC 16022, ECC 200). Text must
// be printable ASCII: the library writes the bytes of other letters one by one,
// which readers show as other letters, and takes a first byte of 232 for the
// start of a GS1 message (testdata/barcodes.csv K-13, K-14).
func dataMatrix(text string) (matrix, error) {
	if err := scannable(text); err != nil {
		return nil, err
	}
	code, err := datamatrix.Encode(text)
	if err != nil {
		return nil, fmt.Errorf("data matrix of %q: %w", text, err)
	}
	return modulesOf(code, code.Bounds().Dy()), nil
}
