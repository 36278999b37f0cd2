package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// waiverView is a waiver as the API writes it.
type waiverView struct {
	ID          int64      `json:"id"`
	Spool       string     `json:"spool"`
	Job         string     `json:"job" doc:"The job's number."`
	Procedure   string     `json:"procedure,omitempty" doc:"The revision that it is for; left out of waivers from before jobs had several."`
	Feeder      string     `json:"feeder,omitempty" doc:"The feeder's code; left out if it was asked for without one."`
	Rule        string     `json:"rule"`
	Status      string     `json:"status" doc:"asked, standing, refused, ended or expired"`
	Found       string     `json:"found" doc:"What the rule said when it was asked for or, once granted, then."`
	AskedBy     string     `json:"asked_by"`
	AskedAt     time.Time  `json:"asked_at"`
	AskedWhy    string     `json:"asked_why"`
	DecidedBy   string     `json:"decided_by,omitempty"`
	DecidedAt   *time.Time `json:"decided_at,omitempty"`
	DecidedName string     `json:"decided_name,omitempty"`
	Reason      string     `json:"reason,omitempty"`
	Until       *time.Time `json:"until,omitempty" doc:"Its end: from then on it holds no more."`
	EndedBy     string     `json:"ended_by,omitempty"`
	EndedAt     *time.Time `json:"ended_at,omitempty"`
	EndedWhy    string     `json:"ended_why,omitempty"`
}

func (h *handlers) viewWaiver(w inventory.WaiverLine) waiverView {
	return waiverView{ID: w.ID, Spool: string(w.Spool), Job: w.JobNumber, Procedure: w.ProcedureName, Feeder: string(w.Feeder), Rule: string(w.Rule), Status: w.Status(h.Now()), Found: w.Found,
		AskedBy: string(w.AskedBy), AskedAt: w.AskedAt, AskedWhy: w.Why, DecidedBy: string(w.DecidedBy), DecidedAt: known(w.DecidedAt), DecidedName: w.DecidedName,
		Reason: w.Reason, Until: known(w.Until), EndedBy: string(w.EndedBy), EndedAt: known(w.EndedAt), EndedWhy: w.EndedWhy}
}

func (h *handlers) registerWaivers(a huma.API) {
	post := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Get(a, "/api/v1/waivers", h.waivers)
	huma.Get(a, "/api/v1/waivers/{id}", h.waiver)
	huma.Post(a, "/api/v1/waivers", h.askWaiver, post)
	huma.Post(a, "/api/v1/waivers/{id}/grant", h.grantWaiver, post)
	huma.Post(a, "/api/v1/waivers/{id}/refuse", h.decides((*inventory.Ledger).RefuseWaiver), post)
	huma.Post(a, "/api/v1/waivers/{id}/end", h.decides((*inventory.Ledger).EndWaiver), post)
}

func (h *handlers) waivers(ctx context.Context, in *struct {
	State string `query:"state" enum:"asked,standing,ended" doc:"Only these; ended is whatever is over."`
	Spool string `query:"spool"`
	Limit int    `query:"limit" minimum:"1" maximum:"1000" default:"50"`
}) (*bodyOf[listOf[waiverView]], error) {
	spool, err := optionalCode(inventory.SpoolCode, "spool", in.Spool)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	lines, err := h.Catalog(ctx).Waivers(inventory.WaiverList{State: in.State, At: h.Now(), Spool: spool, Limit: in.Limit})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(lines, h.viewWaiver), nil
}

func (h *handlers) waiver(ctx context.Context, in *byID) (*bodyOf[waiverView], error) {
	w, err := h.Catalog(ctx).Waiver(in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(h.viewWaiver(w)), nil
}

// WaiverAskBody asks for waivers.
type WaiverAskBody struct {
	Person     string   `json:"person" doc:"The badge code of whoever asks."`
	RequestKey string   `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated."`
	Spool      string   `json:"spool"`
	Job        string   `json:"job" doc:"The job's code or number."`
	Procedure  string   `json:"procedure,omitempty" doc:"Which of the job's procedures: its number, its number and revision, or its id. Left out where it has one."`
	Feeder     string   `json:"feeder,omitempty"`
	Rules      []string `json:"rules" minItems:"1" maxItems:"30" doc:"One waiver of each: see may_waive of a check."`
	Reason     string   `json:"reason" maxLength:"500"`
}

func (h *handlers) askWaiver(ctx context.Context, in *struct{ Body WaiverAskBody }) (*bodyOf[listOf[waiverView]], error) {
	q := inventory.WaiverRequest{RequestKey: in.Body.RequestKey, Reason: in.Body.Reason}
	for _, rule := range in.Body.Rules {
		q.Rules = append(q.Rules, fit.Rule(rule))
	}
	var err error
	if q.Person, err = codeOf(inventory.PersonCode, "person", in.Body.Person); err != nil {
		return nil, h.fail(ctx, err)
	}
	if q.Spool, err = codeOf(inventory.SpoolCode, "spool", in.Body.Spool); err != nil {
		return nil, h.fail(ctx, err)
	}
	if q.Feeder, err = optionalCode(inventory.FeederCode, "feeder", in.Body.Feeder); err != nil {
		return nil, h.fail(ctx, err)
	}
	job, err := h.Ledger.FindJob(ctx, in.Body.Job)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	q.Job = job.Code
	if q.Procedure, err = h.Ledger.FindProcedure(ctx, q.Job, in.Body.Procedure); err != nil {
		return nil, h.fail(ctx, err)
	}
	asked, err := h.Ledger.AskWaiver(ctx, q)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	var lines []inventory.WaiverLine
	for _, w := range asked {
		line, err := h.Catalog(ctx).Waiver(w.ID)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		lines = append(lines, line)
	}
	return list(lines, h.viewWaiver), nil
}

// DecisionBody decides about a waiver.
type DecisionBody struct {
	Person     string `json:"person" doc:"The badge code of the welding engineer or owner, other than who asked."`
	RequestKey string `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated."`
	Reason     string `json:"reason" maxLength:"500"`
}

func (b DecisionBody) of(id int64) (inventory.WaiverDecision, error) {
	person, err := codeOf(inventory.PersonCode, "person", b.Person)
	return inventory.WaiverDecision{ID: id, Person: person, Reason: b.Reason, RequestKey: b.RequestKey}, err
}

func (h *handlers) grantWaiver(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		DecisionBody
		Until time.Time `json:"until" doc:"Its end, at most 30 days off, or what the job's rule profile says."`
	}
}) (*bodyOf[waiverView], error) {
	d, err := in.Body.of(in.ID)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	d.Until = in.Body.Until
	return h.decided(ctx, d, (*inventory.Ledger).GrantWaiver)
}

type decide func(*inventory.Ledger, context.Context, inventory.WaiverDecision) (inventory.Waiver, error)

func (h *handlers) decides(do decide) func(context.Context, *struct {
	ID   int64 `path:"id"`
	Body DecisionBody
}) (*bodyOf[waiverView], error) {
	return func(ctx context.Context, in *struct {
		ID   int64 `path:"id"`
		Body DecisionBody
	}) (*bodyOf[waiverView], error) {
		d, err := in.Body.of(in.ID)
		if err != nil {
			return nil, h.fail(ctx, err)
		}
		return h.decided(ctx, d, do)
	}
}

func (h *handlers) decided(ctx context.Context, d inventory.WaiverDecision, do decide) (*bodyOf[waiverView], error) {
	if _, err := do(h.Ledger, ctx, d); err != nil {
		return nil, h.fail(ctx, err)
	}
	return h.waiver(ctx, &byID{ID: d.ID})
}
