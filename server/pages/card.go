package pages

import (
	"cmp"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// CardView is a set-up card as it is shown: what is read at arm's length, and
// the rest.
type CardView struct {
	Large    []LargeLine
	Small    []inventory.CardLine
	Cautions []inventory.Caution
	Clock    *CardClock // the spool's; nil on a wire's card
	Sheet    string     // address of the card's own page; empty on that page
}

// LargeLine is one of the settings that are read at arm's length.
type LargeLine struct {
	inventory.CardLine
	Big string // the value as a label says it; empty if not known
}

// CardClock is the exposure clock on a spool's card.
type CardClock struct {
	inventory.CardClock
	Tone string // safe, caution or stop
}

// newCardClock returns the clock; nil of a spool that is scrapped.
func newCardClock(c inventory.CardClock) *CardClock {
	if c.Spool.Scrapped || c.Says == "" {
		return nil
	}
	tones := map[fit.Outcome]string{fit.Caution: "caution", fit.Stops: "stop"}
	return &CardClock{c, cmp.Or(tones[c.Outcome], "safe")}
}

// cardClock returns the clock of a spool as it stands now.
func (p *Pages) cardClock(c *gin.Context, spool inventory.Code) (*CardClock, error) {
	exposed, err := p.Ledger.Exposure(c.Request.Context(), spool, time.Time{})
	return newCardClock(exposed.Card(p.Zone)), err
}

func newCard(w inventory.Wire) (*CardView, error) {
	card, err := w.Card()
	if err != nil {
		return nil, err
	}
	v := &CardView{Cautions: card.Cautions}
	for _, line := range card.Lines {
		if !line.Large {
			line.Value = inventory.Spoken(line.Value)
			v.Small = append(v.Small, line)
			continue
		}
		large := LargeLine{line, inventory.Spoken(line.Value)}
		if strings.HasPrefix(large.Words, large.Big) {
			large.Big, large.Words = large.Words, "" // say it once
		}
		v.Large = append(v.Large, large)
	}
	return v, nil
}

// CardPage is the set-up card alone, to be read at the feeder or printed.
type CardPage struct {
	Base
	Card *CardView
	Wire inventory.Wire
	Line *inventory.SpoolLine // nil on a wire's card
	Lot  *inventory.Lot       // nil on a wire's card
	Back string               // where more is told
	JSON string               // the same for programs
}

// wireCard answers GET /wires/:id/card.
func (p *Pages) wireCard(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	wire, err := p.Catalog(c.Request.Context()).Wire(id)
	if err != nil {
		return err
	}
	back := "/wires/" + strconv.FormatInt(id, 10)
	page := CardPage{Base: p.base(c, "Set-up card: "+wire.TradeName, "wires"), Wire: wire, Back: back, JSON: "/api/v1" + back + "/card"}
	if page.Card, err = newCard(wire); err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "card", page)
}

// spoolCard answers GET /spools/:code/card.
func (p *Pages) spoolCard(c *gin.Context) error {
	code, err := codeIn(c, inventory.SpoolCode)
	if err != nil {
		return err
	}
	cat := p.Catalog(c.Request.Context())
	line, err := cat.SpoolLine(code)
	if err != nil {
		return err
	}
	lot, err := cat.Lot(line.LotID)
	if err != nil {
		return err
	}
	page := CardPage{Base: p.base(c, "Set-up card: spool "+string(code), "spools"), Line: &line, Lot: &lot,
		Back: codePage(code), JSON: "/api/v1" + codePage(code) + "/card"}
	if page.Wire, err = cat.Wire(lot.WireID); err != nil {
		return err
	}
	if page.Card, err = newCard(page.Wire); err != nil {
		return err
	}
	if page.Card.Clock, err = p.cardClock(c, code); err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "card", page)
}
