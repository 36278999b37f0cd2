package pages

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// ComparePage is two wires side by side: can the second stand in for the
// first?
type ComparePage struct {
	Base
	Form   Form
	A, B   *inventory.Wire // nil until chosen
	Facts  *ComparedFacts
	Checks *ComparedChecks // nil if no job was chosen
	Swap   string          // the same with the wires changed over
}

// ComparedFacts is the two wires fact by fact.
type ComparedFacts struct{ Differences, Same ComparedTable }

// ComparedTable is some facts of the two wires, which its columns name.
type ComparedTable struct {
	A, B string
	Rows []inventory.ComparedFact
}

// ComparedChecks is what a job says of the two wires.
type ComparedChecks struct {
	Job     inventory.Job
	A, B    Verdict
	Changed []ChangedLine
	Answer  string // may B stand in for A on this job, in one sentence
	Tone    string // "safe", "caution" or "stop"
	Alike   int    // how many rules both wires answer alike
}

// ChangedLine is one rule that the two wires answer differently.
type ChangedLine struct {
	Rule fit.Rule
	A, B OutcomeView
}

// OutcomeView is one finding as it is shown beside another.
type OutcomeView struct {
	fit.Finding
	Of   string // the wire's name
	Tone string // as of a verdict; "" where the job asks nothing
}

// compare answers GET /wires/compare.
func (p *Pages) compare(c *gin.Context) error {
	cat := p.Catalog(c.Request.Context())
	page := ComparePage{Base: p.base(c, "Compare two wires", "wires")}
	choice, err := comparedIn(c, cat)
	if err == nil {
		page.A, page.B = choice.a, choice.b
		err = page.compare(c, p.Ledger, choice)
	}
	if err != nil && !again(err) {
		return err
	}
	form, errForm := compareForm(cat, page.A, page.B)
	if errForm != nil {
		return errForm
	}
	page.Form = form.filled(c.Query, err)
	page.Form.Wrong = err != nil
	if err != nil {
		page.Trouble = trouble(c, err)
	}
	return p.show(c, page.Trouble.status(), "compare", page)
}

// wirePair is what is to be compared; nil is not chosen.
type wirePair struct {
	a, b *inventory.Wire
	job  string
}

// comparedIn reads the wires and the job in the page's address.
func comparedIn(c *gin.Context, cat Catalog) (out wirePair, err error) {
	if out.a, err = wireIn(c, cat, "a"); err != nil {
		return out, err
	}
	if out.b, err = wireIn(c, cat, "b"); err != nil {
		return out, err
	}
	out.job = strings.TrimSpace(c.Query("job"))
	if out.a != nil && out.b != nil && out.a.ID == out.b.ID {
		return out, inventory.Invalidf("b", "choose another wire: this is the one on the left")
	}
	return out, nil
}

func wireIn(c *gin.Context, cat Catalog, field string) (*inventory.Wire, error) {
	text := c.Query(field)
	if text == "" {
		return nil, nil
	}
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return nil, inventory.Invalidf(field, "choose a wire from the list")
	}
	w, err := cat.Wire(id)
	if inventory.KindOf(err) == inventory.NotFound {
		return nil, inventory.Invalidf(field, "%s: choose one from the list", detailOf(err))
	}
	return &w, err
}

// compare fills the page with what the two wires come to.
func (page *ComparePage) compare(c *gin.Context, ledger *inventory.Ledger, choice wirePair) error {
	if choice.a == nil || choice.b == nil {
		return nil
	}
	facts, err := inventory.CompareWires(*choice.a, *choice.b)
	if err != nil {
		return err
	}
	a, b := choice.a.TradeName, choice.b.TradeName
	page.Facts = &ComparedFacts{ComparedTable{a, b, facts.Differences}, ComparedTable{a, b, facts.Same}}
	page.Title = choice.b.TradeName + " for " + choice.a.TradeName
	page.Swap = comparePage(choice.b.ID, choice.a.ID, choice.job)
	if choice.job == "" {
		return nil
	}
	page.Checks, err = comparedChecks(c, ledger, choice)
	return err
}

// comparePage is the address of a comparison; zero and empty are left out.
func comparePage(a, b int64, job string) string {
	v := url.Values{"a": {strconv.FormatInt(a, 10)}}
	if b != 0 {
		v.Set("b", strconv.FormatInt(b, 10))
	}
	if job != "" {
		v.Set("job", job)
	}
	return "/wires/compare?" + v.Encode()
}

