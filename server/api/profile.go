package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// profileView is a rule profile as the API writes it.
type profileView struct {
	ID          string           `json:"id"`
	Name        string           `json:"name"`
	Base        string           `json:"base,omitempty" doc:"The profile of the program it was copied from; left out for one of those."`
	Version     int              `json:"version" doc:"Of the shop's own, from 1; 0 came with the program and is never changed."`
	WaiverDays  int              `json:"waiver_days" doc:"How long a waiver lasts at most, in days."`
	Limits      []limitView      `json:"limits"`
	Differences []differenceView `json:"differences,omitempty" doc:"From the profile it was copied from."`
}

type limitView struct {
	Line        int    `json:"line"`
	Rule        string `json:"rule"`
	Parameter   string `json:"parameter"`
	Value       string `json:"value" doc:"With its unit."`
	Condition   string `json:"condition,omitempty" doc:"When it holds; left out if always."`
	Action      string `json:"action,omitempty" doc:"What going past it does: stops or caution."`
	Provenance  string `json:"provenance"`
	Source      string `json:"source"`
	Note        string `json:"note,omitempty"`
	ConfirmedBy string `json:"confirmed_by,omitempty"`
	ConfirmedOn string `json:"confirmed_on,omitempty"`
	LoosenedBy  string `json:"loosened_by,omitempty"`
	LoosenedOn  string `json:"loosened_on,omitempty"`
	LoosenedWhy string `json:"loosened_why,omitempty"`
}

type differenceView struct {
	Says   string `json:"says"`
	Looser bool   `json:"looser" doc:"Something passes that the original held back."`
	Reason string `json:"reason,omitempty"`
}

func (h *handlers) viewProfile(p inventory.RuleProfile) profileView {
	v := profileView{ID: p.ID, Name: p.Name, Base: p.Base, Version: p.Version, WaiverDays: int(p.LongestWaiver().Hours() / 24), Limits: []limitView{}}
	for i, l := range p.Limits {
		v.Limits = append(v.Limits, limitView{i, string(l.Rule), l.Parameter, l.Value, l.Condition, string(l.Action), string(l.Provenance), l.Source, l.Note,
			l.ConfirmedBy, l.ConfirmedOn, l.LoosenedBy, l.LoosenedOn, l.LoosenedWhy})
	}
	for _, d := range h.Ledger.ProfileDifferences(p) {
		v.Differences = append(v.Differences, differenceView{d.Says, d.Looser, d.Reason})
	}
	return v
}

// ProfileEntry is what every change of a rule profile has in common.
type ProfileEntry struct {
	Person     string `json:"person" doc:"The badge code of the welding engineer or owner."`
	RequestKey string `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated."`
	Version    int    `json:"version,omitempty" minimum:"0" doc:"The version that was looked at; left out for whichever there is."`
}

func (e ProfileEntry) of(id string) (inventory.ProfileEntry, error) {
	person, err := codeOf(inventory.PersonCode, "person", e.Person)
	return inventory.ProfileEntry{Profile: id, Seen: e.Version, Person: person, RequestKey: e.RequestKey}, err
}

func (h *handlers) registerProfiles(a huma.API) {
	post := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Get(a, "/api/v1/profiles", h.profiles)
	huma.Get(a, "/api/v1/profiles/{profile}", h.profile)
	huma.Get(a, "/api/v1/profiles/{profile}/changes", h.profileChanges)
	huma.Post(a, "/api/v1/profiles", h.copyProfile, post)
	huma.Post(a, "/api/v1/profiles/{profile}", h.editProfile, post)
	huma.Post(a, "/api/v1/profiles/{profile}/limits", h.setLimit, post)
	huma.Post(a, "/api/v1/profiles/{profile}/confirm", h.confirmLimit, post)
}

type byProfile struct {
	Profile string `path:"profile"`
}

func (h *handlers) profiles(ctx context.Context, _ *struct{}) (*bodyOf[listOf[profileView]], error) {
	all, err := h.Ledger.Profiles(ctx)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(all, h.viewProfile), nil
}

