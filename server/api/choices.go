package api

import (
	"context"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/server/problem"
)

// choicesView is which spools to take for a job.
type choicesView struct {
	Job       string         `json:"job"`
	Procedure string         `json:"procedure"`
	Feeder    string         `json:"feeder,omitempty"`
	Fitting   []choiceView   `json:"fitting" doc:"Open spools first, the longest open before the others; then sealed ones by the use-by day of their lot, and those of lots without one, the first received first."`
	More      int            `json:"more" doc:"How many more fit."`
	Near      []nearMissView `json:"near_misses" doc:"Wire that one rule alone keeps from the job."`
}

type choiceView struct {
	Spool     spoolView `json:"spool"`
	PlaceName string    `json:"place_name,omitempty"`
	UseBy     string    `json:"use_by,omitempty" doc:"YYYY-MM-DD, the last day by the papers of its lot."`
	Verdict   string    `json:"verdict" doc:"fits or fits with cautions"`
	Cautions  []string  `json:"cautions" doc:"The rules that caution."`
	LeftS     *int64    `json:"exposure_left_s,omitempty" doc:"Seconds until the exposure rule judges an open spool more sternly; left out if it is sealed or nobody gives a limit."`
	Enough    *bool     `json:"enough_wire,omitempty" doc:"For the weld that the job still needs; left out if nobody has said how much that is."`
	Wire      string    `json:"wire_says,omitempty" doc:"The reckoning behind enough_wire."`
}

type nearMissView struct {
	Wire    string          `json:"wire"`
	WireID  int64           `json:"wire_id"`
	Open    bool            `json:"open"`
	Spools  int             `json:"spools"`
	Example string          `json:"example" doc:"The code of one of them."`
	Why     problem.Finding `json:"why"`
}

func viewChoices(c inventory.Choices) choicesView {
	v := choicesView{Job: c.Job.Number, Procedure: c.Procedure.Name(), More: c.More, Fitting: []choiceView{}, Near: []nearMissView{}}
	if c.Feeder != nil {
		v.Feeder = c.Feeder.Name
	}
	for _, choice := range c.Fitting {
		v.Fitting = append(v.Fitting, viewChoice(choice))
	}
	for _, n := range c.Near {
		v.Near = append(v.Near, nearMissView{n.Wire.Name(), n.Wire.ID, n.Open, n.Spools, string(n.First), problem.Findings([]fit.Finding{n.Why})[0]})
	}
	return v
}

func viewChoice(c inventory.Choice) choiceView {
	v := choiceView{Spool: viewSpoolLine(c.SpoolLine), PlaceName: c.PlaceName, UseBy: string(c.UseBy), Verdict: string(c.Verdict.Answer), Cautions: []string{}}
	for _, f := range c.Verdict.Findings {
		if f.Outcome == fit.Caution {
			v.Cautions = append(v.Cautions, string(f.Rule))
		}
	}
	if c.Left != nil {
		left := int64(c.Left.Seconds())
		v.LeftS = &left
	}
	if c.Amount.Outcome != fit.NotDemanded {
		enough := c.Amount.Outcome == fit.Passed
		v.Enough, v.Wire = &enough, c.Amount.Says
	}
	return v
}

func (h *handlers) choices(ctx context.Context, in *struct {
	Code      string `path:"code" doc:"The job's code or number."`
	Feeder    string `query:"feeder" doc:"The machine it is for."`
	Procedure string `query:"procedure" doc:"Which of the job's procedures: its number, its number and revision, or its id. Left out where it has one."`
	Limit     int    `query:"limit" minimum:"1" maximum:"50" default:"10"`
}) (*bodyOf[choicesView], error) {
	job, err := h.Ledger.FindJob(ctx, in.Code)
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
	c, err := h.Ledger.ChooseUnder(ctx, job.Code, procedure, feeder, in.Limit)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewChoices(c)), nil
}
