package inventory

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/fit"
)

// comparison is what a fit check compares, so that it can be made again: with
// waivers, and without the feeder.
type comparison struct {
	offer   fit.Offer
	demand  fit.Demand
	feeder  *fit.Feeder
	profile fit.Profile
	at      time.Time
}

func (c comparison) verdict(ws []fit.Waiver) fit.Verdict {
	return fit.CheckWith(c.offer, c.demand, c.feeder, c.profile, ws, c.at).Blocked(fit.Conflicts(c.offer.Facts))
}

// waive looks for standing waivers where a rule stops: those that help turn the
// stop into a caution, and are kept in c. It also says what more could be
// waived.
func (c *Check) waive(r Reader, of comparison) error {
	if c.Verdict.Answer != fit.DoesNotFit {
		return nil
	}
	found, err := r.WaiversOf(c.Spool.Code, c.Job.Code)
	if err != nil {
		return err
	}
	var ws []fit.Waiver
	for _, w := range found {
		if !c.isFor(w) {
			if w.State == WaiverAsked || w.Standing(of.at) {
				c.Elsewhere = append(c.Elsewhere, w)
			}
			continue
		}
		if w.State == WaiverAsked {
			c.Asked = append(c.Asked, w)
		}
		if w.Standing(of.at) && c.covers(w, of) {
			c.Waivers = append(c.Waivers, w)
			ws = append(ws, w.forFit(of.demand))
		}
	}
	if len(ws) > 0 {
		c.Verdict = of.verdict(ws)
	}
	c.Waivers = slices.DeleteFunc(c.Waivers, func(w WaiverLine) bool {
		f, _ := c.Verdict.Find(w.Rule)
		return f.Waived == nil || !f.Waived.Until.Equal(w.Until)
	})
	c.Waivable = c.waivable(of)
	return nil
}

// isFor reports whether the waiver is for the procedure that is checked. One
// from before jobs had several is for a job's only one.
func (c *Check) isFor(w WaiverLine) bool {
	return w.Procedure == c.Procedure.ID || w.Procedure == 0 && len(c.Job.Procedures) == 1
}

// covers reports whether the waiver is for what stops here. One that was asked
// for with a feeder is for that feeder; one without is for what stops wherever
// the spool is loaded, not for what a feeder stops by itself. Where job, wire or
// profile were changed so that the rule says something else, it is for neither.
func (c *Check) covers(w WaiverLine, of comparison) bool {
	f, _ := c.Verdict.Find(w.Rule)
	switch {
	case w.Feeder != "" && (c.Feeder == nil || w.Feeder != c.Feeder.Code):
		return false
	case w.Feeder == "" && c.Feeder != nil:
		of.feeder = nil
		f, _ = of.verdict(nil).Find(w.Rule)
	}
	return f.Outcome == fit.Stops && (moves[w.Rule] || f.Says == w.Found)
}

// moves are the rules that say something new by time, and by what is laid and
// used, though nothing was decided anew: a waiver of theirs holds all the same.
// One of any other rule is for what the rule said when it was granted: not for
// a thicker plate, more wind or another demand that came later.
var moves = map[fit.Rule]bool{fit.RuleExposure: true, fit.RuleShelfLife: true, fit.RuleCertificate: true, fit.RuleMixing: true, fit.RuleRemaining: true}

// restsOn reports whether the waiver is one that the verdict rests on.
func (c *Check) restsOn(w WaiverLine) bool {
	return slices.ContainsFunc(c.Waivers, func(on WaiverLine) bool { return on.ID == w.ID })
}

// waivable lists the rules that stop and that the welding engineer may waive:
// those that a waiver would turn into a caution.
func (c *Check) waivable(of comparison) (out []fit.Rule) {
	var ws []fit.Waiver
	for _, f := range c.Verdict.Findings {
		if f.Outcome == fit.Stops {
			ws = append(ws, fit.Waiver{Spool: of.offer.Spool, Job: of.demand.JobSource, Rule: f.Rule, Reason: "to see", By: "one", AskedBy: "another", Until: of.at.Add(time.Hour)})
		}
	}
	with := of.verdict(ws)
	for _, w := range ws {
		if f, _ := with.Find(w.Rule); f.Outcome != fit.Stops {
			out = append(out, w.Rule)
		}
	}
	return out
}

// MayAsk reports whether a waiver would let the spool go: whether something
// stops, and all that does may be waived.
func (c Check) MayAsk() bool {
	stops := 0
	for _, f := range c.Verdict.Findings {
		if f.Outcome == fit.Stops {
			stops++
		}
	}
	return stops > 0 && stops == len(c.Waivable)
}

// forFit returns the waiver as the fit check sees it, which knows people by
// name: two of one name are told apart by their badges.
func (w WaiverLine) forFit(d fit.Demand) fit.Waiver {
	by, asked := w.DecidedName, w.AskedName
	if by == asked && w.DecidedBy != w.AskedBy {
		by, asked = by+" ("+string(w.DecidedBy)+")", asked+" ("+string(w.AskedBy)+")"
	}
	return fit.Waiver{Spool: string(w.Spool), Job: d.JobSource, Rule: w.Rule, Reason: w.Reason, By: by, AskedBy: asked, Until: w.Until}
}

// waivers names the waivers that the verdict rests on, as the ledger keeps them:
// one a line, whatever line ends a reason has; empty if it rests on none.
func (c Check) waivers() string {
	var out []string
	for _, w := range c.Waivers {
		out = append(out, fmt.Sprintf("%s: waiver %d, granted by %s until %s: %s (asked by %s)", w.Rule, w.ID, w.DecidedName, Stamp(w.Until), strings.Join(strings.Fields(w.Reason), " "), w.AskedName))
	}
	return strings.Join(out, "\n")
}
