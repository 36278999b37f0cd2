package pages

import (
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// ReceivingPage enters a delivery and shows the codes it was given.
type ReceivingPage struct {
	Base
	Form     Form
	NoWire   bool           // there is no wire to choose from
	Received *inventory.Lot // the lot that came in last
	Spools   []inventory.SpoolLine
	More     bool    // it has more spools than are shown
	Box      []Field // what is to be read from the box of the wire that is chosen
	Asked    int     // how many things that are
	Scan     BoxScan // what the symbols on the box say
	Print    *Form   // sends the labels of what came in to a printer; nil if there is none
	Papers   FormPart
	Damaged  []inventory.Code // of the spools that came in, those in a damaged package
}

// receiving answers GET /receiving.
func (p *Pages) receiving(c *gin.Context) error {
	page, err := p.receivingPage(c)
	if err != nil {
		return err
	}
	if page.Scan, err = p.boxScan(c, c.QueryArray("scan")); err != nil {
		return err
	}
	page.Form = page.Scan.fills(page.Form)
	wire, _ := strconv.ParseInt(c.Query("wire"), 10, 64) // no number: none is chosen yet
	if page.Scan.Wire != nil && wire == 0 {
		wire = page.Scan.Wire.ID
	}
	if err := page.askBox(p.Catalog(c.Request.Context()), wire, func(string) string { return "" }, nil); err != nil {
		return err
	}
	lot, _ := strconv.ParseInt(c.Query("lot"), 10, 64) // no number: nothing came in
	if lot <= 0 {
		return p.showReceiving(c, page)
	}
	cat := p.Catalog(c.Request.Context())
	received, err := cat.Lot(lot)
	if err != nil {
		return err
	}
	if page.Spools, err = cat.Spools(inventory.Query{Lot: lot, Limit: mostLines}); err != nil {
		return err
	}
	page.Received, page.More = &received, len(page.Spools) == mostLines
	for _, s := range page.Spools {
		if s.Track.Clock(nil, p.Now()).Unknown {
			page.Damaged = append(page.Damaged, s.Code)
		}
	}
	if page.Print, err = p.printForm(c, "/lots/"+strconv.FormatInt(lot, 10)+"/labels/print", string(labels.KindSpool), len(page.Spools)); err != nil {
		return err
	}
	return p.showReceiving(c, page)
}

func (p *Pages) receivingPage(c *gin.Context) (*ReceivingPage, error) {
	cat := p.Catalog(c.Request.Context())
	wires, err := cat.Wires(inventory.Query{Limit: mostLines})
	if err != nil {
		return nil, err
	}
	places, err := cat.Places()
	if err != nil {
		return nil, err
	}
	page := &ReceivingPage{Base: p.base(c, "Receiving", "receiving"), NoWire: len(wires) == 0}
	form := Form{Name: "receive", Action: "/receiving", Submit: "Receive and make codes",
		Hidden: []Hidden{{"request_key", p.NewKey()}}}
	fields := []Field{badgeField(c.Query("badge")),
		wireField(wires, c.Query("wire")),
		Field{Name: "lot_number", Label: "Lot number", Type: "text", Required: true, Hint: "As the maker prints it. Read it from every package, not from the pallet"},
		Field{Name: "certificate", Label: "Certificate", Type: "text", Hint: "Its number. Without one the lot is put on hold until it comes"},
		Field{Name: "spools", Label: "How many packages", Type: "number", Required: true, Hint: "Of this one lot"},
		Field{Name: "damaged", Label: "How many of them are damaged", Type: "number", Hint: "Torn or punctured packages, if any. Their exposure is then not known: the last labels are for them"},
		placeField(places, "", true),
		Field{Name: "net", Label: "Net weight of each", Type: "text", Hint: "With its unit. Empty takes the wire's own package weight"},
		whenField()}
	page.Form = form.fields(append(fields, lotPaperFields(inventory.LotPapers{})...)...)
	return page, nil
}

// showReceiving answers with the page, its fields of the papers apart.
func (p *Pages) showReceiving(c *gin.Context, page *ReceivingPage) error {
	rest := len(page.Form.Fields) - len(lotPaperFields(inventory.LotPapers{}))
	page.Papers.Fields, page.Form.Fields = page.Form.Fields[rest:], page.Form.Fields[:rest]
	for _, f := range page.Papers.Fields {
		page.Papers.Open = page.Papers.Open || f.Fault != "" || f.said()
	}
	return p.show(c, page.Trouble.status(), "receiving", page)
}

func wireField(wires []inventory.WireLine, chosen string) Field {
	f := Field{Name: "wire", Label: "Wire", Type: "select", Required: true, Hint: "Trade name, classification, size and package on the box", Options: []Option{{Label: "Choose a wire"}}}
	for _, w := range wires {
		id := strconv.FormatInt(w.ID, 10)
		f.Options = append(f.Options, Option{id, w.Name() + ", " + w.Package, id == chosen})
	}
	return f
}

// receive answers POST /receiving.
func (p *Pages) receive(c *gin.Context) error {
	in := p.posted(c)
	receipt := inventory.Receipt{Person: in.badge(), RequestKey: in.get("request_key"), At: in.when("effective_at"),
		WireID: in.whole("wire"), LotNumber: in.get("lot_number"), Certificate: in.get("certificate"), Papers: in.lotPapers(),
		Place: in.code("place", inventory.PlaceCode), Spools: int(in.whole("spools")), Damaged: int(in.whole("damaged"))}
	if net := in.grams("net"); net != nil {
		receipt.Net = *net
		if *net == 0 {
			in.fault("net", "a package that came holds wire: weigh it again, or leave this empty for the wire's own weight")
		}
	}
	if receipt.WireID == 0 {
		in.fault("wire", "choose the wire that came")
	}
	scan, errScan := p.boxScan(c, c.PostFormArray("scan"))
	if errScan != nil {
		return errScan
	}
	receipt.Product = scan.box.Contents()
	lot, err := inventory.Lot{}, in.err()
	if err == nil {
		receipt.Box, err = in.box(p.Catalog(c.Request.Context()), receipt.WireID)
	}
	if err == nil {
		lot, _, err = p.Ledger.Receive(c.Request.Context(), receipt)
	}
	if err == nil {
		return seeOther(c, "/receiving"+slots{Badge: receipt.Person}.query("lot", strconv.FormatInt(lot.ID, 10)))
	}
	if !again(err) {
		return err
	}
	page, errPage := p.receivingPage(c)
	if errPage != nil {
		return errPage
	}
	page.Trouble, page.Form, page.Scan = trouble(c, err), page.Form.filled(in.get, err), scan
	page.Form.Hidden = append(page.Form.Hidden, scan.Hidden...)
	if err := page.askBox(p.Catalog(c.Request.Context()), receipt.WireID, in.get, err); err != nil {
		return err
	}
	return p.showReceiving(c, page)
}
