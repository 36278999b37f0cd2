package labels

import (
	"errors"
	"fmt"
	"image"
	"io"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"wirehold/inventory/unit"
)

// RenderPDF writes a PDF of one page a label, in the order given, on 100 x 75
// mm stock. Nothing in it is an image: letters are letters, and each bar is a
// filled rectangle on the dots of a 203 dpi printer. The same labels always
// give the same bytes.
//
// A character the font lacks prints as a box. The error is a [*FieldError]
// when a label cannot be printed whole; otherwise it comes from w. Nothing is
// written unless all labels fit.
func RenderPDF(w io.Writer, labels []Spool) error {
	if len(labels) == 0 {
		return errors.New("render labels: none given")
	}
	p, err := newDocument(size100x75, pdfDPI)
	if err != nil {
		return err
	}
	for _, l := range labels {
		if err := l.check(); err != nil {
			return err
		}
		s, err := layOutSpoolIn(p.fonts, l, size100x75, pdfDPI)
		if err != nil {
			return fmt.Errorf("spool %s: %w", l.Code, err)
		}
		p.pdf.AddPage()
		s.paint(p)
	}
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}

// document paints sheets onto the pages of a PDF. Its unit is the point.
type document struct {
	pdf    *fpdf.Fpdf
	fonts  fonts
	dot    float64 // points
	height float64 // of the page, as the file says it
}

const fontFamily = "label"

// points converts a length to PDF points, to the hundredth the file is written in.
func points(l unit.Length) float64 {
	return math.Round(float64(l)/float64(unit.Inch)*72*100) / 100
}

func newDocument(stock size, dpi int) (*document, error) {
	f, err := newFonts()
	if err != nil {
		return nil, err
	}
	page := fpdf.SizeType{Wd: points(stock.width), Ht: points(stock.height)}
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: page})
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCatalogSort(true)
	made := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // fixed: equal labels, equal bytes
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetProducer("Wirehold", false)
	pdf.SetTitle("Spool labels", false)
	pdf.AddUTF8FontFromBytes(fontFamily, f.regular.name, goregular.TTF)
	pdf.AddUTF8FontFromBytes(fontFamily, f.bold.name, gobold.TTF)
	if err := pdf.Error(); err != nil {
		return nil, fmt.Errorf("prepare PDF: %w", err)
	}
	return &document{pdf: pdf, fonts: f, dot: 72 / float64(dpi), height: page.Ht}, nil
}

func (d *document) text(t text) {
	d.pdf.SetFont(fontFamily, t.face.name, float64(t.em)*d.dot)
	d.pdf.Text(float64(t.baseline.X)*d.dot, float64(t.baseline.Y)*d.dot, t.words)
}

// bar writes the rectangle itself, to a hundred-thousandth of a point, so that
// its edges lie on the dots whatever the reader's rounding: the library writes
// hundredths, which are 1/35 of a dot.
func (d *document) bar(r image.Rectangle) {
	d.pdf.RawWriteStr(fmt.Sprintf("%.5f %.5f %.5f %.5f re f",
		float64(r.Min.X)*d.dot, d.height-float64(r.Max.Y)*d.dot, float64(r.Dx())*d.dot, float64(r.Dy())*d.dot))
}
