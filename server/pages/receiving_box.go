package pages

import (
	"strconv"
	"strings"

	"wirehold/inventory"
)

// boxWire names the hidden field that holds the wire whose box was asked about:
// answers for one wire are none for another.
const boxWire = "box_wire"

// askBox puts into the form what is to be read from the box of wire; nothing
// where there is no such wire. Nothing is answered beforehand but what get
// gives, of an answer for this same wire and value.
func (page *ReceivingPage) askBox(cat Catalog, wire int64, get func(string) string, err error) error {
	if wire <= 0 {
		return nil
	}
	w, errWire := cat.Wire(wire)
	if inventory.KindOf(errWire) == inventory.NotFound {
		return nil
	}
	if errWire != nil {
		return errWire
	}
	questions, errBox := w.BoxQuestions()
	if errBox != nil {
		return errBox
	}
	page.Asked = len(questions)
	page.Form.Hidden = append(page.Form.Hidden, Hidden{boxWire, strconv.FormatInt(wire, 10)})
	faults := faultsOf(err)
	for _, q := range questions {
		page.Form.Hidden = append(page.Form.Hidden, Hidden{q.Field + "_value", q.Text()})
		answered := get(boxWire) == strconv.FormatInt(wire, 10) && get(q.Field+"_value") == q.Text()
		page.Box = append(page.Box, boxFieldsOf(q, page.Form.Name, answered, get, faults[q.Field])...)
	}
	return nil
}

// boxFieldsOf is one question with room for what the box says instead.
func boxFieldsOf(q inventory.BoxQuestion, form string, answered bool, get func(string) string, fault string) []Field {
	ask := Field{Form: form, Name: q.Field, Label: q.Label + ", from memory: " + q.Text(), Type: "radio", Required: true, Fault: fault}
	if q.From != "" {
		ask.Hint = "Remembered of “" + q.From + "” in the classification"
	}
	for _, says := range [...]inventory.BoxSays{inventory.AsOnBox, inventory.Otherwise, inventory.NotOnTheBox} {
		ask.Options = append(ask.Options, Option{Value: string(says), Label: sentence(string(says)), Chosen: answered && get(q.Field) == string(says)})
	}
	read := Field{Form: form, Name: q.Field + "_read", Label: "What it says of " + strings.ToLower(q.Label) + ", if otherwise", Type: "text"}
	if answered {
		read.Value = get(read.Name)
	}
	return []Field{ask, read}
}

// box reads the answers for the wire. It is never nil: what is to be asked is
// asked.
func (in *input) box(cat Catalog, wire int64) ([]inventory.BoxAnswer, error) {
	answers := []inventory.BoxAnswer{}
	if in.get(boxWire) != strconv.FormatInt(wire, 10) {
		return answers, nil
	}
	w, err := cat.Wire(wire)
	if err != nil {
		return nil, err
	}
	questions, err := w.BoxQuestions()
	if err != nil {
		return nil, err
	}
	for _, q := range questions {
		answers = append(answers, inventory.BoxAnswer{Field: q.Field, Value: in.get(q.Field + "_value"), Says: inventory.BoxSays(in.get(q.Field)), Read: in.get(q.Field + "_read")})
	}
	return answers, nil
}
