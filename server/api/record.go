package api

import (
	"context"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Edit is what every change to a person, place, feeder, procedure or job has in
// common. It is exported because the description of the API is derived from
// exported fields alone.
type Edit struct {
	Person     string `json:"person" doc:"The badge code of whoever makes the change."`
	RequestKey string `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated: a repeated request changes nothing."`
}

// EditSeen is an [Edit] of what is there already.
type EditSeen struct {
	Edit
	Version int `json:"version" minimum:"1" doc:"As you looked at it: if it has changed since, nothing is done."`
}

// faults gathers all that is wrong with a body.
type faults []inventory.FieldFault

func (f *faults) add(field string, err error) {
	if err == nil {
		return
	}
	if known := fieldsOf(err); len(known) > 0 {
		*f = append(*f, known...)
		return
	}
	*f = append(*f, inventory.FieldFault{Field: field, Detail: err.Error()})
}

func (f faults) err() error {
	if len(f) == 0 {
		return nil
	}
	return &inventory.Error{Kind: inventory.Invalid, Code: "invalid-" + f[0].Field, Detail: f[0].Detail, Fields: f}
}

func (e Edit) read(f *faults, version int) inventory.Edit {
	person, err := codeOf(inventory.PersonCode, "person", e.Person)
	f.add("person", err)
	return inventory.Edit{Person: person, RequestKey: e.RequestKey, Version: version}
}

// measured reads a text with its unit; zero for an empty text.
func measured[T any](f *faults, field, text string, parse func(string) (T, error)) (v T) {
	if strings.TrimSpace(text) == "" {
		return v
	}
	v, err := parse(text)
	f.add(field, err)
	return v
}

func measuredAll[T any](f *faults, field string, texts []string, parse func(string) (T, error)) (out []T) {
	for _, text := range texts {
		v, err := parse(text)
		f.add(field, err)
		out = append(out, v)
	}
	return out
}

// gasOf reads a gas; nil for an empty text, which is not "none".
func gasOf(f *faults, text string) *fit.Gas {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	g, err := fit.ParseGas(text)
	f.add("gas", err)
	return &g
}

func gasText(g *fit.Gas) string {
	if g == nil {
		return ""
	}
	return g.String()
}

func lengthText(l unit.Length) string {
	if l == 0 {
		return ""
	}
	return l.String()
}

func lengthTexts(ls []unit.Length) []string {
	out := make([]string, len(ls))
	for i, l := range ls {
		out[i] = l.String()
	}
	return out
}

func asWords[T ~string](texts []string) (out []T) {
	for _, t := range texts {
		out = append(out, T(t))
	}
	return out
}

func asTexts[T ~string](words []T) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return out
}

type changeView struct {
	Version int      `json:"version"`
	Deed    string   `json:"deed"`
	By      string   `json:"by" doc:"Who did it."`
	Person  string   `json:"person"`
	At      string   `json:"at" format:"date-time"`
	What    []string `json:"what"`
}

func viewChange(c inventory.RecordChange) changeView {
	return changeView{c.Version, string(c.Deed), c.PersonName, string(c.Person), c.At.Format("2006-01-02T15:04:05Z"), c.What}
}

// byCode names the thing by the code in the path.
type byCode struct {
	Code string `path:"code"`
}

// changesOf answers the history of a record.
func changesOf(h *handlers, kind inventory.RecordKind, code inventory.CodeKind) func(context.Context, *byCode) (*bodyOf[listOf[changeView]], error) {
	return func(ctx context.Context, in *byCode) (*bodyOf[listOf[changeView]], error) {
		subject, err := codeOf(code, "code", in.Code)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		changes, err := h.Ledger.Changes(ctx, kind, string(subject))
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		return list(changes, viewChange), nil
	}
}

// answered writes what a use case returns.
func answered[From, To any](ctx context.Context, h *handlers, thing From, err error, view func(From) To) (*bodyOf[To], error) {
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(view(thing)), nil
}

// entered answers POST: the body's person or thing is entered.
func entered[B interface {
	entry(*faults) E
}, E, T, V any](h *handlers, do func(context.Context, E) (T, error), view func(T) V) func(context.Context, *struct{ Body B }) (*bodyOf[V], error) {
	return func(ctx context.Context, in *struct{ Body B }) (*bodyOf[V], error) {
		var f faults
		e := in.Body.entry(&f)
		if err := f.err(); err != nil {
			return nil, h.fail(ctx, err)
		}
		thing, err := do(ctx, e)
		return answered(ctx, h, thing, err, view)
	}
}

// edited answers PUT: the thing in the path becomes what the body says.
func edited[B interface {
	entryOf(*faults, inventory.Code) E
}, E, T, V any](h *handlers, kind inventory.CodeKind, do func(context.Context, E) (T, error), view func(T) V) func(context.Context, *changes[B]) (*bodyOf[V], error) {
	return func(ctx context.Context, in *changes[B]) (*bodyOf[V], error) {
		var f faults
		code, err := codeOf(kind, "code", in.Code)
		f.add("code", err)
		e := in.Body.entryOf(&f, code)
		if err := f.err(); err != nil {
			return nil, h.fail(ctx, err)
		}
		thing, err := do(ctx, e)
		return answered(ctx, h, thing, err, view)
	}
}

// switched answers a deed that is done or undone: the badge is retired, the job
// is closed.
func switched[T, V any](h *handlers, kind inventory.CodeKind, do func(context.Context, inventory.Edit, inventory.Code, bool) (T, error), on bool, view func(T) V) func(context.Context, *changes[Edit]) (*bodyOf[V], error) {
	return func(ctx context.Context, in *changes[Edit]) (*bodyOf[V], error) {
		var f faults
		code, err := codeOf(kind, "code", in.Code)
		f.add("code", err)
		e := in.Body.read(&f, 0)
		if err := f.err(); err != nil {
			return nil, h.fail(ctx, err)
		}
		thing, err := do(ctx, e, code, on)
		return answered(ctx, h, thing, err, view)
	}
}

func (h *handlers) registerRecords(a huma.API) {
	bounded := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	h.registerYard(a, bounded)
	h.registerWork(a, bounded)
}
