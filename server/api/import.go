package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/spreadsheet"
)

// mostImportBody is the most that is read of a table, in bytes: somewhat more
// than is taken, so that the answer can say what is.
const mostImportBody = inventory.MostImportBytes + MaxBody

// LargeBodies returns how many bytes the body of a request may hold, by method
// and route, where that is more than [MaxBody].
func LargeBodies() map[string]int64 {
	return map[string]int64{"POST /api/v1/wires/import": mostImportBody,
		"POST /api/v1/climate/readings": mostReadingsBody, "POST /api/v1/climate/readings/import": mostImportBody}
}

func (h *handlers) registerImport(a huma.API) {
	huma.Post(a, "/api/v1/wires/import", h.importWires, func(o *huma.Operation) {
		o.Summary = "Enter wires from a table"
		o.Description = "The body is the file itself: CSV in UTF-8 (separated by commas, semicolons or tabs) or XLSX, told by its content; at most 5 MB and 5,000 rows. " +
			"A dry run answers with the wires, or with every fault by line and column. Without it all wires are entered, or none: then the faults stand under errors, each pointer being the line and the letter of the column."
		o.MaxBodyBytes = mostImportBody
		table := &huma.MediaType{Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}
		o.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{
			"text/csv": table, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": table}}
	})
}

// importView is what a table would enter, or what it has entered.
type importView struct {
	DryRun   bool            `json:"dry_run"`
	ImportID int64           `json:"import_id,omitempty" doc:"Left out of a dry run."`
	Format   string          `json:"format" doc:"How the file was read, such as: CSV, separated by semicolons."`
	SHA256   string          `json:"sha256" doc:"Of the file."`
	Count    int             `json:"count" doc:"How many wires are entered, or would be."`
	Wires    []importedView  `json:"wires,omitempty" doc:"Left out where a repeated request changed nothing."`
	Faults   []importedFault `json:"faults,omitempty" doc:"Of a dry run; while there is one, nothing can be entered."`
	Unlisted int             `json:"faults_unlisted,omitempty" doc:"How many faults there are besides."`
}

// importedView is one wire with the line it stands on.
type importedView struct {
	Line  int      `json:"line"`
	Typed string   `json:"typed,omitempty" doc:"The classifications as typed, where they are kept otherwise."`
	Wire  wireView `json:"wire"`
}

// importedFault is what is wrong at one place of a table.
type importedFault struct {
	Line   int    `json:"line"`
	Column string `json:"column,omitempty" doc:"Its header as typed; left out for the whole line."`
	Letter string `json:"letter,omitempty" doc:"The column as a spreadsheet names it."`
	Typed  string `json:"typed,omitempty"`
	Detail string `json:"detail" doc:"What is wrong and what would do."`
}

func viewImport(file spreadsheet.File, plan inventory.ImportPlan) importView {
	v := importView{Format: file.Format, SHA256: file.SHA256, Count: len(plan.Lines), Unlisted: plan.Unlisted}
	for _, l := range plan.Lines {
		wire := viewWire(l.Wire)
		wire.Facts = ViewFacts(l.Wire.Supplied)
		v.Wires = append(v.Wires, importedView{l.Line, l.Typed, wire})
	}
	for _, f := range plan.Faults {
		v.Faults = append(v.Faults, importedFault{f.Line, f.Column, f.Letter(), f.Typed, f.Detail})
	}
	return v
}

func (h *handlers) importWires(ctx context.Context, in *struct {
	DryRun     bool   `query:"dry_run" default:"true" doc:"Say what would be entered and enter nothing. Wires are entered only where this is false."`
	Person     string `query:"person" required:"true" doc:"The badge code of whoever enters them: welding engineer, buyer or owner."`
	RequestKey string `query:"request_key" maxLength:"100" doc:"Needed to enter: the same each time this request is repeated; a repeated request changes nothing."`
	File       string `query:"file" maxLength:"100" doc:"The file's name, kept in the history of its wires."`
	RawBody    []byte `contentType:"text/csv"`
}) (*bodyOf[importView], error) {
	person, err := codeOf(inventory.PersonCode, "person", in.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	file, err := spreadsheet.Read(in.RawBody)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	if in.DryRun {
		plan, err := h.Ledger.PlanWires(ctx, person, file.Rows)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		v := viewImport(file, plan)
		v.DryRun = true
		return body(v), nil
	}
	done, plan, err := h.Ledger.ImportWires(ctx, inventory.WireImport{Person: person, RequestKey: in.RequestKey, File: in.File, SHA256: file.SHA256, Rows: file.Rows})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v := viewImport(file, plan)
	v.ImportID, v.Count = done.ID, done.Wires
	return body(v), nil
}
