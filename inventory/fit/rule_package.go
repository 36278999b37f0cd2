package fit

import "wirehold/inventory/unit"

// smallSpool is the 4 in spool, whose hole is too small for the hub of the
// larger ones (arbor holes of testdata/diameters.csv, from memory).
const smallSpool = 4 * unit.Inch

// checkPackage: the feeder's hub must take the package, and carry it full.
func (c *comparison) checkPackage() Finding {
	offered := unknown()
	if !c.offer.Package.IsZero() {
		offered = c.record(c.offer.Package.String())
	}
	if c.feeder == nil {
		return c.withoutFeeder(offered, topic("the package"))
	}
	found := c.open(offered, topic("the package"))
	found.Message = say("Nobody has recorded which packages feeder %s takes.", c.feeder.called())
	return worst(found, c.hub(offered), c.load())
}

func (c *comparison) hub(offered Claim) Finding {
	takes, have, name := c.feeder.Packages, c.offer.Package, c.feeder.called()
	if len(takes) == 0 {
		return Finding{Outcome: NotDemanded}
	}
	demanded := c.machine(list(takes))
	if have.IsZero() {
		return stop(demanded, offered, "Nobody has recorded how this wire is wound: look. Feeder %s takes %s.", name, demanded.said())
	}
	best := stop(demanded, offered, "This is %s. Feeder %s takes %s: fit another hub or take another feeder.", word(have.withArticle()), name, demanded.said())
	for _, p := range takes {
		switch {
		case p == have || p.Kind == have.Kind && p.Outside == 0:
			return pass(demanded, offered, "Feeder %s takes %s.", name, word(have.withArticle()))
		case p.Kind != have.Kind || have.Outside > p.Outside:
		case have.Outside == 0:
			best = caution(demanded, offered, "This is %s of a size nobody has recorded. Feeder %s takes %s: look.", word(have.withArticle()), name, demanded.said())
		case have.Outside > smallSpool || p.Outside <= smallSpool:
			best = caution(demanded, offered, "This is %s. Feeder %s takes %s: a smaller one sits on the same hub, but that is from memory. Try it.", word(have.withArticle()), name, demanded.said())
		}
	}
	return best
}

// load: a full package must not be heavier than the feeder carries.
func (c *comparison) load() Finding {
	most, full := c.feeder.LargestPackage, c.offer.PackageNet
	if most == 0 {
		return Finding{Outcome: NotDemanded}
	}
	upTo, holds := most.String(), full.String()
	demanded, offered := c.machine("").saying("packages of up to %s", upTo), c.record("").saying("package of %s", holds)
	switch {
	case full == 0:
		return stop(demanded, unknown(), "Nobody has recorded what this package holds. Feeder %s carries up to %s of wire: weigh it.", c.feeder.called(), upTo)
	case full > most:
		return stop(demanded, offered, "This package holds %s of wire. Feeder %s carries up to %s: take another feeder.", holds, c.feeder.called(), upTo)
	}
	return pass(demanded, offered, "Feeder %s carries a package of %s.", c.feeder.called(), holds)
}
