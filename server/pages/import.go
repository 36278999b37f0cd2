package pages

import (
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/spreadsheet"
)

// ImportPage takes a table of wires: first a dry run, then the import.
type ImportPage struct {
	Base
	Upload  Form
	Columns []inventory.ImportColumn
	File    *ImportFile // what was read; nil before
	Enter   *Form       // imports what is shown; nil unless it can be
	Done    *ImportDone // the import that was done last; nil if none
}

// ImportFile is what the dry run found in a file.
type ImportFile struct {
	Name    string
	Format  string // "CSV, separated by semicolons"
	Summary string
	Faults  []inventory.ImportFault
	More    int // faults that are not listed
	Lines   []ImportLine
	Rest    int // wires that are not listed
}

// ImportLine is a wire that would be entered.
type ImportLine struct {
	inventory.ImportLine
	Facts     []string // "stick-out 13-19 mm"
	Source    string   // of the facts
	Conflicts []fit.Conflict
}

// ImportDone is an import with the first of its wires.
type ImportDone struct {
	inventory.ImportRecord
	Person string
	Lines  []inventory.ImportLine
	Rest   int
}

// previewLines is how many wires a preview lists; the rest is counted.
const previewLines = 200

// importWires answers GET /wires/import.
func (p *Pages) importWires(c *gin.Context) error {
	page := p.importPage(c)
	if id, err := strconv.ParseInt(c.Query("done"), 10, 64); err == nil {
		if page.Done, err = p.importDone(c, id); err != nil {
			return err
		}
	}
	return p.show(c, http.StatusOK, "import", page)
}

func (p *Pages) importPage(c *gin.Context) *ImportPage {
	page := &ImportPage{Base: p.base(c, "Import wires", "wires"), Columns: inventory.ImportColumns()}
	page.Upload = Form{Name: "upload", Action: "/wires/import", Submit: "Check the file", Upload: true}
	page.Upload = page.Upload.fields(importBadge(c.Query("badge")),
		Field{Name: "file", Label: "Table", Type: "file", Required: true, Accept: ".csv,.tsv,.txt,.xlsx", Hint: "XLSX, or CSV in UTF-8; at most 5 MB and 5,000 rows"})
	return page
}

// importBadge asks for the badge of whoever imports.
func importBadge(badge string) Field {
	f := badgeField(badge)
	f.Hint = "Welding engineer, buyer or owner"
	return f
}

func (p *Pages) importDone(c *gin.Context, id int64) (*ImportDone, error) {
	cat := p.Catalog(c.Request.Context())
	record, err := cat.WireImport(id)
	if err != nil {
		return nil, err
	}
	done := &ImportDone{ImportRecord: record}
	person, err := cat.Person(record.Person)
	if err != nil {
		return nil, err
	}
	done.Person = person.Name
	if done.Lines, err = cat.ImportedWires(id, previewLines); err != nil {
		return nil, err
	}
	done.Rest = record.Wires - len(done.Lines)
	return done, nil
}

// checkImport answers POST /wires/import: the dry run. It changes nothing, so
// the answer is the page itself.
func (p *Pages) checkImport(c *gin.Context) error {
	in, up := p.importUpload(c)
	badge := in.badge()
	page := p.importPage(c)
	if err := in.err(); err != nil {
		return p.importAgain(c, page, in, err)
	}
	plan, err := p.plan(c, page, badge, up)
	if err != nil {
		return p.importAgain(c, page, in, err)
	}
	page.Upload.Fields[0].Value = in.get("person")
	if plan.FaultCount() > 0 {
		return p.show(c, http.StatusUnprocessableEntity, "import", page)
	}
	page.Enter = enterForm(p.NewKey(), in.get("person"), up, len(plan.Lines))
	return p.show(c, http.StatusOK, "import", page)
}

