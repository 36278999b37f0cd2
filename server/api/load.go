package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// loadCheckView is whether a spool may go on a feeder, and how to set it.
type loadCheckView struct {
	Spool    string        `json:"spool"`
	Feeder   string        `json:"feeder"`
	Job      string        `json:"job,omitempty" doc:"The number of the job it is checked for; left out if the spool is out for none and none was named."`
	MayLoad  bool          `json:"may_load" doc:"Once all that is to be set is set and confirmed."`
	Why      string        `json:"why,omitempty" doc:"What bars it whatever the rules say."`
	OnFeeder string        `json:"on_feeder,omitempty" doc:"The spool that is on the feeder now."`
	Settings []settingView `json:"settings" doc:"What the welder sets and confirms; empty where the spool may not be loaded."`
	Clock    *clockView    `json:"clock,omitempty" doc:"The spool's exposure clock, at this instant."`
	Check    *CheckView    `json:"check,omitempty" doc:"Left out where no job is known."`
}

type settingView struct {
	Part       string `json:"part"`
	Says       string `json:"says" doc:"In a welder's words, in English; a confirmation repeats them."`
	Shown      string `json:"shown,omitempty" doc:"The same in the language of Content-Language; left out where that is English."`
	Change     bool   `json:"change" doc:"The feeder is, or may be, set otherwise now."`
	Source     string `json:"source"`
	Provenance string `json:"provenance,omitempty"`
}

func viewLoadCheck(l fit.Language, c inventory.LoadCheck) loadCheckView {
	v := loadCheckView{Spool: string(c.Spool.Code), Feeder: c.Feeder.Name, MayLoad: c.May(), Settings: []settingView{}, Clock: viewClock(c.Card)}
	if c.Bar != nil {
		v.Why = detailOf(c.Bar)
	}
	if c.On != nil {
		v.OnFeeder = string(c.On.Code)
	}
	if c.Job.Code != "" {
		check := ViewCheckIn(l, c.Check)
		v.Job, v.Check = c.Job.Number, &check
	}
	for _, s := range c.Settings {
		view := settingView{string(s.Part), s.Says, "", s.Change, s.Source, string(s.Provenance)}
		if l != fit.English {
			view.Shown = s.In(l).Says
		}
		v.Settings = append(v.Settings, view)
	}
	return v
}

func (h *handlers) registerLoads(a huma.API) {
	post := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Get(a, "/api/v1/load-check", h.loadCheck)
	huma.Post(a, "/api/v1/spools/{code}/load", changed(h, h.load), post)
	huma.Post(a, "/api/v1/spools/{code}/unload", changed(h, h.unload), post)
	huma.Get(a, "/api/v1/jobs/{code}/choices", h.choices)
}

// job reads a job that may be left out, by code or number.
func (h *handlers) job(ctx context.Context, text string) (inventory.Code, error) {
	if text == "" {
		return "", nil
	}
	job, err := h.Ledger.FindJob(ctx, text)
	return job.Code, err
}

func (h *handlers) loadCheck(ctx context.Context, in *struct {
	Spool  string `query:"spool" required:"true"`
	Feeder string `query:"feeder" required:"true"`
	Job    string `query:"job" doc:"A job's code or number; left out for the job that the spool is out for."`
}) (*saidIn[loadCheckView], error) {
	spool, err := codeOf(inventory.SpoolCode, "spool", in.Spool)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	feeder, err := codeOf(inventory.FeederCode, "feeder", in.Feeder)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	job, err := h.job(ctx, in.Job)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	c, err := h.Ledger.LoadCheck(ctx, feeder, spool, job)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return said(languageOf(ctx), viewLoadCheck(languageOf(ctx), c)), nil
}

// ConfirmedSetting is a setting that the welder has made and looked at.
type ConfirmedSetting struct {
	Part string `json:"part"`
	Says string `json:"says" doc:"As /api/v1/load-check says it."`
}

type loadBody struct {
	Entry
	Feeder    string             `json:"feeder"`
	Job       string             `json:"job,omitempty" doc:"A job's code or number; left out for the job that the spool is out for."`
	Confirmed []ConfirmedSetting `json:"confirmed" maxItems:"20" doc:"Each of the settings of /api/v1/load-check, confirmed at the machine."`
}

func (h *handlers) load(ctx context.Context, spool string, in loadBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	feeder, err := codeOf(inventory.FeederCode, "feeder", in.Feeder)
	if err != nil {
		return inventory.Spool{}, err
	}
	job, err := h.job(ctx, in.Job)
	if err != nil {
		return inventory.Spool{}, err
	}
	o := inventory.Load{Entry: e, Feeder: feeder, Job: job}
	for _, c := range in.Confirmed {
		o.Confirmed = append(o.Confirmed, inventory.Confirmation{Part: fit.Part(c.Part), Says: c.Says})
	}
	return h.Ledger.Load(ctx, o)
}

func (h *handlers) unload(ctx context.Context, spool string, in Entry) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	return h.Ledger.Unload(ctx, e)
}
