package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
)

func (h *handlers) registerAlerts(a huma.API) {
	bounded := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Get(a, "/api/v1/alerts", h.alerts)
	huma.Get(a, "/api/v1/alerts/{id}", h.alert)
	huma.Post(a, "/api/v1/alerts/{id}/seen", h.seeAlert, bounded)
	huma.Get(a, "/api/v1/messages", h.messages)
	huma.Post(a, "/api/v1/messages/{id}/again", h.retryMessage, bounded)

	huma.Get(a, "/api/v1/shop", h.shop)
	huma.Put(a, "/api/v1/shop", h.changeShop, bounded)
	huma.Get(a, "/api/v1/people/{code}/alerts", one(h, inventory.PersonCode, Catalog.Contact, viewContact))
	huma.Put(a, "/api/v1/people/{code}/alerts", edited[contactEdit](h, inventory.PersonCode, h.Ledger.ChangeContact, viewContact), bounded)

	huma.Get(a, "/api/v1/webhooks", all(h, Catalog.Webhooks, viewWebhook))
	huma.Post(a, "/api/v1/webhooks", entered[webhookBody](h, h.Ledger.EnterWebhook, viewWebhook), bounded)
	huma.Get(a, "/api/v1/webhooks/{id}", h.webhook)
	huma.Put(a, "/api/v1/webhooks/{id}", h.changeWebhook, bounded)
	huma.Post(a, "/api/v1/webhooks/{id}/retire", h.retiresWebhook(true), bounded)
	huma.Post(a, "/api/v1/webhooks/{id}/reinstate", h.retiresWebhook(false), bounded)
}

type alertView struct {
	ID        int64          `json:"id"`
	Kind      string         `json:"kind"`
	About     string         `json:"about" doc:"What the subject names: spool and place by code, lot and wire by id, week as 2026-W48."`
	Subject   string         `json:"subject"`
	Text      string         `json:"text"`
	Advice    string         `json:"advice" doc:"What to do about it."`
	RaisedAt  time.Time      `json:"raised_at"`
	ClearedAt *time.Time     `json:"cleared_at,omitempty" doc:"Left out while it stands."`
	Seen      []sightingView `json:"seen"`
}

type sightingView struct {
	Person string    `json:"person"`
	Name   string    `json:"name"`
	At     time.Time `json:"at"`
}

func viewAlert(a inventory.Alert) alertView {
	v := alertView{ID: a.ID, Kind: string(a.Kind), About: string(a.Kind.About()), Subject: a.Subject, Text: a.Text, Advice: a.Kind.Advice(),
		RaisedAt: a.RaisedAt, ClearedAt: known(a.ClearedAt), Seen: []sightingView{}}
	for _, s := range a.Seen {
		v.Seen = append(v.Seen, sightingView{string(s.Person), s.PersonName, s.At})
	}
	return v
}

func (h *handlers) alerts(ctx context.Context, in *struct {
	Kind    string `query:"kind" enum:"exposure,exposure nearing,not returned,climate,logger silent,logger,shelf life,shelf life nearing,certificate missing,reorder,waiver" doc:"Only of this kind."`
	Cleared bool   `query:"cleared" doc:"Those that were cleared, the latest first; false is those that stand."`
	Limit   int    `query:"limit" minimum:"1" maximum:"200" default:"50"`
	After   int    `query:"after" minimum:"0" doc:"How many items to leave out."`
}) (*bodyOf[listOf[alertView]], error) {
	alerts, err := h.Catalog(ctx).Alerts(inventory.AlertQuery{Kind: inventory.AlertKind(in.Kind), Cleared: in.Cleared, Limit: in.Limit, After: in.After})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(alerts, viewAlert), nil
}

func (h *handlers) alert(ctx context.Context, in *byID) (*bodyOf[alertView], error) {
	a, err := h.Catalog(ctx).Alert(in.ID)
	return answered(ctx, h, a, err, viewAlert)
}

// byBadge is a deed that needs nothing but whose badge it is. Repeating it
// changes nothing.
type byBadge struct {
	ID   int64 `path:"id"`
	Body struct {
		Person string `json:"person" doc:"The badge code of whoever does it."`
	}
}

func (h *handlers) seeAlert(ctx context.Context, in *byBadge) (*bodyOf[alertView], error) {
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	a, err := h.Ledger.SeeAlert(ctx, in.ID, person)
	return answered(ctx, h, a, err, viewAlert)
}

type messageView struct {
	ID        int64      `json:"id"`
	Alert     int64      `json:"alert"`
	Channel   string     `json:"channel" doc:"e-mail or webhook"`
	Recipient string     `json:"recipient" doc:"A person's code, or a webhook's id."`
	Key       string     `json:"key" doc:"Names the message."`
	Bundle    string     `json:"bundle,omitempty" doc:"Names what it goes out in: in the Message-ID of an e-mail, which may hold more alerts, and the delivery id of a webhook. Left out until it is first tried."`
	State     string     `json:"state" doc:"waiting, sent or given up"`
	MadeAt    time.Time  `json:"made_at"`
	DueAt     time.Time  `json:"due_at" doc:"When it is tried next, while it waits."`
	Tries     int        `json:"tries"`
	SentAt    *time.Time `json:"sent_at,omitempty"`
	DeadAt    *time.Time `json:"given_up_at,omitempty"`
	Fault     string     `json:"fault,omitempty" doc:"What went wrong at the last try."`
}

func viewMessage(m inventory.Message) messageView {
	return messageView{m.ID, m.AlertID, string(m.Channel), m.Recipient, m.Key, m.Bundle, m.State(), m.MadeAt, m.DueAt, m.Tries, known(m.SentAt), known(m.DeadAt), m.Fault}
}

func (h *handlers) messages(ctx context.Context, in *struct {
	State string `query:"state" enum:"waiting,sent,given up"`
	Alert int64  `query:"alert" minimum:"0" doc:"Only of this alert."`
	Limit int    `query:"limit" minimum:"1" maximum:"200" default:"50"`
	After int    `query:"after" minimum:"0" doc:"How many items to leave out."`
}) (*bodyOf[listOf[messageView]], error) {
	lines, err := h.Catalog(ctx).Messages(inventory.MessageQuery{State: in.State, Alert: in.Alert, Limit: in.Limit, After: in.After})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(lines, func(l inventory.MessageLine) messageView { return viewMessage(l.Message) }), nil
}

func (h *handlers) retryMessage(ctx context.Context, in *byBadge) (*bodyOf[messageView], error) {
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	m, err := h.Ledger.RetryMessage(ctx, in.ID, person)
	return answered(ctx, h, m, err, viewMessage)
}
