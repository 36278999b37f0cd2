package pages

import (
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// printers answers GET /printers.
func (p *Pages) printers(c *gin.Context) error {
	all, err := p.Ledger.Printers(c.Request.Context())
	if err != nil {
		return err
	}
	page := ListPage{Base: p.base(c, "Printers", "printers"), Heading: "Printers", Lead: "Label printers that are sent labels straight away, by the Internet Printing Protocol (IPP).",
		Tabs: printTabs("printers"), New: "/printers/new", Submit: "Enter a printer", Empty: "No printer is entered yet: labels are drawn as files until then"}
	for _, printer := range all {
		card := ListCard{Title: printer.Name, Page: printerPath(printer.ID), Lines: []string{printer.Address, printerHolds(printer)}}
		if printer.Retired() {
			card.Gone = "retired"
		}
		page.Cards = append(page.Cards, card)
	}
	return p.showList(c, page)
}

func printerPath(id int64) string { return "/printers/" + strconv.FormatInt(id, 10) }

// printTabs leads between printers and what is printed on them.
func printTabs(active string) []NavItem {
	tabs := []NavItem{{Key: "printers", Href: "/printers", Label: "Printers"}, {Key: "queue", Href: "/print-jobs", Label: "Print queue"}}
	for i := range tabs {
		tabs[i].Current = tabs[i].Key == active
	}
	return tabs
}

// printerHolds says what labels are in the printer.
func printerHolds(printer inventory.Printer) string {
	size := printer.Size
	if s, err := labels.ParseSize(printer.Size); err == nil {
		size = s.String()
	}
	return size + " at " + strconv.Itoa(printer.DPI) + " dpi, sent as " + printer.Format
}

// newPrinter answers GET /printers/new.
func (p *Pages) newPrinter(c *gin.Context) error {
	return p.showEntry(c, p.printerForm(c, inventory.Printer{}), nil, nil)
}

// editPrinter answers GET /printers/:id/edit.
func (p *Pages) editPrinter(c *gin.Context) error {
	printer, err := p.printerAt(c)
	if err != nil {
		return err
	}
	return p.showEntry(c, p.printerForm(c, printer), nil, nil)
}

func (p *Pages) printerAt(c *gin.Context) (inventory.Printer, error) {
	id, err := number(c, "id")
	if err != nil {
		return inventory.Printer{}, err
	}
	return p.Ledger.PrinterOf(c.Request.Context(), id)
}

func (p *Pages) printerForm(c *gin.Context, printer inventory.Printer) *EntryPage {
	form, title, back := p.recordForm("printer", "/printers", "Enter the printer", 0), "Enter a printer", "/printers"
	if printer.ID != 0 {
		back, title = printerPath(printer.ID), "Edit "+printer.Name
		form = p.recordForm("printer", back, "Save the printer", printer.Version)
	}
	size := Field{Name: "size", Label: "Labels in it", Type: "select", Required: true}
	if printer.Size == "" {
		size.Options = []Option{{Label: "Choose their size"}}
	}
	for _, s := range labels.Sizes() {
		size.Options = append(size.Options, Option{s.Name, s.String(), s.Name == printer.Size})
	}
	dpi := Field{Name: "dpi", Label: "Print head", Type: "select", Required: true, Hint: "Bars must be whole dots of it, or they cannot be read"}
	for _, d := range inventory.PrinterResolutions() {
		text := strconv.Itoa(d)
		dpi.Options = append(dpi.Options, Option{text, text + " dpi", d == printer.DPI})
	}
	format := Field{Name: "format", Label: "Sent as", Type: "select", Required: true, Options: []Option{
		{"pdf", "PDF: vectors", printer.Format == "pdf"}, {"png", "PNG: for a printer that takes no PDF", printer.Format == "png"}}}
	page := entry(p.base(c, title, "printers"), form, FormPart{Title: "Printer", Fields: []Field{workBadge(c),
		{Name: "name", Label: "Name", Type: "text", Value: printer.Name, Required: true, Hint: "Where it stands: receiving desk"},
		{Name: "address", Label: "Address", Type: "text", Value: printer.Address, Required: true, Hint: "As the printer's own page shows it: ipp://printer.example/ipp/print"}, size, dpi, format}})
	page.Kicker, page.Heading, page.Back = "Printer", title, back
	page.Lead = "A printer that speaks IPP 2.0. Print one label and scan it before you rely on it."
	return page
}

// savePrinter answers POST /printers and POST /printers/:id.
func (p *Pages) savePrinter(c *gin.Context) error {
	before, save := inventory.Printer{}, p.Ledger.EnterPrinter
	if c.Param("id") != "" {
		var err error
		if before, err = p.printerAt(c); err != nil {
			return err
		}
		save = p.Ledger.ChangePrinter
	}
	in := p.posted(c)
	e := inventory.PrinterEntry{Edit: in.edit(), Of: inventory.Printer{ID: before.ID, Name: in.get("name"), Address: in.get("address"), DPI: int(in.whole("dpi")), Size: in.get("size"), Format: in.get("format")}}
	if _, err := labels.ParseSize(e.Of.Size); err != nil {
		in.fault("size", "choose the size of the labels that are in it")
	}
	err := in.err()
	if err == nil {
		var printer inventory.Printer
		if printer, err = save(c.Request.Context(), e); err == nil {
			return saved(c, printerPath(printer.ID), printer.Version, e.Person)
		}
	}
	return p.showEntry(c, p.printerForm(c, before), in, err)
}

// printer answers GET /printers/:id.
func (p *Pages) printer(c *gin.Context) error {
	printer, err := p.printerAt(c)
	if err != nil {
		return err
	}
	return p.showRecord(c, p.printerPage(c, printer), inventory.PrinterRecord, nil, "", nil)
}

func (p *Pages) printerPage(c *gin.Context, printer inventory.Printer) *RecordPage {
	path := printerPath(printer.ID)
	page := &RecordPage{Base: p.base(c, printer.Name, "printers"), Kicker: "Printer", Heading: printer.Name, Path: path, Edit: path + "/edit", Subject: strconv.FormatInt(printer.ID, 10),
		Tabs:  printTabs("printers"),
		Lead:  "Labels are sent here from their own pages and from Receiving.",
		Facts: []DemandLine{fact("Address", printer.Address), fact("Labels in it", printerHolds(printer))}, Answer: p.askedOf(c, printer)}
	if p.AskPrinter != nil {
		page.More = []NavItem{{Href: path + "?ask=now", Label: "Ask the printer"}}
	}
	deed := p.deed(path, "retire", "Print nothing more on it", "Retire the printer", "stop", "The welding engineer's or the owner's. What waits for it is given up", c.Query("badge"))
	if printer.Retired() {
		page.Gone, page.Lead = "retired", "Nothing is printed here."
		deed = p.deed(path, "reinstate", "Print on it again", "Reinstate the printer", "", "The welding engineer's or the owner's", c.Query("badge"))
	}
	page.Deeds = []Deed{deed}
	return page
}

// changePrinter answers POST /printers/:id/:deed.
func (p *Pages) changePrinter(c *gin.Context) error {
	printer, err := p.printerAt(c)
	if err != nil {
		return err
	}
	deed := c.Param("deed")
	if deed != "retire" && deed != "reinstate" {
		return inventory.NotFoundf("no-such-page", "nothing called %q is done to a printer", deed)
	}
	in := p.posted(c)
	e := in.edit()
	if err = in.err(); err == nil {
		var after inventory.Printer
		if after, err = p.Ledger.RetirePrinter(c.Request.Context(), e, printer.ID, deed == "retire"); err == nil {
			return saved(c, printerPath(after.ID), after.Version, e.Person)
		}
	}
	return p.showRecord(c, p.printerPage(c, printer), inventory.PrinterRecord, in, deed, err)
}
