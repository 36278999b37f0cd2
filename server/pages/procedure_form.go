package pages

import (
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// positions lists the positions in the order in which they are offered.
func positions() []fit.Position {
	return []fit.Position{fit.Flat, fit.Horizontal, fit.VerticalUp, fit.VerticalDown, fit.Overhead}
}

// procedureForm returns the form of a new procedure, or of the revision that
// follows from.
func (p *Pages) procedureForm(c *gin.Context, from inventory.Procedure) *EntryPage {
	form, title, back := p.recordForm("procedure", "/procedures", "Enter the procedure", 0), "Enter a procedure", "/procedures"
	lead := "The WPS, as what it demands of the wire. A field that is left empty asks nothing; what it asks and a wire does not say stops the issue."
	number := Field{Name: "number", Label: "Number", Type: "text", Value: from.Number, Required: true, Hint: "As on the document: WPS-11"}
	revision := Field{Name: "revision", Label: "Revision", Type: "text", Required: true, Hint: "A, B, C or 0, 1, 2"}
	if from.ID != 0 {
		id := strconv.FormatInt(from.ID, 10)
		form.Submit, title, back = "Enter the revision", "A new revision of "+from.Number, "/procedures/"+id
		form.Hidden = append(form.Hidden, Hidden{"from", id})
		lead = "Copied from revision " + from.Revision + ", which stays as it is. Change what the new one demands otherwise; issue slips name the revision they were checked against."
		revision.Hint = "The one after " + from.Revision
	}
	page := entry(p.base(c, title, "procedures"), form,
		FormPart{Title: "Procedure", Fields: []Field{workBadge(c), number, revision,
			{Name: "title", Label: "Title", Type: "text", Value: from.Title, Hint: "What it is for: girder fillets, carbon dioxide"}}},
		FormPart{Title: "Qualified for", Lead: "As the document states it. A job outside it stops every spool until it is moved to another procedure.", Fields: qualifiedFields(from.Qualified)},
		FormPart{Title: "Wire", Fields: wireDemands(from)},
		FormPart{Title: "Joint", Fields: jointDemands(from)},
		FormPart{Title: "Weld metal", Fields: metalDemands(from)})
	page.Kicker, page.Heading, page.Lead, page.Back = "Procedure", title, lead, back
	return page
}

func qualifiedFields(q fit.Qualified) []Field {
	var metals []string
	for _, m := range q.Metals {
		metals = append(metals, m.String())
	}
	return []Field{
		{Name: "thickness_least", Label: "Thinnest plate", Type: "text", Value: plateText(q.Least), Hint: "With its unit: 1/8 in or 3 mm. Empty states nothing"},
		{Name: "thickness_most", Label: "Thickest plate", Type: "text", Value: plateText(q.Most), Hint: "With its unit: 1 in or 25 mm. Empty states nothing"},
		{Name: "base_metals", Label: "Base metals", Type: "textarea", Value: strings.Join(metals, "\n"), Hint: "Any of these, one a line: A36 (carbon steel), a kind alone such as stainless steel, or group II of AWS D1.1"},
	}
}

// metals reads the base metals that a procedure lists.
func (in *input) metals(field string) (out []fit.BaseMetal) {
	for _, text := range in.rows(field) {
		m, err := inventory.ParseMetal(text)
		if err != nil {
			in.fault(field, detailOf(err))
			return nil
		}
		out = append(out, m)
	}
	return out
}

func wireDemands(w inventory.Procedure) []Field {
	return []Field{
		{Name: "processes", Label: "Processes", Type: "checks", Options: processOptions(w.Processes), Hint: "Any of those chosen"},
		{Name: "classifications", Label: "Classifications allowed", Type: "textarea", Value: strings.Join(w.Classifications, "\n"), Hint: "Any of these, one a line: E71T-1M"},
		{Name: "diameters", Label: "Diameters", Type: "text", Value: inches(w.Diameters, ", "), Hint: "With their units, commas between: .045 in, 1.2 mm"},
		{Name: "polarity", Label: "Polarity", Type: "select", Options: options("Asks nothing", polarities(), w.Polarity)},
		{Name: "gas", Label: "Shielding gas", Type: "text", Value: feederGas(w.Gas), Hint: "75 Ar 25 CO2, CO2, or none for no gas. Empty asks nothing"},
	}
}

func processOptions(chosen []fit.Process) []Option {
	out := options("", inventory.ProcedureProcesses(), chosen...)
	for i := range out {
		out[i].Label = out[i].Value + ": " + inventory.ProcessWords(fit.Process(out[i].Value))
	}
	return out
}

func jointDemands(w inventory.Procedure) []Field {
	return []Field{
		{Name: "positions", Label: "Positions", Type: "checks", Options: options("", positions(), w.Positions...), Hint: "The wire must do every one of these"},
		{Name: "passes", Label: "Passes", Type: "select", Options: options("Asks nothing", []fit.Passes{fit.SinglePass, fit.MultiPass}, w.Passes)},
		{Name: "pass_count", Label: "Number of passes", Type: "number", Value: countOf(w.PassCount), Hint: "Where the joint takes more than one and the document says how many"},
		{Name: "prequalified", Label: "Used as prequalified", Type: "checkbox", Checked: w.Prequalified, Hint: "Under AWS D1.1: some wires are not for it"},
	}
}

func metalDemands(w inventory.Procedure) []Field {
	tensile, toughness := "", ""
	if !w.Tensile.IsZero() {
		tensile = w.Tensile.String()
	}
	if !w.Toughness.IsZero() {
		toughness = w.Toughness.String()
	}
	return []Field{
		{Name: "tensile", Label: "Tensile strength", Type: "text", Value: tensile, Hint: "At least, with its unit: 70 ksi or 490 MPa"},
		{Name: "toughness", Label: "Toughness", Type: "text", Value: toughness, Hint: "Energy at a temperature: 20 ft-lbf at -20 degF or 27 J at -30 degC"},
		{Name: "hydrogen", Label: "Diffusible hydrogen", Type: "number", Value: countOf(w.Hydrogen), Hint: "At most, in mL/100 g: 4, 8 or 16"},
		{Name: "matching", Label: "Strength must match the base metal", Type: "checkbox", Checked: w.Matching, Hint: "By the groups of AWS D1.1"},
		{Name: "intermix_report", Label: "Proof of mixed deposits", Type: "text", Value: w.IntermixReport, Hint: "The test report, where self-shielded and gas-shielded wire go into one joint"},
	}
}

func countOf(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// classesRead says which classification cannot be read, and at which
// character; none need be given.
func (in *input) classesRead(typed []string) {
	for _, text := range typed {
		if _, err := filler.Decode(text); err != nil {
			in.fault("classifications", err.Error())
			return
		}
	}
}
