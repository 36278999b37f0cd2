package pages

import (
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/unit"
	"wirehold/labels"
)

// Slip is what was done last to a spool, as the ledger tells it.
type Slip struct {
	inventory.Movement
	Line   inventory.SpoolLine
	Person string      // who entered it
	Taker  string      // who took it; empty if nobody did
	Job    string      // the job's number
	Net    unit.Grams  // left on the spool
	Used   *unit.Grams // on a return: what the job took
	Opened bool        // it left the package open
}

// Waivers lists the waivers that the issue rests on; nil if it needed none.
func (s Slip) Waivers() []string {
	if s.Waiver == "" {
		return nil
	}
	return strings.Split(s.Waiver, "\n")
}

// slip returns the slip of the last movement of the spool whose code is given;
// nil if code is empty or names nothing.
func (p *Pages) slip(c *gin.Context, text string) (*Slip, error) {
	code, err := labels.ReadCode(inventory.SpoolCode, text)
	if err != nil {
		return nil, nil // no code in the address: nothing to tell
	}
	cat := p.Catalog(c.Request.Context())
	line, err := cat.SpoolLine(code)
	if inventory.KindOf(err) == inventory.NotFound {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	history, err := cat.History(code)
	if err != nil || len(history) == 0 {
		return nil, err
	}
	s := newSlip(history, line)
	person, err := cat.Person(s.Movement.Person)
	if err != nil {
		return nil, err
	}
	s.Person = person.Name
	if s.Job, s.Taker, err = issuedTo(cat, history); err != nil {
		return nil, err
	}
	return s, nil
}

// newSlip reckons the slip of the last movement in history.
func newSlip(history []inventory.Movement, line inventory.SpoolLine) *Slip {
	s := &Slip{Movement: history[len(history)-1], Line: line}
	var atIssue unit.Grams
	for _, m := range history {
		if m.Type == inventory.Issued {
			atIssue = s.Net
			if m.Net != nil {
				atIssue = *m.Net
			}
		}
		if m.Net != nil {
			s.Net = *m.Net
		}
	}
	if s.Type == inventory.Returned {
		used := atIssue - s.Net
		s.Used = &used
	}
	s.Opened = line.Opened()
	return s
}

// issuedTo returns the number of the job that the spool was issued to last and
// the name of who took it; empty if it never was.
func issuedTo(cat Catalog, history []inventory.Movement) (job, taker string, err error) {
	for i := len(history) - 1; i >= 0; i-- {
		m := history[i]
		if m.Type != inventory.Issued {
			continue
		}
		j, err := cat.Job(m.Job)
		if err != nil {
			return "", "", err
		}
		holder, err := cat.Person(m.Holder)
		return j.Number, holder.Name, err
	}
	return "", "", nil
}
