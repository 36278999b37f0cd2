package fit

import (
	"slices"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// checkDiameter: the wire's size must be one the procedure allows and one the
// feeder's rolls and liner take. A size sold under another number is matched
// by the pairs of testdata/diameters.csv.
func (c *comparison) checkDiameter() Finding {
	offered := c.record(c.size(c.offer.Diameter))
	if c.offer.Diameter == 0 {
		offered = unknown()
	}
	return worst(c.diameterOfProcedure(offered), c.diameterOfFeeder(offered))
}

// size is a diameter in both units. It is written once a check: most of the
// sizes that are compared are one and the same.
func (c *comparison) size(d unit.Length) string {
	for _, s := range c.written {
		if s.size == d {
			return s.text
		}
	}
	s := writtenSize{d, d.Inches() + " (" + d.Millimetres(2) + ")"}
	c.written = append(c.written, s)
	return s.text
}

type writtenSize struct {
	size unit.Length
	text string
}

func (c *comparison) sizes(ds []unit.Length) string {
	texts := make([]string, len(ds))
	for i, d := range ds {
		texts[i] = c.size(d)
	}
	return list(texts)
}

func (c *comparison) diameterOfProcedure(offered Claim) Finding {
	wants := c.demand.Diameters
	if len(wants) == 0 {
		return c.open(offered, topic("diameter"))
	}
	demanded := c.procedure(c.sizes(wants))
	if c.offer.Diameter == 0 {
		return stop(demanded, offered, "Nobody has recorded this wire's diameter: read the box. The procedure wants %s.", demanded.said())
	}
	ok, doubt := fitsSize(c.offer.Diameter, wants)
	if !ok {
		return stop(demanded, offered, "This wire is %s. The procedure wants %s.", offered.said(), demanded.said())
	}
	return passUnless(doubt, demanded, offered, "This wire is %s, which the procedure allows.", offered.said())
}

func (c *comparison) diameterOfFeeder(offered Claim) Finding {
	if c.feeder == nil {
		return Finding{Outcome: NotDemanded}
	}
	takes, name := c.feeder.Diameters, c.feeder.called()
	if len(takes) == 0 {
		return caution(c.machine("not known"), offered, "Nobody has recorded what wire sizes feeder %s takes: look at its rolls and liner.", name)
	}
	demanded := c.machine(c.sizes(takes))
	if c.offer.Diameter == 0 {
		return stop(demanded, offered, "Nobody has recorded this wire's diameter: read the box. Feeder %s takes %s.", name, demanded.said())
	}
	ok, doubt := fitsSize(c.offer.Diameter, takes)
	if !ok {
		return stop(demanded, offered, "This wire is %s. Feeder %s takes %s: change its rolls and liner or take another feeder.", offered.said(), name, demanded.said())
	}
	return passUnless(doubt, demanded, offered, "This wire is %s, which feeder %s takes.", offered.said(), name)
}

// fitsSize reports whether d is one of sizes, or sold as one of them.
func fitsSize(d unit.Length, sizes []unit.Length) (ok bool, doubt *Message) {
	if slices.Contains(sizes, d) {
		return true, nil
	}
	for _, p := range sizePairs() {
		if p.inch != d && p.metric != d {
			continue
		}
		for _, s := range sizes {
			if published := p.row.provenance == filler.Published; s == p.inch || s == p.metric {
				if published {
					return true, nil
				}
				ok, doubt = true, say("%s and %s are the same size only by %s: confirm that rolls and liner suit.", d.Inches(), s.Inches(), p.row.provenance)
			}
		}
	}
	return ok, doubt
}
