package pages

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// WireFormPage enters a wire, or edits one.
type WireFormPage struct {
	Base
	Wire  inventory.Wire // as it stands; zero for a new one
	Form  Form
	Parts []FormPart
}

// FormPart is some of a form's fields under a heading of their own.
type FormPart struct {
	Title  string
	Lead   string
	Fold   bool // shut until it is wanted
	Open   bool
	Fields []Field
}

// newWire answers GET /wires/new.
func (p *Pages) newWire(c *gin.Context) error {
	return p.showWireForm(c, p.wireForm(c, inventory.Wire{}), nil)
}

// editWire answers GET /wires/:id/edit.
func (p *Pages) editWire(c *gin.Context) error {
	w, err := p.wireAt(c)
	if err != nil {
		return err
	}
	return p.showWireForm(c, p.wireForm(c, w), nil)
}

func (p *Pages) wireAt(c *gin.Context) (inventory.Wire, error) {
	id, err := number(c, "id")
	if err != nil {
		return inventory.Wire{}, err
	}
	return p.Catalog(c.Request.Context()).Wire(id)
}

func (p *Pages) showWireForm(c *gin.Context, page *WireFormPage, err error) error {
	if err != nil {
		page.Trouble = trouble(c, err)
	}
	page.divide()
	return p.show(c, page.Trouble.status(), "wireform", page)
}

// saveWire answers POST /wires and POST /wires/:id.
func (p *Pages) saveWire(c *gin.Context) error {
	before, save := inventory.Wire{}, p.Ledger.EnterWire
	if c.Param("id") != "" {
		var err error
		if before, err = p.wireAt(c); err != nil {
			return err
		}
		save = p.Ledger.ChangeWire
	}
	in := p.posted(c)
	entry := inventory.WireEntry{Person: in.badge(), RequestKey: in.get("request_key"), Wire: in.wire(before)}
	err := in.err()
	if err == nil {
		var w inventory.Wire
		if w, err = save(c.Request.Context(), entry); err == nil {
			return seeOther(c, "/wires/"+strconv.FormatInt(w.ID, 10)+"?done="+strconv.Itoa(w.Version))
		}
	}
	if !again(err) {
		return err
	}
	page := p.wireForm(c, before)
	page.Form = page.Form.filled(in.get, err)
	return p.showWireForm(c, page, err)
}

// How many fields of the form belong to the box, and how many stand before the
// facts of sheet and shop.
const boxFields, sheetFields, shopFields = 10, 2, 1

// wireForm returns the form with what is known of w.
func (p *Pages) wireForm(c *gin.Context, w inventory.Wire) *WireFormPage {
	page := &WireFormPage{Base: p.base(c, "New wire", "wires"), Wire: w}
	form := Form{Name: "wire", Action: "/wires", Submit: "Enter the wire", Hidden: []Hidden{{"request_key", p.NewKey()}}}
	if w.ID != 0 {
		page.Base = p.base(c, "Edit "+w.TradeName, "wires")
		form.Action, form.Submit = "/wires/"+strconv.FormatInt(w.ID, 10), "Save the wire"
		form.Hidden = append(form.Hidden, Hidden{"version", strconv.Itoa(w.Version)})
	}
	fields := boxPart(w, c.Query("badge"))
	title, revision := w.SheetOf()
	fields = append(fields,
		Field{Name: "sheet_title", Label: "Title of the data sheet", Type: "text", Value: title, Hint: "As it is printed; needed once a value below is from it"},
		Field{Name: "sheet_revision", Label: "Revision or date of the sheet", Type: "text", Value: revision})
	fields = append(fields, factFields(w, filler.DataSheet, "")...)
	fields = append(fields, Field{Name: "shop_source", Label: "How the shop knows", Type: "text", Hint: "For what you enter or change below: who tried it, when, on what"})
	fields = append(fields, factFields(w, filler.Shop, "shop_")...)
	page.Form = form.fields(fields...)
	return page
}

// boxPart asks for what stands on the box.
func boxPart(w inventory.Wire, badge string) []Field {
	diameter := ""
	if w.Diameter > 0 {
		diameter = w.Diameter.Inches()
		if size, err := unit.ParseLength(diameter); err != nil || size != w.Diameter {
			diameter = w.Diameter.String()
		}
	}
	return []Field{badgeField(badge),
		{Name: "trade_name", Label: "Trade name", Type: "text", Value: w.TradeName, Required: true},
		{Name: "maker", Label: "Maker", Type: "text", Value: w.Maker},
		{Name: "classifications", Label: "Classifications", Type: "textarea", Value: strings.Join(w.Classifications, "\n"), Required: true, Hint: "As on the box, one a line: E71T-1C-H8"},
		{Name: "diameter", Label: "Diameter", Type: "text", Value: diameter, Required: true, Suggest: filler.Sizes(), Hint: "With its unit: .045 in, 3/32 in or 1.2 mm"},
		{Name: "marked", Label: "Size as the box marks it", Type: "text", Value: w.Marked, Hint: "Word for word: .045 in (1.1 mm). Empty takes the diameter as typed"},
		{Name: "package", Label: "Package", Type: "text", Value: w.Package, Suggest: filler.Packages(), Hint: "12 in spool, 60 lb coil, drum"},
		{Name: "net", Label: "Net weight of a full package", Type: "text", Value: weightText(w.Net), Required: true, Hint: "With its unit: 15 kg or 33 lb"},
		{Name: "tare", Label: "Weight of the empty spool", Type: "text", Value: weightText(w.Tare), Required: true, Hint: "With its unit: 700 g"},
		{Name: "minimum", Label: "Shop's minimum in stock", Type: "text", Value: weightText(w.Minimum), Hint: "With its unit. Empty is none"},
	}
}

