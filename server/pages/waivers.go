package pages

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// WaiversPage lists the waivers that are asked for, those that stand, and
// those that are over.
type WaiversPage struct {
	Base
	Parts []WaiverPart
}

// WaiverPart is the waivers in one state.
type WaiverPart struct {
	State, Title, None string
	Lines              []WaiverRow
	More               bool // there are more than are shown
}

// WaiverRow is a waiver with what is to be said of it.
type WaiverRow struct {
	inventory.WaiverLine
	Status string
}

var waiverParts = [...]WaiverPart{
	{State: "asked", Title: "Asked for", None: "Nobody waits for a decision"},
	{State: "standing", Title: "Standing", None: "No waiver stands"},
	{State: "ended", Title: "Over", None: "None was refused, ended or expired"},
}

// waivers answers GET /waivers.
func (p *Pages) waivers(c *gin.Context) error {
	page := WaiversPage{Base: p.base(c, "Waivers", "waivers")}
	if c.Query("done") == "asked" {
		page.Flash = "The welding engineer is asked. Somebody other than who asked decides."
	}
	for _, part := range waiverParts {
		if state := c.Query("state"); state != "" && state != part.State {
			continue
		}
		lines, err := p.Catalog(c.Request.Context()).Waivers(inventory.WaiverList{State: part.State, At: p.Now(), Limit: mostLines})
		if err != nil {
			return err
		}
		part.More = len(lines) == mostLines
		for _, line := range lines {
			part.Lines = append(part.Lines, WaiverRow{line, line.Status(p.Now())})
		}
		page.Parts = append(page.Parts, part)
	}
	return p.show(c, http.StatusOK, "waivers", page)
}

// WaiverPage is one waiver, with what the fit check finds now.
type WaiverPage struct {
	Base
	Waiver  WaiverRow
	Verdict *Verdict // nil where the job is closed
	Closed  string   // why there is none
	Again   []Choice // where it can be asked for again, under what the job is welded to now
	Checked string
	Deeds   []Deed
	Limit   string // how long it may last, and who says so
}

// waiver answers GET /waivers/:id.
func (p *Pages) waiver(c *gin.Context) error {
	page, err := p.waiverPage(c)
	if err != nil {
		return err
	}
	switch c.Query("done") {
	case "asked":
		page.Flash = "The welding engineer is asked. Somebody other than who asked decides."
	case "grant":
		page.Flash = "The waiver is granted. It goes on the issue slip."
	case "refuse":
		page.Flash = "The waiver is refused."
	case "end":
		page.Flash = "The waiver is ended."
	}
	return p.show(c, http.StatusOK, "waiver", page)
}

func (p *Pages) waiverPage(c *gin.Context) (*WaiverPage, error) {
	id, err := number(c, "id")
	if err != nil {
		return nil, err
	}
	w, err := p.Catalog(c.Request.Context()).Waiver(id)
	if err != nil {
		return nil, err
	}
	page := &WaiverPage{Base: p.base(c, "Waiver "+strconv.FormatInt(id, 10), "waivers"), Waiver: WaiverRow{w, w.Status(p.Now())}}
	check, err := p.Ledger.CheckFitUnder(c.Request.Context(), w.Spool, w.Job, w.Procedure, w.Feeder)
	switch kind := inventory.KindOf(err); {
	case kind == inventory.Invalid:
		if err := p.waiverMoved(c, page); err != nil {
			return nil, err
		}
	case kind == inventory.Refused:
		page.Closed = detailOf(err)
	case err != nil:
		return nil, err
	default:
		v := newVerdict(check.Verdict)
		page.Verdict, page.Checked = &v, check.Against()
		page.Limit = "At most " + strconv.Itoa(int(check.LongestWaiver.Hours()/24)) + " days (common practice, or less by the shop's rule profile)"
	}
	page.Deeds = p.waiverDeeds(w, page.Limit)
	return page, nil
}

// waiverMoved says that the job is no longer welded to what the waiver is for,
// and where to ask again: no waiver passes from one revision to another.
func (p *Pages) waiverMoved(c *gin.Context, page *WaiverPage) error {
	cat, w := p.Catalog(c.Request.Context()), page.Waiver
	job, err := cat.Job(w.Job)
	if err != nil {
		return err
	}
	now, err := cat.ProceduresWith(job.Procedures)
	if err != nil {
		return err
	}
	was := w.ProcedureName
	if was == "" {
		was = "the job's only procedure"
	}
	var names []string
	for _, procedure := range now {
		names = append(names, procedure.Name())
		s := slots{Spool: w.Spool, Job: w.Job, Feeder: w.Feeder, Procedure: procedure.ID}
		page.Again = append(page.Again, Choice{"/waivers/new" + s.query(), "Ask under " + procedure.Name()})
	}
	page.Closed = "It holds no more: it is for " + was + ", and the job is welded to " + strings.Join(names, ", ") + " now. No waiver passes to another revision: what stops there is asked for again."
	return nil
}

// waiverDeeds returns what can be decided about the waiver now.
func (p *Pages) waiverDeeds(w inventory.WaiverLine, limit string) []Deed {
	deed := func(name, title, submit, tone string, fields ...Field) Deed {
		form := Form{Name: name, Action: "/waivers/" + strconv.FormatInt(w.ID, 10) + "/" + name, Submit: submit, Tone: tone, Hidden: []Hidden{{"request_key", p.NewKey()}}}
		return Deed{name, title, form.fields(append([]Field{badgeField("")}, fields...)...)}
	}
	switch {
	case w.State == inventory.WaiverAsked:
		until := Field{Name: "until", Label: "Until", Type: "datetime-local", Required: true, Hint: limit}
		return []Deed{deed("grant", "Grant it", "Grant the waiver", "", reasonField("Why it is sound for this weld: it goes on the issue slip"), until),
			deed("refuse", "Refuse it", "Refuse the waiver", "stop", reasonField("Why not"))}
	case w.Standing(p.Now()):
		return []Deed{deed("end", "End it early", "End the waiver", "stop", reasonField("Why it no longer holds"))}
	}
	return nil
}

// decideWaiver answers POST /waivers/:id/:deed.
func (p *Pages) decideWaiver(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in := p.posted(c)
	d := inventory.WaiverDecision{ID: id, Person: in.badge(), Reason: in.get("reason"), RequestKey: in.get("request_key")}
	decide := p.Ledger.GrantWaiver
	switch deed := c.Param("deed"); deed {
	case "grant":
		d.Until = in.when("until")
	case "refuse":
		decide = p.Ledger.RefuseWaiver
	case "end":
		decide = p.Ledger.EndWaiver
	default:
		return inventory.NotFoundf("no-such-page", "there is no page at %s", c.Request.URL.Path)
	}
	if err = in.err(); err == nil {
		_, err = decide(c.Request.Context(), d)
	}
	if err == nil {
		return seeOther(c, strings.TrimSuffix(c.Request.URL.Path, "/"+c.Param("deed"))+"?done="+c.Param("deed"))
	}
	if !again(err) {
		return err
	}
	page, errPage := p.waiverPage(c)
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	for i, deed := range page.Deeds {
		if deed.Name == c.Param("deed") {
			page.Deeds[i].Form = deed.Form.filled(in.get, err)
		}
	}
	return p.show(c, page.Trouble.status(), "waiver", page)
}
