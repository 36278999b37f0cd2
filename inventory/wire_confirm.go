package inventory

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// BoxQuestion is a fact of a wire that rests on memory alone and on which its
// use depends: whoever receives a lot reads it from the box.
type BoxQuestion struct {
	Field string // names it in forms and bodies: "box_polarity"
	Name  string // "polarity"
	Label string // "Polarity"
	Value string
	Unit  string
	From  string // the characters of the classification that are remembered to say so
}

// Text is what the box should say.
func (q BoxQuestion) Text() string { return strings.TrimSpace(q.Value + " " + q.Unit) }

// BoxQuestions returns what is to be read from the box of w; nil if nothing.
func (w Wire) BoxQuestions() ([]BoxQuestion, error) {
	facts, err := w.Facts()
	if err != nil {
		return nil, err
	}
	var out []BoxQuestion
	for _, f := range wireFacts() {
		best, known := facts.Best(f.Name)
		if !f.OnBox || !known || best.Provenance != filler.Memory {
			continue
		}
		first := len(out)
		for _, fact := range facts.Named(f.Name) {
			q := BoxQuestion{Field: "box_" + f.Name, Name: f.Name, Label: f.Label, Value: fact.Value, Unit: fact.Unit, From: fact.From}
			asked := slices.ContainsFunc(out[first:], func(o BoxQuestion) bool { return o.Text() == q.Text() })
			if asked || fact.Provenance != filler.Memory || leftOpen(fact.Value) {
				continue
			}
			if n := len(out) - first; n > 0 {
				q.Field += "_" + strconv.Itoa(n+1)
			}
			out = append(out, q)
		}
	}
	return out, nil
}

// leftOpen reports whether a value of the tables says nothing.
func leftOpen(value string) bool {
	return value == "" || strings.HasPrefix(value, "not ") || strings.HasPrefix(value, "per data sheet") || strings.HasPrefix(value, "as agreed")
}

// BoxSays is what somebody read on the box.
type BoxSays string

// What a box may say.
const (
	AsOnBox     BoxSays = "as on the box"
	Otherwise   BoxSays = "box says otherwise"
	NotOnTheBox BoxSays = "not on the box"
)

// BoxAnswer answers one question.
type BoxAnswer struct {
	Field string  // of the question
	Value string  // that was asked about: an answer to another is none
	Says  BoxSays // empty is no answer
	Read  string  // what the box says instead; may be empty
}

// reading is what the answers of one receipt come to.
type reading struct {
	confirmed []BoxQuestion
	linked    []string // that the product number on the box is this wire; nil if that was known
	doubts    []string // why the lot goes on hold
}

// read holds the answers against the questions. Each question must have its
// answer, and nothing is confirmed but what the box says just so.
func (r Receipt) read(w Wire) (reading, error) {
	var out reading
	if r.Box == nil {
		return out, nil
	}
	questions, err := w.BoxQuestions()
	if err != nil {
		return out, err
	}
	var faults []FieldFault
	for _, q := range questions {
		i := slices.IndexFunc(r.Box, func(a BoxAnswer) bool { return a.Field == q.Field })
		answer := BoxAnswer{}
		if i >= 0 {
			answer = r.Box[i]
		}
		switch {
		case answer.Says == "":
			faults = append(faults, FieldFault{q.Field, fmt.Sprintf("%s, as remembered: %s. Look at the box and say whether it says so", q.Label, q.Text())})
		case answer.Value != q.Text():
			faults = append(faults, FieldFault{q.Field, fmt.Sprintf("%s: %s is asked about, not %q: look at the box again", q.Label, q.Text(), clip(answer.Value))})
		case answer.Says == AsOnBox:
			out.confirmed = append(out.confirmed, q)
		case answer.Says == Otherwise:
			out.doubts = append(out.doubts, q.otherwise(answer.Read))
		case answer.Says == NotOnTheBox:
			out.doubts = append(out.doubts, fmt.Sprintf("%s is not on the box (from memory: %s)", strings.ToLower(q.Label), q.Text()))
		default:
			faults = append(faults, FieldFault{q.Field, fmt.Sprintf("%s: say %q, %q or %q", q.Label, AsOnBox, Otherwise, NotOnTheBox)})
		}
	}
	if len(faults) > 0 {
		return out, &Error{Kind: Invalid, Code: "invalid-box", Detail: "Some of what is known of this wire is from memory: read it from the box.", Fields: faults}
	}
	return out, nil
}

func (q BoxQuestion) otherwise(read string) string {
	says := "something else"
	if read = strings.Join(strings.Fields(read), " "); read != "" {
		says = clip(read)
	}
	return fmt.Sprintf("the box says %s for %s, not %s", says, strings.ToLower(q.Label), q.Text())
}

// hold puts the lot on hold for what the box does not confirm.
func (r reading) hold(lot *Lot) {
	if len(r.doubts) == 0 {
		return
	}
	reasons := r.doubts
	if lot.Reason != "" {
		reasons = append([]string{lot.Reason}, reasons...)
	}
	lot.Status, lot.Reason = fit.LotOnHold, strings.Join(reasons, "; ")
}

// keep makes what was confirmed facts of the shop, and with the product number
// that was linked a line of the wire's history.
func (r reading) keep(tx Tx, w Wire, lot Lot, by Code, key, request string, at time.Time) error {
	if len(r.confirmed)+len(r.linked) == 0 {
		return nil
	}
	person, err := badge(tx, by)
	if err != nil {
		return err
	}
	if !person.Role.MayHold() {
		return Forbiddenf("may-not-confirm", "%s is a %s: a store attendant or the welding engineer confirms what the box says", person.Name, person.Role)
	}
	what, deed := r.linked, ProductLinked
	if len(r.confirmed) > 0 {
		deed = WireConfirmed
	}
	w.Supplied = slices.Clone(w.Supplied)
	for _, q := range r.confirmed {
		source := fmt.Sprintf("%s%s by %s", confirmedOn, lot.Number, person.Name)
		w.Supplied = append(w.Supplied, filler.Fact{Name: q.Name, Value: q.Value, Unit: q.Unit, Provenance: filler.Shop, Source: source})
		what = append(what, fmt.Sprintf("%s: %s, %s", strings.ToLower(q.Label), q.Text(), source))
	}
	w.Version++
	if err := tx.UpdateWire(w); err != nil {
		return err
	}
	return tx.AddWireChange(WireChange{WireID: w.ID, Deed: deed, Change: Change{Version: w.Version, Person: by, At: at, RequestKey: key, Request: request, What: what}})
}
