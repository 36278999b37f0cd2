package inventory

import (
	"context"
	"fmt"
)

// Verification is what replaying the ledger found.
type Verification struct {
	Movements int
	Spools    int
	Faults    []string // empty if ledger and spools agree
}

const replayBatch = 2000

// Verify replays the whole ledger through [Step] and compares: that no
// movement is missing or was altered since (the hash chain), that each could
// follow the one before, and that every spool's row is the sum of its
// movements. It changes nothing.
func (l *Ledger) Verify(ctx context.Context) (Verification, error) {
	r := l.store.Read(ctx)
	replay := replay{spools: map[Code]Spool{}}
	for {
		batch, err := r.Ledger(replay.seq, replayBatch)
		if err != nil {
			return Verification{}, fmt.Errorf("replay after movement %d: %w", replay.seq, err)
		}
		if len(batch) == 0 {
			break
		}
		for _, m := range batch {
			replay.add(m)
		}
	}
	if err := replay.compare(r); err != nil {
		return Verification{}, err
	}
	return Verification{Movements: replay.count, Spools: len(replay.spools), Faults: replay.faults}, nil
}

// replay is a ledger read again from the start.
type replay struct {
	spools map[Code]Spool
	seq    int64
	hash   string
	count  int
	faults []string
}

func (r *replay) fault(format string, args ...any) {
	r.faults = append(r.faults, fmt.Sprintf(format, args...))
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
		after = rows[len(rows)-1].Code
	}
	if seen < len(r.spools) {
		r.fault("%d spools have movements and no row", len(r.spools)-seen)
	}
	return nil
}

// same reports whether two spools are alike, instants compared as instants.
func (s Spool) same(t Spool) bool {
	if !s.OpenedAt.Equal(t.OpenedAt) || !s.OutSince.Equal(t.OutSince) || !s.MovedAt.Equal(t.MovedAt) {
		return false
	}
	s.OpenedAt, s.OutSince, s.MovedAt = t.OpenedAt, t.OutSince, t.MovedAt
	return s == t
}
