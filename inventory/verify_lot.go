package inventory

import "fmt"

// lotReplay is the decisions about lots read again from the start.
type lotReplay struct {
	faults *[]string
	last   map[int64]LotDecision // by lot
	count  map[int64]int
	seq    int64
	hash   string
}

func (r *lotReplay) fault(format string, args ...any) {
	*r.faults = append(*r.faults, fmt.Sprintf(format, args...))
}

func (r *lotReplay) run(reader Reader) error {
	for {
		batch, err := reader.LotDecisions(r.seq, replayBatch)
		if err != nil {
			return fmt.Errorf("replay after lot decision %d: %w", r.seq, err)
		}
		if len(batch) == 0 {
			return r.compare(reader)
		}
		for _, d := range batch {
			r.add(d)
		}
	}
}

func (r *lotReplay) add(d LotDecision) {
	if d.Seq != r.seq+1 {
		r.fault("lot decision %d follows decision %d: one between them is gone", d.Seq, r.seq)
	}
	if d.Prev != r.hash {
		r.fault("lot decision %d does not carry the hash of the one before it", d.Seq)
	}
	if d.hash() != d.Hash {
		r.fault("lot decision %d (lot %d) was altered after it was written", d.Seq, d.LotID)
	}
	r.seq, r.hash = d.Seq, d.Hash
	r.last[d.LotID] = d
	r.count[d.LotID]++
}

// compare holds the lots' rows against their last decisions.
func (r *lotReplay) compare(reader Reader) error {
	for after := int64(0); ; {
		lots, err := reader.LotsAfter(after, replayBatch)
		if err != nil {
			return fmt.Errorf("compare lots after %d: %w", after, err)
		}
		if len(lots) == 0 {
			return nil
		}
		for _, lot := range lots {
			want := Lot{}.after(r.last[lot.ID])
			if lot.Status != want.Status || lot.Reason != want.Reason || lot.Certificate != want.Certificate || lot.Papers != want.Papers || lot.Version != r.count[lot.ID] {
				r.fault("lot %s (%d): its row says %s (%s) %+v, its decisions say %s (%s) %+v", lot.Number, lot.ID, lot.Status, lot.Reason, lot.Papers, want.Status, want.Reason, want.Papers)
			}
		}
		after = lots[len(lots)-1].ID
	}
}
