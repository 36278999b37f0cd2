package fit

import "time"

// Waiver is the welding engineer's permission to use one spool for one job
// against one rule.
type Waiver struct {
	Spool   string // its code, as in [Offer]
	Job     string // as [Demand] names it: "job 2207"
	Rule    Rule
	Reason  string
	By      string    // the engineer who granted it
	AskedBy string    // who asked for it, never the one who granted it
	Until   time.Time // its end: from that instant on it holds no more
}

// holds reports whether w lets the rule be passed: whether the profile marks
// the rule waivable, w is for this spool and job, complete, granted by another
// than asked for it, and has not ended.
func (w Waiver) holds(o Offer, d Demand, p Profile, at time.Time) bool {
	complete := w.Reason != "" && w.By != "" && w.AskedBy != "" && w.By != w.AskedBy && !w.Until.IsZero()
	return complete && w.Spool == o.Spool && w.Job == d.JobSource && at.Before(w.Until) && p.Waivable(w.Rule)
}

// CheckWith is [Check] at an instant, with waivers. A stop that one of them
// covers becomes a caution that names the waiver, the person and the end. No
// waiver helps where the profile does not let the rule be waived, where box and
// data sheet disagree, nor where the job is outside what its procedure is
// qualified for. CheckWith is pure.
func CheckWith(o Offer, d Demand, f *Feeder, p Profile, ws []Waiver, at time.Time) Verdict {
	if o.At.IsZero() {
		o.At = at
	}
	v := Check(o, d, f, p)
	for i, found := range v.Findings {
		if found.Outcome != Stops || found.Conflict || found.Unfit {
			continue
		}
		if w, ok := lastOf(found.Rule, ws, o, d, p, at); ok {
			found.Outcome, found.Waived = Caution, &w
			found = found.and(say("Waived by %s until %s: %s.", w.By, w.Until.Format("2006-01-02 15:04 MST"), w.Reason))
			v.Findings[i] = found.of(found.Rule)
		}
	}
	v.Answer = answer(v.Findings)
	return v
}

// lastOf is the waiver of a rule that holds longest.
func lastOf(r Rule, ws []Waiver, o Offer, d Demand, p Profile, at time.Time) (last Waiver, ok bool) {
	for _, w := range ws {
		if w.Rule == r && w.holds(o, d, p, at) && (!ok || w.Until.After(last.Until)) {
			last, ok = w, true
		}
	}
	return last, ok
}
