package fit

import "wirehold/inventory/unit"

func strengthQuantity() quantity[unit.Stress] {
	return quantity[unit.Stress]{unit.ParseStress, unit.Stress.AtLeast, "tensile strength", "The procedure wants at least"}
}

// checkStrength: the least tensile strength the wire promises must be the
// demanded one or more, reckoned in the unit of the demand.
func (c *comparison) checkStrength() Finding {
	q := strengthQuantity()
	facts := c.named("tensile_min")
	if c.demand.Tensile.IsZero() {
		return c.open(q.claim(facts), "strength")
	}
	return q.check(facts, c.procedure(c.demand.Tensile.String()), c.demand.Tensile)
}
