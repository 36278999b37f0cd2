package pages

import (
	"net/http"
	"slices"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// ProceduresPage lists the revisions of procedures.
type ProceduresPage struct {
	Base
	List  List
	Lines []inventory.ProcedureLine
}

// procedures answers GET /procedures.
func (p *Pages) procedures(c *gin.Context) error {
	q := listQuery(c)
	lines, err := p.Catalog(c.Request.Context()).Procedures(q)
	if err != nil {
		return err
	}
	page := ProceduresPage{Base: p.base(c, "Procedures", "procedures")}
	page.Lines, page.List = paged("/procedures", q, lines)
	return p.show(c, http.StatusOK, "procedures", page)
}

// ProcedurePage is one revision, beside the others of its procedure.
type ProcedurePage struct {
	Base
	Procedure inventory.Procedure
	Revisions []inventory.Procedure // those side by side, the latest entered first
	More      int                   // that are not shown
	Rows      []RevisionRow
	Silent    []string // labels of which no revision says anything
	Jobs      []inventory.JobLine
	Open      int // of the jobs
	Deeds     []Deed
	Changes   []inventory.RecordChange
	Next      *Step
}

// RevisionRow is one demand in the revisions side by side.
type RevisionRow struct {
	Label string
	Cells []RevisionCell
}

// RevisionCell is what one revision demands.
type RevisionCell struct {
	Revision string
	Value    string
	Changed  bool // the revision before it says something else
	This     bool
}

// mostBeside is how many revisions stand side by side.
const mostBeside = 4

// beside holds the revisions, the latest first, against each other. The last
// of them is compared with older if there is one.
func beside(revisions []inventory.Procedure, shown int, this int64) (rows []RevisionRow, silent []string) {
	var demands [][]inventory.Difference
	for _, r := range revisions {
		demands = append(demands, r.Demands())
	}
	for line, d := range demands[0] {
		row, said := RevisionRow{Label: sentence(d.Label)}, false
		for i := range shown {
			value := demands[i][line].After
			cell := RevisionCell{Revision: revisions[i].Revision, Value: value, This: revisions[i].ID == this}
			cell.Changed = i+1 < len(revisions) && demands[i+1][line].After != value
			row.Cells, said = append(row.Cells, cell), said || value != "" || cell.Changed
		}
		if !said {
			silent = append(silent, d.Label)
			continue
		}
		rows = append(rows, row)
	}
	return rows, silent
}

func (p *Pages) procedureAt(c *gin.Context) (inventory.Procedure, error) {
	id, err := number(c, "id")
	if err != nil {
		return inventory.Procedure{}, err
	}
	return p.Catalog(c.Request.Context()).Procedure(id)
}

// procedure answers GET /procedures/:id.
func (p *Pages) procedure(c *gin.Context) error {
	w, err := p.procedureAt(c)
	if err != nil {
		return err
	}
	return p.showProcedure(c, w, nil, "", nil)
}

// showProcedure answers with the page of w; what was wrong with a deed, if
// something was, is err.
func (p *Pages) showProcedure(c *gin.Context, w inventory.Procedure, in *input, deed string, err error) error {
	if err != nil && !again(err) {
		return err
	}
	page := &ProcedurePage{Base: p.base(c, "Procedure "+w.Name(), "procedures"), Procedure: w, Deeds: p.procedureDeeds(w, c.Query("badge"))}
	if err != nil {
		page.Trouble = trouble(c, err)
		refill(page.Deeds, deed, in, err)
	}
	if err := p.fillProcedure(c, page); err != nil {
		return err
	}
	return p.show(c, page.Trouble.status(), "procedure", page)
}

func (p *Pages) fillProcedure(c *gin.Context, page *ProcedurePage) error {
	cat, w := p.Catalog(c.Request.Context()), page.Procedure
	all, err := cat.Revisions(w.Number)
	if err != nil {
		return err
	}
	// The revision itself is always among those side by side.
	from := max(0, min(slices.IndexFunc(all, func(r inventory.Procedure) bool { return r.ID == w.ID })-1, len(all)-mostBeside))
	shown := min(mostBeside, len(all)-from)
	page.Rows, page.Silent = beside(all[from:], shown, w.ID)
	page.Revisions, page.More = all[from:from+shown], len(all)-shown
	if page.Jobs, err = cat.Jobs(inventory.Query{Procedure: w.ID, Limit: mostLines}); err != nil {
		return err
	}
	for _, j := range page.Jobs {
		if !j.Closed {
			page.Open++
		}
	}
	if page.Changes, err = p.changes(c, &page.Base, w.Name(), inventory.ProcedureRecord, inventory.ProcedureSubject(w.ID)); err != nil {
		return err
	}
	page.Next, err = p.nextStep(c)
	return err
}

func (p *Pages) procedureDeeds(w inventory.Procedure, badge string) []Deed {
	path := "/procedures/" + strconv.FormatInt(w.ID, 10)
	if w.Retired() {
		return []Deed{p.deed(path, "reinstate", "Make the revision good again", "Reinstate the revision", "", "The welding engineer's or the owner's", badge)}
	}
	return []Deed{p.deed(path, "retire", "Retire the revision", "Retire the revision", "stop",
		"The welding engineer's or the owner's. From then on no wire goes to a job that is welded to it, until the job is moved to another revision", badge)}
}

// changeProcedure answers POST /procedures/:id/:deed.
func (p *Pages) changeProcedure(c *gin.Context) error {
	w, err := p.procedureAt(c)
	if err != nil {
		return err
	}
	deed := c.Param("deed")
	if deed != "retire" && deed != "reinstate" {
		return inventory.NotFoundf("no-such-page", "nothing called %q is done to a procedure", deed)
	}
	in := p.posted(c)
	e := in.edit()
	if err = in.err(); err == nil {
		var after inventory.Procedure
		if after, err = p.Ledger.RetireProcedure(c.Request.Context(), e, w.ID, deed == "retire"); err == nil {
			return saved(c, "/procedures/"+strconv.FormatInt(w.ID, 10), after.Version, e.Person)
		}
	}
	return p.showProcedure(c, w, in, deed, err)
}

// newProcedure answers GET /procedures/new: an empty form, or with ?from= a
// new revision with what that one demands.
func (p *Pages) newProcedure(c *gin.Context) error {
	from, err := p.copied(c, c.Query("from"))
	if err != nil {
		return err
	}
	return p.showEntry(c, p.procedureForm(c, from), nil, nil)
}

// copied returns the revision that a new one is copied from; a zero one if
// there is none.
func (p *Pages) copied(c *gin.Context, from string) (inventory.Procedure, error) {
	if from == "" {
		return inventory.Procedure{}, nil
	}
	id, err := strconv.ParseInt(from, 10, 64)
	if err != nil {
		return inventory.Procedure{}, inventory.NotFoundf("no-such-procedure", "there is no procedure %q", from)
	}
	return p.Catalog(c.Request.Context()).Procedure(id)
}

// enterProcedure answers POST /procedures.
func (p *Pages) enterProcedure(c *gin.Context) error {
	in := p.posted(c)
	from, err := p.copied(c, in.get("from"))
	if err != nil {
		return err
	}
	e := inventory.ProcedureEntry{Edit: in.edit(), Of: in.procedure(), From: from.ID}
	if err = in.err(); err == nil {
		var w inventory.Procedure
		if w, err = p.Ledger.EnterProcedure(c.Request.Context(), e); err == nil {
			return saved(c, "/procedures/"+strconv.FormatInt(w.ID, 10), w.Version, e.Person)
		}
	}
	return p.showEntry(c, p.procedureForm(c, from), in, err)
}

// procedure reads the form of a revision.
func (in *input) procedure() inventory.Procedure {
	w := inventory.Procedure{Number: in.get("number"), Revision: in.get("revision"), Title: in.get("title"),
		Processes: ticked(in, "processes", inventory.ProcedureProcesses()), Classifications: in.rows("classifications"), Diameters: in.lengths("diameters"),
		Polarity: fit.Polarity(in.get("polarity")), Gas: in.gas("gas"), Passes: fit.Passes(in.get("passes")), PassCount: int(in.whole("pass_count")),
		Positions: ticked(in, "positions", positions()), Tensile: parsed(in, "tensile", unit.ParseStress), Toughness: parsed(in, "toughness", unit.ParseToughness),
		Hydrogen: int(in.whole("hydrogen")), Prequalified: in.get("prequalified") != "", Matching: in.get("matching") != "", IntermixReport: in.get("intermix_report"),
		Qualified: fit.Qualified{Least: in.length("thickness_least"), Most: in.length("thickness_most"), Metals: in.metals("base_metals")}}
	in.classesRead(w.Classifications)
	return w
}
