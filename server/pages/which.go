package pages

import (
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// Which is the choice among the procedures of a job that has several.
type Which struct {
	Job      string
	Chosen   string // the one that is checked against; empty while it is asked
	Proposed bool   // nobody chose it: it is the only one that the spool fits
	None     bool   // the spool fits none of them
	Choices  []WhichChoice
}

// WhichChoice is one of the procedures.
type WhichChoice struct {
	Href, Name, Title string
	Tone, Word        string // what the fit check says of the spool; empty while none is known
	Chosen            bool
}

// which returns the choice among the job's procedures, and the slots with the
// one that is checked against: the chosen one, or the only one that the spool
// fits. It is nil where the job has one.
func (p *Pages) which(c *gin.Context, path string, s slots, t things) (*Which, slots, error) {
	if t.job == nil || len(t.job.Procedures) < 2 {
		return nil, s, nil
	}
	checks, err := p.procedureChecks(c, s, t)
	if err != nil {
		return nil, s, err
	}
	w := &Which{Job: t.job.Number}
	if only, ok := inventory.OnlyFit(checks); ok && t.spool != nil && s.Procedure == 0 {
		s.Procedure, w.Proposed = only.ID, true
	}
	w.None = t.spool != nil && !slices.ContainsFunc(checks, inventory.ProcedureCheck.Fits)
	for _, check := range checks {
		choice := WhichChoice{Href: path + s.under(check.Procedure.ID).query(), Name: check.Procedure.Name(), Title: check.Procedure.Title, Chosen: check.Procedure.ID == s.Procedure}
		if t.spool != nil {
			choice.Tone, choice.Word = fitWords(check)
		}
		if choice.Chosen {
			w.Chosen = choice.Name
		}
		w.Choices = append(w.Choices, choice)
	}
	return w, s, nil
}

// procedureChecks checks the spool against each procedure; without a spool there
// is no verdict.
func (p *Pages) procedureChecks(c *gin.Context, s slots, t things) ([]inventory.ProcedureCheck, error) {
	if t.spool != nil {
		return p.Ledger.CheckProcedures(c.Request.Context(), s.Spool, s.Job, s.Feeder)
	}
	procedures, err := p.Catalog(c.Request.Context()).ProceduresWith(t.job.Procedures)
	out := make([]inventory.ProcedureCheck, len(procedures))
	for i, w := range procedures {
		out[i].Procedure = w
	}
	return out, err
}

func fitWords(check inventory.ProcedureCheck) (tone, word string) {
	if check.Bar != nil {
		return "stop", "nothing goes out under it"
	}
	v := newVerdict(check.Verdict)
	word = string(check.Verdict.Answer)
	switch check.Verdict.Answer {
	case fit.DoesNotFit:
		word += ": " + ruleNames(v.Stops)
	case fit.FitsWithCautions:
		word += ": " + ruleNames(v.Cautions)
	}
	return v.Tone, word
}

// jobAndProcedure parts "2212 / WPS-31 rev B", as the choice of a job among
// others writes one with several procedures.
func jobAndProcedure(text string) (job, procedure string) {
	job, procedure, _ = strings.Cut(text, " / ")
	return job, procedure
}

// jobChoices is the job in a list of jobs: once for each of its procedures.
func jobChoices(j inventory.JobLine) []Option {
	if len(j.Procedures) < 2 {
		return []Option{{Value: j.Number, Label: j.Number + " " + j.Name}}
	}
	var out []Option
	for _, name := range strings.Split(j.ProcedureName, ", ") {
		out = append(out, Option{Value: j.Number + " / " + name, Label: j.Number + " " + j.Name + ", " + name})
	}
	return out
}
