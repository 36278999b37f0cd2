package labels

import (
	"fmt"
	"slices"
	"strings"

	"wirehold/inventory/unit"
)

// Size is the stock that a label is printed on.
type Size struct {
	Name          string // "100x75", "4x3in": as it is asked for
	Width, Height unit.Length
}

// Sizes lists the stock that labels can be printed on, smallest first, metric
// before inch (design.md, 8).
func Sizes() []Size {
	const mm, in = unit.Millimetre, unit.Inch
	return []Size{
		{"50x25", 50 * mm, 25 * mm}, {"2x1in", 2 * in, in},
		{"75x50", 75 * mm, 50 * mm}, {"3x2in", 3 * in, 2 * in},
		{"100x75", 100 * mm, 75 * mm}, {"4x3in", 4 * in, 3 * in},
		{"100x150", 100 * mm, 150 * mm}, {"4x6in", 4 * in, 6 * in},
	}
}

// UsualSize is what is taken where nothing is said.
const UsualSize = "100x75"

// ParseSize returns the stock of the name. The error is a [*FieldError] that
// lists those there are.
func ParseSize(name string) (Size, error) {
	name = strings.ToLower(strings.ReplaceAll(name, " ", ""))
	for _, s := range Sizes() {
		if s.Name == strings.TrimSuffix(name, "mm") {
			return s, nil
		}
	}
	return Size{}, &FieldError{"size", fmt.Sprintf("%q is none of the sizes %s", name, strings.Join(sizeNames(), ", "))}
}

func sizeNames() []string {
	var names []string
	for _, s := range Sizes() {
		names = append(names, s.Name)
	}
	return names
}

// String is the size as it is written on the pack: "100 x 75 mm", "4 x 3 in".
func (s Size) String() string {
	unitName := " mm"
	name, inch := strings.CutSuffix(s.Name, "in")
	if inch {
		unitName = " in"
	}
	return strings.ReplaceAll(name, "x", " x ") + unitName
}

// scale is how large text stands on the stock, in hundredths of what it is on
// 100 x 75 mm.
func (s Size) scale() int {
	return int(min(s.Width, s.Height) * 100 / (75 * unit.Millimetre))
}

// smallest reports whether the stock has room for a few lines and one small
// symbol only.
func (s Size) smallest() bool { return s.Height < 40*unit.Millimetre }

// Resolutions lists the printer heads, in dots an inch, that labels can be
// drawn for (printer_module rows of testdata/barcodes.csv).
func Resolutions() []int { return []int{203, 300, 600} }

func checkDPI(dpi int) error {
	if !slices.Contains(Resolutions(), dpi) {
		return &FieldError{"dpi", fmt.Sprintf("%d is none of the resolutions %v", dpi, Resolutions())}
	}
	return nil
}

// dots converts a length to printer dots, to the nearest.
func dots(l unit.Length, dpi int) int {
	return int((int64(l)*int64(dpi) + int64(unit.Inch)/2) / int64(unit.Inch))
}
