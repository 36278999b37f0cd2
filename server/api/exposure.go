package api

import (
	"context"
	"time"

	"wirehold/inventory"
)

// ExposureView is a spool's exposure clock.
type ExposureView struct {
	Spool     string          `json:"spool"`
	At        time.Time       `json:"at"`
	State     string          `json:"state" enum:"sealed,paused,running,unknown"`
	OpenedAt  *time.Time      `json:"opened_at,omitempty"`
	ExposedS  *int64          `json:"exposed_s,omitempty" doc:"Seconds of exposure that count; left out where it is not known."`
	Dryings   int             `json:"dryings"`
	Profile   string          `json:"profile" doc:"The rule profile: of the job it is out on, or the general one."`
	Limits    []ExposureLimit `json:"limits" doc:"The shortest first; empty if nobody gives a limit."`
	Intervals []ExposureSpan  `json:"intervals" doc:"What the number is made of, in order, from the receipt on."`
}

// ExposureLimit is an exposure past which the rule judges more sternly.
type ExposureLimit struct {
	LimitS     int64      `json:"limit_s"`
	Past       string     `json:"past" doc:"What the rule says past it: caution or stops."`
	LeftS      *int64     `json:"left_s,omitempty" doc:"Less than zero once it is passed; left out where the exposure is not known."`
	RunsOut    *time.Time `json:"runs_out,omitempty" doc:"When it is reached if nothing moves, or was; left out if the clock stands."`
	Source     string     `json:"source"`
	Provenance string     `json:"provenance"`
}

// ExposureSpan is a stretch of time in which one thing held.
type ExposureSpan struct {
	From   time.Time `json:"from"`
	To     time.Time `json:"to"`
	Place  string    `json:"place,omitempty"`
	Counts bool      `json:"counts"`
	Why    string    `json:"why"`
	Began  int64     `json:"began,omitempty" doc:"The movement that began it; left out where the air of the place changed."`
	Ended  int64     `json:"ended,omitempty" doc:"The movement that ended it; left out where the air of the place changed, or nothing did yet."`
}

// ExposureState is the state of the clock in one word.
func ExposureState(e inventory.Exposure) string {
	switch {
	case e.Unknown:
		return "unknown"
	case e.OpenedAt.IsZero():
		return "sealed"
	case e.Runs:
		return "running"
	}
	return "paused"
}

// ViewExposure is the clock as the API and the command write it.
func ViewExposure(e inventory.Exposure) ExposureView {
	v := ExposureView{Spool: string(e.Spool.Code), At: e.At, State: ExposureState(e), OpenedAt: known(e.OpenedAt), Dryings: e.Dryings, Profile: e.Profile,
		Limits: []ExposureLimit{}, Intervals: []ExposureSpan{}}
	if !e.Unknown {
		v.ExposedS = inSeconds(e.Exposed)
	}
	for _, l := range e.Limits {
		limit := ExposureLimit{LimitS: int64(l.After / time.Second), Past: string(l.Outcome), RunsOut: known(l.RunsOut), Source: l.Demanded.Source, Provenance: string(l.Demanded.Provenance)}
		if !e.Unknown {
			limit.LeftS = inSeconds(l.Left)
		}
		v.Limits = append(v.Limits, limit)
	}
	for _, in := range e.Intervals {
		v.Intervals = append(v.Intervals, ExposureSpan{in.From, in.To, in.Place, in.Counts, string(in.Why), in.Began, in.Ended})
	}
	return v
}

func inSeconds(d time.Duration) *int64 {
	s := int64(d / time.Second)
	return &s
}

func (h *handlers) exposure(ctx context.Context, in *struct {
	Code string    `path:"code"`
	At   time.Time `query:"at" doc:"The instant, past or to come; left out for now."`
}) (*bodyOf[ExposureView], error) {
	code, err := codeOf(inventory.SpoolCode, "code", in.Code)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	e, err := h.Ledger.Exposure(ctx, code, in.At)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(ViewExposure(e)), nil
}
