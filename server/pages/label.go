package pages

import (
	"bytes"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// spoolLabel returns what the label of the spool says.
func (p *Pages) spoolLabel(s inventory.Spool, lot inventory.Lot, w inventory.Wire) (labels.Spool, error) {
	card, err := w.Card()
	if err != nil {
		return labels.Spool{}, err
	}
	l := labels.Spool{
		Code:           string(s.Code),
		Classification: strings.Join(w.Classifications, " / "),
		Wire:           w.TradeName,
		Diameter:       w.Diameter,
		Marked:         w.Marked,
		Lot:            lot.Number,
	}
	for _, line := range card.Lines {
		addLine(&l, line)
	}
	if s.Opened() {
		l.Opened = s.OpenedAt.In(p.Zone).Format("2006-01-02 15:04")
	}
	if p.Base != "" {
		l.URL = strings.TrimSuffix(p.Base, "/") + "/spools/" + string(s.Code)
	}
	return l, nil
}

// addLine puts one setting onto the label; with a caution where it is not sure
// enough to be used without a look at the box.
func addLine(l *labels.Spool, line inventory.CardLine) {
	if line.Value == "" {
		return
	}
	switch line.Label {
	case "Polarity":
		l.Polarity, l.PolarityWords = line.Value, line.Words
	case "Shielding gas":
		l.Gas = spoken(line.Value)
	case "Passes":
		l.Passes = spoken(line.Value)
		if line.Value == "single and multiple" {
			l.Passes = "any number of passes"
		}
	case "Thickest plate":
		l.Thickness = "up to " + line.Value
	default:
		return
	}
	if !line.Sure {
		l.Cautions = append(l.Cautions, "Confirm "+strings.ToLower(line.Label)+" on the box")
	}
}

// labelOf looks up the label of the spool in the page's address.
func (p *Pages) labelOf(c *gin.Context) (labels.Spool, error) {
	code, err := codeIn(c, inventory.SpoolCode)
	if err != nil {
		return labels.Spool{}, err
	}
	cat := p.Catalog(c.Request.Context())
	spool, err := cat.Spool(code)
	if err != nil {
		return labels.Spool{}, err
	}
	lot, err := cat.Lot(spool.LotID)
	if err != nil {
		return labels.Spool{}, err
	}
	wire, err := cat.Wire(lot.WireID)
	if err != nil {
		return labels.Spool{}, err
	}
	return p.spoolLabel(spool, lot, wire)
}

// spoolLabelPDF answers GET /spools/:code/label.pdf.
func (p *Pages) spoolLabelPDF(c *gin.Context) error {
	label, err := p.labelOf(c)
	if err != nil {
		return err
	}
	return sendLabel(c, "application/pdf", label.Code+".pdf", func(w io.Writer) error {
		return labels.RenderPDF(w, []labels.Spool{label})
	})
}

// usualDPI is the printer head a PNG is drawn for unless ?dpi= says otherwise:
// the commonest of thermal printers (testdata/barcodes.csv, printer_module).
const usualDPI = "203"

// spoolLabelPNG answers GET /spools/:code/label.png.
func (p *Pages) spoolLabelPNG(c *gin.Context) error {
	dpi, err := strconv.Atoi(c.DefaultQuery("dpi", usualDPI))
	if err != nil {
		return inventory.Invalidf("dpi", "%q is no printer resolution: give 203, 300 or 600", c.Query("dpi"))
	}
	label, err := p.labelOf(c)
	if err != nil {
		return err
	}
	return sendLabel(c, "image/png", fmt.Sprintf("%s-%ddpi.png", label.Code, dpi), func(w io.Writer) error {
		return labels.RenderPNG(w, label, dpi)
	})
}

// lotLabels answers GET /lots/:id/labels.pdf: a label for each spool of the
// lot that is not scrapped.
func (p *Pages) lotLabels(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	cat := p.Catalog(c.Request.Context())
	lot, err := cat.Lot(id)
	if err != nil {
		return err
	}
	wire, err := cat.Wire(lot.WireID)
	if err != nil {
		return err
	}
	sheet, err := p.labelsOf(cat, lot, wire)
	if err != nil {
		return err
	}
	return sendLabel(c, "application/pdf", fmt.Sprintf("lot-%d-labels.pdf", id), func(w io.Writer) error {
		return labels.RenderPDF(w, sheet)
	})
}

// labelsOf returns the labels of the lot's spools. One receipt has at most 500
// packages, so that this reads three pages of them at most.
func (p *Pages) labelsOf(cat Catalog, lot inventory.Lot, wire inventory.Wire) ([]labels.Spool, error) {
	var out []labels.Spool
	for after := 0; ; after += mostLines {
		lines, err := cat.Spools(inventory.Query{Lot: lot.ID, Limit: mostLines, After: after})
		if err != nil {
			return nil, err
		}
		for _, line := range lines {
			if line.Scrapped {
				continue
			}
			label, err := p.spoolLabel(line.Spool, lot, wire)
			if err != nil {
				return nil, err
			}
			out = append(out, label)
		}
		if len(lines) < mostLines {
			break
		}
	}
	if len(out) == 0 {
		return nil, inventory.NotFoundf("no-such-label", "lot %s has no spool that needs a label", lot.Number)
	}
	return out, nil
}

// sendLabel answers with what draw draws, under the file name.
func sendLabel(c *gin.Context, mediaType, name string, draw func(io.Writer) error) error {
	var out bytes.Buffer
	if err := draw(&out); err != nil {
		return labelError(err)
	}
	c.Header("Content-Disposition", fmt.Sprintf("inline; filename=%q", name))
	c.Data(http.StatusOK, mediaType, out.Bytes())
	return nil
}

// labelError makes what the label cannot say a fault of its field.
func labelError(err error) error {
	if e, ok := asFieldError(err); ok {
		return inventory.Invalidf(e.Field, "%s", e.Error())
	}
	return fmt.Errorf("draw label: %w", err)
}
