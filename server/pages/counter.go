package pages

import (
	"fmt"
	"net/url"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// CounterPage is the counter: may this spool go to this job, and why.
type CounterPage struct {
	Base
	Desk     Desk
	Verdict  *Verdict     // nil until job and spool are known
	Steps    []Step       // what a new store needs before the first issue; nil once it has all
	MayNot   string       // why the badge may not issue, and who may; empty if it may
	Closed   string       // why nothing goes to the job at all; empty if something may
	Checked  string       // procedure and rule profile
	Ask      *AskNote     // nil where no waiver would let the spool go
	Instead  []Choice     // where to look for wire of the classes that the procedure lists
	Lists    string       // the procedure that lists them
	To       string       // who takes the spool, and for what
	Issue    *Form        // nil if the spool may not go, or no badge was scanned
	Out      *OutNote     // the spool is out already
	Slip     *Slip        // of the spool that was issued last
	Opening  *OpeningNote // what the air would do to the spool if it were opened; nil for nothing
	NeedName bool         // all is well and only a badge is missing

	Languages Languages

	Which *Which // nil unless the job has several procedures

	Take *ChoicesView // which spool to take; nil until a job is known, and where a spool fits
}

// Choice is a link to something that may be taken instead.
type Choice struct{ Href, Label string }

// OutNote says who has a spool, with the form that takes it back.
type OutNote struct {
	Line   inventory.SpoolLine
	Return *Form // nil until a badge is scanned
}

// counter answers GET /counter.
func (p *Pages) counter(c *gin.Context) error {
	s, moved, err := p.scanned(c)
	if moved {
		return seeOther(c, "/counter"+s.query())
	}
	if err != nil && !again(err) {
		return err
	}
	page, errPage := p.counterPage(c, s)
	if errPage != nil {
		return errPage
	}
	if err != nil {
		page.Desk.Fault = detailOf(err)
		return p.show(c, trouble(c, err).status(), "counter", page)
	}
	if page.Slip, err = p.slip(c, c.Query("done")); err != nil {
		return err
	}
	return p.show(c, page.Trouble.status(), "counter", page)
}

// counterPage returns the counter with the slots s on it.
func (p *Pages) counterPage(c *gin.Context, s slots) (*CounterPage, error) {
	s.Place = ""
	t, err := s.lookUp(p.Catalog(c.Request.Context()))
	if err != nil {
		return nil, err
	}
	page := &CounterPage{Base: p.base(c, "Counter", "counter"), Languages: languages(c, "/counter", s)}
	page.Desk = newDesk("/counter", s, t, "badge", "job", "spool", "feeder", "welder")
	if page.Steps, err = p.setup(c); err != nil {
		return nil, err
	}
	if t.spool == nil || !t.spool.Out() {
		if page.Which, s, err = p.which(c, "/counter", s, t); err != nil {
			return nil, err
		}
	}
	switch {
	case page.Which != nil && s.Procedure == 0 && page.Which.None:
		page.Verdict = doesNotFit(language(c), t)
		page.Closed = "It fits none of the job's procedures. Choose one to see why, and what to take instead."
	case page.Which != nil && s.Procedure == 0: // it is asked first
	case t.spool == nil && t.job != nil && t.badge != nil:
		page.Take, err = p.choices(c, s, mostTaken)
	case t.spool == nil:
	case t.spool.Out():
		err = p.addOut(c, page, s, t)
	case t.job != nil:
		err = p.addVerdict(c, page, s, t)
	}
	return page, err
}

// addOut adds who has the spool that is out.
func (p *Pages) addOut(c *gin.Context, page *CounterPage, s slots, t things) error {
	page.Out = &OutNote{Line: *t.spool}
	if t.badge == nil {
		return nil
	}
	places, err := p.Catalog(c.Request.Context()).Places()
	if err != nil {
		return err
	}
	form := p.returnForm(s, places)
	page.Out.Return = &form
	return nil
}

// addVerdict adds the fit check of spool and job and, if the spool may go, the
// form that issues it.
func (p *Pages) addVerdict(c *gin.Context, page *CounterPage, s slots, t things) error {
	check, err := p.Ledger.CheckFitUnder(c.Request.Context(), s.Spool, s.Job, s.Procedure, s.Feeder)
	if inventory.KindOf(err) == inventory.Refused || inventory.KindOf(err) == inventory.NotFound {
		page.Verdict, page.Closed = doesNotFit(language(c), t), detailOf(err)
		return nil
	}
	if err != nil {
		return err
	}
	v := newVerdictIn(language(c), check.Verdict)
	v.Of = compared(t)
	page.Verdict, page.Checked = &v, check.Against()
	if check.Verdict.Answer == fit.DoesNotFit {
		page.Instead, page.Lists, page.Ask = instead(check.Procedure), check.Procedure.Name(), askNote(check, s)
		page.Take, err = p.choices(c, s, fewInstead)
		return err
	}
	if page.Opening, err = p.opening(c, *t.spool, s.Feeder); err != nil {
		return err
	}
	if t.badge == nil {
		page.NeedName = true
		return nil
	}
	if !t.badge.Role.MayIssue() {
		page.MayNot = fmt.Sprintf("%s is a %s: a store attendant, the welding engineer or the owner issues wire. One of them clears this badge and scans their own, then the welder's.", t.badge.Name, t.badge.Role)
		return nil
	}
	form := p.issueForm(s, !t.spool.Opened())
	page.Issue, page.To = &form, t.goesTo()
	return nil
}

// doesNotFit is the verdict where no rule was asked.
func doesNotFit(l fit.Language, t things) *Verdict {
	return &Verdict{Word: strings.ToUpper(fit.DoesNotFit.In(l)), Tone: "stop", Of: compared(t), Lang: langOf(l)}
}

// compared names the spool and the job of a fit check.
func compared(t things) string {
	return fmt.Sprintf("Spool %s for job %s", t.spool.Code, t.job.Number)
}

// goesTo says who takes the spool, and for what.
func (t things) goesTo() string {
	taker := t.badge
	if t.welder != nil {
		taker = t.welder
	}
	return fmt.Sprintf("%s takes it for job %s", taker.Name, t.job.Number)
}

// instead lists where wire is found that the procedure allows.
func instead(proc inventory.Procedure) []Choice {
	var out []Choice
	for _, class := range proc.Classifications {
		out = append(out, Choice{"/spools?q=" + url.QueryEscape(class), class + " spools in the store"})
	}
	return append(out, Choice{"/wires", "all wires"})
}
