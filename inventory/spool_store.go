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
// known; [Conflict] if it is not out. One that went out sealed and comes back
// lighter counts as opened when it went out. One that is on a feeder is
// unloaded in the same transaction.
func (l *Ledger) Return(ctx context.Context, r Return) (Spool, error) {
	wish := wish(Returned, r.Spool, r.At, r.Place, r.Gross)
	return l.move(ctx, r.Entry, Returned, wish, func(tx Tx, s Spool, _ time.Time) ([]Movement, error) {
		if r.Gross == nil {
			return nil, Invalidf("gross", "weigh spool %s: give the weight on the scale", s.Code)
		}
		if err := standsIn(tx, r.Place); err != nil {
			return nil, err
		}
		return s.offFeeder(Movement{Type: Returned, To: r.Place, Net: s.net(*r.Gross)}), nil
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
	return l.move(ctx, e, Opened, wish(Opened, e.Spool, e.At), func(Tx, Spool, time.Time) ([]Movement, error) {
		return []Movement{{Type: Opened}}, nil
	})
}

// Weigh records what the spool weighs, package and all.
func (l *Ledger) Weigh(ctx context.Context, e Entry, gross unit.Grams) (Spool, error) {
	return l.move(ctx, e, Weighed, wish(Weighed, e.Spool, e.At, gross), func(_ Tx, s Spool, _ time.Time) ([]Movement, error) {
		return []Movement{{Type: Weighed, Net: s.net(gross)}}, nil
	})
}

// Move puts a spool that is in the store somewhere else. [Conflict] if it is
// out.
func (l *Ledger) Move(ctx context.Context, e Entry, to Code) (Spool, error) {
	return l.move(ctx, e, Moved, wish(Moved, e.Spool, e.At, to), func(tx Tx, _ Spool, _ time.Time) ([]Movement, error) {
		if err := standsIn(tx, to); err != nil {
			return nil, err
		}
		return []Movement{{Type: Moved, To: to}}, nil
	})
}

// Hold stops a spool: it cannot be issued until it is released.
func (l *Ledger) Hold(ctx context.Context, e Entry, reason string) (Spool, error) {
	return l.because(ctx, e, Held, reason)
}

// Release ends a hold. Only the welding engineer or the owner may.
func (l *Ledger) Release(ctx context.Context, e Entry, reason string) (Spool, error) {
	return l.because(ctx, e, Released, reason)
}

// Scrap takes a spool out of use for good; off its feeder first, if it is on one.
func (l *Ledger) Scrap(ctx context.Context, e Entry, reason string) (Spool, error) {
	return l.because(ctx, e, Scrapped, reason)
}

// because makes a movement that only needs a reason.
func (l *Ledger) because(ctx context.Context, e Entry, deed MovementType, reason string) (Spool, error) {
	reason, err := tidy("reason", reason, longestReason)
	if err != nil {
		return Spool{}, err
	}
	return l.move(ctx, e, deed, wish(deed, e.Spool, e.At, reason), func(_ Tx, s Spool, _ time.Time) ([]Movement, error) {
		m := Movement{Type: deed, Reason: reason}
		if deed == Scrapped {
			return s.offFeeder(m), nil
		}
		return []Movement{m}, nil
	})
}

// mayRelease checks that the person may end a hold.
func mayRelease(r Reader, code Code) error { return may(r, code, Released) }

// Correction sets right what an earlier movement got wrong. Nothing is
// deleted: the ledger keeps both. A nil field is left as it is.
type Correction struct {
	Entry
	Corrects int64 // the movement that was wrong
	Reason   string
	Gross    *unit.Grams
	OpenedAt *time.Time // a zero time is "still sealed"
	Place    Code
	Dry      *Dry // how a drying really was; its Entry gives the end alone
	Undone   bool // the drying or the damage never was
}

// Correct appends the correction. Only the welding engineer or the owner may
// change an opening time, because it moves the exposure clock, or bring a
// scrapped spool back.
func (l *Ledger) Correct(ctx context.Context, c Correction) (Spool, error) {
	reason, err := tidy("reason", c.Reason, longestReason)
	if err != nil {
		return Spool{}, err
	}
	c.Reason = reason
	wish := wish(Corrected, c.Spool, c.At, c.Corrects, c.Reason, c.Gross, c.OpenedAt, c.Place)
	if c.Dry != nil || c.Undone { // a correction from before there were dryings keeps its digest
		wish = c.wishOfDrying(wish)
	}
	return l.move(ctx, c.Entry, Corrected, wish, func(tx Tx, s Spool, now time.Time) ([]Movement, error) {
		wrong, err := c.check(tx, s)
		if err != nil {
			return nil, err
		}
		m := Movement{Type: Corrected, Corrects: c.Corrects, Reason: c.Reason, To: c.Place, Undone: c.Undone}
		if m.Drying, err = l.redo(tx, c, s, wrong, now); err != nil {
			return nil, err
		}
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

// check looks up what the correction names, and whether this person may.
func (c Correction) check(tx Tx, s Spool) (wrong Movement, err error) {
	history, err := tx.History(s.Code)
	if err != nil {
		return wrong, err
	}
	if wrong, err = c.names(history, s); err != nil {
		return wrong, err
	}
	if c.OpenedAt != nil || s.Scrapped {
		if err := mayRelease(tx, c.Person); err != nil {
			return wrong, err
		}
	}
	if err := c.usedBefore(history, s); err != nil {
		return wrong, err
	}
	if c.Place == "" {
		return wrong, nil
	}
	return wrong, standsIn(tx, c.Place)
}

// wishOfDrying is the digest of a correction that is about a drying too.
func (c Correction) wishOfDrying(of string) string {
	if c.Dry == nil {
		return wish(of, c.Undone)
	}
	d := c.Dry
	return wish(of, d.At, d.From, d.Oven, int64(d.Heat), int64(d.Held), d.Material, d.Confirmed)
}

// names returns the movement to be set right, which is one of the spool's.
func (c Correction) names(history []Movement, s Spool) (Movement, error) {
	for _, m := range history {
		if m.Seq == c.Corrects {
			return m, nil
		}
	}
	return Movement{}, Invalidf("corrects", "movement %d is not one of spool %s", c.Corrects, s.Code)
}

// usedBefore refuses an opening that is later than a weight which says that wire
// was gone: the package was open by then. One that was corrected since says
// nothing.
func (c Correction) usedBefore(history []Movement, s Spool) error {
	net := s.Net
	if c.Gross != nil {
		net = *s.net(*c.Gross)
	}
	if c.OpenedAt == nil || net >= s.Full-scaleStep { // none is gone: what was weighed before was wrong
		return nil
	}
	mended := map[int64]bool{}
	for _, m := range history {
		mended[m.Corrects] = mended[m.Corrects] || m.Type == Corrected && m.Net != nil
	}
	for _, m := range history {
		used := m.Net != nil && m.Type != Received && m.Type != Corrected && *m.Net < s.Full-scaleStep
		if used && !mended[m.Seq] && (c.OpenedAt.IsZero() || m.EffectiveAt.Before(*c.OpenedAt)) {
			return Invalidf("opened_at", "wire was gone from spool %s by %s (movement %d): it was open by then. If that weight was wrong, correct it first", s.Code, Stamp(m.EffectiveAt), m.Seq)
		}
	}
	return nil
}
