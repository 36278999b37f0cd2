package pages

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// Press draws the labels.
func (p *Pages) Press() *labels.Press { return p.press }

// LabelShop is what the labels say of the shop.
func (p *Pages) LabelShop() labels.Shop { return labels.Shop{Base: p.Base, Zone: p.Zone} }

// spoolLabelPDF answers GET /spools/:code/label.pdf.
func (p *Pages) spoolLabelPDF(c *gin.Context) error { return p.spoolLabel(c, labels.PDF) }

// spoolLabelPNG answers GET /spools/:code/label.png.
func (p *Pages) spoolLabelPNG(c *gin.Context) error { return p.spoolLabel(c, labels.PNG) }

func (p *Pages) spoolLabel(c *gin.Context, f labels.Format) error {
	code, err := codeIn(c, inventory.SpoolCode)
	if err != nil {
		return err
	}
	order, err := labelOrder(c)
	if err != nil {
		return err
	}
	order.Format = string(f)
	return p.drawCode(c, code, order)
}

// label answers GET /labels/:code/label: the label of what the code names.
func (p *Pages) label(c *gin.Context) error {
	code, err := anyCodeIn(c)
	if err != nil {
		return err
	}
	order, err := labelOrder(c)
	if err != nil {
		return err
	}
	return p.drawCode(c, code, order)
}

func (p *Pages) drawCode(c *gin.Context, code inventory.Code, order labels.Order) error {
	kind, err := labels.ParseKind(code.Kind(), c.Query("kind"))
	if err != nil {
		return labelError(err)
	}
	l, err := p.LabelShop().Of(p.Catalog(c.Request.Context()), kind, code)
	if err != nil {
		return labelError(err)
	}
	return p.drawLabels(c, []labels.Label{l}, order, fmt.Sprintf("%s-%s", code, kind))
}

// lotLabels answers GET /lots/:id/labels.pdf and GET /lots/:id/labels/label: a
// label for each spool of the lot that is not scrapped, or the lot's own.
func (p *Pages) lotLabels(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	order, err := labelOrder(c)
	if err != nil {
		return err
	}
	kind, err := labels.ParseLotKind(c.Query("kind"))
	if err != nil {
		return labelError(err)
	}
	sheet, err := p.LabelShop().OfLot(p.Catalog(c.Request.Context()), kind, id)
	if err != nil {
		return labelError(err)
	}
	return p.drawLabels(c, sheet, order, fmt.Sprintf("lot-%d-%s-labels", id, kind))
}