func comparedChecks(c *gin.Context, ledger *inventory.Ledger, choice wirePair) (*ComparedChecks, error) {
	ctx := c.Request.Context()
	number, under := jobAndProcedure(choice.job)
	job, err := ledger.FindJob(ctx, number)
	if err != nil {
		return nil, inventory.Invalidf("job", "%s", detailOf(err))
	}
	procedure, err := ledger.FindProcedure(ctx, job.Code, under)
	if err != nil {
		return nil, inventory.Invalidf("job", "%s", detailOf(err))
	}
	if procedure == 0 && len(job.Procedures) > 1 {
		return nil, inventory.Invalidf("job", "job %s has several procedures: choose it with one of them", job.Number)
	}
	a, err := ledger.CheckWireUnder(ctx, choice.a.ID, job.Code, procedure)
	if err != nil {
		return nil, err
	}
	b, err := ledger.CheckWireUnder(ctx, choice.b.ID, job.Code, procedure)
	if err != nil {
		return nil, err
	}
	out := &ComparedChecks{Job: job, A: newVerdict(a.Verdict), B: newVerdict(b.Verdict)}
	for _, f := range inventory.ChangedFindings(a.Verdict, b.Verdict) {
		out.Changed = append(out.Changed, ChangedLine{f.Rule, outcome(*choice.a, f.A), outcome(*choice.b, f.B)})
	}
	out.Alike = len(a.Verdict.Findings) - len(out.Changed)
	out.Answer, out.Tone = standIn(*choice.b, job, b.Verdict)
	return out, nil
}

func outcome(w inventory.Wire, f fit.Finding) OutcomeView {
	tones := map[fit.Outcome]string{fit.Stops: "stop", fit.Caution: "caution", fit.Passed: "safe"}
	return OutcomeView{f, w.TradeName, tones[f.Outcome]}
}

// standIn says whether a wire may stand in on a job, going by its verdict.
func standIn(w inventory.Wire, job inventory.Job, v fit.Verdict) (answer, tone string) {
	view := newVerdict(v)
	switch v.Answer {
	case fit.Fits:
		return "By the fit check " + w.TradeName + " can stand in on job " + job.Number + ".", view.Tone
	case fit.FitsWithCautions:
		return "By the fit check " + w.TradeName + " can stand in on job " + job.Number + " once somebody has looked at: " + ruleNames(view.Cautions) + ".", view.Tone
	}
	return w.TradeName + " cannot stand in on job " + job.Number + ": " + ruleNames(view.Stops) + ".", view.Tone
}

// How many wires and jobs can be chosen from.
const mostCompared, mostComparedJobs = 2000, 200

// compareForm asks for the two wires and the job. The wires that are chosen can
// be chosen again, however long the list is.
func compareForm(cat Catalog, chosen ...*inventory.Wire) (Form, error) {
	wires, err := cat.WiresAfter(0, mostCompared)
	if err != nil {
		return Form{}, err
	}
	slices.SortFunc(wires, func(a, b inventory.Wire) int { return cmp.Or(cmp.Compare(a.Name(), b.Name()), cmp.Compare(a.ID, b.ID)) })
	jobs, err := cat.Jobs(inventory.Query{Limit: mostComparedJobs})
	if err != nil {
		return Form{}, err
	}
	choices := []Option{{Label: "Choose a wire"}}
	for _, w := range wires {
		choices = append(choices, wireOption(w))
	}
	for _, w := range chosen {
		if w != nil && !slices.Contains(choices, wireOption(*w)) {
			choices = append(choices, wireOption(*w))
		}
	}
	work := []Option{{Label: "No job: facts alone"}}
	for _, j := range jobs {
		if !j.Closed {
			work = append(work, jobChoices(j)...)
		}
	}
	other := slices.Clone(choices)
	return Form{Name: "compare", Action: "/wires/compare", Submit: "Compare"}.fields(
		Field{Name: "a", Label: "The wire that is wanted", Type: "select", Options: choices, Required: true},
		Field{Name: "b", Label: "The one that might stand in", Type: "select", Options: other, Required: true},
		Field{Name: "job", Label: "For the job", Type: "select", Options: work},
	), nil
}

func wireOption(w inventory.Wire) Option {
	return Option{Value: strconv.FormatInt(w.ID, 10), Label: strings.TrimSuffix(w.Name()+", "+w.Package, ", ")}
}
