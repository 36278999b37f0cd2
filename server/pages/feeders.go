package pages

import (
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// feeders answers GET /feeders.
func (p *Pages) feeders(c *gin.Context) error {
	all, err := p.Catalog(c.Request.Context()).Feeders()
	if err != nil {
		return err
	}
	page := ListPage{Base: p.base(c, "Feeders", "places"), Heading: "Feeders", Lead: "The machines that weld, and how each stands. What is not known is not guessed.",
		Tabs: yardTabs("feeders"), New: "/feeders/new", Submit: "Enter a feeder", Empty: "No feeder is entered yet"}
	for _, f := range all {
		page.Cards = append(page.Cards, ListCard{Code: f.Code, Title: f.Name, Page: "/feeders/" + string(f.Code),
			Lines: []string{"polarity: " + orNotKnown(setTo(f)), "gas: " + gasWords(f.Gas), "sizes: " + orNotKnown(inches(f.Diameters, ", "))}})
	}
	return p.showList(c, page)
}

func orNotKnown(text string) string {
	if text == "" {
		return "not known"
	}
	return text
}

// setTo says how the polarity stands, of those that the source gives.
func setTo(f inventory.Feeder) string {
	gives := joined(f.Polarities)
	switch {
	case f.Polarity == "":
		return gives
	case gives == "" || gives == string(f.Polarity):
		return string(f.Polarity)
	}
	return string(f.Polarity) + " (gives " + gives + ")"
}

// inches writes lengths as the trade does.
func inches(ls []unit.Length, between string) string {
	out := make([]string, len(ls))
	for i, l := range ls {
		out[i] = lengthText(l)
	}
	return strings.Join(out, between)
}

// lengthText writes a length so that it reads back the same; empty for zero.
func lengthText(l unit.Length) string {
	if l == 0 {
		return ""
	}
	inches := l.Inches()
	if back, err := unit.ParseLength(inches); err != nil || back != l {
		return l.String()
	}
	return inches
}

// newFeeder answers GET /feeders/new.
func (p *Pages) newFeeder(c *gin.Context) error {
	return p.showEntry(c, p.feederForm(c, inventory.Feeder{}), nil, nil)
}

// editFeeder answers GET /feeders/:code/edit.
func (p *Pages) editFeeder(c *gin.Context) error {
	f, err := p.feederAt(c)
	if err != nil {
		return err
	}
	return p.showEntry(c, p.feederForm(c, f), nil, nil)
}

func (p *Pages) feederAt(c *gin.Context) (inventory.Feeder, error) {
	code, err := codeIn(c, inventory.FeederCode)
	if err != nil {
		return inventory.Feeder{}, err
	}
	return p.Catalog(c.Request.Context()).Feeder(code)
}

// polarities lists what a source may give.
func polarities() []fit.Polarity { return []fit.Polarity{fit.DCEP, fit.DCEN, fit.AC} }

func (p *Pages) feederForm(c *gin.Context, f inventory.Feeder) *EntryPage {
	form, title, back := p.recordForm("feeder", "/feeders", "Enter the feeder", 0), "Enter a feeder", "/feeders"
	if f.Code != "" {
		back = "/feeders/" + string(f.Code)
		form, title = p.recordForm("feeder", back, "Save the feeder", f.Version), "Edit "+f.Name
	}
	page := entry(p.base(c, title, "places"), form,
		FormPart{Title: "Feeder", Fields: []Field{workBadge(c),
			{Name: "name", Label: "Name", Type: "text", Value: f.Name, Required: true, Hint: "As it is written on it: Feeder 3"},
			{Name: "dry_kept", Label: "Dry-kept", Type: "checkbox", Checked: f.DryKept, Hint: "A spool stays dry in it: it is closed and heated"}}},
		FormPart{Title: "Source and gas", Fields: []Field{
			{Name: "polarities", Label: "Polarities it can give", Type: "checks", Options: words(options("", polarities(), f.Polarities...)), Hint: "None chosen is not known"},
			{Name: "polarity", Label: "Polarity as set", Type: "select", Options: options("Not known", polarities(), f.Polarity)},
			{Name: "gas", Label: "Connected gas", Type: "text", Value: feederGas(f.Gas), Hint: "75 Ar 25 CO2, CO2, or none. Empty is not known"}}},
		FormPart{Title: "Rolls, gun and liner", Fields: []Field{
			{Name: "rolls", Label: "Drive rolls", Type: "select", Options: options("Not known", inventory.RollKinds(), f.Rolls)},
			{Name: "roll_size", Label: "Size of the rolls", Type: "text", Value: lengthText(f.RollSize), Hint: "With its unit: .045 in or 1.2 mm. Empty is not known"},
			{Name: "gun", Label: "Thickest wire of the gun", Type: "text", Value: lengthText(f.Gun), Hint: "With its unit. Empty is not known"},
			{Name: "liner", Label: "Thickest wire of the liner", Type: "text", Value: lengthText(f.Liner), Hint: "With its unit. Empty is not known"},
			{Name: "diameters", Label: "Sizes it takes", Type: "text", Value: inches(f.Diameters, ", "), Hint: "With their units, commas between: .035 in, .045 in. Empty is not known"}}},
		FormPart{Title: "Packages", Fields: []Field{
			{Name: "packages", Label: "Packages its hub takes", Type: "text", Value: packageText(f.Packages), Hint: "Commas between: 12 in spool, 8 in spool, drum. Empty is not known"},
			{Name: "largest_package", Label: "Heaviest package", Type: "text", Value: weightText(f.LargestPackage), Hint: "Wire in it, with its unit: 20 kg. Empty is not known"}}})
	page.Kicker, page.Heading, page.Lead, page.Back = "Feeder", title, "How the machine stands now. The fit check compares a spool with it when the feeder is scanned; leave empty what nobody has looked at.", back
	return page
}

// words leaves the labels of options as the words are spelt; none, if given,
// is the label of the choice of none.
func words(options []Option, none ...string) []Option {
	for i := range options {
		options[i].Label = options[i].Value
		if i < len(none) {
			options[i].Label = none[i]
		}
	}
	return options
}

func feederGas(g *fit.Gas) string {
	if g == nil {
		return ""
	}
	return g.String()
}

func packageText(packages []fit.Package) string {
	out := make([]string, len(packages))
	for i, p := range packages {
		out[i] = p.String()
	}
	return strings.Join(out, ", ")
}

// feederIn reads the form of a feeder.
func (in *input) feeder(code inventory.Code) inventory.Feeder {
	f := inventory.Feeder{Place: inventory.Place{Code: code, Name: in.get("name"), DryKept: in.get("dry_kept") != ""},
		Polarities: ticked(in, "polarities", polarities()), Polarity: fit.Polarity(in.get("polarity")), Gas: in.gas("gas"),
		Diameters: in.lengths("diameters"), Rolls: fit.Rolls(in.get("rolls")), RollSize: in.length("roll_size"), Gun: in.length("gun"), Liner: in.length("liner"),
		LargestPackage: in.weight("largest_package", false)}
	for _, text := range in.list("packages") {
		p, ok := fit.ParsePackage(text)
		if !ok {
			in.fault("packages", "\""+text+"\" is no package: name a spool, coil or drum with its size, such as 12 in spool")
			break
		}
		f.Packages = append(f.Packages, p)
	}
	return f
}

// saveFeeder answers POST /feeders and POST /feeders/:code.
func (p *Pages) saveFeeder(c *gin.Context) error {
	before, save := inventory.Feeder{}, p.Ledger.EnterFeeder
	if c.Param("code") != "" {
		var err error
		if before, err = p.feederAt(c); err != nil {
			return err
		}
		save = p.Ledger.ChangeFeeder
	}
	in := p.posted(c)
	e := inventory.FeederEntry{Edit: in.edit(), Of: in.feeder(before.Code)}
	err := in.err()
	if err == nil {
		var f inventory.Feeder
		if f, err = save(c.Request.Context(), e); err == nil {
			return saved(c, "/feeders/"+string(f.Code), f.Version, e.Person)
		}
	}
	return p.showEntry(c, p.feederForm(c, before), in, err)
}

// feeder answers GET /feeders/:code.
func (p *Pages) feeder(c *gin.Context) error {
	f, err := p.feederAt(c)
	if err != nil {
		return err
	}
	dry := "no"
	if f.DryKept {
		dry = "yes"
	}
	path := "/feeders/" + string(f.Code)
	page := &RecordPage{Base: p.base(c, f.Name, "places"), Kicker: "Feeder", Heading: f.Name, Code: f.Code, Path: path, Edit: path + "/edit",
		Lead: "How it stands. Scan it at the counter, with job and spool, to see whether the wire suits it.",
		Facts: []DemandLine{fact("Polarities it gives", joined(f.Polarities)), fact("Polarity as set", string(f.Polarity)), fact("Connected gas", feederGas(f.Gas)),
			fact("Drive rolls", string(f.Rolls)), fact("Size of the rolls", lengthText(f.RollSize)), fact("Gun takes up to", lengthText(f.Gun)),
			fact("Liner takes up to", lengthText(f.Liner)), fact("Sizes it takes", inches(f.Diameters, ", ")), fact("Packages its hub takes", packageText(f.Packages)),
			fact("Heaviest package", weightText(f.LargestPackage)), fact("Dry-kept", dry)}}
	return p.showRecord(c, page, inventory.FeederRecord, nil, "", nil)
}

// ticked reads which of the words were ticked in field.
func ticked[T ~string](in *input, field string, words []T) (out []T) {
	for _, w := range words {
		if in.get((Field{Name: field}).Tick(string(w))) != "" {
			out = append(out, w)
		}
	}
	return slices.Clip(out)
}
