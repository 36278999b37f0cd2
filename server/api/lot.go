package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
)

// PapersFields is what certificate and box say of a lot: what is left out is
// not known. Days are ISO 8601 without a zone, as they are printed.
type PapersFields struct {
	Type      string `json:"type,omitempty" enum:"2.1,2.2,3.1,3.2" doc:"Of the certificate, by EN 10204."`
	Schedule  string `json:"schedule,omitempty" enum:"F,G,H,I,J,K" doc:"Of testing, by AWS A5.01."`
	LotClass  string `json:"lot_class,omitempty" doc:"By AWS A5.01: T1 to T4, S1 to S4, C1 to C5, F1 or F2."`
	TestedOn  string `json:"tested_on,omitempty" format:"date" doc:"The day of the tests."`
	MeltedIn  string `json:"melted_in,omitempty" maxLength:"120" doc:"The country in which the steel was first melted."`
	MadeIn    string `json:"made_in,omitempty" maxLength:"120" doc:"The country in which the wire was drawn and filled."`
	MadeOn    string `json:"made_on,omitempty" format:"date"`
	ExpiresOn string `json:"expires_on,omitempty" format:"date" doc:"The last day that the box allows."`
	Sealing   string `json:"sealing,omitempty" enum:"vacuum foil,other package"`
	Exposure  string `json:"tested_exposure,omitempty" maxLength:"60" doc:"What an exposure test of this very lot found: the hours, and the hydrogen after them, such as 120 h, 9 mL/100 g."`
}

func (p *PapersFields) papers() inventory.LotPapers {
	if p == nil {
		return inventory.LotPapers{}
	}
	return inventory.LotPapers{Type: p.Type, Schedule: p.Schedule, LotClass: p.LotClass, Tested: inventory.Day(p.TestedOn), Melted: p.MeltedIn, Made: p.MadeIn,
		MadeOn: inventory.Day(p.MadeOn), Expires: inventory.Day(p.ExpiresOn), Sealing: p.Sealing, Exposure: p.Exposure}
}

// viewPapers returns nil if nothing is known.
func viewPapers(p inventory.LotPapers) *PapersFields {
	if p.IsZero() {
		return nil
	}
	return &PapersFields{p.Type, p.Schedule, p.LotClass, string(p.Tested), p.Melted, p.Made, string(p.MadeOn), string(p.Expires), p.Sealing, p.Exposure}
}

func (h *handlers) registerLots(a huma.API) {
	huma.Get(a, "/api/v1/lots/{id}/changes", h.lotChanges)
	huma.Post(a, "/api/v1/lots/{id}/papers", h.lotPapers, func(o *huma.Operation) { o.MaxBodyBytes = MaxBody })
}

func (h *handlers) lotChanges(ctx context.Context, in *byID) (*bodyOf[listOf[changeView]], error) {
	lot, err := h.Catalog(ctx).Lot(in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	decisions, err := h.Catalog(ctx).LotHistory(in.ID, mostChanges)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(inventory.LotChanges(lot, decisions), viewChange), nil
}

// mostChanges is how many changes of a lot are told.
const mostChanges = 200

func (h *handlers) lotPapers(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		Person      string       `json:"person" doc:"The badge code of whoever reads certificate and box."`
		RequestKey  string       `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated."`
		Version     int          `json:"version" minimum:"1" doc:"Of the lot, as it was looked at."`
		Certificate string       `json:"certificate,omitempty" maxLength:"80" doc:"Its number."`
		Papers      PapersFields `json:"papers" doc:"All of it: what is left out is not known."`
		Note        string       `json:"note,omitempty" maxLength:"500" doc:"Why; needed where something on record is changed or taken away."`
	}
}) (*bodyOf[lotView], error) {
	b := in.Body
	person, err := codeOf(inventory.PersonCode, "person", b.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	lot, err := h.Ledger.RecordPapers(ctx, inventory.PapersChange{LotID: in.ID, Person: person, RequestKey: b.RequestKey, Version: b.Version,
		Certificate: b.Certificate, Papers: b.Papers.papers(), Note: b.Note})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewLot(lot)), nil
}
