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
		u.WireID = 0 // that of the lot: the database holds it
		of[u.Spool] = append(of[u.Spool], u)
	}
	for _, s := range spools {
		o := r.outings[s.Code]
		if o == nil {
			continue
		}
		if want := o.uses(s.Code, 0); !slices.Equal(of[s.Code], want) {
			r.fault("spool %s: kept of its uses is %+v, its movements say %+v", s.Code, of[s.Code], want)
		}
	}
	return nil
}
