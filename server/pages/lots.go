package pages

import (
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// LotsPage lists lots.
type LotsPage struct {
	Base
	List   List
	States []Option
	Lines  []inventory.LotLine
}

// lots answers GET /lots.
func (p *Pages) lots(c *gin.Context) error {
	q, meaning, err := p.understood(c, "/lots", listQuery(c))
	if err != nil {
		return err
	}
	lines, err := p.Catalog(c.Request.Context()).Lots(q)
	if err != nil {
		return err
	}
	page := LotsPage{Base: p.base(c, "Lots", "lots"), States: lotStates(q.State, "any status")}
	page.Lines, page.List = paged("/lots", q, lines)
	page.List.Meaning = meaning
	return p.show(c, http.StatusOK, "lots", page)
}

func lotStates(chosen, none string) []Option {
	out := []Option{{Label: none}}
	for _, s := range [...]fit.LotStatus{fit.LotAccepted, fit.LotOnHold, fit.LotRejected} {
		out = append(out, Option{string(s), string(s), string(s) == chosen})
	}
	return out
}

// LotPage is one lot: its status, its certificate and where its spools are.
type LotPage struct {
	Base
	Lot    inventory.Lot
	Wire   inventory.Wire
	Spools []inventory.SpoolLine
	More   bool // there are more spools than are shown
	Form   Form

	PapersForm Form
	Changes    []inventory.RecordChange // the latest first
}

// Papers lists what certificate and box say of the lot, known or not, but for
// its date.
func (p LotPage) Papers() []DemandLine {
	l := p.Lot.Papers
	return []DemandLine{{What: "Certificate type", Value: l.Type}, {What: "Testing schedule", Value: l.Schedule}, {What: "Lot class", Value: l.LotClass}, {What: "Tested on", Value: string(l.Tested)},
		{What: "Melted in", Value: l.Melted}, {What: "Made in", Value: l.Made}, {What: "Made on", Value: string(l.MadeOn)}, {What: "Sealed in", Value: l.Sealing},
		{What: "Tested for an exposure of", Value: l.Exposure}}
}

// lot answers GET /lots/:id.
func (p *Pages) lot(c *gin.Context) error {
	page, err := p.lotPage(c)
	if err != nil {
		return err
	}
	switch c.Query("done") {
	case "":
	case "papers":
		page.Flash = "The papers of lot " + page.Lot.Number + " are on record."
	default:
		page.Flash = "Lot " + page.Lot.Number + " is " + string(page.Lot.Status) + " now."
	}
	return p.show(c, http.StatusOK, "lot", page)
}

func (p *Pages) lotPage(c *gin.Context) (*LotPage, error) {
	id, err := number(c, "id")
	if err != nil {
		return nil, err
	}
	cat := p.Catalog(c.Request.Context())
	page := &LotPage{}
	if page.Lot, err = cat.Lot(id); err != nil {
		return nil, err
	}
	page.Base = p.base(c, "Lot "+page.Lot.Number, "lots")
	if page.Wire, err = cat.Wire(page.Lot.WireID); err != nil {
		return nil, err
	}
	if page.Spools, err = cat.Spools(inventory.Query{Lot: id, Limit: mostLines}); err != nil {
		return nil, err
	}
	page.More = len(page.Spools) == mostLines
	decisions, err := cat.LotHistory(id, mostLines)
	if err != nil {
		return nil, err
	}
	page.Changes, page.PapersForm = inventory.LotChanges(page.Lot, decisions), p.papersForm(page.Lot, c.Query("badge"))
	form := Form{Name: "lot", Action: "/lots/" + strconv.FormatInt(id, 10) + "/status", Submit: "Record the decision",
		Hidden: []Hidden{{"request_key", p.NewKey()}}}
	page.Form = form.fields(badgeField(c.Query("badge")),
		Field{Name: "status", Label: "The lot is", Type: "select", Required: true, Options: lotStates("", "Choose")},
		Field{Name: "certificate", Label: "Certificate", Type: "text", Hint: "Only if it came later: its number. A lot without one is not accepted"},
		reasonField("A store attendant may put a lot on hold. The welding engineer decides the rest"))
	return page, nil
}

// changeLot answers POST /lots/:id/status.
func (p *Pages) changeLot(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in := p.posted(c)
	change := inventory.LotChange{LotID: id, Person: in.badge(), RequestKey: in.get("request_key"), Status: in.status(), Reason: in.get("reason"), Certificate: in.get("certificate")}
	if err = in.err(); err == nil {
		_, err = p.Ledger.ChangeLot(c.Request.Context(), change)
	}
	if err == nil {
		return seeOther(c, "/lots/"+c.Param("id")+"?done=status")
	}
	if !again(err) {
		return err
	}
	page, errPage := p.lotPage(c)
	if errPage != nil {
		return errPage
	}
	page.Trouble, page.Form = trouble(c, err), page.Form.filled(in.get, err)
	return p.show(c, page.Trouble.status(), "lot", page)
}

// status reads a lot's status.
func (in *input) status() fit.LotStatus {
	switch s := fit.LotStatus(in.get("status")); s {
	case fit.LotAccepted, fit.LotOnHold, fit.LotRejected:
		return s
	}
	in.fault("status", "choose what the lot is")
	return ""
}
