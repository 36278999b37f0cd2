package pages

import (
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// EntryPage enters a record, or edits one.
type EntryPage struct {
	Base
	Kicker  string
	Heading string
	Lead    string
	Back    string // where one goes who leaves it; empty if nowhere
	Form    Form
	Parts   []FormPart

	Cautions []string // what is to be looked at before it is sent; nil if nothing is
	Again    bool     // it was sent, and is kept once it is sent again
}

// entry returns the page whose form has the fields of the parts.
func entry(base Base, form Form, parts ...FormPart) *EntryPage {
	var fields []Field
	for _, part := range parts {
		fields = append(fields, part.Fields...)
	}
	return &EntryPage{Base: base, Form: form.fields(fields...), Parts: parts}
}

// showEntry answers with the form; with what was typed and what is wrong, if
// something is.
func (p *Pages) showEntry(c *gin.Context, page *EntryPage, in *input, err error) error {
	if err != nil {
		if !again(err) {
			return err
		}
		page.Trouble = trouble(c, err)
		page.Form = page.Form.filled(in.get, err)
	}
	fields := page.Form.Fields
	for i := range page.Parts {
		part := &page.Parts[i]
		part.Fields, fields = fields[:len(part.Fields)], fields[len(part.Fields):]
		for _, f := range part.Fields {
			part.Open = part.Open || f.Fault != "" || part.Fold && f.said()
		}
	}
	return p.show(c, page.Trouble.status(), "entry", page)
}

// said reports whether the field holds something.
func (f Field) said() bool {
	for _, o := range f.Options {
		if o.Chosen && o.Value != "" {
			return true
		}
	}
	return f.Checked || len(f.Options) == 0 && f.Type != "checkbox" && f.Value != ""
}

// recordForm is the form that enters a record below path, or edits the one
// whose page is path.
func (p *Pages) recordForm(name, path, submit string, version int) Form {
	form := Form{Name: name, Action: path, Submit: submit, Hidden: []Hidden{{"request_key", p.NewKey()}}}
	if version > 0 {
		form.Hidden = append(form.Hidden, Hidden{"version", strconv.Itoa(version)})
	}
	return form
}

// edit reads what every change to a record has in common.
func (in *input) edit() inventory.Edit {
	return inventory.Edit{Person: in.badge(), RequestKey: in.get("request_key"), Version: int(in.whole("version"))}
}

// saved leads to the page of what was entered or edited.
func saved(c *gin.Context, page string, version int, badge inventory.Code) error {
	return seeOther(c, page+slots{Badge: badge}.query("done", strconv.Itoa(version)))
}

// RecordPage is one person, place or feeder.
type RecordPage struct {
	Base
	Kicker  string
	Heading string
	Code    inventory.Code
	Gone    string // "retired"; empty if it is good
	Lead    string
	Path    string // of the page
	Edit    string // where it is edited
	Facts   []DemandLine
	Deeds   []Deed
	Changes []inventory.RecordChange
	Next    *Step         // what a new store needs next; nil if it needs nothing
	Tabs    []NavItem     // the lists beside it; nil if it has none of its own
	More    []NavItem     // what else is edited of it
	Subject string        // of its history; empty is its code
	Answer  *RecordAnswer // of a printer that was asked; nil if none was
}

// showRecord answers with the page of a record; what was wrong with a deed, if
// something was, is err.
func (p *Pages) showRecord(c *gin.Context, page *RecordPage, kind inventory.RecordKind, in *input, deed string, err error) error {
	if err != nil && !again(err) {
		return err
	}
	if err != nil {
		page.Trouble = trouble(c, err)
		refill(page.Deeds, deed, in, err)
	}
	status := page.Trouble.status()
	if page.Subject == "" {
		page.Subject = string(page.Code)
	}
	if page.Changes, err = p.changes(c, &page.Base, page.Heading, kind, page.Subject); err != nil {
		return err
	}
	if page.Next, err = p.nextStep(c); err != nil {
		return err
	}
	return p.show(c, status, "record", page)
}

// refill puts what was typed for a deed back into its form.
func refill(deeds []Deed, name string, in *input, err error) {
	for i := range deeds {
		if deeds[i].Name == name {
			deeds[i].Form = deeds[i].Form.filled(in.get, err)
		}
	}
}

// changes returns the history of a record, and tells base what was just done.
func (p *Pages) changes(c *gin.Context, base *Base, name string, kind inventory.RecordKind, subject string) ([]inventory.RecordChange, error) {
	changes, err := p.Catalog(c.Request.Context()).RecordChanges(kind, subject, mostLines)
	for _, change := range changes {
		if strconv.Itoa(change.Version) == c.Query("done") {
			base.Flash = name + ": " + string(change.Deed) + "."
		}
	}
	return changes, err
}

// deed is one thing that is done to a record, with its form.
func (p *Pages) deed(path, name, title, submit, tone, lead, badge string) Deed {
	form := Form{Name: name, Action: path + "/" + name, Submit: submit, Tone: tone, Hidden: []Hidden{{"request_key", p.NewKey()}}}
	field := badgeField(badge)
	field.Hint = lead
	return Deed{name, title, form.fields(field)}
}

// fact is a line of what is known of a record.
func fact(what, value string) DemandLine {
	if value == "" {
		value = "not known"
	}
	return DemandLine{What: what, Value: value}
}

// ListPage lists people, places or feeders with their codes.
type ListPage struct {
	Base
	Heading string
	Lead    string
	Tabs    []NavItem
	New     string // where one more is entered
	Submit  string // what leads there
	Cards   []ListCard
	Empty   string // what is said where there is none
}

// ListCard is one of them.
type ListCard struct {
	Code  inventory.Code
	Title string
	Page  string
	Gone  string // "retired"; empty if it is good
	Lines []string
}

// yardTabs leads between people, places and feeders.
func yardTabs(active string) []NavItem {
	tabs := []NavItem{{Key: "people", Href: "/people", Label: "People"}, {Key: "places", Href: "/places", Label: "Places"}, {Key: "feeders", Href: "/feeders", Label: "Feeders"}}
	for i := range tabs {
		tabs[i].Current = tabs[i].Key == active
	}
	return tabs
}

func (p *Pages) showList(c *gin.Context, page ListPage) error {
	return p.show(c, http.StatusOK, "list", page)
}
