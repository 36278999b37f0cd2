package api

import (
	"time"

	"wirehold/inventory"
)

// clockView is a spool's exposure clock as its set-up card says it.
type clockView struct {
	At         time.Time  `json:"at" doc:"The instant it holds for."`
	State      string     `json:"state" enum:"sealed,paused,running,unknown"`
	Outcome    string     `json:"outcome" enum:"passes,caution,stops" doc:"What the exposure rule makes of it now."`
	Says       string     `json:"says" doc:"In a welder's words, with instants as on the shop's wall."`
	Do         string     `json:"do,omitempty" doc:"What is to be done about it."`
	Also       string     `json:"also,omitempty" doc:"An earlier limit, past which the rule cautions; of an exposure that is not known, what can be done about it."`
	ExposedS   *int64     `json:"exposed_s,omitempty" doc:"Left out where it is not known."`
	LimitS     *int64     `json:"limit_s,omitempty" doc:"The first limit that stops, or else the first that cautions; left out where nobody gives one."`
	LeftS      *int64     `json:"left_s,omitempty" doc:"Less than zero once it is passed; left out where the exposure is not known."`
	RunsOut    *time.Time `json:"runs_out,omitempty" doc:"When it is reached if the spool stays out, or was; left out if the clock stands."`
	Source     string     `json:"source,omitempty"`
	Provenance string     `json:"provenance,omitempty"`
	Confirm    bool       `json:"confirm,omitempty" doc:"The limit is from memory or practice, and the shop has not confirmed it."`
}

// viewClock returns the clock; nil of a spool that is scrapped.
func viewClock(c inventory.CardClock) *clockView {
	if c.Spool.Scrapped || c.Says == "" {
		return nil
	}
	v := clockView{At: c.At, State: ExposureState(c.Exposure), Outcome: string(c.Outcome), Says: c.Says, Do: c.Do, Also: c.Also}
	if !c.Unknown {
		v.ExposedS = inSeconds(c.Exposed)
	}
	if l := c.Limit; l != nil {
		v.LimitS, v.Source, v.Provenance, v.Confirm = inSeconds(l.After), l.Demanded.Source, string(l.Demanded.Provenance), !c.Sure
		if !c.Unknown {
			v.LeftS, v.RunsOut = inSeconds(l.Left), known(l.RunsOut)
		}
	}
	return &v
}
