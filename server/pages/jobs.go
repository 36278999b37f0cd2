package pages

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// JobsPage lists jobs.
type JobsPage struct {
	Base
	List  List
	Lines []inventory.JobLine
}

// jobs answers GET /jobs.
func (p *Pages) jobs(c *gin.Context) error {
	q := listQuery(c)
	lines, err := p.Catalog(c.Request.Context()).Jobs(q)
	if err != nil {
		return err
	}
	page := JobsPage{Base: p.base(c, "Jobs", "jobs")}
	page.Lines, page.List = paged("/jobs", q, lines)
	return p.show(c, http.StatusOK, "jobs", page)
}

// JobPage is one job: what it demands of the wire and what is out on it.
type JobPage struct {
	Base
	Job        inventory.Job
	Procedures []inventory.Procedure // in order
	Cautions   []string              // in which way the job lies outside what they are qualified for
	Again      bool                  // never: see [EntryPage]
	Profile    string
	Demands    []DemandLine
	Silent     string // what neither job nor procedure says anything about
	Spools     []inventory.SpoolLine
	Takes      []JobTake // for each procedure; nil of a closed job
	Deeds      []Deed
	Changes    []inventory.RecordChange
	Next       *Step
}

// JobTake is which spool to take for the job under one of its procedures.
type JobTake struct {
	Procedure string // its name; empty where the job has one alone
	Take      *ChoicesView
}

// DemandLine is one thing a job demands, with who demands it.
type DemandLine struct{ What, Value, Source string }

func (p *Pages) jobAt(c *gin.Context) (inventory.Job, error) {
	code, err := codeIn(c, inventory.JobCode)
	if err != nil {
		return inventory.Job{}, err
	}
	return p.Catalog(c.Request.Context()).Job(code)
}

// job answers GET /jobs/:code.
func (p *Pages) job(c *gin.Context) error {
	j, err := p.jobAt(c)
	if err != nil {
		return err
	}
	return p.showJob(c, j, nil, "", nil)
}

// showJob answers with the page of j; what was wrong with a deed, if something
// was, is err.
func (p *Pages) showJob(c *gin.Context, j inventory.Job, in *input, deed string, err error) error {
	if err != nil && !again(err) {
		return err
	}
	page := &JobPage{Base: p.base(c, "Job "+j.Number, "jobs"), Job: j, Profile: j.ProfileID, Deeds: p.jobDeeds(j, c.Query("badge"))}
	if err != nil {
		page.Trouble = trouble(c, err)
		refill(page.Deeds, deed, in, err)
	}
	if err := p.fillJob(c, page); err != nil {
		return err
	}
	return p.show(c, page.Trouble.status(), "job", page)
}

func (p *Pages) fillJob(c *gin.Context, page *JobPage) (err error) {
	cat := p.Catalog(c.Request.Context())
	if page.Procedures, err = cat.ProceduresWith(page.Job.Procedures); err != nil {
		return err
	}
	if page.Cautions, err = p.outside(c, page.Job); err != nil {
		return err
	}
	profile, err := p.Ledger.Profile(c.Request.Context(), page.Job.ProfileID)
	if err != nil && inventory.KindOf(err) != inventory.NotFound {
		return err
	}
	if err == nil {
		page.Profile = profile.Name
	}
	if page.Spools, err = cat.Spools(inventory.Query{Job: page.Job.Code, Limit: mostLines}); err != nil {
		return err
	}
	if page.Takes, err = p.takes(c, page); err != nil {
		return err
	}
	page.Demands, page.Silent = demands(page.Job, page.Procedures)
	if page.Changes, err = p.changes(c, &page.Base, "Job "+page.Job.Number, inventory.JobRecord, string(page.Job.Code)); err != nil {
		return err
	}
	page.Next, err = p.nextStep(c)
	return err
}

// takes lists which spool to take, for each of the job's procedures.
func (p *Pages) takes(c *gin.Context, page *JobPage) (out []JobTake, err error) {
	for _, w := range page.Procedures {
		s, take := slots{Job: page.Job.Code}, JobTake{}
		if len(page.Procedures) > 1 {
			s.Procedure, take.Procedure = w.ID, w.Name()
		}
		if take.Take, err = p.choices(c, s, max(fewInstead, mostTaken/len(page.Procedures))); err != nil {
			return nil, err
		}
		if take.Take != nil {
			out = append(out, take)
		}
	}
	return out, nil
}

func (p *Pages) jobDeeds(j inventory.Job, badge string) []Deed {
	path := "/jobs/" + string(j.Code)
	if j.Closed {
		return []Deed{p.deed(path, "reopen", "Open the job again", "Reopen the job", "", "The welding engineer's or the owner's", badge)}
	}
	return []Deed{p.deed(path, "close", "Close the job", "Close the job", "stop", "The welding engineer's or the owner's. No wire goes to it from then on; what is out still comes back", badge)}
}

// demands lists what the job, welded to the procedures, demands, and names what
// all of it leaves open.
func demands(j inventory.Job, procedures []inventory.Procedure) (lines []DemandLine, silent string) {
	all, said := jobDemands(j), map[string]bool{}
	for _, w := range procedures {
		all = append(all, procedureDemands(w)...)
	}
	for _, d := range all {
		if d.Value != "" {
			lines, said[d.What] = append(lines, d), true
		}
	}
	var open []string
	for _, d := range all {
		if !said[d.What] {
			open, said[d.What] = append(open, strings.ToLower(d.What)), true
		}
	}
	return lines, strings.Join(open, ", ")
}

func jobDemands(j inventory.Job) []DemandLine {
	var lines []DemandLine
	for _, d := range j.Demands() {
		if d.Label == "number" || d.Label == "name" {
			continue
		}
		lines = append(lines, DemandLine{sentence(d.Label), d.After, "job " + j.Number})
	}
	return lines
}

func procedureDemands(w inventory.Procedure) []DemandLine {
	var lines []DemandLine
	for _, d := range w.Demands() {
		if d.Label != "title" {
			lines = append(lines, DemandLine{sentence(d.Label), d.After, "procedure " + w.Name()})
		}
	}
	return lines
}

// joined writes alternatives: "A or B".
func joined[T ~string](words []T) string {
	var out []string
	for _, w := range words {
		out = append(out, string(w))
	}
	return strings.Join(out, " or ")
}

// gasWords writes a gas; nil is not known.
func gasWords(g *fit.Gas) string {
	if g == nil {
		return "not known"
	}
	return g.String()
}
