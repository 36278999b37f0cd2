package api

import (
	"context"
	"errors"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

func (h *handlers) registerWires(a huma.API) {
	bounded := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Post(a, "/api/v1/wires", h.enterWire, bounded)
	huma.Put(a, "/api/v1/wires/{id}", h.changeWire, bounded)
	huma.Post(a, "/api/v1/wires/{id}/settle", h.settleWire, bounded)
	huma.Get(a, "/api/v1/wires/{id}/changes", h.wireChanges)
	huma.Get(a, "/api/v1/wires/{id}/sheets", h.wireSheets)
	huma.Get(a, "/api/v1/wire-facts", h.wireFacts)
}

// WireBody is a wire as it is entered or edited. It is exported because the
// description of the API is derived from exported fields alone.
type WireBody struct {
	Person          string         `json:"person" doc:"The badge code of the welding engineer, the owner or the buyer."`
	RequestKey      string         `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated: a repeated request changes nothing."`
	Maker           string         `json:"maker,omitempty" maxLength:"120"`
	TradeName       string         `json:"trade_name" maxLength:"120"`
	Classifications []string       `json:"classifications" doc:"As on the box, one each."`
	Diameter        string         `json:"diameter" doc:"With its unit: .045 in, 3/32 in or 1.2 mm."`
	Marked          string         `json:"marked,omitempty" maxLength:"120" doc:"The size as the box prints it; left out, the diameter as given."`
	Package         string         `json:"package,omitempty" maxLength:"120"`
	NetG            int64          `json:"net_g" minimum:"1"`
	TareG           int64          `json:"tare_g" minimum:"0"`
	MinimumG        int64          `json:"minimum_g,omitempty" minimum:"0"`
	Facts           []WireFactBody `json:"facts,omitempty" maxItems:"200"`
}

// WireFactBody is what a data sheet or the shop says of a wire.
type WireFactBody struct {
	Fact       string `json:"fact" doc:"One of /api/v1/wire-facts."`
	Value      string `json:"value" doc:"With its unit: 13-19 mm. Size by size where the fact allows it: .035 in: 5 mm; .045 in: 8 mm."`
	Provenance string `json:"provenance" enum:"data sheet,shop"`
	Source     string `json:"source" minLength:"1" maxLength:"200" doc:"The sheet's title and revision, or how the shop knows."`
}

// wire reads the body; all that is wrong with it is one error.
func (b WireBody) wire() (inventory.WireEntry, error) {
	var faults []inventory.FieldFault
	person, err := codeOf(inventory.PersonCode, "person", b.Person)
	faults = append(faults, fieldsOf(err)...)
	w := inventory.Wire{Maker: strings.TrimSpace(b.Maker), TradeName: strings.TrimSpace(b.TradeName), Classifications: b.Classifications,
		Marked: strings.TrimSpace(b.Marked), Package: strings.TrimSpace(b.Package), Net: unit.Grams(b.NetG), Tare: unit.Grams(b.TareG), Minimum: unit.Grams(b.MinimumG)}
	if w.Diameter, err = unit.ParseLength(b.Diameter); err != nil {
		faults = append(faults, inventory.FieldFault{Field: "diameter", Detail: err.Error()})
	}
	if w.Marked == "" {
		w.Marked = strings.TrimSpace(b.Diameter)
	}
	for _, f := range b.Facts {
		read, err := f.read()
		faults = append(faults, fieldsOf(err)...)
		w.Supplied = append(w.Supplied, read...)
	}
	if len(faults) > 0 {
		return inventory.WireEntry{}, &inventory.Error{Kind: inventory.Invalid, Code: "invalid-" + faults[0].Field, Detail: faults[0].Detail, Fields: faults}
	}
	return inventory.WireEntry{Person: person, RequestKey: b.RequestKey, Wire: w}, nil
}

func (f WireFactBody) read() (filler.Facts, error) {
	known, ok := inventory.SheetFactNamed(f.Fact)
	if !ok {
		return nil, inventory.Invalidf("facts", "there is no fact %q: /api/v1/wire-facts lists them", f.Fact)
	}
	facts, err := known.Read(f.Value)
	for i := range facts {
		facts[i].Provenance, facts[i].Source = filler.Provenance(f.Provenance), strings.TrimSpace(f.Source)
	}
	return facts, err
}

// fieldsOf is what err says of single fields.
func fieldsOf(err error) []inventory.FieldFault {
	if e, ok := errors.AsType[*inventory.Error](err); ok {
		return e.Fields
	}
	return nil
}

func (h *handlers) enterWire(ctx context.Context, in *struct{ Body WireBody }) (*bodyOf[wireView], error) {
	entry, err := in.Body.wire()
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	w, err := h.Ledger.EnterWire(ctx, entry)
	return h.wireAnswer(ctx, w, err)
}

func (h *handlers) changeWire(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		WireBody
		Version int `json:"version" minimum:"1" doc:"Of the wire, as you looked at it."`
	}
}) (*bodyOf[wireView], error) {
	entry, err := in.Body.wire()
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	entry.Wire.ID, entry.Wire.Version = in.ID, in.Body.Version
	w, err := h.Ledger.ChangeWire(ctx, entry)
	return h.wireAnswer(ctx, w, err)
}

