package pages

import (
	"net/http"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// SpoolPage is one spool: its state, how to set the machine for it, its
// history, and what can be done to it.
type SpoolPage struct {
	Base
	Line    inventory.SpoolLine
	Lot     inventory.Lot
	Wire    inventory.Wire
	Card    *CardView
	Settle  []fit.Conflict // on what box and sheet disagree
	Left    Left
	Clock   *ClockView    // nil while it is sealed and its package whole
	History []HistoryLine // the latest first
	Deeds   []Deed
	Opening *OpeningNote // what its air would do to it; nil for nothing
}

// Left is how much wire is left, as a bar.
type Left struct {
	Net, Full unit.Grams
	Percent   int
}

func newLeft(s inventory.Spool) Left {
	l := Left{Net: s.Net, Full: s.Full}
	if s.Full > 0 {
		l.Percent = int(100 * s.Net / s.Full)
	}
	return l
}

// spool answers GET /spools/:code.
func (p *Pages) spool(c *gin.Context) error {
	code, err := codeIn(c, inventory.SpoolCode)
	if err != nil {
		return err
	}
	page, err := p.spoolPage(c, code)
	if err != nil {
		return err
	}
	page.Flash = page.done(c.Query("done"))
	return p.show(c, http.StatusOK, "spool", page)
}

// spoolPage returns the page of the spool.
func (p *Pages) spoolPage(c *gin.Context, code inventory.Code) (*SpoolPage, error) {
	cat := p.Catalog(c.Request.Context())
	line, err := cat.SpoolLine(code)
	if err != nil {
		return nil, err
	}
	page := &SpoolPage{Base: p.base(c, "Spool "+string(code), "spools"), Line: line, Left: newLeft(line.Spool)}
	if page.Lot, err = cat.Lot(line.LotID); err != nil {
		return nil, err
	}
	if page.Wire, err = cat.Wire(page.Lot.WireID); err != nil {
		return nil, err
	}
	if page.Card, err = newCard(page.Wire); err != nil {
		return nil, err
	}
	page.Card.Sheet = codePage(code) + "/card"
	if page.Opening, err = p.opening(c, line, ""); err != nil {
		return nil, err
	}
	if page.Settle, err = page.Wire.Conflicts(); err != nil {
		return nil, err
	}
	names, err := readNames(cat, p.Zone)
	if err != nil {
		return nil, err
	}
	history, err := cat.History(code)
	if err != nil {
		return nil, err
	}
	page.History = names.history(history)
	exposed, err := p.Ledger.Exposure(c.Request.Context(), code, time.Time{})
	if err != nil {
		return nil, err
	}
	page.Clock, page.Card.Clock = newClock(exposed, names), newCardClock(exposed.Card(p.Zone))
	page.Deeds = p.deeds(line, page.Wire, names.shelves, page.History, c.Query("badge"))
	return page, nil
}

// done says what the movement that left the spool at the given version did;
// nothing if there was none.
func (page *SpoolPage) done(version string) string {
	for _, h := range page.History {
		if strconv.Itoa(h.Version) == version {
			return h.Says + "."
		}
	}
	return ""
}
