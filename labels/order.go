package labels

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"wirehold/inventory"
)

// Format is the sort of file that labels are drawn to.
type Format string

// The formats.
const (
	PDF Format = "pdf"
	PNG Format = "png"
	SVG Format = "svg"
)

// Formats lists the formats in the order in which they are offered.
func Formats() []Format { return []Format{PDF, PNG, SVG} }

// MediaType is the format's name in HTTP and mail (IANA).
func (f Format) MediaType() string {
	return map[Format]string{PDF: "application/pdf", PNG: "image/png", SVG: "image/svg+xml"}[f]
}

// Words says what the format is for.
func (f Format) Words() string {
	return map[Format]string{PDF: "PDF: for any printer", PNG: "PNG: dot by dot, for a label printer", SVG: "SVG: for a drawing"}[f]
}

// UsualDPI is the commonest of thermal printers (testdata/barcodes.csv,
// printer_module).
const UsualDPI = 203

// Order is how labels are asked for. What is left empty is the usual: PDF on
// 100 x 75 mm for a 203 dpi printer, a page a label.
type Order struct {
	Size   string
	Format string
	DPI    int
	Sheet  string // "A4" or "Letter"; empty is a page a label

	Columns, Rows, Start int // as of [Paper]
}

// Print reads the order. The error is a [*FieldError] that names the field.
func (o Order) Print() (Print, Format, error) {
	if o.Size == "" {
		o.Size = UsualSize
	}
	if o.Format == "" {
		o.Format = string(PDF)
	}
	if o.DPI == 0 {
		o.DPI = UsualDPI
	}
	how := Print{DPI: o.DPI}
	var err error
	if how.Size, err = ParseSize(o.Size); err != nil {
		return Print{}, "", err
	}
	if !slices.Contains(Formats(), Format(o.Format)) {
		return Print{}, "", &FieldError{"format", fmt.Sprintf("%q is none of pdf, png, svg", o.Format)}
	}
	if o.Sheet != "" {
		if how.Paper, err = ParsePaper(o.Sheet); err != nil {
			return Print{}, "", err
		}
		how.Paper.Columns, how.Paper.Rows, how.Paper.Start = o.Columns, o.Rows, o.Start
	}
	return how, Format(o.Format), checkDPI(o.DPI)
}

// Draw draws labels in the format; see [Press.PDF] and [Press.PNG]. done, if
// not nil, is told how many labels of a PDF are done.
func (p *Press) Draw(w io.Writer, labels []Label, how Print, f Format, done func(int)) error {
	switch f {
	case PNG:
		return p.PNG(w, labels, how)
	case SVG:
		return p.SVG(w, labels, how)
	}
	return p.PDF(w, labels, how, done)
}

// Fits refuses labels that cannot be drawn on the stock that is in a printer: in
// its queue nobody would be told. The error is [inventory.Invalid] at field, and
// says what stock would do.
func (p *Press) Fits(all []Label, on inventory.Printer, field string) error {
	how, _, err := Order{Size: on.Size, DPI: on.DPI}.Print()
	if err == nil {
		err = p.PDF(io.Discard, all, how, nil)
	}
	if e, ok := errors.AsType[*FieldError](err); ok {
		return inventory.Invalidf(field, "%s holds labels that cannot take it: %s: %s", on.Name, e.Field, e.Reason)
	}
	return err
}