func (h *handlers) settleWire(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		Person     string `json:"person" doc:"The badge code of the welding engineer or the owner."`
		RequestKey string `json:"request_key" minLength:"1" maxLength:"100"`
		Version    int    `json:"version" minimum:"1" doc:"Of the wire, as you looked at it."`
		Fact       string `json:"fact"`
		Side       string `json:"side" doc:"The value that holds, as the conflict writes it."`
		Reason     string `json:"reason" maxLength:"500"`
	}
}) (*bodyOf[wireView], error) {
	b := in.Body
	person, err := codeOf(inventory.PersonCode, "person", b.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	w, err := h.Ledger.SettleWire(ctx, inventory.Settlement{Person: person, RequestKey: b.RequestKey, WireID: in.ID, Version: b.Version, Fact: b.Fact, Side: b.Side, Reason: b.Reason})
	return h.wireAnswer(ctx, w, err)
}

// wireAnswer answers with the wire as a change leaves it.
func (h *handlers) wireAnswer(ctx context.Context, w inventory.Wire, err error) (*bodyOf[wireView], error) {
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v, err := viewWholeWire(w)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(v), nil
}

// viewWholeWire is a wire with all that is known of it.
func viewWholeWire(w inventory.Wire) (wireView, error) {
	facts, err := w.Facts()
	if err != nil {
		return wireView{}, err
	}
	questions, err := w.BoxQuestions()
	if err != nil {
		return wireView{}, err
	}
	v := viewWire(w)
	v.Supplied = viewSupplied(w)
	v.Facts, v.Conflicts = ViewFacts(facts), viewConflicts(fit.Conflicts(facts))
	for _, q := range questions {
		v.BoxQuestions = append(v.BoxQuestions, boxQuestionView{q.Field, q.Label, q.Text()})
	}
	return v, nil
}

// viewSupplied is what sheet and shop say of w, as it is sent back to edit the
// wire: what was settled or confirmed is kept by the program and left out.
func viewSupplied(w inventory.Wire) []WireFactBody {
	var out []WireFactBody
	for _, known := range inventory.SheetFacts() {
		bySource := map[filler.Fact]filler.Facts{}
		var order []filler.Fact
		for _, f := range w.Supplied.Named(known.Name) {
			from := filler.Fact{Provenance: f.Provenance, Source: f.Source}
			if inventory.Decided(f) {
				continue
			}
			if len(bySource[from]) == 0 {
				order = append(order, from)
			}
			bySource[from] = append(bySource[from], f)
		}
		for _, from := range order {
			out = append(out, WireFactBody{known.Name, known.Text(bySource[from]), string(from.Provenance), from.Source})
		}
	}
	return out
}

// conflictView is one disagreement of box and sheet.
type conflictView struct {
	Fact  string             `json:"fact"`
	Says  string             `json:"says"`
	Sides []conflictSideView `json:"sides" doc:"One of them is to be chosen by the welding engineer; until then no spool is issued."`
}

type conflictSideView struct {
	Who    string `json:"who" doc:"classification, data sheet or shop"`
	Value  string `json:"value"`
	Source string `json:"source"`
}

func viewConflicts(conflicts []fit.Conflict) []conflictView {
	var out []conflictView
	for _, c := range conflicts {
		v := conflictView{Fact: c.Fact, Says: c.Says}
		for _, s := range c.Sides {
			v.Sides = append(v.Sides, conflictSideView{s.Who, s.Text(), s.Source})
		}
		out = append(out, v)
	}
	return out
}

// boxQuestionView is what receiving asks of the box.
type boxQuestionView struct {
	Question string `json:"question"`
	Label    string `json:"label"`
	Value    string `json:"value" doc:"From memory: what the box should say."`
}

// BoxAnswerBody answers one question of a wire's box_questions.
type BoxAnswerBody struct {
	Question string `json:"question"`
	Value    string `json:"value" doc:"The value that was asked about."`
	Says     string `json:"says" enum:"as on the box,box says otherwise,not on the box"`
	Read     string `json:"read,omitempty" maxLength:"80" doc:"What the box says instead."`
}

// boxAnswers is never nil: what is to be asked is asked.
func boxAnswers(bodies []BoxAnswerBody) []inventory.BoxAnswer {
	out := make([]inventory.BoxAnswer, len(bodies))
	for i, b := range bodies {
		out[i] = inventory.BoxAnswer{Field: b.Question, Value: b.Value, Says: inventory.BoxSays(b.Says), Read: b.Read}
	}
	return out
}

type wireChangeView struct {
	Version int       `json:"version"`
	At      time.Time `json:"at"`
	Person  string    `json:"person"`
	Deed    string    `json:"deed"`
	What    []string  `json:"what"`
}

func (h *handlers) wireChanges(ctx context.Context, in *byID) (*bodyOf[listOf[wireChangeView]], error) {
	if _, err := h.Catalog(ctx).Wire(in.ID); err != nil {
		return nil, h.fail(ctx, err)
	}
	changes, err := h.Catalog(ctx).WireChanges(in.ID, 200)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(changes, func(c inventory.WireChange) wireChangeView {
		return wireChangeView{c.Version, c.At, string(c.Person), string(c.Deed), c.What}
	}), nil
}

type sheetView struct {
	ID        int64     `json:"id" doc:"The file is at /sheets/ and this."`
	Title     string    `json:"title"`
	Revision  string    `json:"revision,omitempty"`
	FileName  string    `json:"file_name"`
	MediaType string    `json:"media_type"`
	SizeBytes int64     `json:"size_bytes"`
	SHA256    string    `json:"sha256"`
	Person    string    `json:"person"`
	At        time.Time `json:"attached_at"`
}

func (h *handlers) wireSheets(ctx context.Context, in *byID) (*bodyOf[listOf[sheetView]], error) {
	if _, err := h.Catalog(ctx).Wire(in.ID); err != nil {
		return nil, h.fail(ctx, err)
	}
	sheets, err := h.Catalog(ctx).Sheets(in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(sheets, func(s inventory.Sheet) sheetView {
		return sheetView{s.ID, s.Title, s.Revision, s.FileName, s.MediaType, s.Size, s.SHA256, string(s.Person), s.At}
	}), nil
}

type wireFactView struct {
	Fact    string `json:"fact"`
	Label   string `json:"label"`
	Accepts string `json:"accepts"`
	Example string `json:"example"`
}

func (h *handlers) wireFacts(context.Context, *struct{}) (*bodyOf[listOf[wireFactView]], error) {
	return list(inventory.SheetFacts(), func(f inventory.SheetFact) wireFactView {
		return wireFactView{f.Name, f.Label, f.Accepts(), f.Example}
	}), nil
}
