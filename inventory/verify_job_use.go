package inventory

import (
	"fmt"
	"slices"
)

// goesOut keeps what the replayed movement does to the spool's outings.
func (r *replay) goesOut(before Spool, m Movement, after Spool) {
	o := r.outings[m.Spool]
	if o == nil {
		o = &outings{}
		r.outings[m.Spool] = o
	}
	o.add(before, m, after)
}

// compareUses holds what is kept of the spools' uses, of those after a code,
// against their outings.
func (r *replay) compareUses(reader Reader, after Code, spools []Spool) error {
	kept, err := reader.JobUses(after, spools[len(spools)-1].Code)
	if err != nil {
		return fmt.Errorf("compare uses of spools after %q: %w", after, err)
	}
	of := map[Code][]JobUse{}
	for _, u := range kept {
		of[u.Spool] = append(of[u.Spool], u)
	}
	var lots []int64
	for _, s := range spools {
		lots = append(lots, s.LotID)
	}
	slices.Sort(lots)
	wires, err := reader.LotWires(slices.Compact(lots))
	if err != nil {
		return fmt.Errorf("wires of the lots of spools after %q: %w", after, err)
	}
	for _, s := range spools {
		o := r.outings[s.Code]
		if o == nil {
			continue
		}
		if want := o.uses(s.Code, wires[s.LotID]); !slices.Equal(of[s.Code], want) {
			r.fault("spool %s: kept of its uses is %+v, its movements say %+v", s.Code, of[s.Code], want)
		}
	}
	return nil
}
