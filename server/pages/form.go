package pages

import (
	"slices"
	"strings"

	"wirehold/inventory"
)

// Form is a form as its template draws it.
type Form struct {
	Name   string // makes the ids of its fields unique on the page
	Action string // where it is posted
	Submit string // what its button says
	Tone   string // of its button: "" is the usual, "stop" takes something out of use
	Upload bool   // it carries a file
	Hidden []Hidden
	Note   string      // what is to be known before it is filled in; may be empty
	Warns  bool        // the note says that it will be refused
	Offers []FormOffer // what it may be filled in with
	Open   bool        // it is shown unfolded
	Fields []Field
	Wrong  bool // it was posted and something was wrong with it
}

// FormOffer is a set of values that a form may be filled in with.
type FormOffer struct{ Says, Source, Href string }

// Hidden is a field that is posted and not shown.
type Hidden struct{ Name, Value string }

// Field is one field of a form. Type is an input's type, "select", "textarea",
// "radio" for one of the options, or "checks" for any of them.
type Field struct {
	Form     string // the form's name
	Name     string
	Label    string
	Hint     string
	Type     string
	Value    string
	Options  []Option
	Suggest  []string // of a text: what is usual; anything else may be typed
	Required bool
	Scan     bool   // filled by scanner: its text is chosen when it gets the focus
	Checked  bool   // of a checkbox
	Accept   string // of a file: the kinds that are taken
	Fault    string
}

// Option is one choice of a select.
type Option struct {
	Value, Label string
	Chosen       bool
}

// Tick returns the name under which one of the options is posted, where any
// of them may be chosen.
func (f Field) Tick(value string) string {
	return f.Name + "_" + strings.ReplaceAll(value, " ", "_")
}

// ID returns the element's id.
func (f Field) ID() string { return f.Form + "-" + f.Name }

// fields names the form in each field.
func (f Form) fields(fields ...Field) Form {
	for i := range fields {
		fields[i].Form = f.Name
	}
	f.Fields = fields
	return f
}

// filled returns the form with what was typed and what was wrong with it. A
// request key that was not used up is kept, so that sending again repeats the
// same request.
func (f Form) filled(typed func(string) string, err error) Form {
	f.Wrong = true
	faults := faultsOf(err)
	f.Fields = slices.Clone(f.Fields)
	for i := range f.Fields {
		field := &f.Fields[i]
		field.Value = typed(field.Name)
		field.Checked = field.Type == "checkbox" && field.Value != ""
		field.Fault = faults[field.Name]
		for j := range field.Options {
			field.Options[j].Chosen = field.Options[j].Value == field.Value
			if field.Type == "checks" {
				field.Options[j].Chosen = typed(field.Tick(field.Options[j].Value)) != ""
			}
		}
	}
	for i := range f.Hidden {
		if value := typed(f.Hidden[i].Name); value != "" {
			f.Hidden[i].Value = value
		}
	}
	return f
}

// faultsOf returns what err says is wrong with each field.
func faultsOf(err error) map[string]string {
	faults := map[string]string{}
	if e, ok := asError(err); ok {
		for _, f := range e.Fields {
			faults[f.Field] = f.Detail
		}
	}
	return faults
}

// badgeField asks for the badge of whoever makes the change.
func badgeField(badge string) Field {
	return Field{Name: "person", Label: "Your badge", Type: "text", Value: badge, Required: true, Scan: true, Hint: "Scan or type it"}
}

// options makes the choices of a field: the words themselves, those in chosen
// taken. A first label, if given, is the choice of none.
func options[T ~string](none string, words []T, chosen ...T) []Option {
	var out []Option
	if none != "" {
		out = append(out, Option{Label: none})
	}
	for _, w := range words {
		out = append(out, Option{Value: string(w), Label: sentence(string(w)), Chosen: slices.Contains(chosen, w)})
	}
	return out
}

// grossField asks for what the scale says.
func grossField(required bool) Field {
	return Field{Name: "gross", Label: "Weight on the scale", Type: "text", Required: required, Hint: "With its unit: 12.7 kg or 28 lb, spool and all"}
}

// whenField asks when something happened that is entered late.
func whenField() Field {
	return Field{Name: "effective_at", Label: "When it happened", Type: "datetime-local", Hint: "Leave empty for now"}
}

// reasonField asks why.
func reasonField(hint string) Field {
	return Field{Name: "reason", Label: "Reason", Type: "text", Required: true, Hint: hint}
}

// placeField asks for a place.
func placeField(places []inventory.Place, chosen inventory.Code, required bool) Field {
	f := Field{Name: "place", Label: "Place", Type: "select", Required: required, Options: []Option{{Label: "Choose a place"}}}
	for _, p := range places {
		if p.Kind == inventory.AtFeeder {
			continue
		}
		label := p.Name
		if p.DryKept {
			label += " (dry-kept)"
		}
		f.Options = append(f.Options, Option{string(p.Code), label, p.Code == chosen})
	}
	return f
}
