package inventory

// lotReplay is the decisions about lots read again from the start.
type lotReplay struct {
	chain
	last  map[int64]LotDecision // by lot
	count map[int64]int
}

func (r *lotReplay) run(reader Reader) error {
	err := replayed(&r.chain, reader.LotDecisions, func(d LotDecision) {
		r.last[d.LotID] = d
		r.count[d.LotID]++
	})
	if err != nil {
		return err
	}
	return inBatches("compare lots", reader.LotsAfter, func(l Lot) int64 { return l.ID }, r.compare)
}

// compare holds the lots' rows against their last decisions.
func (r *lotReplay) compare(_ int64, lots []Lot) error {
	for _, lot := range lots {
		want := Lot{}.after(r.last[lot.ID])
		if lot.Status != want.Status || lot.Reason != want.Reason || lot.Certificate != want.Certificate || lot.Papers != want.Papers || lot.Version != r.count[lot.ID] {
			r.fault("lot %s (%d): its row says %s (%s) %+v, its decisions say %s (%s) %+v", lot.Number, lot.ID, lot.Status, lot.Reason, lot.Papers, want.Status, want.Reason, want.Papers)
		}
	}
	return nil
}
