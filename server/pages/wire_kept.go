package pages

import (
	"mime"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// WireKept is what a wire's page shows besides the wire itself: on what box and
// sheet disagree, the sheets, and who changed what.
type WireKept struct {
	Conflicts []Disagreement
	Settled   filler.Facts
	Questions []inventory.BoxQuestion // what receiving will ask
	Sheets    []inventory.Sheet
	Attach    Form
	Products  []inventory.Product // that boxes of it bear
	Link      Form
	Unlink    []Form                 // for each of Products
	Changes   []inventory.WireChange // the latest first
}

// Disagreement is one conflict with the form that settles it.
type Disagreement struct {
	fit.Conflict
	Form Form
}

// wireKept gathers it.
func (p *Pages) wireKept(c *gin.Context, w inventory.Wire) (WireKept, error) {
	kept := WireKept{Settled: w.Settled(), Attach: p.attachForm(w, c.Query("badge"))}
	conflicts, err := w.Conflicts()
	if err != nil {
		return kept, err
	}
	for _, conflict := range conflicts {
		kept.Conflicts = append(kept.Conflicts, Disagreement{conflict, p.settleForm(w, conflict, c.Query("badge"))})
	}
	if kept.Questions, err = w.BoxQuestions(); err != nil {
		return kept, err
	}
	cat := p.Catalog(c.Request.Context())
	if kept.Sheets, err = cat.Sheets(w.ID); err != nil {
		return kept, err
	}
	if kept.Products, err = p.Ledger.ProductsOf(c.Request.Context(), w.ID); err != nil {
		return kept, err
	}
	kept.Link, kept.Unlink = p.productForm(w, c.Query("badge")), p.unlinkForms(w, kept.Products, c.Query("badge"))
	kept.Changes, err = cat.WireChanges(w.ID, mostLines)
	return kept, err
}

// settleForm asks the engineer which side of a conflict holds.
func (p *Pages) settleForm(w inventory.Wire, conflict fit.Conflict, badge string) Form {
	side := Field{Name: "side", Label: "Which holds", Type: "radio", Required: true}
	for _, s := range conflict.Sides {
		side.Options = append(side.Options, Option{Value: s.Text(), Label: s.Text() + ", as the " + s.Who + " says"})
	}
	form := Form{Name: "settle-" + conflict.Fact, Action: "/wires/" + strconv.FormatInt(w.ID, 10) + "/settle", Submit: "Settle it",
		Hidden: []Hidden{{"fact", conflict.Fact}, {"version", strconv.Itoa(w.Version)}, {"request_key", p.NewKey()}}}
	return form.fields(side, reasonField("How you know: it is kept with the wire"), badgeField(badge))
}

// settleWire answers POST /wires/:id/settle.
func (p *Pages) settleWire(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in := p.posted(c)
	s := inventory.Settlement{Person: in.badge(), RequestKey: in.get("request_key"), WireID: id, Version: int(in.whole("version")),
		Fact: in.get("fact"), Side: in.get("side"), Reason: in.get("reason")}
	if s.Side == "" {
		in.fault("side", "choose which holds")
	}
	if s.Reason == "" {
		in.fault("reason", "say why: it is kept with the wire")
	}
	if err = in.err(); err == nil {
		var w inventory.Wire
		if w, err = p.Ledger.SettleWire(c.Request.Context(), s); err == nil {
			return seeOther(c, "/wires/"+c.Param("id")+"?done="+strconv.Itoa(w.Version))
		}
	}
	if !again(err) {
		return err
	}
	t := trouble(c, err)
	return p.showWire(c, t.status(), func(page *WirePage) {
		page.Trouble = t
		for i, d := range page.Kept.Conflicts {
			if d.Fact == s.Fact {
				now := d.Form.Hidden // the version that this page shows
				page.Kept.Conflicts[i].Form = d.Form.filled(in.get, err)
				page.Kept.Conflicts[i].Form.Hidden = now
			}
		}
	})
}

// attachForm asks for the file of a data sheet.
func (p *Pages) attachForm(w inventory.Wire, badge string) Form {
	title, revision := w.SheetOf()
	form := Form{Name: "sheet", Action: "/wires/" + strconv.FormatInt(w.ID, 10) + "/sheets", Submit: "Attach the sheet", Upload: true,
		Hidden: []Hidden{{"request_key", p.NewKey()}}}
	return form.fields(
		Field{Name: "title", Label: "Title of the sheet", Type: "text", Value: title, Required: true},
		Field{Name: "revision", Label: "Revision or date", Type: "text", Value: revision},
		Field{Name: "file", Label: "File", Type: "file", Required: true, Accept: ".pdf,.png,.jpg,.jpeg", Hint: "PDF, PNG or JPEG, at most 5 MB"},
		badgeField(badge))
}

// attachSheet answers POST /wires/:id/sheets.
func (p *Pages) attachSheet(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in, file := p.uploaded(c, "file")
	a := inventory.Attachment{Person: in.badge(), RequestKey: in.get("request_key"), WireID: id, Title: in.get("title"), Revision: in.get("revision"),
		FileName: file.name, Content: file.content}
	if err = in.err(); err == nil {
		if _, err = p.Ledger.AttachSheet(c.Request.Context(), a); err == nil {
			return seeOther(c, "/wires/"+c.Param("id")+"#sheets")
		}
	}
	if !again(err) || inventory.KindOf(err) == inventory.NotFound {
		return err
	}
	t := trouble(c, err)
	return p.showWire(c, t.status(), func(page *WirePage) {
		page.Trouble, page.Kept.Attach = t, page.Kept.Attach.filled(in.get, err)
	})
}

// sheet answers GET /sheets/:id with the file as it was uploaded. It is a
// stranger's file: the browser keeps it as a download, believes its type, and
// runs nothing in it.
func (p *Pages) sheet(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	sheet, content, err := p.Catalog(c.Request.Context()).Sheet(id)
	if err != nil {
		return err
	}
	h := c.Writer.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox; frame-ancestors 'none'")
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": sheet.FileName}))
	h.Set("X-Content-Type-Options", "nosniff")
	c.Data(http.StatusOK, sheet.MediaType, content)
	return nil
}
