package inventory

// waiverReplay is the deeds about waivers read again from the start.
type waiverReplay struct {
	chain
	waivers map[int64]Waiver
}

func (r *waiverReplay) run(reader Reader) error {
	if err := replayed(&r.chain, reader.WaiverDeeds, r.add); err != nil {
		return err
	}
	seen := 0
	err := inBatches("compare waivers", reader.WaiversAfter, func(w Waiver) int64 { return w.ID }, func(_ int64, rows []Waiver) error {
		seen += len(rows)
		r.compare(rows)
		return nil
	})
	if seen < len(r.waivers) {
		r.fault("%d waivers have deeds and no row", len(r.waivers)-seen)
	}
	return err
}

func (r *waiverReplay) add(d WaiverDeed) {
	next, err := r.waivers[d.WaiverID].after(d)
	if err != nil {
		r.fault("waiver deed %d (%s) cannot have happened: %v", d.Seq, d.about(), err)
		return
	}
	r.waivers[d.WaiverID] = next
}

// compare holds the waivers' rows against their deeds.
func (r *waiverReplay) compare(rows []Waiver) {
	for _, row := range rows {
		if want := r.waivers[row.ID]; !row.same(want) {
			r.fault("waiver %d: its row says %+v, its deeds say %+v", row.ID, row, want)
		}
	}
}

// same reports whether two waivers are alike, instants compared as instants.
func (w Waiver) same(v Waiver) bool {
	if !w.AskedAt.Equal(v.AskedAt) || !w.DecidedAt.Equal(v.DecidedAt) || !w.Until.Equal(v.Until) || !w.EndedAt.Equal(v.EndedAt) {
		return false
	}
	w.AskedAt, w.DecidedAt, w.Until, w.EndedAt = v.AskedAt, v.DecidedAt, v.Until, v.EndedAt
	return w == v
}
