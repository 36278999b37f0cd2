package inventory

import (
	"context"
	"time"

	"wirehold/inventory/unit"
)

// Return is a spool coming back from a job.
type Return struct {
	Entry
	Place Code
	Gross *unit.Grams // on the scale
}

// Return takes a spool back. It must be weighed, so that what the job used is
// known; [Conflict] if it is not out.
func (l *Ledger) Return(ctx context.Context, r Return) (Spool, error) {
	return l.move(ctx, r.Entry, Returned, func(tx Tx, s Spool, _ time.Time) ([]Movement, error) {
		if r.Gross == nil {
			return nil, Invalidf("gross", "weigh spool %s: give the weight on the scale", s.Code)
		}
		if err := standsIn(tx, r.Place); err != nil {
			return nil, err
		}
		return []Movement{{Type: Returned, To: r.Place, Net: s.net(*r.Gross)}}, nil
	})
}

// standsIn checks that a spool can be put in the place.
func standsIn(r Reader, place Code) error {
	if place == "" {
		return Invalidf("place", "say where the spool is put")
	}
	_, err := r.Place(place)
	return err
}

// Open records that the spool's sealed package was opened: its exposure runs
// from then. [Conflict] if it was open.
func (l *Ledger) Open(ctx context.Context, e Entry) (Spool, error) {
	return l.move(ctx, e, Opened, func(Tx, Spool, time.Time) ([]Movement, error) {
		return []Movement{{Type: Opened}}, nil
	})
}

// Weigh records what the spool weighs, package and all.
func (l *Ledger) Weigh(ctx context.Context, e Entry, gross unit.Grams) (Spool, error) {
	return l.move(ctx, e, Weighed, func(_ Tx, s Spool, _ time.Time) ([]Movement, error) {
		return []Movement{{Type: Weighed, Net: s.net(gross)}}, nil
	})
}

// Move puts a spool that is in the store somewhere else. [Conflict] if it is
// out.
func (l *Ledger) Move(ctx context.Context, e Entry, to Code) (Spool, error) {
	return l.move(ctx, e, Moved, func(tx Tx, _ Spool, _ time.Time) ([]Movement, error) {
		if err := standsIn(tx, to); err != nil {
			return nil, err
		}
		return []Movement{{Type: Moved, To: to}}, nil
	})
}

// Hold stops a spool: it cannot be issued until it is released.
func (l *Ledger) Hold(ctx context.Context, e Entry, reason string) (Spool, error) {
	return l.move(ctx, e, Held, func(tx Tx, _ Spool, _ time.Time) ([]Movement, error) {
		person, err := tx.Person(e.Person)
		if err != nil {
			return nil, err
		}
		if !person.Role.MayHold() {
			return nil, Forbiddenf("may-not-hold", "%s is a %s: tell a store attendant or the welding engineer", person.Name, person.Role)
		}
		return []Movement{{Type: Held, Reason: reason}}, nil
	})
}

// Release ends a hold. Only the welding engineer or the owner may.
func (l *Ledger) Release(ctx context.Context, e Entry, reason string) (Spool, error) {
	return l.move(ctx, e, Released, func(tx Tx, _ Spool, _ time.Time) ([]Movement, error) {
		if err := mayRelease(tx, e.Person); err != nil {
			return nil, err
		}
		return []Movement{{Type: Released, Reason: reason}}, nil
	})
}

func mayRelease(r Reader, code Code) error {
	person, err := r.Person(code)
	if err != nil {
		return err
	}
	if !person.Role.MayRelease() {
		return Forbiddenf("may-not-release", "%s is a %s: the welding engineer ends a hold", person.Name, person.Role)
	}
	return nil
}

// Scrap takes a spool out of use for good.
func (l *Ledger) Scrap(ctx context.Context, e Entry, reason string) (Spool, error) {
	return l.move(ctx, e, Scrapped, func(Tx, Spool, time.Time) ([]Movement, error) {
		return []Movement{{Type: Scrapped, Reason: reason}}, nil
	})
}

// Correction sets right what an earlier movement got wrong. Nothing is
// deleted: the ledger keeps both. A nil field is left as it is.
type Correction struct {
	Entry
	Corrects int64 // the movement that was wrong
	Reason   string
	Gross    *unit.Grams
	OpenedAt *time.Time // a zero time is "still sealed"
	Place    Code
}

// Correct appends the correction. Only the welding engineer or the owner may
// change an opening time, because it moves the exposure clock.
func (l *Ledger) Correct(ctx context.Context, c Correction) (Spool, error) {
	return l.move(ctx, c.Entry, Corrected, func(tx Tx, s Spool, _ time.Time) ([]Movement, error) {
		if err := c.names(tx, s); err != nil {
			return nil, err
		}
		if c.OpenedAt != nil {
			if err := mayRelease(tx, c.Person); err != nil {
				return nil, err
			}
		}
		if c.Place != "" {
			if err := standsIn(tx, c.Place); err != nil {
				return nil, err
			}
		}
		m := Movement{Type: Corrected, Corrects: c.Corrects, Reason: c.Reason, To: c.Place}
		if c.OpenedAt != nil {
			at := c.OpenedAt.UTC().Truncate(time.Second)
			m.OpenedAt = &at
		}
		if c.Gross != nil {
			m.Net = s.net(*c.Gross)
		}
		return []Movement{m}, nil
	})
}

// names checks that the movement to be set right is one of the spool's.
func (c Correction) names(r Reader, s Spool) error {
	history, err := r.History(s.Code)
	if err != nil {
		return err
	}
	for _, m := range history {
		if m.Seq == c.Corrects {
			return nil
		}
	}
	return Invalidf("corrects", "movement %d is not one of spool %s", c.Corrects, s.Code)
}
