package pages

import (
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// WiresPage lists wires with what is in stock.
type WiresPage struct {
	Base
	List  List
	Lines []inventory.WireLine
}

// wires answers GET /wires.
func (p *Pages) wires(c *gin.Context) error {
	q, meaning, err := p.understood(c, "/wires", listQuery(c))
	if err != nil {
		return err
	}
	lines, err := p.Catalog(c.Request.Context()).Wires(q)
	if err != nil {
		return err
	}
	page := WiresPage{Base: p.base(c, "Wires", "wires")}
	page.Lines, page.List = paged("/wires", q, lines)
	page.List.Meaning = meaning
	return p.show(c, http.StatusOK, "wires", page)
}

// WirePage is one wire: what is known of it and by whose word.
type WirePage struct {
	Base
	Wire   inventory.Wire
	Card   *CardView
	Facts  filler.Facts
	Lots   []inventory.LotLine
	Spools []inventory.SpoolLine // those that are not scrapped
	Open   int                   // of those shown
	Sealed int
	Out    int
	Held   int
	Kept   WireKept

	Standard bool // its package can be decoded
}

// showWire answers with the page of a wire, after change has had its way with
// it.
func (p *Pages) showWire(c *gin.Context, status int, change func(*WirePage)) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	cat := p.Catalog(c.Request.Context())
	page := WirePage{}
	if page.Wire, err = cat.Wire(id); err != nil {
		return err
	}
	page.Base = p.base(c, page.Wire.TradeName, "wires")
	if page.Card, err = newCard(page.Wire); err != nil {
		return err
	}
	_, errPack := filler.DecodePackage(page.Wire.Package)
	page.Standard = errPack == nil
	page.Card.Sheet = c.Request.URL.Path + "/card"
	if page.Facts, err = page.Wire.Facts(); err != nil {
		return err
	}
	if page.Lots, err = cat.Lots(inventory.Query{Wire: id, Limit: mostLines}); err != nil {
		return err
	}
	if page.Spools, err = cat.Spools(inventory.Query{Wire: id, Limit: mostLines}); err != nil {
		return err
	}
	page.Spools = slices.DeleteFunc(page.Spools, func(s inventory.SpoolLine) bool { return s.Scrapped })
	page.count()
	if page.Kept, err = p.wireKept(c, page.Wire); err != nil {
		return err
	}
	change(&page)
	return p.show(c, status, "wire", page)
}

// mostLines is the longest list that a page shows whole.
const mostLines = 200

// count counts the spools by state.
func (page *WirePage) count() {
	for _, s := range page.Spools {
		switch s.State() {
		case inventory.StateOpen:
			page.Open++
		case inventory.StateSealed:
			page.Sealed++
		case inventory.StateIssued:
			page.Out++
		case inventory.StateHeld:
			page.Held++
		}
	}
}
