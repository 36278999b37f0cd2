package pages

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// SpoolsPage lists spools.
type SpoolsPage struct {
	Base
	List   List
	States []Option
	Lines  []inventory.SpoolLine
}

// spools answers GET /spools.
func (p *Pages) spools(c *gin.Context) error {
	q, meaning, err := p.understood(c, "/spools", listQuery(c))
	if err != nil {
		return err
	}
	lines, err := p.Catalog(c.Request.Context()).Spools(q)
	if err != nil {
		return err
	}
	page := SpoolsPage{Base: p.base(c, "Spools", "spools"), States: spoolStates(q.State)}
	page.Lines, page.List = paged("/spools", q, lines)
	page.List.Meaning = meaning
	return p.show(c, http.StatusOK, "spools", page)
}

func spoolStates(chosen string) []Option {
	out := []Option{{Label: "any state"}}
	for _, s := range [...]inventory.SpoolState{inventory.StateSealed, inventory.StateOpen, inventory.StateIssued, inventory.StateHeld, inventory.StateScrapped} {
		out = append(out, Option{string(s), string(s), string(s) == chosen})
	}
	return out
}