func weightText(g unit.Grams) string {
	if g == 0 {
		return ""
	}
	return g.String()
}

// factFields asks for what the sheet or the shop says, with names that begin
// with prefix.
func factFields(w inventory.Wire, by filler.Provenance, prefix string) []Field {
	var out []Field
	for _, f := range inventory.SheetFacts() {
		field := Field{Name: prefix + f.Name, Label: f.Label, Type: "text", Value: f.Text(told(w, f.Name, by)), Hint: sentence(f.Accepts())}
		if f.Shape == inventory.GasUseShape {
			field.Type, field.Value = "textarea", strings.ReplaceAll(field.Value, "; ", "\n")
		}
		out = append(out, field)
	}
	return out
}

// told returns what is said of one fact by the sheet or the shop itself, what
// was settled or confirmed apart.
func told(w inventory.Wire, name string, by filler.Provenance) filler.Facts {
	return slices.DeleteFunc(w.Supplied.Named(name), func(f filler.Fact) bool { return f.Provenance != by || inventory.Decided(f) })
}

// sentence begins text with a capital.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// divide puts the fields under their headings.
func (page *WireFormPage) divide() {
	fields, facts := page.Form.Fields, len(inventory.SheetFacts())
	sheetEnd := boxFields + sheetFields + facts
	shop := fields[sheetEnd : sheetEnd+shopFields+facts]
	page.Parts = []FormPart{
		{Title: "The box", Fields: fields[:boxFields]},
		{Title: "The data sheet", Lead: "What the sheet says, each value with its unit. Leave empty what it does not say: unknown never satisfies a demand.", Fields: fields[boxFields:sheetEnd]},
		{Title: "What the shop itself says", Lead: "From the shop's own trials. It outranks box and sheet, may narrow them and not contradict them, and only the welding engineer or the owner enters it.",
			Fold: true, Open: slices.ContainsFunc(shop, func(f Field) bool { return f.Value != "" || f.Fault != "" }), Fields: shop},
	}
}

// wire reads the form. before is the wire as it stands: what the shop said of
// it and is left as it was keeps its source.
func (in *input) wire(before inventory.Wire) inventory.Wire {
	w := inventory.Wire{ID: before.ID, Version: int(in.whole("version")), TradeName: in.get("trade_name"), Maker: in.get("maker"),
		Marked: in.get("marked"), Package: in.get("package"), Net: in.weight("net", true), Tare: in.weight("tare", true), Minimum: in.weight("minimum", false)}
	for line := range strings.Lines(in.get("classifications")) {
		if line = strings.TrimSpace(line); line != "" {
			w.Classifications = append(w.Classifications, line)
		}
	}
	in.classifications(w.Classifications)
	if w.TradeName == "" {
		in.fault("trade_name", "give the name on the box")
	}
	typed := in.get("diameter")
	if d, err := unit.ParseLength(typed); err == nil && d > 0 {
		w.Diameter = d
	} else {
		in.fault("diameter", "give the diameter with its unit, such as .045 in or 1.2 mm")
	}
	if w.Marked == "" {
		w.Marked = typed
	}
	w.Supplied = append(in.sheetFacts(), in.shopFacts(before)...)
	return w
}

// classifications reads each at once: the fault names the character.
func (in *input) classifications(typed []string) {
	if len(typed) == 0 {
		in.fault("classifications", "give at least one classification from the box, such as E71T-1C")
	}
	for _, text := range typed {
		if _, err := filler.Decode(text); err != nil {
			in.fault("classifications", err.Error())
			return
		}
	}
}

// weight reads a weight; zero if the field is empty, which is a fault where it
// is required.
func (in *input) weight(field string, required bool) unit.Grams {
	g := in.grams(field)
	if g != nil {
		return *g
	}
	if required && in.get(field) == "" {
		in.fault(field, "give the weight with its unit")
	}
	return 0
}

func (in *input) sheetFacts() (out filler.Facts) {
	source := inventory.SheetSource(in.get("sheet_title"), in.get("sheet_revision"))
	for _, f := range inventory.SheetFacts() {
		for _, fact := range in.fact(f, "") {
			fact.Provenance, fact.Source = filler.DataSheet, source
			out = append(out, fact)
		}
	}
	if len(out) > 0 && in.get("sheet_title") == "" {
		in.fault("sheet_title", "say which sheet the values below are from: its title")
	}
	return out
}

func (in *input) shopFacts(before inventory.Wire) (out filler.Facts) {
	source, news := in.get("shop_source"), false
	for _, f := range inventory.SheetFacts() {
		was, facts := told(before, f.Name, filler.Shop), in.fact(f, "shop_")
		if f.Text(was) == f.Text(facts) {
			out = append(out, was...)
			continue
		}
		for _, fact := range facts {
			fact.Provenance, fact.Source = filler.Shop, source
			out, news = append(out, fact), true
		}
	}
	if news && source == "" {
		in.fault("shop_source", "say how the shop knows: who tried it, when, on what")
	}
	return out
}

// fact reads the field of one fact.
func (in *input) fact(f inventory.SheetFact, prefix string) filler.Facts {
	facts, err := f.Read(in.get(prefix + f.Name))
	if err != nil {
		in.fault(prefix+f.Name, detailOf(err))
	}
	return facts
}

// wire answers GET /wires/:id.
func (p *Pages) wire(c *gin.Context) error {
	return p.showWire(c, http.StatusOK, func(page *WirePage) {
		for _, change := range page.Kept.Changes {
			if strconv.Itoa(change.Version) == c.Query("done") {
				page.Flash = page.Wire.TradeName + ": " + string(change.Deed) + "."
			}
		}
	})
}