func (h *handlers) profile(ctx context.Context, in *byProfile) (*bodyOf[profileView], error) {
	p, err := h.Ledger.Profile(ctx, in.Profile)
	return h.profileAnswer(ctx, p, err)
}

func (h *handlers) profileAnswer(ctx context.Context, p inventory.RuleProfile, err error) (*bodyOf[profileView], error) {
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(h.viewProfile(p)), nil
}

type profileChangeView struct {
	Version int       `json:"version"`
	At      time.Time `json:"at"`
	Person  string    `json:"person"`
	Deed    string    `json:"deed"`
	What    []string  `json:"what"`
}

func (h *handlers) profileChanges(ctx context.Context, in *byProfile) (*bodyOf[listOf[profileChangeView]], error) {
	if _, err := h.Ledger.Profile(ctx, in.Profile); err != nil {
		return nil, h.fail(ctx, err)
	}
	changes, err := h.Catalog(ctx).ProfileChanges(in.Profile, 200)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(changes, func(c inventory.ProfileChange) profileChangeView {
		return profileChangeView{c.Version, c.At, string(c.Person), string(c.Deed), c.What}
	}), nil
}

func (h *handlers) copyProfile(ctx context.Context, in *struct {
	Body struct {
		ProfileEntry
		From string `json:"from" doc:"The id of the profile to copy."`
		Name string `json:"name" maxLength:"60"`
	}
}) (*bodyOf[profileView], error) {
	e, err := in.Body.of(in.Body.From)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	p, err := h.Ledger.CopyProfile(ctx, e, in.Body.Name)
	return h.profileAnswer(ctx, p, err)
}

func (h *handlers) editProfile(ctx context.Context, in *struct {
	Profile string `path:"profile"`
	Body    struct {
		ProfileEntry
		Name       string `json:"name" maxLength:"60"`
		WaiverDays int    `json:"waiver_days" minimum:"1" maximum:"30"`
	}
}) (*bodyOf[profileView], error) {
	e, err := in.Body.of(in.Profile)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	p, err := h.Ledger.EditProfile(ctx, e, in.Body.Name, in.Body.WaiverDays)
	return h.profileAnswer(ctx, p, err)
}

func (h *handlers) setLimit(ctx context.Context, in *struct {
	Profile string `path:"profile"`
	Body    struct {
		ProfileEntry
		Line      int    `json:"line" minimum:"0" doc:"Which limit; the number of limits adds one."`
		Rule      string `json:"rule,omitempty" doc:"Of a limit that is added."`
		Parameter string `json:"parameter,omitempty" doc:"Of a limit that is added."`
		Value     string `json:"value" maxLength:"200" doc:"With its unit."`
		Condition string `json:"condition,omitempty" maxLength:"200"`
		Action    string `json:"action,omitempty" enum:"stops,caution" doc:"What going past it does."`
		Reason    string `json:"reason,omitempty" maxLength:"500" doc:"Needed where it is looser than the original, by the welding engineer: it goes on every issue slip."`
	}
}) (*bodyOf[profileView], error) {
	b := in.Body
	e, err := b.of(in.Profile)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	p, err := h.Ledger.SetLimit(ctx, inventory.LimitChange{ProfileEntry: e, Line: b.Line, Rule: fit.Rule(b.Rule), Parameter: b.Parameter,
		Value: b.Value, Condition: b.Condition, Action: fit.Outcome(b.Action), Reason: b.Reason})
	return h.profileAnswer(ctx, p, err)
}

func (h *handlers) confirmLimit(ctx context.Context, in *struct {
	Profile string `path:"profile"`
	Body    struct {
		ProfileEntry
		Line int `json:"line" minimum:"0"`
	}
}) (*bodyOf[profileView], error) {
	e, err := in.Body.of(in.Profile)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	p, err := h.Ledger.ConfirmLimit(ctx, e, in.Body.Line)
	return h.profileAnswer(ctx, p, err)
}
