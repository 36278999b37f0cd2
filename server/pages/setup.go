package pages

import (
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// Step is one thing that a store must have before the first spool goes out.
type Step struct {
	Title string
	Lead  string
	Href  string
	Done  bool
	Next  bool // the first that is not done
}

// steps lists them in their order, with the links carrying the badge that was
// scanned.
func steps(s inventory.Setup, badge inventory.Code) []Step {
	with := slots{Badge: badge}.query()
	out := []Step{
		{Title: "Enter yourself as the owner", Lead: "You get a badge, and enter everybody else.", Href: "/people/new", Done: s.Person},
		{Title: "Enter a place", Lead: "Where wire is kept: a shelf, a dry cabinet.", Href: "/places/new" + with, Done: s.Place},
		{Title: "Enter a wire", Lead: "What stands on the box, and what its data sheet says. A whole list can be imported.", Href: "/wires/new" + with, Done: s.Wire},
		{Title: "Enter a procedure", Lead: "The WPS, as what it demands of the wire.", Href: "/procedures/new" + with, Done: s.Procedure},
		{Title: "Enter a job", Lead: "The work, welded to the procedure, under a body of rules.", Href: "/jobs/new" + with, Done: s.Job},
		{Title: "Receive wire", Lead: "Each package gets a code and a label.", Href: "/receiving" + with, Done: s.Spool},
	}
	for i := range out {
		if !out[i].Done {
			out[i].Next = true
			break
		}
	}
	return out
}

// setup returns the steps of a new store; nil once they are all done.
func (p *Pages) setup(c *gin.Context) ([]Step, error) {
	s, err := p.Catalog(c.Request.Context()).Setup()
	if err != nil || s.Done() {
		return nil, err
	}
	badge, err := labels.ReadCode(inventory.PersonCode, c.Query("badge"))
	if err != nil {
		badge = "" // none, or not one: the links go without
	}
	return steps(s, badge), nil
}

// nextStep returns the first step that is not done; nil if there is none.
func (p *Pages) nextStep(c *gin.Context) (*Step, error) {
	all, err := p.setup(c)
	for i := range all {
		if all[i].Next {
			return &all[i], err
		}
	}
	return nil, err
}
