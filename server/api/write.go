package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Entry is what every change to a spool has in common. It is exported because
// the description of the API is derived from exported fields alone.
type Entry struct {
	Person     string     `json:"person" doc:"The badge code of whoever enters it."`
	RequestKey string     `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated: a repeated request changes nothing."`
	At         *time.Time `json:"effective_at,omitempty" doc:"When it happened; left out for now."`
}

func (e Entry) of(spool string) (inventory.Entry, error) {
	code, err := codeOf(inventory.SpoolCode, "code", spool)
	if err != nil {
		return inventory.Entry{}, err
	}
	person, err := codeOf(inventory.PersonCode, "person", e.Person)
	if err != nil {
		return inventory.Entry{}, err
	}
	when, err := at(e.At)
	return inventory.Entry{Spool: code, Person: person, RequestKey: e.RequestKey, At: when}, err
}

// at returns the instant; the zero time, which is now, only if none was given.
func at(t *time.Time) (time.Time, error) {
	switch {
	case t == nil:
		return time.Time{}, nil
	case t.IsZero():
		return time.Time{}, inventory.Invalidf("effective_at", "%s is before anything that can be kept here", t.Format(time.RFC3339))
	}
	return *t, nil
}

func grossOf(g *int64) *unit.Grams {
	if g == nil {
		return nil
	}
	grams := unit.Grams(*g)
	return &grams
}

// changes is a change to the spool in the path, with a body of its own.
type changes[T any] struct {
	Code string `path:"code"`
	Body T
}

func (h *handlers) registerWrites(a huma.API) {
	post := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Post(a, "/api/v1/receipts", h.receive, post)
	huma.Post(a, "/api/v1/spools/{code}/issue", changed(h, h.issue), post)
	huma.Post(a, "/api/v1/spools/{code}/return", changed(h, h.returned), post)
	huma.Post(a, "/api/v1/spools/{code}/open", changed(h, h.open), post)
	huma.Post(a, "/api/v1/spools/{code}/weigh", changed(h, h.weigh), post)
	huma.Post(a, "/api/v1/spools/{code}/move", changed(h, h.move), post)
	huma.Post(a, "/api/v1/spools/{code}/hold", changed(h, h.hold), post)
	huma.Post(a, "/api/v1/spools/{code}/release", changed(h, h.release), post)
	huma.Post(a, "/api/v1/spools/{code}/scrap", changed(h, h.scrap), post)
	huma.Post(a, "/api/v1/spools/{code}/dry", changed(h, h.dry), post)
	huma.Post(a, "/api/v1/spools/{code}/damaged", changed(h, h.damaged), post)
	huma.Post(a, "/api/v1/spools/{code}/correct", changed(h, h.correct), post)
	huma.Post(a, "/api/v1/lots/{id}/status", h.lotStatus, post)
}

// changed answers a change to a spool with the spool as it leaves it.
func changed[T any](h *handlers, do func(context.Context, string, T) (inventory.Spool, error)) func(context.Context, *changes[T]) (*bodyOf[spoolView], error) {
	return func(ctx context.Context, in *changes[T]) (*bodyOf[spoolView], error) {
		s, err := do(ctx, in.Code, in.Body)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		return body(viewSpool(s)), nil
	}
}

type issueBody struct {
	Entry
	Job         string `json:"job" doc:"The job's code or number."`
	Procedure   string `json:"procedure,omitempty" doc:"Which of the job's procedures: its number, its number and revision, or its id. Left out where it has one."`
	Holder      string `json:"holder,omitempty" doc:"The badge of the welder who takes it; left out for whoever enters it."`
	Feeder      string `json:"feeder,omitempty" doc:"The machine it is for."`
	GrossG      *int64 `json:"gross_g,omitempty" minimum:"0" doc:"On the scale, in grams; needed once the package is open."`
	StaysSealed bool   `json:"stays_sealed,omitempty" doc:"The package is handed out unopened; otherwise its exposure starts."`
}

