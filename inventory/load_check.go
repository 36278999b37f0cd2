package inventory

import (
	"cmp"
	"context"
	"time"

	"wirehold/inventory/fit"
)

// LoadCheck is whether a spool may go on a feeder, and how to set the machine.
type LoadCheck struct {
	Check                  // Feeder is never nil; Job is the zero job if the spool is out for none and none was named
	Settings []fit.Setting // what the welder sets and confirms, in order; nil if the spool may not be loaded
	On       *Spool        // what is on the feeder now; nil if nothing
	Bar      error         // an [*Error]: why it cannot be loaded whatever the rules say; nil if it can
	Card     CardClock     // the spool's exposure clock; filled in by [Ledger.LoadCheck] alone
}

// May reports whether the spool may be loaded once all is set and confirmed.
func (c LoadCheck) May() bool {
	return c.Bar == nil && c.Job.Code != "" && c.Verdict.Answer != fit.DoesNotFit
}

// LoadCheck compares the spool with its job and the feeder as things stand now.
// The job is the one it is out for; one that is named must be the same. It
// changes nothing.
func (l *Ledger) LoadCheck(ctx context.Context, feeder, spool, job Code) (c LoadCheck, err error) {
	err = l.store.Snapshot(ctx, func(r Reader) error {
		s, err := r.Spool(spool)
		if err != nil {
			return err
		}
		now := l.at()
		if c, err = l.loadCheck(r, s, feeder, job, now); err != nil {
			return err
		}
		exposed, err := l.exposure(r, spool, now, now)
		c.Card = exposed.Card(l.zone)
		return err
	})
	return c, err
}

func (l *Ledger) loadCheck(r Reader, s Spool, feeder, job Code, at time.Time) (c LoadCheck, err error) {
	f, err := r.Feeder(feeder)
	if err != nil {
		return c, err
	}
	c.Spool, c.Feeder = s, &f
	if c.Bar, err = c.bar(r, s, f, job); err != nil {
		return c, err
	}
	if job == "" {
		job = s.Job
	}
	if job == "" {
		return c, nil
	}
	under, unknown, err := loadedUnder(r, s, job)
	if err != nil || unknown != nil {
		c.Bar = cmp.Or(c.Bar, unknown)
		return c, err
	}
	if c.Check, err = l.check(r, s, job, under, feeder, at); err != nil {
		return c, err
	}
	return c, c.set()
}

// loadedUnder returns the procedure of the job that a spool is loaded for.
func loadedUnder(r Reader, s Spool, job Code) (id int64, bar, err error) {
	j, err := r.Job(job)
	if err != nil {
		return 0, nil, err
	}
	return j.issuedUnder(r, s)
}

// bar returns why the spool cannot go on the feeder, whatever the rules say.
func (c *LoadCheck) bar(r Reader, s Spool, f Feeder, job Code) (bar, err error) {
	on, err := r.SpoolOn(f.Code)
	switch KindOf(err) {
	case "":
		c.On = &on
	case NotFound:
	default:
		return nil, err
	}
	switch {
	case s.Scrapped:
		return Refusedf("spool-scrapped", "spool %s is scrapped", s.Code), nil
	case s.Feeder == f.Code:
		return Conflictf("spool-loaded", "spool %s is on %s already", s.Code, f.Name), nil
	case s.Loaded():
		other, err := r.Feeder(s.Feeder)
		return Conflictf("spool-loaded", "spool %s is on %s: unload it there first", s.Code, other.Name), err
	case !s.Out():
		return Refusedf("spool-not-issued", "spool %s is in the store: have it issued at the counter first", s.Code), nil
	case job != "" && job != s.Job:
		mine, err := r.Job(s.Job)
		return Conflictf("spool-other-job", "spool %s is out for job %s, not for this one: return it first", s.Code, mine.Number), err
	case s.Held != "":
		return Refusedf("spool-on-hold", "spool %s is on hold: %s", s.Code, s.Held), nil
	case c.On != nil:
		return Conflictf("feeder-taken", "spool %s is on %s: unload it first", on.Code, f.Name), nil
	}
	return nil, nil
}

// refusal returns nil where the spool may go on, and otherwise why not.
func (c LoadCheck) refusal() error {
	if c.Bar != nil {
		return c.Bar
	}
	if c.Verdict.Answer != fit.DoesNotFit {
		return nil
	}
	err := Refusedf("do-not-load", "do not load spool %s on %s for job %s: %s", c.Spool.Code, c.Feeder.Name, c.Job.Number, c.rules(fit.Stops))
	err.Findings = c.Verdict.Findings
	return err
}

// set works out what is to be set, and makes a stop that a setting lifts a
// caution that says so: the gas that is connected and the drive rolls that are
// in the feeder are as somebody left them, and the welder changes them.
func (c *LoadCheck) set() error {
	offer, err := c.Check.offer()
	if err != nil {
		return err
	}
	settings := fit.Settings(offer, *c.Feeder.forFit())
	for i, s := range settings {
		settings[i] = s.Under("procedure "+c.Procedure.Name(), c.Procedure.Gas, c.Procedure.Polarity, *c.Feeder.forFit())
	}
	changed := fit.Check(offer, c.demand(), c.changeable(), c.Profile)
	c.Verdict.Answer = fit.Fits
	for i, f := range c.Verdict.Findings {
		if part, ok := settable[f.Rule]; ok && f.Outcome == fit.Stops && !f.Conflict {
			c.Verdict.Findings[i] = lifted(f, changed, part, settings)
		}
		switch c.Verdict.Findings[i].Outcome {
		case fit.Stops:
			c.Verdict.Answer = fit.DoesNotFit
		case fit.Caution:
			if c.Verdict.Answer == fit.Fits {
				c.Verdict.Answer = fit.FitsWithCautions
			}
		}
	}
	if c.May() {
		c.Settings = settings
	}
	return nil
}

// settable are the rules that weigh what a welder changes at the feeder.
var settable = map[fit.Rule]fit.Part{fit.RuleGas: fit.SetGas, fit.RuleRolls: fit.SetRolls}

// lifted returns the finding as it is once the part is set, if that lifts the
// stop; the finding itself if it does not.
func lifted(f fit.Finding, changed fit.Verdict, part fit.Part, settings []fit.Setting) fit.Finding {
	then, _ := changed.Find(f.Rule)
	if then.Outcome == fit.Stops {
		return f
	}
	for _, s := range settings {
		if s.Part == part && s.Change {
			f.Outcome, f.Says, f.Message = fit.Caution, s.Says, s.Message
		}
	}
	return f
}

// changeable returns the feeder with what a welder changes at it left open: the
// gas is what the procedure runs, and the rolls are not in it yet.
func (c *LoadCheck) changeable() *fit.Feeder {
	f := *c.Feeder.forFit()
	f.Gas, f.Rolls, f.RollSize = c.Procedure.Gas, "", 0
	return &f
}
