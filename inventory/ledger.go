package inventory

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/fit"
)

// Ledger is the store's use cases. It is safe for concurrent use.
type Ledger struct {
	store    Store
	profiles []fit.Profile // that come with the program
	now      func() time.Time
	zone     *time.Location // of the clock on the shop's wall
}

// NewLedger returns a ledger over store that checks jobs against profiles and
// reads the time from now.
func NewLedger(store Store, profiles []fit.Profile, now func() time.Time) *Ledger {
	return &Ledger{store: store, profiles: slices.Clone(profiles), now: now, zone: time.UTC}
}

// In returns the ledger of a shop whose clocks show the zone's time: shifts end
// and hours are quiet by it. Without it they are in UTC.
func (l *Ledger) In(zone *time.Location) *Ledger {
	in := *l
	in.zone = zone
	return &in
}

// at returns the present instant as the ledger keeps it: UTC, to the second.
func (l *Ledger) at() time.Time { return l.now().UTC().Truncate(time.Second) }

// Entry is what every change to a spool has in common.
type Entry struct {
	Spool      Code
	Person     Code      // who enters it: the badge at the counter
	RequestKey string    // the same for each repetition of one request
	At         time.Time // when it happened; zero is now
}

// change is a use case's decision: the movements to append to spool s, in
// order. It reads through tx and writes no movement. Each movement needs only what
// its type brings; the rest is filled in from the entry. now is the present, also
// where the entry is of earlier.
type change func(tx Tx, s Spool, now time.Time) ([]Movement, error)

// move is the one way in which a spool changes: in one transaction it looks
// the request key up, reads the spool, lets decide choose the movements, takes
// each through [Step], and appends them.
//
// A key that was used before returns the spool as it is now and changes
// nothing; with another wish, the digest of what is asked for, it is a
// [Conflict]. Whoever enters it must be in a role that may.
func (l *Ledger) move(ctx context.Context, e Entry, deed MovementType, wish string, decide change) (Spool, error) {
	if err := e.check(); err != nil {
		return Spool{}, err
	}
	now := l.at()
	var s Spool
	err := l.store.WriteShared(ctx, func(tx Tx) error {
		before, err := tx.Requested(e.RequestKey)
		if err != nil {
			return err
		}
		if s, err = tx.Spool(e.Spool); err != nil {
			return err
		}
		if len(before) > 0 {
			return repeated(before, wish)
		}
		if err := may(tx, e.Person, deed); err != nil {
			return err
		}
		movements, err := decide(tx, s, now)
		if err != nil {
			return err
		}
		s, err = appendAll(tx, s, movements, e, wish, now)
		return err
	})
	return s, err
}

// may checks that the person's role allows the deed.
func may(r Reader, code Code, deed MovementType) error {
	person, err := badge(r, code)
	if err != nil {
		return err
	}
	switch {
	case person.Role.May(deed):
		return nil
	case deed == Released:
		return Forbiddenf("may-not-release", "%s is a %s: the welding engineer ends a hold", person.Name, person.Role)
	}
	return Forbiddenf("may-not-enter", "%s is a %s: a store attendant or the welding engineer does this", person.Name, person.Role)
}

func (e Entry) check() error {
	switch {
	case e.Spool.Kind() != SpoolCode:
		return Invalidf("spool", "scan a spool: %q is not one", e.Spool)
	case e.Person.Kind() != PersonCode:
		return Invalidf("person", "scan a badge: %q is not one", e.Person)
	case strings.TrimSpace(e.RequestKey) == "" || len(e.RequestKey) > 100:
		return Invalidf("request_key", "give a key of 1 to 100 characters that is the same each time this request is repeated")
	}
	return nil
}

// when returns the instant at which the entry took effect.
func (e Entry) when(now time.Time) time.Time {
	if e.At.IsZero() {
		return now
	}
	return e.At.UTC().Truncate(time.Second)
}

// repeated says whether a request key may be met again: with the same wish it
// is the same request, sent twice.
func repeated(before []Movement, wish string) error {
	last := before[len(before)-1]
	if last.Request != wish {
		return Conflictf("request-key-used", "request key %q was used already, for something else (spool %s was %s): look at the spool, and use a new key", last.RequestKey, last.Spool, last.Type)
	}
	return nil
}

// appendAll takes s through the movements and writes each.
func appendAll(tx Tx, s Spool, movements []Movement, e Entry, wish string, now time.Time) (Spool, error) {
	before := s
	last, err := tx.Head()
	if err != nil {
		return s, err
	}
	for _, m := range movements {
		m.Spool, m.Person, m.RequestKey, m.Request = e.Spool, e.Person, e.RequestKey, wish
		m.EffectiveAt, m.EnteredAt, m.Link = e.when(now), now, last.next()
		next, err := Step(s, m)
		if err != nil {
			return s, nameHolder(tx, s, err)
		}
		m.Version = next.Version
		m.Hash = m.hash()
		if err := tx.Append(m, next); err != nil {
			return s, err
		}
		s, last = next, m.Link
	}
	return s, keepJobUses(tx, before, s, movements)
}

// nameHolder puts the name of the person who has s into a conflict over it.
func nameHolder(r Reader, s Spool, err error) error {
	if CodeOf(err) != "spool-out" || !s.Out() {
		return err
	}
	holder, errHolder := r.Person(s.Holder)
	job, errJob := r.Job(s.Job)
	if failed := errors.Join(errHolder, errJob); failed != nil {
		return failed
	}
	return Conflictf("spool-out", "spool %s is already out: %s has it for job %s since %s", s.Code, holder.Name, job.Number, Stamp(s.OutSince))
}

// History returns the spool's movements, oldest first. The error is [NotFound]
// if there is no such spool.
func (l *Ledger) History(ctx context.Context, spool Code) ([]Movement, error) {
	r := l.store.Read(ctx)
	if _, err := r.Spool(spool); err != nil {
		return nil, err
	}
	return r.History(spool)
}