func (h *handlers) issue(ctx context.Context, spool string, in issueBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	job, err := h.Ledger.FindJob(ctx, in.Job)
	if err != nil {
		return inventory.Spool{}, err
	}
	procedure, err := h.Ledger.FindProcedure(ctx, job.Code, in.Procedure)
	if err != nil {
		return inventory.Spool{}, err
	}
	holder, err := optionalCode(inventory.PersonCode, "holder", in.Holder)
	if err != nil {
		return inventory.Spool{}, err
	}
	feeder, err := optionalCode(inventory.FeederCode, "feeder", in.Feeder)
	if err != nil {
		return inventory.Spool{}, err
	}
	return h.Ledger.Issue(ctx, inventory.Issue{Entry: e, Job: job.Code, Procedure: procedure, Holder: holder, Feeder: feeder, Gross: grossOf(in.GrossG), StaysSealed: in.StaysSealed})
}

type returnBody struct {
	Entry
	Place  string `json:"place"`
	GrossG *int64 `json:"gross_g,omitempty" minimum:"0" doc:"On the scale, in grams."`
}

func (h *handlers) returned(ctx context.Context, spool string, in returnBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	place, err := codeOf(inventory.PlaceCode, "place", in.Place)
	if err != nil {
		return inventory.Spool{}, err
	}
	return h.Ledger.Return(ctx, inventory.Return{Entry: e, Place: place, Gross: grossOf(in.GrossG)})
}

func (h *handlers) open(ctx context.Context, spool string, in Entry) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	return h.Ledger.Open(ctx, e)
}

type weighBody struct {
	Entry
	GrossG int64 `json:"gross_g" minimum:"0" doc:"On the scale, in grams."`
}

func (h *handlers) weigh(ctx context.Context, spool string, in weighBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	return h.Ledger.Weigh(ctx, e, unit.Grams(in.GrossG))
}

type moveBody struct {
	Entry
	Place string `json:"place"`
}

func (h *handlers) move(ctx context.Context, spool string, in moveBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	place, err := codeOf(inventory.PlaceCode, "place", in.Place)
	if err != nil {
		return inventory.Spool{}, err
	}
	return h.Ledger.Move(ctx, e, place)
}

type reasonBody struct {
	Entry
	Reason string `json:"reason" maxLength:"500"`
}

func (h *handlers) hold(ctx context.Context, spool string, in reasonBody) (inventory.Spool, error) {
	return withReason(ctx, spool, in, h.Ledger.Hold)
}

func (h *handlers) release(ctx context.Context, spool string, in reasonBody) (inventory.Spool, error) {
	return withReason(ctx, spool, in, h.Ledger.Release)
}

func (h *handlers) scrap(ctx context.Context, spool string, in reasonBody) (inventory.Spool, error) {
	return withReason(ctx, spool, in, h.Ledger.Scrap)
}

func withReason(ctx context.Context, spool string, in reasonBody, do func(context.Context, inventory.Entry, string) (inventory.Spool, error)) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	return do(ctx, e, in.Reason)
}

type correctBody struct {
	Entry
	Corrects int64       `json:"corrects" doc:"The seq of the movement that was wrong."`
	Reason   string      `json:"reason" maxLength:"500"`
	GrossG   *int64      `json:"gross_g,omitempty" minimum:"0"`
	OpenedAt *time.Time  `json:"opened_at,omitempty"`
	Sealed   bool        `json:"sealed,omitempty" doc:"It was never opened."`
	Place    string      `json:"place,omitempty"`
	Drying   *dryingBody `json:"drying,omitempty" doc:"Of a drying: how it really was, all of it."`
	Undone   bool        `json:"undone,omitempty" doc:"Of a drying or a damaged package: it never was."`
}

