package fit

import (
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/filler"
)

// positionsTrait reads lists of positions parted by "|", "all", and the
// symbols of ISO 6947 that ISO 17632 uses (PA ... PG).
var positionsTrait = sync.OnceValue(func() trait[Position] {
	t := words[Position](false, nil)
	t.parse = func(v string) (set []Position, ok bool) {
		if v == "all" {
			return []Position{Flat, Horizontal, VerticalUp, VerticalDown, Overhead}, true
		}
		for _, one := range strings.FieldsFunc(strings.TrimPrefix(v, "all: "), func(r rune) bool { return r == '|' }) {
			p, ok := ParsePosition(one)
			if ok {
				set = append(set, p)
				continue
			}
			for _, symbol := range strings.Fields(one) {
				p, ok := isoPosition(symbol)
				if !ok {
					return nil, false
				}
				set = append(set, p)
			}
		}
		return set, len(set) > 0
	}
	return t
})

// isoPosition is the position a symbol of ISO 6947 stands for.
func isoPosition(symbol string) (Position, bool) {
	switch symbol {
	case "PA":
		return Flat, true
	case "PB", "PC":
		return Horizontal, true
	case "PD", "PE":
		return Overhead, true
	case "PF":
		return VerticalUp, true
	case "PG":
		return VerticalDown, true
	}
	return "", false
}

// checkPosition: every position the procedure names must be one the wire is
// for, and a vertical one in the direction the wire is for.
func (c *comparison) checkPosition() Finding {
	e := resolve(c.named("positions"), positionsTrait())
	if len(c.demand.Positions) == 0 {
		return c.open(e.claim, topic("position"))
	}
	demanded := c.procedure(strings.ReplaceAll(list(c.demand.Positions), " or ", " and "))
	if e.conflict != nil {
		return disagree(demanded, e.claim, e.conflict)
	}
	if !e.known {
		return stop(demanded, e.claim, "Nobody says which positions this wire is for: read the box. The joint is welded %s.", demanded.said())
	}
	found := make([]Finding, 0, 2*len(c.demand.Positions))
	for _, p := range c.demand.Positions {
		ok, doubt := e.admits(p)
		if !ok {
			return stop(demanded, e.claim, "This wire is for %s only. The joint is welded %s.",
				word(strings.ReplaceAll(e.claim.Text, "|", " and ")), p)
		}
		found = append(found, passUnless(doubt, demanded, e.vouch(p), "This wire may be welded %s.", demanded.said()))
		if p == VerticalUp || p == VerticalDown {
			found = append(found, c.direction(demanded, &e, p))
		}
	}
	return worst(found...)
}

// direction judges vertical welding. "All positions" does not say which way.
func (c *comparison) direction(demanded Claim, positions *evidence[Position], p Position) Finding {
	d := resolve(c.directions(), directionTrait())
	ok, doubt := d.admits(p)
	switch {
	case d.conflict != nil:
		return disagree(demanded, d.claim, d.conflict)
	case d.known && !ok:
		return stop(demanded, d.claim, "This wire is run vertical %s. The joint is welded %s.", d.claim.said(), p)
	case d.known:
		return passUnless(doubt, demanded, d.vouch(p), "Run this wire %s, as the joint is welded.", p)
	case slices.ContainsFunc(positions.readings, namesDirection):
		return Finding{Outcome: NotDemanded}
	}
	return stop(demanded, d.claim, "Nobody says whether this wire is run vertical up or down: read the data sheet. The joint is welded %s.", p)
}

// directions are the facts on direction.
func (c *comparison) directions() filler.Facts {
	return replacingMemory(c.named("vertical_direction"))
}

// replacingMemory leaves out what is from memory where the sheet or the shop
// says something: the class's own list of positions is not binding on the
// maker.
func replacingMemory(facts filler.Facts) filler.Facts {
	if !slices.ContainsFunc(facts, func(f filler.Fact) bool { return strengthOf(f) <= bySheet }) {
		return facts
	}
	return slices.DeleteFunc(slices.Clone(facts), func(f filler.Fact) bool { return strengthOf(f) == byMemory })
}

func namesDirection(r reading[Position]) bool {
	return strings.Contains(r.fact.Value, "vertical") || strings.Contains(r.fact.Value, "PF") || strings.Contains(r.fact.Value, "PG")
}

var directionTrait = sync.OnceValue(func() trait[Position] {
	both := []Position{VerticalUp, VerticalDown}
	return words(true, map[string][]Position{
		"up": {VerticalUp}, "down": {VerticalDown}, "up|down": both, "up or down": both, "up and down": both,
	})
})
