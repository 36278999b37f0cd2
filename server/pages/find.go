package pages

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
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
}

// mostFound is how many of each sort a search shows.
const mostFound = 10

// find answers GET /find: a code or a job's number goes to its page, anything
// else is searched for.
func (p *Pages) find(c *gin.Context) error {
	text := strings.TrimSpace(c.Query("q"))
	cat := p.Catalog(c.Request.Context())
	if code, err := inventory.ParseCode(text); err == nil {
		return seeOther(c, codePage(code))
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
	if text == "" {
		return p.show(c, http.StatusOK, "find", page)
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
