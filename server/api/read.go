package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

type bodyOf[T any] struct{ Body T }

// saidIn is an answer with findings in the language that was asked for.
type saidIn[T any] struct {
	Language string `header:"Content-Language" doc:"Of the findings: en or es, by Accept-Language."`
	Vary     string `header:"Vary"`
	Body     T
}

func said[T any](l fit.Language, v T) *saidIn[T] { return &saidIn[T]{string(l), "Accept-Language", v} }

func body[T any](v T) *bodyOf[T] { return &bodyOf[T]{v} }

// page is the query of every list.
type page struct {
	Text  string `query:"q" doc:"Words that every item must contain. Of wires, spools and lots, names people use and sizes are understood: \"gasless .035\"."`
	State string `query:"state" doc:"Of spools and lots: only those in this state."`
	Limit int    `query:"limit" minimum:"1" maximum:"200" default:"50"`
	After int    `query:"after" minimum:"0" doc:"How many items to leave out."`
}

func (p page) query() inventory.Query {
	return inventory.Query{Text: p.Text, State: p.State, Limit: p.Limit, After: p.After}
}

type bySpool struct {
	Code string `path:"code" doc:"The spool's code, in any case, with or without the hyphen."`
}

type byID struct {
	ID int64 `path:"id"`
}

type listOf[T any] struct {
	Items []T `json:"items"`
}

func list[From, To any](items []From, view func(From) To) *bodyOf[listOf[To]] {
	out := make([]To, len(items))
	for i, item := range items {
		out[i] = view(item)
	}
	return body(listOf[To]{out})
}

func (h *handlers) registerReads(a huma.API) {
	huma.Get(a, "/api/v1/spools", searches(h, Catalog.Spools, viewSpoolLine))
	huma.Get(a, "/api/v1/wires", searches(h, Catalog.Wires, viewWireLine))
	huma.Get(a, "/api/v1/lots", searches(h, Catalog.Lots, func(l inventory.LotLine) lotView { return viewLot(l.Lot) }))
	huma.Get(a, "/api/v1/jobs", lists(h, func(c Catalog, p page) ([]inventory.JobLine, error) { return c.Jobs(p.query()) }, viewJob))
	huma.Get(a, "/api/v1/spools/{code}", h.spool)
	huma.Get(a, "/api/v1/spools/{code}/movements", h.movements)
	huma.Get(a, "/api/v1/spools/{code}/exposure", h.exposure)
	huma.Get(a, "/api/v1/wires/{id}", h.wire)
	huma.Get(a, "/api/v1/lots/{id}", h.lot)
	huma.Get(a, "/api/v1/check", h.check)
	huma.Get(a, "/api/v1/decode", h.decode)
}

// lists answers a list: look it up, write each item.
func lists[From, To any](h *handlers, find func(Catalog, page) ([]From, error), view func(From) To) func(context.Context, *page) (*bodyOf[listOf[To]], error) {
	return func(ctx context.Context, p *page) (*bodyOf[listOf[To]], error) {
		items, err := find(h.Catalog(ctx), *p)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		return list(items, view), nil
	}
}

// searches answers a list that understands the names people use for wire.
func searches[From, To any](h *handlers, find func(Catalog, inventory.Query) ([]From, error), view func(From) To) func(context.Context, *page) (*bodyOf[listOf[To]], error) {
	return func(ctx context.Context, p *page) (*bodyOf[listOf[To]], error) {
		q := p.query()
		m, err := h.Ledger.Understand(ctx, q.Text)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		if m.Understood() {
			q.Meaning = &m
		}
		items, err := find(h.Catalog(ctx), q)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		return list(items, view), nil
	}
}

func viewWireLine(w inventory.WireLine) wireView {
	v := viewWire(w.Wire)
	usable, out := int64(w.Usable), int64(w.Out)
	v.UsableG, v.OutG, v.Conflicts = &usable, &out, viewConflicts(w.Disagree)
	if w.Waits > 0 {
		waits := int64(w.Waits)
		v.WaitsG = &waits
	}
	return v
}

func (h *handlers) spool(ctx context.Context, in *bySpool) (*bodyOf[spoolView], error) {
	code, err := codeOf(inventory.SpoolCode, "code", in.Code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	s, err := h.Catalog(ctx).SpoolLine(code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewSpoolLine(s)), nil
}

func (h *handlers) movements(ctx context.Context, in *bySpool) (*bodyOf[listOf[movementView]], error) {
	code, err := codeOf(inventory.SpoolCode, "code", in.Code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	catalog := h.Catalog(ctx)
	if _, err := catalog.Spool(code); err != nil {
		return nil, h.fail(ctx, err)
	}
	history, err := catalog.History(code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(history, viewMovement), nil
}

func (h *handlers) wire(ctx context.Context, in *byID) (*bodyOf[wireView], error) {
	w, err := h.Catalog(ctx).Wire(in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return h.wireAnswer(ctx, w, nil)
}

func (h *handlers) lot(ctx context.Context, in *byID) (*bodyOf[lotView], error) {
	l, err := h.Catalog(ctx).Lot(in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewLot(l)), nil
}

func (h *handlers) check(ctx context.Context, in *struct {
	Spool  string `query:"spool" required:"true"`
	Job    string `query:"job" required:"true" doc:"The job's code or number."`
	Feeder string `query:"feeder"`

	Procedure string `query:"procedure" doc:"Which of the job's procedures: its number, its number and revision, or its id. Left out where it has one."`
}) (*saidIn[CheckView], error) {
	spool, err := codeOf(inventory.SpoolCode, "spool", in.Spool)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	job, err := h.Ledger.FindJob(ctx, in.Job)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	feeder, err := optionalCode(inventory.FeederCode, "feeder", in.Feeder)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	procedure, err := h.Ledger.FindProcedure(ctx, job.Code, in.Procedure)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	check, err := h.Ledger.CheckFitUnder(ctx, spool, job.Code, procedure, feeder)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return said(languageOf(ctx), ViewCheckIn(languageOf(ctx), check)), nil
}

func (h *handlers) decode(ctx context.Context, in *struct {
	Designation string `query:"d" required:"true" maxLength:"80" doc:"A classification, a gas (M21-ArC-18, 82 Ar 18 CO2), a size (.045 in) or a package (12 in spool)."`
}) (*bodyOf[DecodedView], error) {
	d, err := filler.DecodeTyped(in.Designation)
	if err != nil {
		return nil, h.fail(ctx, inventory.Invalidf("d", "%v", err))
	}
	return body(ViewDecoded(d)), nil
}
