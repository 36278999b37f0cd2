package inventory

import (
	"context"
	"slices"
	"time"

	"wirehold/inventory/fit"
)

// WaiverRequest asks for waivers of what stops a spool for a job.
type WaiverRequest struct {
	Spool      Code
	Job        Code
	Procedure  int64      // of the job; zero is its only one
	Feeder     Code       // the machine it is for; empty if none is named
	Rules      []fit.Rule // one waiver each
	Person     Code
	Reason     string
	RequestKey string
}

// MayAskWaiver reports whether a person in this role may ask for a waiver.
func (r Role) MayAskWaiver() bool { return r.MayIssue() || r == Welder }

// AskWaiver asks the welding engineer for a waiver of each rule. Each must stop
// the spool now and be one that the job's rule profile lets be waived: it is
// [Refused] with the findings otherwise, and a [Conflict] if one is asked for
// or standing already.
func (l *Ledger) AskWaiver(ctx context.Context, q WaiverRequest) ([]Waiver, error) {
	var err error
	if q.Reason, err = tidy("reason", q.Reason, longestReason); err != nil {
		return nil, err
	}
	switch {
	case q.Reason == "":
		return nil, Invalidf("reason", "say why the spool should be used all the same")
	case len(q.Rules) == 0:
		return nil, Invalidf("rules", "say which rule is to be waived")
	}
	slices.Sort(q.Rules)
	q.Rules = slices.Compact(q.Rules)
	parts := []any{"waiver", q.Spool, q.Job, q.Feeder, q.Rules, q.Person, q.Reason}
	if q.Procedure != 0 {
		parts = append(parts, q.Procedure)
	}
	wish := wish(parts...)
	var out []Waiver
	err = l.waiverDeed(ctx, Entry{Spool: q.Spool, Person: q.Person, RequestKey: q.RequestKey}, wish, func(tx Tx, by Person, now time.Time) ([]WaiverDeed, error) {
		if !by.Role.MayAskWaiver() {
			return nil, Forbiddenf("may-not-ask", "%s is a %s: a store attendant or a welder asks for a waiver", by.Name, by.Role)
		}
		return l.askedOf(tx, q, now)
	}, &out)
	return out, err
}

// askedOf holds what is asked for against the fit check as it is now.
func (l *Ledger) askedOf(tx Tx, q WaiverRequest, now time.Time) ([]WaiverDeed, error) {
	s, err := tx.Spool(q.Spool)
	if err != nil {
		return nil, err
	}
	if s.Scrapped {
		return nil, Refusedf("spool-scrapped", "spool %s is scrapped", s.Code)
	}
	c, err := l.check(tx, s, q.Job, q.Procedure, q.Feeder, now)
	if err != nil {
		return nil, err
	}
	open, err := tx.WaiversOf(q.Spool, q.Job)
	if err != nil {
		return nil, err
	}
	var deeds []WaiverDeed
	for _, rule := range q.Rules {
		for _, w := range open {
			if w.Rule == rule && c.isFor(w) && w.Feeder == q.Feeder && (w.State == WaiverAsked || c.restsOn(w)) {
				return nil, Conflictf("waiver-asked", "waiver %d of %s is %s already, asked by %s", w.ID, rule, w.Status(now), w.AskedName)
			}
		}
		found, err := c.mayWaive(rule)
		if err != nil {
			return nil, err
		}
		id, err := tx.NextWaiver()
		if err != nil {
			return nil, err
		}
		deeds = append(deeds, WaiverDeed{WaiverID: id, Deed: WaiverAsked, Spool: q.Spool, Job: q.Job, Procedure: c.Procedure.ID, Feeder: q.Feeder, Rule: rule, Reason: q.Reason, Found: found.Says})
	}
	return deeds, nil
}

// mayWaive returns what the rule found, if it stops and may be waived.
func (c Check) mayWaive(rule fit.Rule) (fit.Finding, error) {
	found, ok := c.Verdict.Find(rule)
	switch {
	case !ok:
		return found, Invalidf("rules", "there is no rule %q", clip(string(rule)))
	case found.Outcome != fit.Stops:
		return found, Refusedf("nothing-to-waive", "%s does not stop spool %s for job %s: there is nothing to waive", rule, c.Spool.Code, c.Job.Number)
	case !slices.Contains(c.Waivable, rule):
		err := Refusedf("not-waivable", "%s stops spool %s, and nobody may waive it under %s", rule, c.Spool.Code, c.Profile.Name)
		err.Findings = c.Verdict.Findings
		return found, err
	}
	return found, nil
}

// WaiverDecision is what somebody decides about a waiver.
type WaiverDecision struct {
	ID         int64
	Person     Code
	Reason     string
	Until      time.Time // of a grant: its end
	RequestKey string
}

// GrantWaiver grants a waiver that is asked for, until an end that lies in the
// future and no further off than the rule profile allows. The error is
// [Forbidden] for whoever asked and for all but the welding engineer and the
// owner, [Conflict] where the rule says something else than was asked about, and
// [Refused] where the rule no longer stops or may not be waived.
func (l *Ledger) GrantWaiver(ctx context.Context, d WaiverDecision) (Waiver, error) {
	return l.decideWaiver(ctx, WaiverGranted, d)
}

