package fit

// checkRemaining: the wire left on the spool must be enough for the weld that
// the job still needs. Too little is a caution with the figure, never a stop:
// a second spool may follow the first.
func (c *comparison) checkRemaining() Finding {
	offered := unknown()
	if c.offer.Net > 0 {
		offered = c.record(c.offer.Net.String() + " of wire left")
	}
	if len(c.demand.Welds) == 0 {
		return c.open(offered, "the amount of weld")
	}
	n, err := c.need(c.demand.Welds)
	if err != nil {
		return caution(c.job("wire for the weld"), offered, "The wire for the weld cannot be reckoned: %v.", err)
	}
	demanded := c.job(n.Wire.String() + " of wire")
	demanded.Source += "; deposition efficiency: " + n.Source
	switch weld := n.Metal.String() + " of weld metal (" + n.Welds + ") at " + n.Efficiency + " deposition efficiency"; {
	case c.offer.Net == 0:
		return caution(demanded, offered, "The weld needs %s of wire: %s. Nobody has weighed this spool: weigh it.", n.Wire, weld)
	case c.offer.Net < n.Wire:
		return caution(demanded, offered, "The weld needs %s of wire: %s. The spool has %s: %s short.", n.Wire, weld, c.offer.Net, n.Wire-c.offer.Net)
	default:
		return pass(demanded, offered, "The weld needs %s of wire: %s. The spool has %s.", n.Wire, weld, c.offer.Net)
	}
}
