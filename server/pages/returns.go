package pages

import (
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// ReturnsPage takes spools back.
type ReturnsPage struct {
	Base
	Desk  Desk
	Spool *inventory.SpoolLine // nil until one is scanned
	Form  *Form                // nil until badge and spool are known and the spool is out
	Slip  *Slip                // of the spool that came back last
}

// returnForm returns the form that takes the spool in s back.
func (p *Pages) returnForm(s slots, places []inventory.Place) Form {
	f := Form{Name: "return", Action: "/returns", Submit: "Take it back",
		Hidden: []Hidden{{"badge", string(s.Badge)}, {"spool", string(s.Spool)}, {"request_key", p.NewKey()}}}
	return f.fields(grossField(true), placeField(places, s.Place, true), whenField())
}

// returns answers GET /returns.
func (p *Pages) returns(c *gin.Context) error {
	s, moved, err := p.scanned(c)
	if moved {
		return seeOther(c, "/returns"+s.query())
	}
	if err != nil && !again(err) {
		return err
	}
	page, errPage := p.returnsPage(c, s)
	if errPage != nil {
		return errPage
	}
	if err != nil {
		page.Desk.Fault = detailOf(err)
		return p.show(c, trouble(c, err).status(), "returns", page)
	}
	if page.Slip, err = p.slip(c, c.Query("done")); err != nil {
		return err
	}
	return p.show(c, 200, "returns", page)
}

// returnsPage returns the page with the slots s on it.
func (p *Pages) returnsPage(c *gin.Context, s slots) (*ReturnsPage, error) {
	s.Job, s.Feeder, s.Welder = "", "", ""
	cat := p.Catalog(c.Request.Context())
	t, err := s.lookUp(cat)
	if err != nil {
		return nil, err
	}
	page := &ReturnsPage{Base: p.base(c, "Returns", "returns"), Spool: t.spool}
	page.Desk = newDesk("/returns", s, t, "badge", "spool", "place")
	if t.badge == nil || t.spool == nil || !t.spool.Out() {
		return page, nil
	}
	places, err := cat.Places()
	if err != nil {
		return nil, err
	}
	form := p.returnForm(s, places)
	page.Form = &form
	return page, nil
}

// returnSpool answers POST /returns.
func (p *Pages) returnSpool(c *gin.Context) error {
	in := p.posted(c)
	s, err := readSlots(in.get)
	back := inventory.Return{
		Entry: inventory.Entry{Spool: s.Spool, Person: s.Badge, RequestKey: in.get("request_key"), At: in.when("effective_at")},
		Place: s.Place,
		Gross: in.grams("gross"),
	}
	if err == nil {
		err = in.err()
	}
	if err == nil {
		_, err = p.Ledger.Return(c.Request.Context(), back)
	}
	if err == nil {
		return seeOther(c, "/returns"+slots{Badge: s.Badge}.query("done", string(s.Spool)))
	}
	return p.returnsAgain(c, s, in, err)
}

// returnsAgain answers a return that failed: the page as it was, with why.
func (p *Pages) returnsAgain(c *gin.Context, s slots, in *input, err error) error {
	if !again(err) {
		return err
	}
	page, errPage := p.returnsPage(c, s)
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	if page.Form != nil {
		form := page.Form.filled(in.get, err)
		page.Form = &form
	}
	return p.show(c, page.Trouble.status(), "returns", page)
}