// RefuseWaiver refuses a waiver that is asked for.
func (l *Ledger) RefuseWaiver(ctx context.Context, d WaiverDecision) (Waiver, error) {
	d.Until = time.Time{}
	return l.decideWaiver(ctx, WaiverRefused, d)
}

// EndWaiver ends a standing waiver before its time.
func (l *Ledger) EndWaiver(ctx context.Context, d WaiverDecision) (Waiver, error) {
	d.Until = time.Time{}
	return l.decideWaiver(ctx, WaiverEnded, d)
}

func (l *Ledger) decideWaiver(ctx context.Context, deed WaiverState, d WaiverDecision) (Waiver, error) {
	var err error
	if d.Reason, err = tidy("reason", d.Reason, longestReason); err != nil {
		return Waiver{}, err
	}
	if d.Reason == "" {
		return Waiver{}, Invalidf("reason", "say why")
	}
	d.Until = d.Until.UTC().Truncate(time.Second)
	wish := wish("waiver", d.ID, deed, d.Person, d.Reason, d.Until)
	var out []Waiver
	err = l.waiverDeed(ctx, Entry{Spool: "W", Person: d.Person, RequestKey: d.RequestKey}, wish, func(tx Tx, by Person, now time.Time) ([]WaiverDeed, error) {
		w, err := tx.Waiver(d.ID)
		if err != nil {
			return nil, err
		}
		if !by.Role.MayRelease() {
			return nil, Forbiddenf("may-not-waive", "%s is a %s: the welding engineer decides about a waiver", by.Name, by.Role)
		}
		done := WaiverDeed{WaiverID: w.ID, Deed: deed, Spool: w.Spool, Job: w.Job, Procedure: w.Procedure, Feeder: w.Feeder, Rule: w.Rule, Reason: d.Reason, Found: w.Found, Until: d.Until}
		if deed == WaiverGranted && w.State == WaiverAsked {
			done.Found, err = l.grantable(tx, w.Waiver, done, by, now)
		}
		return []WaiverDeed{done}, err
	}, &out)
	if err != nil {
		return Waiver{}, err
	}
	return out[0], nil
}

// grantable holds a grant against the fit check as it is now, and returns what
// the rule says: what whoever grants it has read, unless it changes by itself.
func (l *Ledger) grantable(tx Tx, w Waiver, d WaiverDeed, by Person, now time.Time) (string, error) {
	d.Person, d.At = by.Code, now
	if err := w.mayFollow(d); err != nil {
		return "", err
	}
	s, err := tx.Spool(w.Spool)
	if err != nil {
		return "", err
	}
	c, err := l.check(tx, s, w.Job, w.Procedure, w.Feeder, now)
	if err != nil {
		return "", err
	}
	if d.Until.Sub(now) > c.LongestWaiver {
		return "", Invalidf("until", "a waiver under %s lasts at most %s", c.Profile.Name, days(c.LongestWaiver))
	}
	found, err := c.mayWaive(w.Rule)
	if err == nil && !moves[w.Rule] && found.Says != w.Found {
		err = Conflictf("finding-changed", "since waiver %d was asked for, %s says something else: %s Refuse it, and have it asked for again", w.ID, w.Rule, found.Says)
	}
	return found.Says, err
}

// waiverDeed is the one way in which waivers change: in one transaction it
// looks the request key up, lets decide choose the deeds, and appends each. The
// waivers as they are then go to out.
func (l *Ledger) waiverDeed(ctx context.Context, e Entry, wish string, decide func(Tx, Person, time.Time) ([]WaiverDeed, error), out *[]Waiver) error {
	if err := e.check(); err != nil {
		return err
	}
	now := l.at()
	return l.store.Write(ctx, func(tx Tx) error {
		*out = nil
		before, err := tx.WaiverRequested(e.RequestKey)
		if err != nil {
			return err
		}
		for _, d := range before {
			if d.Request != wish {
				return Conflictf("request-key-used", "request key %q was used already, for another decision: use a new one", e.RequestKey)
			}
			w, err := tx.Waiver(d.WaiverID)
			if err != nil {
				return err
			}
			*out = append(*out, w.Waiver)
		}
		if len(before) > 0 {
			return nil
		}
		by, err := badge(tx, e.Person)
		if err != nil {
			return err
		}
		deeds, err := decide(tx, by, now)
		if err != nil {
			return err
		}
		*out, err = appendDeeds(tx, deeds, e, wish, now)
		return err
	})
}

func appendDeeds(tx Tx, deeds []WaiverDeed, e Entry, wish string, now time.Time) (out []Waiver, err error) {
	last, err := tx.WaiverHead()
	if err != nil {
		return nil, err
	}
	for _, d := range deeds {
		d.Person, d.RequestKey, d.Request, d.At = e.Person, e.RequestKey, wish, now
		var w Waiver
		if d.Deed != WaiverAsked {
			line, err := tx.Waiver(d.WaiverID)
			if err != nil {
				return nil, err
			}
			w = line.Waiver
		}
		next, err := w.after(d)
		if err != nil {
			return nil, err
		}
		d.Link = last.next()
		d.Hash = d.hash()
		if err := tx.AppendWaiverDeed(d, next); err != nil {
			return nil, err
		}
		out, last = append(out, next), d.Link
	}
	return out, nil
}