func (h *handlers) correct(ctx context.Context, spool string, in correctBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	place, err := optionalCode(inventory.PlaceCode, "place", in.Place)
	if err != nil {
		return inventory.Spool{}, err
	}
	if in.Sealed && in.OpenedAt != nil {
		return inventory.Spool{}, inventory.Invalidf("sealed", "a spool that is still sealed has no opening time: give one of the two")
	}
	c := inventory.Correction{Entry: e, Corrects: in.Corrects, Reason: in.Reason, Gross: grossOf(in.GrossG), OpenedAt: in.OpenedAt, Place: place, Undone: in.Undone}
	if in.Sealed {
		c.OpenedAt = &time.Time{}
	}
	if in.Drying != nil {
		d, err := in.Drying.dry()
		if err != nil {
			return inventory.Spool{}, err
		}
		d.At, c.Dry = in.Drying.Until, &d
	}
	return h.Ledger.Correct(ctx, c)
}

type receiptView struct {
	Lot    lotView     `json:"lot"`
	Spools []spoolView `json:"spools"`
}

func (h *handlers) receive(ctx context.Context, in *struct {
	Body struct {
		Entry
		WireID      int64         `json:"wire_id"`
		LotNumber   string        `json:"lot_number" maxLength:"40"`
		Certificate string        `json:"certificate,omitempty" maxLength:"80" doc:"Left out, the lot is put on hold until it comes."`
		Papers      *PapersFields `json:"papers,omitempty" doc:"What certificate and box say of the lot. What a lot that is here already has otherwise is a conflict."`

		Place   string `json:"place"`
		Spools  int    `json:"spools" minimum:"1" maximum:"500"`
		Damaged int    `json:"damaged,omitempty" minimum:"0" maximum:"500" doc:"How many of the packages are torn or punctured: the last of the codes are theirs, and their exposure is not known."`
		NetG    int64  `json:"net_g,omitempty" minimum:"1" doc:"Of each package; left out for the wire's own."`

		Product string `json:"product,omitempty" doc:"The GTIN on the box. The first receipt that gives it links it to the wire; a receipt of another wire under it is refused."`

		Box []BoxAnswerBody `json:"box,omitempty" doc:"An answer to each of the wire's box_questions: what is not as on the box puts the lot on hold."`
	}
}) (*bodyOf[receiptView], error) {
	b := in.Body
	person, err := codeOf(inventory.PersonCode, "person", b.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	place, err := codeOf(inventory.PlaceCode, "place", b.Place)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	when, err := at(b.At)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	product := inventory.Product("")
	if b.Product != "" {
		if product, err = inventory.ParseProduct(b.Product); err != nil {
			return nil, h.fail(ctx, err)
		}
	}
	lot, spools, err := h.Ledger.Receive(ctx, inventory.Receipt{Product: product, Person: person, RequestKey: b.RequestKey, At: when, WireID: b.WireID,
		LotNumber: b.LotNumber, Certificate: b.Certificate, Papers: b.Papers.papers(), Place: place, Spools: b.Spools, Damaged: b.Damaged, Net: unit.Grams(b.NetG), Box: boxAnswers(b.Box)})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	v := receiptView{Lot: viewLot(lot)}
	for _, s := range spools {
		v.Spools = append(v.Spools, viewSpool(s))
	}
	return body(v), nil
}

func (h *handlers) lotStatus(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		Person      string `json:"person"`
		RequestKey  string `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated."`
		Status      string `json:"status" enum:"accepted,on hold,rejected"`
		Reason      string `json:"reason" maxLength:"500"`
		Certificate string `json:"certificate,omitempty" maxLength:"80" doc:"A certificate that came later: its number."`
	}
}) (*bodyOf[lotView], error) {
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	lot, err := h.Ledger.ChangeLot(ctx, inventory.LotChange{LotID: in.ID, Person: person, RequestKey: in.Body.RequestKey,
		Status: fit.LotStatus(in.Body.Status), Reason: in.Body.Reason, Certificate: in.Body.Certificate})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewLot(lot)), nil
}
