package inventory

import "fmt"

// waiverReplay is the deeds about waivers read again from the start.
type waiverReplay struct {
	faults  *[]string
	waivers map[int64]Waiver
	seq     int64
	hash    string
}

func (r *waiverReplay) fault(format string, args ...any) {
	*r.faults = append(*r.faults, fmt.Sprintf(format, args...))
}

func (r *waiverReplay) run(reader Reader) error {
	for {
		batch, err := reader.WaiverDeeds(r.seq, replayBatch)
		if err != nil {
			return fmt.Errorf("replay after waiver deed %d: %w", r.seq, err)
		}
		if len(batch) == 0 {
			return r.compare(reader)
		}
		for _, d := range batch {
			r.add(d)
		}
	}
}

func (r *waiverReplay) add(d WaiverDeed) {
	if d.Seq != r.seq+1 {
		r.fault("waiver deed %d follows deed %d: one between them is gone", d.Seq, r.seq)
	}
	if d.Prev != r.hash {
		r.fault("waiver deed %d does not carry the hash of the one before it", d.Seq)
	}
	if d.hash() != d.Hash {
		r.fault("waiver deed %d (waiver %d) was altered after it was written", d.Seq, d.WaiverID)
	}
	r.seq, r.hash = d.Seq, d.Hash
	next, err := r.waivers[d.WaiverID].after(d)
	if err != nil {
		r.fault("waiver deed %d (waiver %d was %s) cannot have happened: %v", d.Seq, d.WaiverID, d.Deed, err)
		return
	}
	r.waivers[d.WaiverID] = next
}

// compare holds the waivers' rows against their deeds.
func (r *waiverReplay) compare(reader Reader) error {
	seen := 0
	for after := int64(0); ; {
		rows, err := reader.WaiversAfter(after, replayBatch)
		if err != nil {
			return fmt.Errorf("compare waivers after %d: %w", after, err)
		}
		if len(rows) == 0 {
			break
		}
		for _, row := range rows {
			seen++
			if want := r.waivers[row.ID]; !row.same(want) {
				r.fault("waiver %d: its row says %+v, its deeds say %+v", row.ID, row, want)
			}
		}
		after = rows[len(rows)-1].ID
	}
	if seen < len(r.waivers) {
		r.fault("%d waivers have deeds and no row", len(r.waivers)-seen)
	}
	return nil
}

// same reports whether two waivers are alike, instants compared as instants.
func (w Waiver) same(v Waiver) bool {
	if !w.AskedAt.Equal(v.AskedAt) || !w.DecidedAt.Equal(v.DecidedAt) || !w.Until.Equal(v.Until) || !w.EndedAt.Equal(v.EndedAt) {
		return false
	}
	w.AskedAt, w.DecidedAt, w.Until, w.EndedAt = v.AskedAt, v.DecidedAt, v.Until, v.EndedAt
	return w == v
}
