package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
)

// cardView is a set-up card: what a welder needs, the three things read at
// arm's length first.
type cardView struct {
	Spool           string        `json:"spool,omitempty"`
	Lot             string        `json:"lot,omitempty"`
	WireID          int64         `json:"wire_id"`
	Wire            string        `json:"wire"`
	Maker           string        `json:"maker"`
	Classifications []string      `json:"classifications"`
	DiameterNm      int64         `json:"diameter_nm"`
	Lines           []cardLine    `json:"lines"`
	Cautions        []cautionView `json:"cautions"`
	Clock           *clockView    `json:"clock,omitempty" doc:"Of a spool that is not scrapped, at this instant: it goes stale, so print it nowhere."`
}

type cardLine struct {
	Key        string       `json:"key"`
	Label      string       `json:"label"`
	Known      bool         `json:"known"`
	Value      string       `json:"value" doc:"\"not known: read the box\" where nobody supplied it."`
	Words      string       `json:"words,omitempty" doc:"The same in plain words."`
	Source     string       `json:"source,omitempty"`
	Provenance string       `json:"provenance,omitempty" doc:"published, memory, data sheet or shop"`
	Confirm    bool         `json:"confirm,omitempty" doc:"Not sure enough to weld by without a look at the box."`
	Conflict   string       `json:"conflict,omitempty" doc:"Why box and data sheet cannot both be right: do not weld by it."`
	Advice     []adviceView `json:"common_practice,omitempty" doc:"Common practice, not evidence; only where nobody supplied the fact."`
}

type adviceView struct {
	Says       string `json:"says"`
	Note       string `json:"note,omitempty"`
	Provenance string `json:"provenance"`
	Source     string `json:"source,omitempty"`
	Row        string `json:"row,omitempty" doc:"Row of the table of trade practice."`
}

type cautionView struct {
	Topic string     `json:"topic"`
	Says  string     `json:"says,omitempty"`
	May   string     `json:"may_apply,omitempty" doc:"Why it is not certain that it applies."`
	Notes []noteView `json:"notes"`
}

type noteView struct {
	ID         string `json:"id"`
	Fact       string `json:"fact"`
	Value      string `json:"value,omitempty"`
	Citation   string `json:"citation"`
	Provenance string `json:"provenance"`
	Note       string `json:"note,omitempty"`
	May        string `json:"may_apply,omitempty"`
}

// What a line says where nobody supplied the fact, and where box and sheet
// disagree about it.
const (
	notKnown = "not known: read the box"
	disagree = "box and sheet disagree: do not weld by it"
)

func viewCard(c inventory.Card) cardView {
	w := c.Wire
	v := cardView{WireID: w.ID, Wire: w.TradeName, Maker: w.Maker, Classifications: w.Classifications, DiameterNm: int64(w.Diameter), Cautions: []cautionView{}}
	for _, l := range c.Lines {
		line := cardLine{Key: l.Key, Label: l.Label, Known: l.Value != "", Value: l.Value, Words: l.Words, Source: l.Source,
			Provenance: string(l.Provenance), Confirm: l.Value != "" && !l.Sure, Conflict: l.Conflict}
		switch {
		case l.Conflict != "":
			line.Value = disagree
		case !line.Known:
			line.Value = notKnown
		}
		for _, a := range l.Advice {
			line.Advice = append(line.Advice, adviceView{a.Says, a.Note, string(a.Provenance), a.Source, a.Row})
		}
		v.Lines = append(v.Lines, line)
	}
	for _, c := range c.Cautions {
		caution := cautionView{Topic: c.Topic, Says: c.Says, May: c.May}
		for _, n := range c.Notes {
			caution.Notes = append(caution.Notes, noteView{n.ID, n.Fact, n.Value, n.Citation, string(n.Provenance), n.Note, n.May})
		}
		v.Cautions = append(v.Cautions, caution)
	}
	return v
}

func (h *handlers) registerCards(a huma.API) {
	huma.Get(a, "/api/v1/spools/{code}/card", h.spoolCard)
	huma.Get(a, "/api/v1/wires/{id}/card", h.wireCard)
	huma.Get(a, "/api/v1/compare", h.compare)
	h.registerNames(a)
}

func (h *handlers) wireCard(ctx context.Context, in *byID) (*bodyOf[cardView], error) {
	w, err := h.Catalog(ctx).Wire(in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	card, err := w.Card()
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewCard(card)), nil
}

