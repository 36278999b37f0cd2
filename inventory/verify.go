package inventory

import (
	"context"
	"fmt"
)

// Verification is what replaying the ledger found.
type Verification struct {
	Movements int
	Spools    int
	Lots      int
	Waivers   int
	Profiles  int      // the shop's own
	Head      string   // hash of the last movement: written down elsewhere, it shows a ledger that was cut short
	Faults    []string // empty if ledger, spools and lots agree
}

const replayBatch = 2000

// Verify replays the whole ledger through [Step] and compares: that no
// movement is missing or was altered since (the hash chain), that each could
// follow the one before, and that every spool's row is the sum of its
// movements; the same for the decisions about lots and
// waivers, and the changes of rule profiles. It reads one instant of
// the database and changes nothing.
func (l *Ledger) Verify(ctx context.Context) (v Verification, err error) {
	err = l.store.Snapshot(ctx, func(r Reader) error {
		replay := replay{spools: map[Code]Spool{}, outings: map[Code]*outings{}}
		if err := replay.read(r); err != nil {
			return err
		}
		if err := replay.compare(r); err != nil {
			return err
		}
		lots := lotReplay{faults: &replay.faults, last: map[int64]LotDecision{}, count: map[int64]int{}}
		if err := lots.run(r); err != nil {
			return err
		}
		waivers := waiverReplay{faults: &replay.faults, waivers: map[int64]Waiver{}}
		if err := waivers.run(r); err != nil {
			return err
		}
		profiles := profileReplay{faults: &replay.faults, last: map[string]ProfileChange{}}
		if err := profiles.run(r); err != nil {
			return err
		}
		v = Verification{Profiles: len(profiles.last), Waivers: len(waivers.waivers), Movements: replay.count, Spools: len(replay.spools), Lots: len(lots.last), Head: replay.hash, Faults: replay.faults}
		return nil
	})
	return v, err
}

// replay is a ledger read again from the start.
type replay struct {
	spools  map[Code]Spool
	outings map[Code]*outings // of spools that were received
	seq     int64
	hash    string
	count   int
	faults  []string
}

func (r *replay) fault(format string, args ...any) {
	r.faults = append(r.faults, fmt.Sprintf(format, args...))
}

// read replays every movement.
func (r *replay) read(reader Reader) error {
	for {
		batch, err := reader.Ledger(r.seq, replayBatch)
		if err != nil {
			return fmt.Errorf("replay after movement %d: %w", r.seq, err)
		}
		if len(batch) == 0 {
			return nil
		}
		for _, m := range batch {
			r.add(m)
		}
	}
}

func (r *replay) add(m Movement) {
	if m.Seq != r.seq+1 {
		r.fault("movement %d follows movement %d: one between them is gone", m.Seq, r.seq)
	}
	if m.Prev != r.hash {
		r.fault("movement %d does not carry the hash of the one before it", m.Seq)
	}
	if m.hash() != m.Hash {
		r.fault("movement %d (%s of spool %s) was altered after it was written", m.Seq, m.Type, m.Spool)
	}
	r.seq, r.hash = m.Seq, m.Hash
	r.count++
	next, err := Step(r.spools[m.Spool], m)
	if err != nil {
		r.fault("movement %d (%s of spool %s) cannot have happened: %v", m.Seq, m.Type, m.Spool, err)
		return
	}
	if next.Version != m.Version {
		r.fault("movement %d leaves spool %s at version %d, and says %d", m.Seq, m.Spool, next.Version, m.Version)
	}
	r.goesOut(r.spools[m.Spool], m, next)
	r.spools[m.Spool] = next
}

// compare holds the stored rows against the replayed spools.
func (r *replay) compare(reader Reader) error {
	seen := 0
	for after := Code(""); ; {
		rows, err := reader.SpoolsAfter(after, replayBatch)
		if err != nil {
			return fmt.Errorf("compare spools after %q: %w", after, err)
		}
		if len(rows) == 0 {
			break
		}
		for _, row := range rows {
			seen++
			want, ok := r.spools[row.Code]
			switch {
			case !ok:
				r.fault("spool %s has a row and no movement", row.Code)
			case !row.same(want):
				r.fault("spool %s: its row says %+v, its movements say %+v", row.Code, row, want)
			}
		}
		if err := r.compareUses(reader, after, rows); err != nil {
			return err
		}
		after = rows[len(rows)-1].Code
	}
	if seen < len(r.spools) {
		r.fault("%d spools have movements and no row", len(r.spools)-seen)
	}
	return nil
}

// same reports whether two spools are alike, instants compared as instants.
func (s Spool) same(t Spool) bool {
	if !s.OpenedAt.Equal(t.OpenedAt) || !s.OutSince.Equal(t.OutSince) || !s.MovedAt.Equal(t.MovedAt) || !s.ReceivedAt.Equal(t.ReceivedAt) {
		return false
	}
	s.OpenedAt, s.OutSince, s.MovedAt, s.ReceivedAt = t.OpenedAt, t.OutSince, t.MovedAt, t.ReceivedAt
	return s == t
}
