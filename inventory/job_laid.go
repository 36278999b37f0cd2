package inventory

import (
	"fmt"
	"strings"

	"wirehold/inventory/fit"
)

// laid is what the ledger says has gone into a job, as the fit check sees it.
type laid struct {
	wires         []fit.Laid
	out, scrapped fit.Away
}

// laidIn reads what went into the job but for one spool. One query tells; the
// wires are read only where there are any but known, which has been read.
func laidIn(r Reader, job, but Code, known Wire) (out laid, err error) {
	went, err := r.JobWires(job, but)
	if err != nil || len(went) == 0 {
		return out, err
	}
	wires := map[int64]Wire{known.ID: known}
	var ids []int64
	for _, w := range went {
		if w.Spool != "" && w.WireID != known.ID {
			ids = append(ids, w.WireID)
		}
	}
	if len(ids) > 0 {
		read, err := r.WiresOf(ids)
		if err != nil {
			return out, err
		}
		for _, w := range read {
			wires[w.ID] = w
		}
	}
	for _, w := range went {
		out.out.Net, out.out.Spools = out.out.Net+w.Out.Net, out.out.Spools+w.Out.Spools
		out.scrapped.Net, out.scrapped.Spools = out.scrapped.Net+w.Scrapped.Net, out.scrapped.Spools+w.Scrapped.Spools
		if w.Spool == "" {
			continue
		}
		wire := wires[w.WireID]
		facts, err := wire.Facts()
		if err != nil {
			return out, fmt.Errorf("wire %d: %w", wire.ID, err)
		}
		out.wires = append(out.wires, fit.Laid{Spool: string(w.Spool), Wire: strings.Join(append([]string{wire.TradeName}, wire.Classifications...), " "), Shielding: fit.ShieldingOf(facts), Used: w.Used, Facts: facts})
	}
	return out, nil
}

// demand returns what the job, its procedure and what was laid already ask of
// the wire.
func (c Check) demand() fit.Demand {
	d := c.Job.demand(c.Procedure)
	d.Laid, d.Out, d.Scrapped = c.laid.wires, c.laid.out, c.laid.scrapped
	return d
}