func (h *handlers) spoolCard(ctx context.Context, in *bySpool) (*bodyOf[cardView], error) {
	code, err := codeOf(inventory.SpoolCode, "code", in.Code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	catalog := h.Catalog(ctx)
	line, err := catalog.SpoolLine(code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	w, err := catalog.Wire(line.WireID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	card, err := w.Card()
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v := viewCard(card)
	v.Spool, v.Lot = string(code), line.LotNumber
	clock, err := h.Ledger.CardClock(ctx, code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v.Clock = viewClock(clock)
	return body(v), nil
}

// comparisonView is two wires fact by fact, and what a job says of both.
type comparisonView struct {
	A           wireView       `json:"a" doc:"The wire that is wanted."`
	B           wireView       `json:"b" doc:"The one that might stand in."`
	Differences []comparedFact `json:"differences"`
	Same        []comparedFact `json:"same"`
	Checks      *comparedCheck `json:"checks,omitempty" doc:"Only where a job was named. Each as if a spool of the wire lay sealed in the store, of a lot that is accepted and was made today."`
}

type comparedFact struct {
	Fact string   `json:"fact"`
	A    sideView `json:"a"`
	B    sideView `json:"b"`
}

type sideView struct {
	Known      bool   `json:"known"`
	Value      string `json:"value,omitempty"`
	Condition  string `json:"condition,omitempty"`
	Provenance string `json:"provenance,omitempty"`
	Source     string `json:"source,omitempty"`
}

type comparedCheck struct {
	Supposed string    `json:"supposed"`
	A        CheckView `json:"a"`
	B        CheckView `json:"b"`
	Changed  []string  `json:"changed" doc:"The rules that are answered differently, those that stop the stand-in first."`
}

func viewCompared(facts []inventory.ComparedFact) []comparedFact {
	side := func(s inventory.Side) sideView {
		return sideView{s.Value != "", s.Value, s.Condition, string(s.Provenance), s.Source}
	}
	out := make([]comparedFact, len(facts))
	for i, f := range facts {
		out[i] = comparedFact{f.Name, side(f.A), side(f.B)}
	}
	return out
}

func (h *handlers) compare(ctx context.Context, in *struct {
	A   int64  `query:"a" required:"true" minimum:"1" doc:"Id of the wire that is wanted."`
	B   int64  `query:"b" required:"true" minimum:"1" doc:"Id of the one that might stand in."`
	Job string `query:"job" doc:"A job's code or number: what the fit check says of both."`

	Procedure string `query:"procedure" doc:"Which of the job's procedures: its number, its number and revision, or its id. Left out where it has one."`
}) (*bodyOf[comparisonView], error) {
	catalog := h.Catalog(ctx)
	a, err := catalog.Wire(in.A)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	b, err := catalog.Wire(in.B)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	c, err := inventory.CompareWires(a, b)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v := comparisonView{A: viewWire(a), B: viewWire(b), Differences: viewCompared(c.Differences), Same: viewCompared(c.Same)}
	if in.Job != "" {
		if v.Checks, err = h.checks(ctx, in.A, in.B, in.Job, in.Procedure); err != nil {
			return nil, h.fail(ctx, err)
		}
	}
	return body(v), nil
}

func (h *handlers) checks(ctx context.Context, a, b int64, number, under string) (*comparedCheck, error) {
	job, err := h.Ledger.FindJob(ctx, number)
	if err != nil {
		return nil, err
	}
	procedure, err := h.Ledger.FindProcedure(ctx, job.Code, under)
	if err != nil {
		return nil, err
	}
	checkA, err := h.Ledger.CheckWireUnder(ctx, a, job.Code, procedure)
	if err != nil {
		return nil, err
	}
	checkB, err := h.Ledger.CheckWireUnder(ctx, b, job.Code, procedure)
	if err != nil {
		return nil, err
	}
	out := &comparedCheck{Supposed: "a sealed spool of each wire, of a lot that is accepted and was made today", A: ViewCheck(checkA), B: ViewCheck(checkB), Changed: []string{}}
	for _, f := range inventory.ChangedFindings(checkA.Verdict, checkB.Verdict) {
		out.Changed = append(out.Changed, string(f.Rule))
	}
	return out, nil
}
