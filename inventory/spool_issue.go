package inventory

import (
	"context"
	"fmt"
	"strings"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Issue hands a spool to a welder for a job.
type Issue struct {
	Entry
	Job         Code
	Procedure   int64       // of the job; zero is its only one
	Holder      Code        // the welder who takes it; empty is whoever enters it
	Feeder      Code        // the machine it is for; empty if none is named
	Gross       *unit.Grams // on the scale; needed once the package is open
	StaysSealed bool        // the package is handed out unopened; otherwise the clock starts
}

// Issue checks the spool against the job and, if no rule stops, hands it out.
//
// The error is [Refused] with every finding where a rule stops, [Conflict]
// with the holder's name where somebody was first, and [Invalid] or [NotFound]
// for what does not make sense. There is no other way to issue a spool. It is
// judged as things stand now, also where it is entered late.
func (l *Ledger) Issue(ctx context.Context, i Issue) (Spool, error) {
	parts := []any{Issued, i.Spool, i.At, i.Job, i.Holder, i.Feeder, i.Gross, i.StaysSealed}
	if i.Procedure != 0 { // what was asked for before jobs had several is still the same request
		parts = append(parts, i.Procedure)
	}
	wish := wish(parts...)
	return l.move(ctx, i.Entry, Issued, wish, func(tx Tx, s Spool, now time.Time) ([]Movement, error) {
		if s.Out() {
			return nil, nameHolder(tx, s, Conflictf("spool-out", "spool %s is already out", s.Code))
		}
		check, err := l.check(tx, s, i.Job, i.Procedure, i.Feeder, now)
		if err != nil {
			return nil, err
		}
		if err := check.refusal(s); err != nil {
			return nil, err
		}
		return i.movements(tx, s, check)
	})
}

// movements returns what issuing s does to the ledger.
func (i Issue) movements(tx Tx, s Spool, check Check) ([]Movement, error) {
	holder := i.Holder
	if holder == "" {
		holder = i.Person
	}
	if _, err := badge(tx, holder); err != nil {
		return nil, err
	}
	out := Movement{Type: Issued, Job: check.Job.Code, Procedure: check.Procedure.ID, Holder: holder, To: i.Feeder, Verdict: check.summary(), Checked: check.Against(), Waiver: check.waivers()}
	switch {
	case i.Gross != nil:
		out.Net = s.net(*i.Gross)
	case s.Opened():
		return nil, Invalidf("gross", "weigh spool %s before it goes out: it is open", s.Code)
	}
	if s.Opened() || i.StaysSealed {
		return []Movement{out}, nil
	}
	return []Movement{{Type: Opened}, out}, nil
}

// Check is one fit check with what was compared.
type Check struct {
	Spool     Spool
	Lot       Lot
	Wire      Wire
	Job       Job
	Procedure Procedure
	Profile   fit.Profile
	Feeder    *Feeder // nil if none was named
	Clock     exposure.Clock
	ShiftEnds time.Time // when the shift ends in which it is checked; zero if the spool is sealed or the shop has no shifts
	Verdict   fit.Verdict
	laid      laid // what went into the job already

	Waivers       []WaiverLine  // the standing ones that the verdict rests on
	Asked         []WaiverLine  // those that nobody has decided about, of any feeder
	Elsewhere     []WaiverLine  // those that are asked for or stand for another procedure: they hold nothing here
	Waivable      []fit.Rule    // those that stop and that the welding engineer may waive
	LongestWaiver time.Duration // under the profile
}

// CheckFit compares the spool with the job, and with the feeder unless it is
// empty, as things stand now. It changes nothing. It is [Ledger.CheckFitUnder]
// for a job with one procedure.
func (l *Ledger) CheckFit(ctx context.Context, spool, job, feeder Code) (Check, error) {
	return l.CheckFitUnder(ctx, spool, job, 0, feeder)
}

// CheckFitUnder is the check against one of the job's procedures; zero is its
// only one. The error is [Invalid], of the field procedure, where the job has
// several and none of them is named.
func (l *Ledger) CheckFitUnder(ctx context.Context, spool, job Code, procedure int64, feeder Code) (c Check, err error) {
	err = l.store.Snapshot(ctx, func(r Reader) error {
		s, err := r.Spool(spool)
		if err != nil {
			return err
		}
		c, err = l.check(r, s, job, procedure, feeder, l.at())
		return err
	})
	return c, err
}

// FindJob returns the job that text names: its code, scanned or typed, or the
// shop's own number. The error is [NotFound] if there is none.
func (l *Ledger) FindJob(ctx context.Context, text string) (Job, error) {
	r := l.store.Read(ctx)
	text = strings.TrimSpace(text)
	if job, err := r.JobNumbered(text); KindOf(err) != NotFound {
		return job, err
	}
	code, err := ParseCodeOf(JobCode, text)
	if err != nil {
		return Job{}, NotFoundf("no-such-job", "there is no job %q: scan its traveller or type its number", clip(text))
	}
	return r.Job(code)
}

func (l *Ledger) check(r Reader, s Spool, job Code, procedure int64, feeder Code, at time.Time) (c Check, err error) {
	c.Spool = s
	if c.Lot, err = r.Lot(s.LotID); err != nil {
		return c, err
	}
	if c.Wire, err = r.Wire(c.Lot.WireID); err != nil {
		return c, err
	}
	return l.against(r, c, job, procedure, feeder, at)
}

// against checks the spool, lot and wire of c against the job.
func (l *Ledger) against(r Reader, c Check, job Code, procedure int64, feeder Code, at time.Time) (_ Check, err error) {
	if c, err = l.demanded(r, c, job, procedure, feeder); err != nil {
		return c, err
	}
	if c.Clock, err = clockOf(r, c.Spool, at, at); err != nil {
		return c, err
	}
	if c.ShiftEnds, err = l.shiftEnds(r, c.Clock); err != nil {
		return c, err
	}
	offer, err := c.offer()
	if err != nil {
		return c, err
	}
	of := comparison{offer, c.demand(), c.Feeder.forFit(), c.Profile, at}
	c.Verdict = of.verdict(nil)
	return c, c.waive(r, of)
}

// demanded reads into c what a spool is checked against.
func (l *Ledger) demanded(r Reader, c Check, job Code, procedure int64, feeder Code) (_ Check, err error) {
	if c.Job, err = r.Job(job); err != nil {
		return c, err
	}
	if c.Job.Closed {
		return c, Refusedf("job-closed", "job %s is closed: no wire goes to it", c.Job.Number)
	}
	if procedure, err = c.Job.under(r, procedure); err != nil {
		return c, err
	}
	if c.Procedure, err = r.Procedure(procedure); err != nil {
		return c, err
	}
	if c.Procedure.Retired() {
		return c, Refusedf("procedure-retired", "job %s is welded to %s, which was retired at %s: the welding engineer moves the job to another revision", c.Job.Number, c.Procedure.Name(), Stamp(c.Procedure.RetiredAt))
	}
	if c.laid, err = laidIn(r, c.Job.Code, c.Spool.Code, c.Wire); err != nil {
		return c, err
	}
	profile, err := l.profile(r, c.Job.ProfileID)
	if err != nil {
		return c, err
	}
	c.Profile, c.LongestWaiver = profile.forCheck(), profile.LongestWaiver()
	if feeder != "" {
		f, err := r.Feeder(feeder)
		if err != nil {
			return c, err
		}
		c.Feeder = &f
	}
	return c, nil
}

// shiftEnds returns when the shift ends that is on at the instant of the clock,
// in the shop's zone; the zero time if the spool is sealed or there are no
// shifts.
func (l *Ledger) shiftEnds(r ShopReader, c exposure.Clock) (end time.Time, err error) {
	if c.OpenedAt.IsZero() {
		return end, nil
	}
	shop, err := r.Shop()
	return l.shiftEnd(shop, c), err
}

func (l *Ledger) shiftEnd(shop Shop, c exposure.Clock) (end time.Time) {
	if !c.OpenedAt.IsZero() {
		end, _ = shop.NextShiftEnd(c.At.In(l.zone))
	}
	return end
}

// offer returns what the spool of the check offers its job.
func (c Check) offer() (fit.Offer, error) {
	o, err := offer(c.Spool, c.Lot, c.Wire, c.Clock)
	o.ShiftEnds = c.ShiftEnds
	return o, err
}

// offer returns what spool s offers a job at the instant of its clock.
func offer(s Spool, lot Lot, w Wire, c exposure.Clock) (fit.Offer, error) {
	facts, err := w.Facts()
	if err != nil {
		return fit.Offer{}, fmt.Errorf("wire %d: %w", w.ID, err)
	}
	return offerOf(s, lot, w, append(facts, w.otherSizes()...), c), nil
}

// offerOf is offer with all the wire's facts given.
func offerOf(s Spool, lot Lot, w Wire, facts filler.Facts, c exposure.Clock) fit.Offer {
	wound, _ := fit.ParsePackage(w.Package) // one that names no kind is not known
	remedy := ""
	if c.Unknown {
		remedy = w.dryingRemedy()
	}
	return fit.Offer{
		Remedy:          remedy,
		Spool:           string(s.Code),
		Classifications: w.Classifications,
		Facts:           facts,
		Diameter:        w.Diameter,
		LotNumber:       lot.Number,
		LotStatus:       lot.Status,
		LotReason:       lot.Reason,
		Held:            s.Held,
		Opened:          s.Opened(),
		Exposed:         c.Exposed,
		ExposureUnknown: unknownExposure(c),
		At:              c.At,
		Net:             s.Net,
		Package:         wound,
		PackageNet:      s.Full,
		Sealing:         lot.Papers.Sealing,
		TestedExposure:  lot.Papers.Exposure,
		Certificate:     lot.certificate(),
		Origin:          lot.origin(),
		Made:            lot.Papers.MadeOn.Time(),
		Received:        lot.ReceivedAt,
		Expires:         lot.Papers.Expires.Time(),
	}
}

// unknownExposure says why the exposure is not known; empty if it is.
func unknownExposure(c exposure.Clock) string {
	if c.Unknown {
		return "its package was damaged while it was sealed"
	}
	return ""
}

// refusal returns nil where the spool may go out, and otherwise why not.
func (c Check) refusal(s Spool) error {
	if c.Verdict.Answer != fit.DoesNotFit {
		return nil
	}
	err := Refusedf("does-not-fit", "spool %s does not fit job %s: %s", s.Code, c.Job.Number, c.rules(fit.Stops))
	err.Findings = c.Verdict.Findings
	return err
}

// rules lists the rules with the outcome.
func (c Check) rules(o fit.Outcome) string {
	var ids []string
	for _, f := range c.Verdict.Findings {
		if f.Outcome == o {
			ids = append(ids, string(f.Rule))
		}
	}
	return strings.Join(ids, ", ")
}

// summary is the verdict in one line, as the ledger keeps it.
func (c Check) summary() string {
	if cautions := c.rules(fit.Caution); cautions != "" {
		return string(c.Verdict.Answer) + ": " + cautions
	}
	return string(c.Verdict.Answer)
}

// Against names what the spool was checked against, with the reason of each
// limit that the shop set below the original.
func (c Check) Against() string {
	out := c.Procedure.Name() + "; " + c.Profile.Name
	for _, l := range c.Profile.Limits {
		if l.LoosenedBy != "" {
			out += fmt.Sprintf("; %s loosened to %s by %s on %s: %s", l.About(), l.Value, l.LoosenedBy, l.LoosenedOn, l.LoosenedWhy)
		}
	}
	return out
}
