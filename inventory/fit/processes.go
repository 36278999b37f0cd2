package fit

import (
	"slices"

	"wirehold/inventory/filler"
)

// Processes returns the processes that a wire with these facts is for, as the
// rule [RuleProcess] works them out: GMAW and GTAW for a solid wire, else one.
// It is nil where nobody says, or where box and sheet disagree. It is pure.
func Processes(facts filler.Facts) []Process {
	c := &comparison{offer: Offer{Facts: facts}}
	e := c.process()
	if !e.known || e.conflict != nil {
		return nil
	}
	return slices.Clone(e.allowed)
}