// labelOrder reads how labels are asked for.
func labelOrder(c *gin.Context) (labels.Order, error) {
	o := labels.Order{Size: c.Query("size"), Format: c.Query("format"), Sheet: c.Query("sheet")}
	for _, field := range []struct {
		name string
		to   *int
	}{{"dpi", &o.DPI}, {"columns", &o.Columns}, {"rows", &o.Rows}, {"start", &o.Start}} {
		text := c.Query(field.name)
		if text == "" {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil {
			return o, inventory.Invalidf(field.name, "%q is no whole number", text)
		}
		*field.to = n
	}
	return o, nil
}

// drawLabels answers with the labels as they are asked for, under the file name.
func (p *Pages) drawLabels(c *gin.Context, ls []labels.Label, order labels.Order, name string) error {
	how, format, err := order.Print()
	if err != nil {
		return labelError(err)
	}
	var out bytes.Buffer
	if err := p.press.Draw(&out, ls, how, format, nil); err != nil {
		return labelError(err)
	}
	c.Header("Content-Disposition", fmt.Sprintf("inline; filename=%q", fmt.Sprintf("%s.%s", name, format)))
	c.Data(http.StatusOK, format.MediaType(), out.Bytes())
	return nil
}

// labelError makes what the label cannot say a fault of its field.
func labelError(err error) error {
	if e, ok := asFieldError(err); ok {
		return inventory.Invalidf(e.Field, "%s", e.Error())
	}
	if _, ok := asError(err); ok {
		return err
	}
	return fmt.Errorf("draw label: %w", err)
}

// LabelPage offers the labels of one thing, or of a lot's spools.
type LabelPage struct {
	Base
	Kicker  string
	Heading string
	Back    string // the thing's own page
	Path    string // of this page
	Action  string // where the label is asked for
	Preview string // the label as chosen, as SVG; empty if it cannot be drawn
	Alt     string // what the preview shows
	Count   int    // how many labels there are; 1 but for a lot
	Form    Form
	Print   *Form // sends it to a printer; nil if there is none, or it cannot be drawn
}

// labelPage answers GET /labels/:code.
func (p *Pages) labelPage(c *gin.Context) error {
	code, err := anyCodeIn(c)
	if err != nil {
		return err
	}
	kinds := labels.KindsOf(code.Kind())
	page := LabelPage{Base: p.base(c, "Label of "+string(code), ""), Kicker: "Label", Heading: string(code), Back: codePage(code), Path: "/labels/" + string(code), Action: "/labels/" + string(code) + "/label", Count: 1}
	kind, err := labels.ParseKind(code.Kind(), c.Query("kind"))
	if err == nil {
		var l labels.Label
		if l, err = p.LabelShop().Of(p.Catalog(c.Request.Context()), kind, code); err == nil {
			err = p.tryLabel(c, &page, l)
		}
	}
	return p.showLabelPage(c, page, kinds, kind, err)
}

// lotLabelPage answers GET /lots/:id/labels.
func (p *Pages) lotLabelPage(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	cat := p.Catalog(c.Request.Context())
	lot, err := cat.Lot(id)
	if err != nil {
		return err
	}
	path := "/lots/" + strconv.FormatInt(id, 10)
	page := LabelPage{Base: p.base(c, "Labels of lot "+lot.Number, "lots"), Kicker: "Labels of lot", Heading: lot.Number, Back: path, Path: path + "/labels", Action: path + "/labels/label"}
	kind, err := labels.ParseLotKind(c.Query("kind"))
	if err == nil {
		var all []labels.Label
		if all, err = p.LabelShop().OfLot(cat, kind, id); err == nil {
			page.Count = len(all)
			err = p.tryLabel(c, &page, all[0])
		}
	}
	return p.showLabelPage(c, page, labels.LotKinds(), kind, err)
}

// tryLabel draws the label as it is asked for, to show it or to say why it
// cannot be drawn.
func (p *Pages) tryLabel(c *gin.Context, page *LabelPage, l labels.Label) error {
	order, err := labelOrder(c)
	if err != nil {
		return err
	}
	how, _, err := order.Print()
	if err != nil {
		return err
	}
	how.Paper = labels.Paper{}
	if err := p.press.SVG(new(bytes.Buffer), []labels.Label{l}, how); err != nil {
		return err
	}
	q := url.Values{"kind": {c.Query("kind")}, "size": {how.Size.Name}, "dpi": {strconv.Itoa(how.DPI)}, "format": {"svg"}}
	page.Preview = "/labels/" + l.Code + "/label?" + q.Encode()
	if l.Kind == labels.KindLot {
		page.Preview = page.Action + "?" + q.Encode()
	}
	page.Alt = l.Said()
	return nil
}

func (p *Pages) showLabelPage(c *gin.Context, page LabelPage, kinds []labels.Kind, kind labels.Kind, err error) error {
	page.Form = labelForm(c, page.Action, kinds, kind, page.Count)
	if err == nil {
		if page.Print, err = p.printForm(c, page.Path+"/print", string(kind), page.Count); err != nil {
			return err
		}
	}
	if err != nil {
		if err = labelError(err); !again(err) || inventory.KindOf(err) == inventory.NotFound {
			return err
		}
		page.Trouble = trouble(c, err)
		page.Form = page.Form.filled(func(field string) string {
			return c.DefaultQuery(field, map[string]string{"kind": string(kind), "size": labels.UsualSize, "dpi": strconv.Itoa(labels.UsualDPI)}[field])
		}, err)
	}
	return p.show(c, page.Trouble.status(), "label", page)
}

// labelForm offers kind, size, format, printer and sheet.
func labelForm(c *gin.Context, action string, kinds []labels.Kind, kind labels.Kind, count int) Form {
	f := Form{Name: "label", Action: action, Submit: "Draw it"}
	if count > 1 {
		f.Submit = fmt.Sprintf("Draw %d labels", count)
	}
	var kindOptions, sizes, formats, heads, sheets []Option
	for _, k := range kinds {
		kindOptions = append(kindOptions, Option{string(k), k.Words(), k == kind})
	}
	size := c.DefaultQuery("size", labels.UsualSize)
	for _, s := range labels.Sizes() {
		sizes = append(sizes, Option{s.Name, s.String(), s.Name == size})
	}
	for _, s := range labels.Formats() {
		formats = append(formats, Option{string(s), s.Words(), string(s) == c.Query("format")})
	}
	dpi := c.DefaultQuery("dpi", strconv.Itoa(labels.UsualDPI))
	for _, d := range labels.Resolutions() {
		text := strconv.Itoa(d)
		heads = append(heads, Option{text, text + " dpi", text == dpi})
	}
	sheets = append(sheets, Option{"", "label stock: a page a label", c.Query("sheet") == ""})
	for _, s := range labels.Papers() {
		sheets = append(sheets, Option{s.Name, s.Name + " sheet", s.Name == c.Query("sheet")})
	}
	return f.fields(
		Field{Name: "kind", Label: "Label", Type: "select", Required: true, Options: kindOptions},
		Field{Name: "size", Label: "Size", Type: "select", Required: true, Options: sizes},
		Field{Name: "dpi", Label: "Printer", Type: "select", Required: true, Options: heads, Hint: "Bars are whole dots of this printer"},
		Field{Name: "format", Label: "File", Type: "select", Required: true, Options: formats},
		Field{Name: "sheet", Label: "On", Type: "select", Required: true, Options: sheets},
		Field{Name: "start", Label: "First place on the sheet", Type: "number", Value: c.Query("start"), Hint: "From 1, row by row: for a sheet that has been used before"})
}

// anyCodeIn reads a code of any kind from the address.
func anyCodeIn(c *gin.Context) (inventory.Code, error) {
	code, err := inventory.ParseCode(c.Param("code"))
	if err != nil {
		return "", inventory.NotFoundf("no-such-code", "%s", detailOf(err))
	}
	return code, nil
}
