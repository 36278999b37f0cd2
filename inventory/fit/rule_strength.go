package fit

import "wirehold/inventory/unit"

func strengthQuantity() quantity[unit.Stress] {
	return quantity[unit.Stress]{unit.ParseStress, unit.Stress.AtLeast, "tensile strength", "The procedure wants at least %s."}
}

// checkStrength: the least tensile strength the wire promises must be the
// demanded one or more, reckoned in the unit of the demand, and match the base
// metals where that is wanted.
func (c *comparison) checkStrength() Finding {
	q := strengthQuantity()
	facts := c.named("tensile_min")
	if c.demand.Tensile.IsZero() {
		return worst(c.open(q.claim(facts), topic("strength")), c.matching(facts))
	}
	return worst(q.check(facts, c.procedure(c.demand.Tensile.String()), c.demand.Tensile), c.matching(facts))
}
