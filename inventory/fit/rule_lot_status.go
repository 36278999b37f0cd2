package fit

import (
	"cmp"

	"wirehold/inventory/filler"
)

// checkLotStatus: the lot must be accepted and the spool not on hold. This is
// always demanded.
func (c *comparison) checkLotStatus() Finding {
	o := c.offer
	demanded := Claim{Text: "an accepted lot, and no hold", Source: "rule of the wire store", Provenance: filler.Shop}
	lot := o.lot()
	offered := c.record("").saying("%s %s", lot, word(cmp.Or(string(o.LotStatus), "not known")))
	why := ""
	if o.LotReason != "" {
		why = ": " + o.LotReason
	}
	switch {
	case o.LotStatus == LotRejected:
		return stop(demanded, offered, "The %s is rejected%s. Send the spool back.", lot, why)
	case o.LotStatus == LotOnHold:
		return stop(demanded, offered, "The %s is on hold%s. Take a spool of another lot.", lot, why)
	case o.LotStatus != LotAccepted:
		return stop(demanded, offered, "Nobody has accepted the %s: it may not be used yet.", lot)
	case o.Held != "":
		offered = offered.saying("%s; spool on hold", offered.said())
		return stop(demanded, offered, "This spool is on hold: %s.", o.Held)
	}
	return pass(demanded, offered, "The %s is accepted and the spool is not on hold.", lot)
}

// lot names the lot in a sentence.
func (o Offer) lot() any {
	if o.LotNumber == "" {
		return word("lot without a number")
	}
	return say("lot %s", o.LotNumber)
}
