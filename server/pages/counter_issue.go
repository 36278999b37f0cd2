package pages

import (
	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// issueForm returns the form that issues the spool in s.
func (p *Pages) issueForm(s slots, sealed bool) Form {
	f := Form{Name: "issue", Action: "/counter/issue", Submit: "Issue this spool",
		Hidden: append(s.hidden(), Hidden{"request_key", p.NewKey()})}
	gross := grossField(!sealed)
	if !sealed {
		return f.fields(gross)
	}
	gross.Hint = "May stay empty while the package is sealed. " + gross.Hint
	return f.fields(gross, Field{Name: "stays_sealed", Label: "Handed out sealed", Type: "checkbox", Value: "yes",
		Hint: "The exposure clock does not start. Otherwise it starts now."})
}

// issue answers POST /counter/issue: the spool goes to the job.
func (p *Pages) issue(c *gin.Context) error {
	in := p.posted(c)
	s, err := readSlots(in.get)
	issue := inventory.Issue{
		Entry: inventory.Entry{Spool: s.Spool, Person: s.Badge, RequestKey: in.get("request_key")},
		Job:   s.Job, Procedure: s.Procedure,
		Holder: s.Welder, Feeder: s.Feeder,
		Gross:       in.grams("gross"),
		StaysSealed: in.get("stays_sealed") != "",
	}
	if err == nil {
		err = in.err()
	}
	if err == nil {
		_, err = p.Ledger.Issue(c.Request.Context(), issue)
	}
	if err != nil {
		return p.issueAgain(c, s, in, err)
	}
	return seeOther(c, "/counter"+slots{Badge: s.Badge, Job: s.Job}.query("done", string(s.Spool)))
}

// issueAgain answers an issue that failed: the counter as it was, with why.
func (p *Pages) issueAgain(c *gin.Context, s slots, in *input, err error) error {
	if !again(err) {
		return err
	}
	page, errPage := p.counterPage(c, s)
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	if page.Issue != nil {
		form := page.Issue.filled(in.get, err)
		page.Issue = &form
	}
	return p.show(c, page.Trouble.status(), "counter", page)
}
