package fit

// checkRemaining: the wire left on the spool must be enough for the weld that
// the job still needs. Too little is a caution with the figure, never a stop:
// a second spool may follow the first. Wire that the ledger says was used on
// the job is taken off; what is out on other spools is not, and is said.
func (c *comparison) checkRemaining() Finding {
	offered := unknown()
	if c.offer.Net > 0 {
		offered = c.record("").saying("%s of wire left", c.offer.Net)
	}
	if len(c.demand.Welds) == 0 {
		return c.open(offered, topic("the amount of weld"))
	}
	n, err := c.left(c.demand.Welds, c.demand.Laid)
	if err != nil {
		return caution(c.job("wire for the weld"), offered, "The wire for the weld cannot be reckoned: %s.", err)
	}
	have := c.offer.Net
	demanded := c.job("").saying("%s of wire", n.Left)
	demanded.Source += "; deposition efficiency: " + n.Source
	says := say("The weld needs %s of wire: %s of weld metal (%s) at %s deposition efficiency.", n.Wire, n.Metal, n.says, n.Efficiency).and(c.progress(n))
	switch {
	case c.offer.Net == 0:
		return caution(demanded, offered, "%s Nobody has weighed this spool: weigh it.", says)
	case c.offer.Net < n.Left:
		return caution(demanded, offered, "%s The spool has %s: %s short.", says, have, n.Left-c.offer.Net)
	default:
		return pass(demanded, offered, "%s The spool has %s.", says, have)
	}
}
