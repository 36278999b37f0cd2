package pages

import (
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// newJob answers GET /jobs/new.
func (p *Pages) newJob(c *gin.Context) error {
	page, err := p.jobForm(c, inventory.Job{ProfileID: inventory.GeneralProfile})
	if err != nil {
		return err
	}
	return p.showEntry(c, page, nil, nil)
}

// editJob answers GET /jobs/:code/edit.
func (p *Pages) editJob(c *gin.Context) error {
	j, err := p.jobAt(c)
	if err != nil {
		return err
	}
	page, err := p.jobForm(c, j)
	if err != nil {
		return err
	}
	if page.Cautions, err = p.outside(c, j); err != nil {
		return err
	}
	return p.showEntry(c, page, nil, nil)
}

// jobForm returns the form with what is known of j.
func (p *Pages) jobForm(c *gin.Context, j inventory.Job) (*EntryPage, error) {
	form, title, back := p.recordForm("job", "/jobs", "Enter the job", 0), "Enter a job", "/jobs"
	if j.Code != "" {
		back = "/jobs/" + string(j.Code)
		form, title = p.recordForm("job", back, "Save the job", j.Version), "Edit job "+j.Number
	}
	procedures, err := p.procedureFields(c, j)
	if err != nil {
		return nil, err
	}
	profiles, err := p.Ledger.Profiles(c.Request.Context())
	if err != nil {
		return nil, err
	}
	page := entry(p.base(c, title, "jobs"), form,
		FormPart{Title: "Job", Fields: []Field{workBadge(c),
			{Name: "number", Label: "Number", Type: "text", Value: j.Number, Required: true, Hint: "The shop's own. It can be typed at the counter"},
			{Name: "name", Label: "Name", Type: "text", Value: j.Name, Hint: "What the work is"},
			{Name: "profile", Label: "Rule profile", Type: "select", Required: true, Options: profileOptions(profiles, j.ProfileID), Hint: "The body of rules it is welded under"}}},
		FormPart{Title: "Procedures", Fields: procedures},
		FormPart{Title: "Site", Fields: siteFields(j)},
		FormPart{Title: "Plates and joint", Lead: "The two sides of the joint. If both are one metal, fill in the first alone.", Fields: plateFields(j)},
		FormPart{Title: "Papers that the contract demands", Lead: "What is demanded here stops every spool whose lot does not have it on record. It is recorded at receiving, or later on the page of the lot.", Fold: true, Fields: paperFields(j)})
	page.Kicker, page.Heading, page.Lead, page.Back = "Job", title, "Each change is kept with who made it and when. What was issued stays as it was checked.", back
	return page, nil
}

// procedureFields asks for the procedures in order: one, and as many more as
// the job has and two besides.
func (p *Pages) procedureFields(c *gin.Context, j inventory.Job) ([]Field, error) {
	cat := p.Catalog(c.Request.Context())
	good, err := cat.Procedures(inventory.Query{State: inventory.ProcedureGood, Limit: mostLines})
	if err != nil {
		return nil, err
	}
	own, err := cat.ProceduresWith(j.Procedures)
	if err != nil {
		return nil, err
	}
	var fields []Field
	for n := range min(max(3, len(own)+1), len(procedureOrder)) {
		field := Field{Name: inventory.ProcedureField(n), Label: sentence(procedureOrder[n] + " procedure"), Type: "select"}
		var chosen inventory.Procedure
		if n < len(own) {
			chosen = own[n]
		}
		field.Options = procedureOptions(good, chosen, "None")
		if n == 0 {
			field.Label, field.Required, field.Hint = "Procedure", true, "The revision it is welded to"
			field.Options[0].Label = "Choose a procedure"
		} else if n == 1 {
			field.Hint = "Where the job takes more than one, such as root and fill. The counter then asks which one a spool is for"
		}
		fields = append(fields, field)
	}
	return fields, nil
}

var procedureOrder = [...]string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}

// procedureOptions lists the revisions that are good, and the chosen one.
func procedureOptions(good []inventory.ProcedureLine, chosen inventory.Procedure, none string) []Option {
	out, has := []Option{{Label: none}}, chosen.ID == 0
	add := func(w inventory.Procedure, more string) {
		label := w.Name() + more
		if w.Title != "" {
			label += ": " + w.Title
		}
		out = append(out, Option{strconv.FormatInt(w.ID, 10), label, w.ID == chosen.ID})
		has = has || w.ID == chosen.ID
	}
	for _, w := range good {
		add(w.Procedure, "")
	}
	switch {
	case has:
	case chosen.Retired():
		add(chosen, " (retired)")
	default:
		add(chosen, "")
	}
	return out
}

