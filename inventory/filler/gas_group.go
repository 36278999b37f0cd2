package filler

import (
	"cmp"
	"slices"
)

// within tells whether a part is inside the bound.
func (b gasBound) within(p VolumePart) bool {
	return p <= b.high && (p > b.low || p == b.low && !b.aboveLow)
}

// classify returns the sub-group of a mixture, "Z" if it lies in none.
func (g *gasTable) classify(components []GasComponent) string {
	for _, symbol := range g.symbols.list {
		if g.holds(symbol, components) {
			return symbol
		}
	}
	return "Z"
}

// holds tells whether a mixture lies in a sub-group. A gas that the sub-group
// does not name is outside, but for helium in place of argon.
func (g *gasTable) holds(symbol string, components []GasComponent) bool {
	bounds := g.bounds[symbol]
	if bounds == nil {
		return false
	}
	helium := slices.ContainsFunc(bounds, func(b gasBound) bool { return b.helium })
	for _, c := range components {
		named := slices.ContainsFunc(bounds, func(b gasBound) bool { return b.gas == c.Gas })
		if !named && !(helium && c.Gas == "He") {
			return false
		}
	}
	for _, b := range bounds {
		part := partOf(components, b.gas)
		if b.helium {
			part += partOf(components, "He")
		}
		if b.balance && part == 0 || !b.balance && !b.within(part) {
			return false
		}
	}
	return true
}

func partOf(components []GasComponent, gas string) VolumePart {
	for _, c := range components {
		if c.Gas == gas {
			return c.Part
		}
	}
	return 0
}

// sorted puts the base gas first, which is the largest, or of equals the one
// that makes up the balance, and the others by falling per cent.
func (g *gasTable) sorted(components []GasComponent) []GasComponent {
	bounds := g.bounds[g.classify(components)]
	balance := func(gas string) int {
		if slices.ContainsFunc(bounds, func(b gasBound) bool { return b.gas == gas && b.balance }) {
			return 0
		}
		return 1
	}
	out := slices.Clone(components)
	slices.SortFunc(out, func(a, b GasComponent) int {
		return cmp.Or(cmp.Compare(b.Part, a.Part), cmp.Compare(balance(a.Gas), balance(b.Gas)),
			cmp.Compare(slices.Index(g.order, a.Gas), slices.Index(g.order, b.Gas)))
	})
	return out
}
