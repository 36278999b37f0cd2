package pages

import (
	"net/http"
	"strconv"
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
	Job       inventory.Job
	Procedure inventory.Procedure
	Demands   []DemandLine
	Silent    string // what neither job nor procedure says anything about
	Spools    []inventory.SpoolLine
	Take      *ChoicesView // nil of a closed job
}

// DemandLine is one thing a job demands, with who demands it.
type DemandLine struct{ What, Value, Source string }

// job answers GET /jobs/:code.
func (p *Pages) job(c *gin.Context) error {
	code, err := codeIn(c, inventory.JobCode)
	if err != nil {
		return err
	}
	cat := p.Catalog(c.Request.Context())
	page := JobPage{}
	if page.Job, err = cat.Job(code); err != nil {
		return err
	}
	page.Base = p.base(c, "Job "+page.Job.Number, "jobs")
	if page.Procedure, err = cat.Procedure(page.Job.ProcedureID); err != nil {
		return err
	}
	if page.Spools, err = cat.Spools(inventory.Query{Job: code, Limit: mostLines}); err != nil {
		return err
	}
	if page.Take, err = p.choices(c, slots{Job: code}, mostTaken); err != nil {
		return err
	}
	page.Demands, page.Silent = demands(page.Job, page.Procedure)
	return p.show(c, http.StatusOK, "job", page)
}

// demands lists what the job, welded to the procedure, demands, and names what
// it leaves open.
func demands(j inventory.Job, w inventory.Procedure) (lines []DemandLine, silent string) {
	var open []string
	for _, d := range append(jobDemands(j), procedureDemands(w)...) {
		if d.Value == "" {
			open = append(open, strings.ToLower(d.What))
			continue
		}
		lines = append(lines, d)
	}
	return lines, strings.Join(open, ", ")
}

func jobDemands(j inventory.Job) []DemandLine {
	says := "job " + j.Number
	lines := []DemandLine{{"Base metal", baseMetals(j.BaseMetals), says}, {"Thickest plate", "", says}, {"Joint", j.Joint, says}, {"Wind at the weld", "", says}}
	if j.Thickness > 0 {
		lines[1].Value = j.Thickness.Inches() + " / " + j.Thickness.Millimetres(1)
	}
	if j.Wind > 0 {
		lines[3].Value = j.Wind.MPH() + " / " + j.Wind.String()
		if j.Sheltered {
			lines[3].Value += ", sheltered"
		}
	}
	return lines
}

func procedureDemands(w inventory.Procedure) []DemandLine {
	says := "procedure " + w.Name()
	var diameters []string
	for _, d := range w.Diameters {
		diameters = append(diameters, d.Inches()+" / "+d.Millimetres(1))
	}
	lines := []DemandLine{
		{"Process", joined(w.Processes), says},
		{"Classification", joined(w.Classifications), says},
		{"Diameter", strings.Join(diameters, " or "), says},
		{"Polarity", string(w.Polarity), says},
		{"Shielding gas", "", says},
		{"Passes", string(w.Passes), says},
		{"Positions", strings.ReplaceAll(joined(w.Positions), " or ", ", "), says},
		{"Tensile strength", "", says}, {"Toughness", "", says}, {"Diffusible hydrogen", "", says},
	}
	if w.Gas != nil {
		lines[4].Value = gasWords(w.Gas)
	}
	if !w.Tensile.IsZero() {
		lines[7].Value = w.Tensile.String() + " at least"
	}
	if !w.Toughness.IsZero() {
		lines[8].Value = w.Toughness.String()
	}
	if w.Hydrogen > 0 {
		lines[9].Value = strconv.Itoa(w.Hydrogen) + " mL/100 g at most"
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

func baseMetals(metals []fit.BaseMetal) string {
	var out []string
	for _, m := range metals {
		out = append(out, m.Name+" ("+m.Family+")")
	}
	return strings.Join(out, " to ")
}

// gasWords writes a gas; nil is not known.
func gasWords(g *fit.Gas) string {
	if g == nil {
		return "not known"
	}
	return g.String()
}