func profileOptions(profiles []inventory.RuleProfile, chosen string) []Option {
	out := []Option{{Label: "Choose a rule profile"}}
	for _, p := range profiles {
		out = append(out, Option{p.ID, p.Name, p.ID == chosen})
	}
	return out
}

func siteFields(j inventory.Job) []Field {
	wind := ""
	switch {
	case j.Wind > 0:
		wind = j.Wind.String()
	case j.WindKnown:
		wind = "0 m/s"
	}
	return []Field{
		{Name: "site", Label: "Where it is welded", Type: "radio", Required: true, Options: options("", inventory.Sites(), j.Site), Hint: "In the field, wind that nobody states is a caution for gas-shielded wire"},
		{Name: "wind", Label: "Wind at the weld", Type: "text", Value: wind, Hint: "Measured, with its unit: 5 mph, 8 km/h or 2 m/s. Empty is not stated"},
		{Name: "sheltered", Label: "Sheltered", Type: "checkbox", Checked: j.Sheltered, Hint: "A tent or screen keeps the wind off the weld"},
	}
}

func plateFields(j inventory.Job) []Field {
	var fields []Field
	for i, side := range []string{"First", "Second"} {
		metal, family, plate, n := "", "", unit.Length(0), strconv.Itoa(i+1)
		if i < len(j.BaseMetals) {
			metal, family = j.BaseMetals[i].Name, j.BaseMetals[i].Family
		}
		switch {
		case i < len(j.Plates):
			plate = j.Plates[i]
		case i == 0 && len(j.Plates) == 0:
			plate = j.Thickness // entered before each side had its own
		}
		fields = append(fields,
			Field{Name: "metal_" + n, Label: side + " metal", Type: "text", Value: metal, Hint: "As on the drawing: A572 Gr 50, 304L"},
			Field{Name: "family_" + n, Label: "Kind of the " + strings.ToLower(side) + " metal", Type: "select", Options: options("Not stated", inventory.Families(), family)},
			Field{Name: "thickness_" + n, Label: "Thickness of the " + strings.ToLower(side) + " plate", Type: "text", Value: plateText(plate), Hint: "With its unit: 3/4 in or 19 mm"})
	}
	return append(fields,
		Field{Name: "joint", Label: "Joint", Type: "select", Options: options("Not stated", inventory.Joints(), j.Joint)},
		Field{Name: "welds", Label: "Weld to lay", Type: "textarea", Value: weldLines(j.Welds), Hint: inventory.WeldLines + ". The counter then says whether a spool has enough wire"})
}

// plateText writes a thickness so that it reads back the same.
func plateText(l unit.Length) string {
	if mm := l.String(); l > 0 && len(mm) <= len("12.5 mm") {
		return mm
	}
	return lengthText(l)
}

func weldLines(welds []fit.Weld) string {
	out := make([]string, len(welds))
	for i, w := range welds {
		out[i] = inventory.WeldText(w)
	}
	return strings.Join(out, "\n")
}

func paperFields(j inventory.Job) []Field {
	return []Field{
		{Name: "certificate_type", Label: "Certificate", Type: "select", Options: words(options("Asks nothing", inventory.CertificateTypes(), j.Certificate.Type), "Asks nothing"), Hint: "At least this type of EN 10204"},
		{Name: "certificate_schedule", Label: "Testing schedule", Type: "select", Options: words(options("Asks nothing", inventory.Schedules(), j.Certificate.Schedule), "Asks nothing"), Hint: "At least this one of AWS A5.01"},
		{Name: "certificate_lot_class", Label: "Lot class", Type: "text", Value: strings.Join(inventory.LotClassList(j.Certificate.LotClass), ", "), Hint: "Of AWS A5.01, any of these, commas between: T3, T4"},
		{Name: "origin_clause", Label: "Origin clause", Type: "text", Value: j.Origin.Clause, Hint: "As the contract names it"},
		{Name: "origin_melted", Label: "Melted in", Type: "text", Value: strings.Join(j.Origin.Melted, ", "), Suggest: fit.CountryNames(), Hint: "Countries that the clause allows, by name or code, commas between"},
		{Name: "origin_made", Label: "Made in", Type: "text", Value: strings.Join(j.Origin.Made, ", "), Suggest: fit.CountryNames(), Hint: "Countries where it may be drawn and filled, commas between"},
	}
}