// enterImport answers POST /wires/import/enter: the file that the dry run was
// shown, read and checked once more, for the form could have been altered and
// the store may have changed.
func (p *Pages) enterImport(c *gin.Context) error {
	in, up := p.carried(c)
	badge := in.badge()
	page := p.importPage(c)
	err := in.err()
	var file spreadsheet.File
	if err == nil {
		file, err = spreadsheet.Read(up.content)
	}
	if err != nil {
		return p.enterAgain(c, page, in, up, inventory.ImportPlan{}, err)
	}
	done, plan, err := p.Ledger.ImportWires(c.Request.Context(), inventory.WireImport{Person: badge, RequestKey: in.get("request_key"),
		File: up.name, SHA256: file.SHA256, Rows: file.Rows})
	if err != nil {
		return p.enterAgain(c, page, in, up, plan, err)
	}
	return seeOther(c, "/wires/import?done="+strconv.FormatInt(done.ID, 10))
}

// plan reads the file and puts what would be entered, or the faults, on the
// page.
func (p *Pages) plan(c *gin.Context, page *ImportPage, badge inventory.Code, up upload) (inventory.ImportPlan, error) {
	file, err := spreadsheet.Read(up.content)
	if err != nil {
		return inventory.ImportPlan{}, err
	}
	plan, err := p.Ledger.PlanWires(c.Request.Context(), badge, file.Rows)
	if err != nil {
		return plan, err
	}
	page.File, err = importFile(up.name, file.Format, plan)
	return plan, err
}

// importAgain shows the upload form with what was wrong. A browser does not
// fill a file in again.
func (p *Pages) importAgain(c *gin.Context, page *ImportPage, in *input, err error) error {
	if !again(err) {
		return err
	}
	page.Trouble, page.Upload = trouble(c, err), page.Upload.filled(in.get, err)
	return p.show(c, page.Trouble.status(), "import", page)
}

// enterAgain shows the faults that the second reading found, or the form to
// import once more.
func (p *Pages) enterAgain(c *gin.Context, page *ImportPage, in *input, up upload, plan inventory.ImportPlan, err error) error {
	if !again(err) {
		return err
	}
	page.Trouble = trouble(c, err)
	page.Upload.Fields[0].Value = in.get("person")
	switch {
	case plan.FaultCount() > 0:
		file, errFile := importFile(up.name, "", plan)
		if errFile != nil {
			return errFile
		}
		page.File = file
	case faultsOf(err)["file"] != "":
		page.Upload = page.Upload.filled(in.get, err)
	default:
		form := enterForm(in.get("request_key"), in.get("person"), up, 0).filled(in.get, err)
		page.Enter = &form
	}
	return p.show(c, page.Trouble.status(), "import", page)
}

func importFile(name, format string, plan inventory.ImportPlan) (*ImportFile, error) {
	f := &ImportFile{Name: name, Format: format, Summary: plan.Summary(), Faults: plan.Faults, More: plan.Unlisted}
	for i, line := range plan.Lines {
		if i == previewLines {
			f.Rest = len(plan.Lines) - i
			break
		}
		view, err := importLine(line)
		if err != nil {
			return nil, err
		}
		f.Lines = append(f.Lines, view)
	}
	return f, nil
}

func importLine(line inventory.ImportLine) (ImportLine, error) {
	view := ImportLine{ImportLine: line}
	for _, f := range inventory.SheetFacts() {
		if text := f.Text(line.Wire.Supplied); text != "" {
			view.Facts = append(view.Facts, f.Label+": "+text)
		}
	}
	if len(line.Wire.Supplied) > 0 {
		view.Source = line.Wire.Supplied[0].Source
	}
	var err error
	view.Conflicts, err = line.Wire.Conflicts()
	return view, err
}

// importExample answers GET /wires/import/example.csv.
func (p *Pages) importExample(c *gin.Context) error {
	content, err := spreadsheet.WriteCSV(inventory.ImportExample())
	if err != nil {
		return err
	}
	c.Header("Content-Disposition", `attachment; filename="wires-example.csv"`)
	c.Data(http.StatusOK, "text/csv; charset=utf-8", content)
	return nil
}
