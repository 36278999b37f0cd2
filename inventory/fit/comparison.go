package fit

import (
	"cmp"
	"slices"
	"sort"

	"wirehold/inventory/filler"
)

// comparison is one check under way. It belongs to one goroutine: what several
// rules ask for is worked out once and kept.
type comparison struct {
	offer   Offer
	demand  Demand
	feeder  *Feeder
	profile Profile

	facts      filler.Facts // those that hold for this wire's size, by name, strongest first
	otherSizes filler.Facts // those that hold for another size of the wire
	sorted     bool
	written    []writtenSize
	plateText  string // see plate; empty until it is asked for
	once       struct {
		form, shielding, deposit *evidence[string]
		passes                   *evidence[Passes]
		polarity                 *evidence[Polarity]
		gas                      *evidence[gasRange]
	}
}

// named returns the facts called name that hold for this wire's size,
// strongest first. They are not to be changed.
func (c *comparison) named(name string) filler.Facts {
	c.sort()
	from := sort.Search(len(c.facts), func(i int) bool { return c.facts[i].Name >= name })
	to := from
	for to < len(c.facts) && c.facts[to].Name == name {
		to++
	}
	return c.facts[from:to:to]
}

// strongest returns the strongest fact called name that says something, if it
// is as strong as least.
func (c *comparison) strongest(name string, least strength) (f filler.Fact, ok bool) {
	for _, f := range c.named(name) {
		if strengthOf(f) <= least && !saysNothing(f.Value) {
			return f, true
		}
	}
	return filler.Fact{}, false
}

// sort sets the facts in the order that named needs, once.
func (c *comparison) sort() {
	if c.sorted {
		return
	}
	c.sorted = true
	all := c.offer.Facts
	order := make([]int, 0, len(all))
	for i, f := range all {
		if size, one := sizeOfFact(f); one && size != c.offer.Diameter && c.offer.Diameter != 0 {
			c.otherSizes = append(c.otherSizes, f)
			continue
		}
		order = append(order, i)
	}
	slices.SortFunc(order, func(i, j int) int {
		if n := cmp.Compare(all[i].Name, all[j].Name); n != 0 {
			return n
		}
		return byStrength(all[i], all[j])
	})
	c.facts = make(filler.Facts, len(order))
	for to, from := range order {
		c.facts[to] = all[from]
	}
}

// kept returns what slot holds, worked out by make the first time.
func kept[T any](slot **evidence[T], make func() evidence[T]) evidence[T] {
	if *slot == nil {
		e := make()
		*slot = &e
	}
	return **slot
}

func (c *comparison) shielding() evidence[string] {
	return kept(&c.once.shielding, func() evidence[string] { return resolve(c.named("shielding"), wordTrait(external, self)) })
}

func (c *comparison) form() evidence[string] {
	return kept(&c.once.form, func() evidence[string] { return resolve(c.named("form"), wordTrait(fluxCored, metalCored, solid)) })
}

func (c *comparison) deposit() evidence[string] {
	return kept(&c.once.deposit, func() evidence[string] {
		return resolve(c.named("deposit"), wordTrait(carbonSteel, lowAlloySteel, stainlessSteel, aluminiumAlloy))
	})
}

func (c *comparison) passes() evidence[Passes] {
	return kept(&c.once.passes, func() evidence[Passes] { return resolve(c.named("passes"), passesTrait()) })
}

func (c *comparison) polarity() evidence[Polarity] {
	return kept(&c.once.polarity, func() evidence[Polarity] { return resolve(c.byProcess("polarity"), polarityTrait()) })
}

func (c *comparison) gas() evidence[gasRange] { return kept(&c.once.gas, c.weighGas) }
