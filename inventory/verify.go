package inventory

import "context"

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

// Verify replays the whole ledger through [Step] and compares: that no
// movement is missing or was altered since (the hash chain), that each could
// follow the one before, and that every spool's row is the sum of its
// movements; the same for the decisions about lots and
// waivers, and the changes of rule profiles. It reads one instant of
// the database and changes nothing.
func (l *Ledger) Verify(ctx context.Context) (v Verification, err error) {
	err = l.store.Snapshot(ctx, func(r Reader) error {
		wrong := &faults{}
		movements := replay{chain: chain{faults: wrong, record: "movement"}, spools: map[Code]Spool{}, outings: map[Code]*outings{}}
		lots := lotReplay{chain: chain{faults: wrong, record: "lot decision"}, last: map[int64]LotDecision{}, count: map[int64]int{}}
		waivers := waiverReplay{chain: chain{faults: wrong, record: "waiver deed"}, waivers: map[int64]Waiver{}}
		profiles := profileReplay{chain: chain{faults: wrong, record: "profile change"}, last: map[string]ProfileChange{}}
		for _, run := range []func(Reader) error{movements.run, lots.run, waivers.run, profiles.run} {
			if err := run(r); err != nil {
				return err
			}
		}
		v = Verification{Movements: movements.count, Spools: len(movements.spools), Lots: len(lots.last), Waivers: len(waivers.waivers), Profiles: len(profiles.last),
			Head: movements.chain.last.Hash, Faults: *wrong}
		return nil
	})
	return v, err
}

// replay is the movements read again from the start.
type replay struct {
	chain
	spools  map[Code]Spool
	outings map[Code]*outings // of spools that were received
	count   int
}

func (r *replay) run(reader Reader) error {
	if err := replayed(&r.chain, reader.Ledger, r.add); err != nil {
		return err
	}
	return r.compare(reader)
}

func (r *replay) add(m Movement) {
	r.count++
	next, err := Step(r.spools[m.Spool], m)
	if err != nil {
		r.fault("movement %d (%s) cannot have happened: %v", m.Seq, m.about(), err)
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
	err := inBatches("compare spools", reader.SpoolsAfter, func(s Spool) Code { return s.Code }, func(after Code, rows []Spool) error {
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
		return r.compareUses(reader, after, rows)
	})
	if seen < len(r.spools) {
		r.fault("%d spools have movements and no row", len(r.spools)-seen)
	}
	return err
}

// same reports whether two spools are alike, instants compared as instants.
func (s Spool) same(t Spool) bool {
	if !s.OpenedAt.Equal(t.OpenedAt) || !s.OutSince.Equal(t.OutSince) || !s.MovedAt.Equal(t.MovedAt) || !s.ReceivedAt.Equal(t.ReceivedAt) {
		return false
	}
	s.OpenedAt, s.OutSince, s.MovedAt, s.ReceivedAt = t.OpenedAt, t.OutSince, t.MovedAt, t.ReceivedAt
	return s == t
}
