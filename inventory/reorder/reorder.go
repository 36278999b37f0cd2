// Package reorder says what to buy. It is pure.
//
// For now it knows one rule: the shop's own minimum.
package reorder

import "wirehold/inventory/unit"

// Short returns how much is missing to the shop's minimum, and whether usable
// stock is below it. A minimum of zero is no minimum.
func Short(usable, minimum unit.Grams) (unit.Grams, bool) {
	if minimum <= 0 || usable >= minimum {
		return 0, false
	}
	return minimum - usable, true
}