// job reads the form of a job.
func (in *input) job(code inventory.Code) inventory.Job {
	j := inventory.Job{Code: code, Number: in.get("number"), Name: in.get("name"), Procedures: in.procedures(), ProfileID: in.get("profile"),
		Site: inventory.Site(in.get("site")), Wind: parsed(in, "wind", unit.ParseSpeed), WindKnown: in.get("wind") != "", Sheltered: in.get("sheltered") != "",
		Joint: in.get("joint"), Certificate: fit.Certificate{Type: in.get("certificate_type"), Schedule: in.get("certificate_schedule"), LotClass: inventory.LotClasses(in.list("certificate_lot_class"))},
		Origin: fit.Origin{Clause: in.get("origin_clause"), Melted: in.list("origin_melted"), Made: in.list("origin_made")}}
	in.plates(&j)
	for _, line := range in.rows("welds") {
		w, err := inventory.ParseWeld(line)
		if err != nil {
			in.fault("welds", detailOf(err))
			break
		}
		j.Welds = append(j.Welds, w)
	}
	return j
}

// procedures reads the procedures that are chosen, in order.
func (in *input) procedures() (out []int64) {
	for n := range procedureOrder {
		if id := in.whole(inventory.ProcedureField(n)); id != 0 {
			out = append(out, id)
		}
	}
	return out
}

// plates reads the sides of the joint.
func (in *input) plates(j *inventory.Job) {
	for _, n := range [...]string{"1", "2"} {
		metal := fit.BaseMetal{Name: in.get("metal_" + n), Family: in.get("family_" + n)}
		plate := in.length("thickness_" + n)
		if metal == (fit.BaseMetal{}) && plate == 0 {
			continue
		}
		j.BaseMetals, j.Plates = append(j.BaseMetals, metal), append(j.Plates, plate)
		j.Thickness = max(j.Thickness, plate)
	}
	if in.get("metal_1") == "" && len(j.BaseMetals) == 1 && in.get("metal_2") != "" {
		in.fault("metal_1", "fill in the first side, then the second")
	}
}

// saveJob answers POST /jobs and POST /jobs/:code.
func (p *Pages) saveJob(c *gin.Context) error {
	before, save := inventory.Job{}, p.Ledger.EnterJob
	if c.Param("code") != "" {
		var err error
		if before, err = p.jobAt(c); err != nil {
			return err
		}
		save = p.Ledger.ChangeJob
	}
	in := p.posted(c)
	e := inventory.JobEntry{Edit: in.edit(), Of: in.job(before.Code)}
	err := in.err()
	cautions, errCautions := p.outside(c, e.Of)
	if errCautions != nil {
		return errCautions
	}
	if seen := strings.Join(cautions, " "); err == nil && seen != in.get("seen") {
		return p.cautioned(c, before, in, cautions, seen)
	}
	if err == nil {
		var j inventory.Job
		if j, err = save(c.Request.Context(), e); err == nil {
			return saved(c, "/jobs/"+string(j.Code), j.Version, e.Person)
		}
	}
	page, errPage := p.jobForm(c, before)
	if errPage != nil {
		return errPage
	}
	return p.showEntry(c, page, in, err)
}

// cautioned answers a job that lies outside what a procedure of it is qualified
// for with the form: sent again, it is saved all the same.
func (p *Pages) cautioned(c *gin.Context, before inventory.Job, in *input, cautions []string, seen string) error {
	page, err := p.jobForm(c, before)
	if err != nil {
		return err
	}
	page.Form = page.Form.filled(in.get, nil)
	page.Form.Hidden = append(page.Form.Hidden, Hidden{"seen", seen})
	page.Cautions, page.Again = cautions, true
	return p.showEntry(c, page, nil, nil)
}

// outside says in which way the job lies outside what its procedures are
// qualified for.
func (p *Pages) outside(c *gin.Context, j inventory.Job) (out []string, err error) {
	procedures, err := p.Catalog(c.Request.Context()).ProceduresWith(j.Procedures)
	for _, w := range procedures {
		for _, f := range j.Outside(w) {
			out = append(out, w.Name()+": "+f.Says)
		}
	}
	return out, err
}

// changeJob answers POST /jobs/:code/:deed.
func (p *Pages) changeJob(c *gin.Context) error {
	j, err := p.jobAt(c)
	if err != nil {
		return err
	}
	deed := c.Param("deed")
	if deed != "close" && deed != "reopen" {
		return inventory.NotFoundf("no-such-page", "nothing called %q is done to a job", deed)
	}
	in := p.posted(c)
	e := in.edit()
	if err = in.err(); err == nil {
		var after inventory.Job
		if after, err = p.Ledger.CloseJob(c.Request.Context(), e, j.Code, deed == "close"); err == nil {
			return saved(c, "/jobs/"+string(j.Code), after.Version, e.Person)
		}
	}
	return p.showJob(c, j, in, deed, err)
}
