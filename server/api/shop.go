package api

import (
	"context"
	"time"

	"wirehold/inventory"
)

// ShopFields is what the shop says of its own days.
type ShopFields struct {
	ShiftEnds     []string `json:"shift_ends,omitempty" maxItems:"21" doc:"Days and time of day in the shop's zone: Mon-Fri 15:30. None: nobody is told that a spool is not returned."`
	GraceMin      int64    `json:"grace_min" minimum:"0" maximum:"240" doc:"How many minutes after the end of a shift a spool may still come back."`
	Quiet         string   `json:"quiet,omitempty" maxLength:"20" doc:"When only what is urgent is sent: 20:00-06:00."`
	NearBeforeMin int64    `json:"near_before_min" minimum:"0" maximum:"20160" doc:"How many minutes before a spool runs out of hours somebody is told."`
	ShelfBeforeD  int      `json:"shelf_before_d" minimum:"0" maximum:"365" doc:"How many days before a lot is past its date somebody is told."`
}

func (b ShopFields) shop(f *faults) inventory.Shop {
	s := inventory.Shop{ShiftEnds: measuredAll(f, "shift_ends", b.ShiftEnds, inventory.ParseShiftEnd), Grace: time.Duration(b.GraceMin) * time.Minute,
		Quiet: measured(f, "quiet", b.Quiet, inventory.ParseQuietHours), NearBefore: time.Duration(b.NearBeforeMin) * time.Minute, ShelfBefore: b.ShelfBeforeD}
	return s
}

type shopView struct {
	ShopFields
	Version int `json:"version"`
}

func viewShop(s inventory.Shop) shopView {
	v := shopView{ShopFields{GraceMin: int64(s.Grace / time.Minute), Quiet: s.Quiet.String(), NearBeforeMin: int64(s.NearBefore / time.Minute), ShelfBeforeD: s.ShelfBefore}, s.Version}
	for _, e := range s.ShiftEnds {
		v.ShiftEnds = append(v.ShiftEnds, e.String())
	}
	return v
}

func (h *handlers) shop(ctx context.Context, _ *struct{}) (*bodyOf[shopView], error) {
	s, err := h.Catalog(ctx).Shop()
	return answered(ctx, h, s, err, viewShop)
}

func (h *handlers) changeShop(ctx context.Context, in *struct {
	Body struct {
		EditSeen
		ShopFields
	}
}) (*bodyOf[shopView], error) {
	var f faults
	e := inventory.ShopEntry{Edit: in.Body.Edit.read(&f, in.Body.Version), Of: in.Body.shop(&f)}
	if err := f.err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	s, err := h.Ledger.ChangeShop(ctx, e)
	return answered(ctx, h, s, err, viewShop)
}

// ContactFields is how alerts reach a person, and which do.
type ContactFields struct {
	Email string   `json:"email,omitempty" maxLength:"254" doc:"Left out: nothing is sent to them."`
	Kinds []string `json:"kinds,omitempty" maxItems:"20" doc:"The kinds of alert that are sent to them."`
}

type contactEdit struct {
	Edit
	Version int `json:"version" minimum:"0" doc:"As you looked at it: 0 while nobody chose anything yet."`
	ContactFields
}

func (b contactEdit) entryOf(f *faults, code inventory.Code) inventory.ContactEntry {
	return inventory.ContactEntry{Edit: b.read(f, b.Version), Of: inventory.Contact{Person: code, Email: b.Email, Kinds: asWords[inventory.AlertKind](b.Kinds)}}
}

type contactView struct {
	Person string `json:"person"`
	Name   string `json:"name"`
	ContactFields
	Version int `json:"version"`
}

func viewContact(c inventory.Contact) contactView {
	return contactView{string(c.Person), c.Name, ContactFields{c.Email, asTexts(c.Kinds)}, c.Version}
}

// WebhookFields is what is entered of a webhook.
type WebhookFields struct {
	Name  string   `json:"name" maxLength:"120"`
	URL   string   `json:"url" maxLength:"500" doc:"http or https."`
	Kinds []string `json:"kinds" minItems:"1" maxItems:"20" doc:"The kinds of alert that are posted."`
}

func (b WebhookFields) webhook(id int64, secret string) inventory.Webhook {
	return inventory.Webhook{ID: id, Name: b.Name, URL: b.URL, Secret: inventory.Secret(secret), Kinds: asWords[inventory.AlertKind](b.Kinds)}
}

type webhookBody struct {
	Edit
	WebhookFields
	Secret string `json:"secret" minLength:"16" maxLength:"200" doc:"What is posted is signed with it. No answer ever shows it."`
}

func (b webhookBody) entry(f *faults) inventory.WebhookEntry {
	return inventory.WebhookEntry{Edit: b.read(f, 0), Of: b.webhook(0, b.Secret)}
}

type webhookView struct {
	ID int64 `json:"id"`
	WebhookFields
	RetiredAt *time.Time `json:"retired_at,omitempty" doc:"Since when nothing is posted to it."`
	Version   int        `json:"version"`
}

func viewWebhook(w inventory.Webhook) webhookView {
	return webhookView{w.ID, WebhookFields{w.Name, w.URL, asTexts(w.Kinds)}, known(w.RetiredAt), w.Version}
}

func (h *handlers) webhook(ctx context.Context, in *byID) (*bodyOf[webhookView], error) {
	w, err := h.Catalog(ctx).Webhook(in.ID)
	return answered(ctx, h, w, err, viewWebhook)
}

func (h *handlers) changeWebhook(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		EditSeen
		WebhookFields
		Secret string `json:"secret,omitempty" maxLength:"200" doc:"Left out: the one it has."`
	}
}) (*bodyOf[webhookView], error) {
	var f faults
	e := inventory.WebhookEntry{Edit: in.Body.Edit.read(&f, in.Body.Version), Of: in.Body.webhook(in.ID, in.Body.Secret)}
	if err := f.err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	w, err := h.Ledger.ChangeWebhook(ctx, e)
	return answered(ctx, h, w, err, viewWebhook)
}

func (h *handlers) retiresWebhook(retired bool) func(context.Context, *struct {
	ID   int64 `path:"id"`
	Body Edit
}) (*bodyOf[webhookView], error) {
	return func(ctx context.Context, in *struct {
		ID   int64 `path:"id"`
		Body Edit
	}) (*bodyOf[webhookView], error) {
		var f faults
		e := in.Body.read(&f, 0)
		if err := f.err(); err != nil {
			return nil, h.fail(ctx, err)
		}
		w, err := h.Ledger.RetireWebhook(ctx, e, in.ID, retired)
		return answered(ctx, h, w, err, viewWebhook)
	}
}
