package pages

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// AskNote offers to ask for a waiver of all that stops a spool.
type AskNote struct {
	Href  string                 // where it is asked; empty if all of it is asked for
	Asked []inventory.WaiverLine // what somebody asked for already
	// Elsewhere is what is asked for or granted of a rule that stops here, for
	// another procedure or revision, and so does not help.
	Elsewhere []inventory.WaiverLine
	Here      string // the procedure that it would have to be for
}

// askNote returns what the counter offers where rules stop; nil where a waiver
// of all that may be waived would not let the spool go.
func askNote(c inventory.Check, s slots) *AskNote {
	if !c.MayAsk() {
		return nil
	}
	left, asked := unasked(c, s.Feeder)
	n := &AskNote{Asked: asked, Here: c.Procedure.Name()}
	for _, w := range c.Elsewhere {
		if slices.Contains(left, w.Rule) {
			n.Elsewhere = append(n.Elsewhere, w)
		}
	}
	if len(left) > 0 {
		n.Href = "/waivers/new" + s.query()
	}
	return n
}

// unasked parts the rules that stop into those that nobody has asked a waiver
// of, for the feeder, and the waivers that are asked for.
func unasked(c inventory.Check, feeder inventory.Code) (left []fit.Rule, asked []inventory.WaiverLine) {
	for _, rule := range c.Waivable {
		found := false
		for _, w := range c.Asked {
			if w.Rule == rule && w.Feeder == feeder {
				asked, found = append(asked, w), true
			}
		}
		if !found {
			left = append(left, rule)
		}
	}
	return left, asked
}

// rulesInWords lists rules in the middle of a sentence: "shelf life and
// diameter".
func rulesInWords(rules []fit.Rule) string {
	words := make([]string, len(rules))
	for i, r := range rules {
		words[i] = strings.ToLower(ruleName(r))
	}
	if last := len(words) - 1; last > 0 {
		return strings.Join(words[:last], ", ") + " and " + words[last]
	}
	return strings.Join(words, "")
}

// WaiverAskPage asks for a waiver of all that stops a spool for a job.
type WaiverAskPage struct {
	Base
	Check   inventory.Check
	Verdict Verdict
	Form    *Form  // nil where a waiver would not help
	Rules   string // what is asked about: "Classification and Diameter"
}

// newWaiver answers GET /waivers/new.
func (p *Pages) newWaiver(c *gin.Context) error {
	s, err := readSlots(c.Query)
	if err != nil {
		return err
	}
	page, err := p.waiverAskPage(c, s)
	if err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "waiverask", page)
}

func (p *Pages) waiverAskPage(c *gin.Context, s slots) (*WaiverAskPage, error) {
	if s.Spool == "" || s.Job == "" {
		return nil, inventory.NotFoundf("no-such-page", "scan a spool and a job at the counter first")
	}
	check, err := p.Ledger.CheckFitUnder(c.Request.Context(), s.Spool, s.Job, s.Procedure, s.Feeder)
	if err != nil {
		return nil, err
	}
	page := &WaiverAskPage{Base: p.base(c, "Ask for a waiver", "waivers"), Check: check, Verdict: newVerdict(check.Verdict)}
	left, _ := unasked(check, s.Feeder)
	if !check.MayAsk() || len(left) == 0 {
		return page, nil
	}
	form := Form{Name: "ask", Action: "/waivers", Submit: "Ask the welding engineer", Hidden: append(s.without("badge").hidden(), Hidden{"request_key", p.NewKey()})}
	for _, rule := range left {
		form.Hidden = append(form.Hidden, Hidden{"rules", string(rule)})
	}
	reason := reasonField("Why this spool should be used all the same: the engineer reads it")
	form = form.fields(badgeField(string(s.Badge)), reason)
	page.Form, page.Rules = &form, rulesInWords(left)
	return page, nil
}

// askWaiver answers POST /waivers.
func (p *Pages) askWaiver(c *gin.Context) error {
	in := p.posted(c)
	s, err := readSlots(in.get)
	if err != nil {
		return err
	}
	q := inventory.WaiverRequest{Spool: s.Spool, Job: s.Job, Procedure: s.Procedure, Feeder: s.Feeder, Person: in.badge(), Reason: in.get("reason"), RequestKey: in.get("request_key")}
	for _, rule := range c.PostFormArray("rules") {
		q.Rules = append(q.Rules, fit.Rule(rule))
	}
	var asked []inventory.Waiver
	if err = in.err(); err == nil {
		asked, err = p.Ledger.AskWaiver(c.Request.Context(), q)
	}
	switch {
	case err == nil && len(asked) == 1:
		return seeOther(c, "/waivers/"+strconv.FormatInt(asked[0].ID, 10)+"?done=asked")
	case err == nil:
		return seeOther(c, "/waivers?done=asked")
	case !again(err):
		return err
	}
	page, errPage := p.waiverAskPage(c, s)
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	if page.Form != nil {
		form := page.Form.refilled(in.get, err)
		page.Form = &form
	}
	return p.show(c, page.Trouble.status(), "waiverask", page)
}

// refilled is filled, with the rules that were asked about left as they are
// now: a field that stands several times cannot be read by its name.
func (f Form) refilled(typed func(string) string, err error) Form {
	return f.filled(func(name string) string {
		if name == "rules" {
			return ""
		}
		return typed(name)
	}, err)
}
