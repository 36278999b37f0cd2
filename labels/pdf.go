package labels

import (
	"bytes"
	"fmt"
	"image"
	"math"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"wirehold/inventory/unit"
)

// document paints sheets onto the pages of a PDF. Its unit is the point.
type document struct {
	pdf    *fpdf.Fpdf
	dot    float64     // points
	height float64     // of the page, as the file says it
	origin image.Point // of the sheet being painted, in dots
	bars   []byte      // one path of all that is black on the page
	texts  []text      // on the page, in the order in which they are painted
	from   []image.Point
}

const fontFamily = "label"

// points converts a length to PDF points, to the hundredth the file is written in.
func points(l unit.Length) float64 {
	return math.Round(float64(l)/float64(unit.Inch)*72*100) / 100
}

// newDocument returns an empty document.
func newDocument(how Print, f fonts) (*document, error) {
	stock := how.Size
	if how.Paper.Name != "" {
		stock = Size{how.Paper.Name, how.Paper.Width, how.Paper.Height}
	}
	page := fpdf.SizeType{Wd: points(stock.Width), Ht: points(stock.Height)}
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: page})
	pdf.SetCompression(false) // see [packer.pdf]
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCatalogSort(true)
	made := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // fixed: equal labels, equal bytes
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetProducer("Wirehold", false)
	pdf.SetTitle("Labels", false)
	pdf.AddUTF8FontFromBytes(fontFamily, f.regular.name, goregular.TTF)
	pdf.AddUTF8FontFromBytes(fontFamily, f.bold.name, gobold.TTF)
	if err := pdf.Error(); err != nil {
		return nil, fmt.Errorf("prepare PDF: %w", err)
	}
	return &document{pdf: pdf, dot: 72 / float64(how.DPI), height: page.Ht}, nil
}

// page adds a page. All that is black on it is one path whose edges lie within
// the dots they end at, counted from the top left corner: a printer that blackens each
// dot that is touched, and one that blackens those half covered, print the same
// whole dots. Then come the texts.
func (d *document) page(pg page) error {
	d.pdf.AddPage()
	d.bars = strconv.AppendFloat(append(d.bars[:0], "q "...), d.dot, 'f', 8, 64)
	d.bars = strconv.AppendFloat(append(d.bars, " 0 0 "...), -d.dot, 'f', 8, 64)
	d.bars = strconv.AppendFloat(append(d.bars, ' '), inset*d.dot, 'f', 5, 64)
	d.bars = strconv.AppendFloat(append(d.bars, ' '), d.height-inset*d.dot, 'f', 5, 64)
	d.bars = append(d.bars, " cm\n"...)
	d.texts, d.from = d.texts[:0], d.from[:0]
	for i := range pg.sheets {
		d.origin = pg.at[i]
		pg.sheets[i].paint(d)
	}
	d.bars = append(d.bars, "f Q"...)
	d.pdf.RawWriteBuf(bytes.NewReader(d.bars))
	for i, t := range d.texts {
		d.pdf.SetFont(fontFamily, t.face.name, float64(t.em)*d.dot)
		at := t.baseline.Add(d.from[i])
		d.pdf.Text(float64(at.X)*d.dot, float64(at.Y)*d.dot, t.words)
	}
	if err := d.pdf.Error(); err != nil {
		return fmt.Errorf("draw PDF: %w", err)
	}
	return nil
}

func (d *document) text(t text) {
	d.texts, d.from = append(d.texts, t), append(d.from, d.origin)
}

// inset is how far inside its dots an edge lies, in dots; twice that is missing
// from the length of every bar.
const inset = 0.02

func (d *document) bar(r image.Rectangle) {
	r = r.Add(d.origin)
	d.bars = append(strconv.AppendInt(d.bars, int64(r.Min.X), 10), ' ')
	d.bars = append(strconv.AppendInt(d.bars, int64(r.Min.Y), 10), ' ')
	d.bars = append(strconv.AppendInt(d.bars, int64(r.Dx()-1), 10), ".96 "...)
	d.bars = append(strconv.AppendInt(d.bars, int64(r.Dy()-1), 10), ".96 re\n"...)
}

// stripes adds each bar of the band as a polygon.
func (d *document) stripes(s stripes) {
	for _, shape := range s.shapes() {
		for i, p := range shape {
			p = p.Add(d.origin)
			d.bars = append(strconv.AppendInt(d.bars, int64(p.X), 10), ' ')
			d.bars = append(strconv.AppendInt(d.bars, int64(p.Y), 10), ' ')
			d.bars = append(d.bars, map[bool]string{true: "m ", false: "l "}[i == 0]...)
		}
		d.bars = append(d.bars, "h\n"...)
	}
}
