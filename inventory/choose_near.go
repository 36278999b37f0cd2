package inventory

import (
	"cmp"
	"slices"

	"wirehold/inventory/fit"
)

// missKey names what misses for one and the same reason.
type missKey struct {
	wire int64
	open bool
	says string
}

// miss adds spools that miss by one rule to those of the same wire that miss
// for the same reason.
func (c *chooser) miss(w *knownWire, open bool, spools int, first Code, why fit.Finding) {
	key := missKey{w.ID, open, why.Says}
	if i, ok := c.missed[key]; ok {
		c.near[i].Spools += spools
		return
	}
	c.missed[key] = len(c.near)
	c.near = append(c.near, NearMiss{Wire: w.Wire, Open: open, Spools: spools, First: first, Why: why})
}

// nearest orders near misses: those that stop over a spool, its lot or the
// machine before those that stop over the wire itself, then by name.
func nearest(ns []NearMiss, limit int) []NearMiss {
	rules := fit.Rules()
	slices.SortStableFunc(ns, func(a, b NearMiss) int {
		return cmp.Or(cmp.Compare(slices.Index(rules, b.Why.Rule), slices.Index(rules, a.Why.Rule)),
			cmp.Compare(a.Wire.TradeName, b.Wire.TradeName), cmp.Compare(a.Wire.ID, b.Wire.ID))
	})
	return ns[:min(len(ns), limit)]
}
