package pages

import (
	"net/http"
	"net/url"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// FindPage shows what the search box found.
type FindPage struct {
	Base
	Spools []inventory.SpoolLine
	Wires  []inventory.WireLine
	Lots   []inventory.LotLine
	Jobs   []inventory.JobLine
	None   bool

	Meaning *MeaningView // what was understood; nil if it is words alone
	Box     *FoundBox    // the maker's box whose symbol was scanned; nil if it is none
	Fault   string       // why a scan is no code; empty if nothing is wrong with it
}

// FoundBox is a maker's box, by what its symbol says.
type FoundBox struct {
	Product string
	Wire    *inventory.Wire // that the product number stands for; nil if nobody has linked it
	Lot     string
	Receive string // where it is received
}

// mostFound is how many of each sort a search shows.
const mostFound = 10

// find answers GET /find: a code, typed or scanned from any of our symbols, or a
// job's number goes to its page; anything else is searched for.
func (p *Pages) find(c *gin.Context) error {
	text := strings.TrimSpace(c.Query("q"))
	cat := p.Catalog(c.Request.Context())
	scan, errScan := labels.ReadScan(text, p.Now())
	if errScan == nil && scan.Kind == labels.CodeScan {
		return seeOther(c, codePage(scan.Code))
	}
	job, err := cat.JobNumbered(text)
	if err == nil {
		return seeOther(c, codePage(job.Code))
	}
	if inventory.KindOf(err) != inventory.NotFound {
		return err
	}
	page := FindPage{Base: p.base(c, "Search", "")}
	page.Search = text
	if errScan != nil {
		page.Fault = detailOf(errScan)
	}
	if text == "" || errScan != nil {
		return p.show(c, http.StatusOK, "find", page)
	}
	if scan.Kind == labels.BoxScan {
		return p.findBox(c, page, scan.Box)
	}
	q, meaning, err := p.understood(c, "/find", inventory.Query{Text: text, Limit: mostFound})
	if err != nil {
		return err
	}
	page.Meaning = meaning
	if err := page.search(cat, q); err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "find", page)
}

// findBox answers the scan of a maker's box: its wire and its lot.
func (p *Pages) findBox(c *gin.Context, page FindPage, box labels.Box) error {
	found := &FoundBox{Product: string(box.Contents()), Lot: box.Lot, Receive: "/receiving?" + url.Values{"scan": {page.Search}}.Encode()}
	page.Box, page.Search = found, strings.ReplaceAll(page.Search, "\x1d", "|")
	if found.Product != "" {
		wire, err := p.Ledger.WireOfProduct(c.Request.Context(), box.Contents())
		switch inventory.KindOf(err) {
		case "":
			found.Wire = &wire
		case inventory.NotFound:
		default:
			return err
		}
	}
	if found.Lot != "" {
		if err := page.search(p.Catalog(c.Request.Context()), inventory.Query{Text: found.Lot, Limit: mostFound}); err != nil {
			return err
		}
		page.None = false
	}
	return p.show(c, http.StatusOK, "find", page)
}

func (page *FindPage) search(cat Catalog, q inventory.Query) (err error) {
	if page.Spools, err = cat.Spools(q); err != nil {
		return err
	}
	if page.Wires, err = cat.Wires(q); err != nil {
		return err
	}
	if page.Lots, err = cat.Lots(q); err != nil {
		return err
	}
	if page.Jobs, err = cat.Jobs(q); err != nil {
		return err
	}
	page.None = len(page.Spools)+len(page.Wires)+len(page.Lots)+len(page.Jobs) == 0
	return nil
}

// codePage returns the address of the page that tells of what code names.
func codePage(code inventory.Code) string {
	switch code.Kind() {
	case inventory.SpoolCode:
		return "/spools/" + string(code)
	case inventory.JobCode:
		return "/jobs/" + string(code)
	case inventory.PersonCode:
		return "/people/" + string(code)
	case inventory.FeederCode:
		return "/feeders/" + string(code)
	}
	return "/places/" + string(code)
}
