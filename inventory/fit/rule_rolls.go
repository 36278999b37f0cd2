package fit

import (
	"slices"
	"strings"

	"wirehold/inventory/unit"
)

// Rolls is the kind of groove in a feeder's drive rolls.
type Rolls string

// The kinds of drive roll, in the words of the fact drive_rolls.
const (
	KnurledV Rolls = "knurled V"
	SmoothV  Rolls = "smooth V"
	UGroove  Rolls = "U groove"
)

// ParseRolls reads the name of one of the kinds of drive roll.
func ParseRolls(text string) (Rolls, bool) { return parseWord(text, KnurledV, SmoothV, UGroove) }

// rollsTrait reads lists: "knurled V or smooth V".
func rollsTrait() trait[Rolls] {
	t := words[Rolls](true, nil)
	t.parse = func(v string) (set []Rolls, ok bool) {
		for one := range strings.SplitSeq(v, " or ") {
			r, ok := ParseRolls(one)
			if !ok {
				return nil, false
			}
			set = append(set, r)
		}
		return set, true
	}
	return t
}

// checkRolls: the feeder's drive rolls must be of the kind that the wire's data
// sheet names and their groove, gun and liner of its size. Where no sheet names
// a kind, rolls that are not the usual ones are a caution.
func (c *comparison) checkRolls() Finding {
	e := resolve(c.named("drive_rolls"), rollsTrait())
	if c.feeder == nil {
		return c.withoutFeeder(e.claim, topic("drive rolls"))
	}
	return worst(c.rollsKind(&e), c.rollsSize(), c.gunAndLiner())
}

// withoutFeeder is open where no feeder is named.
func (c *comparison) withoutFeeder(offered Claim, what any) Finding {
	f := c.open(offered, what)
	f.Message = say("No feeder is named, so nothing is asked about %s.", what)
	if offered.Text != unknown().Text {
		f.Message = say("No feeder is named, so nothing is asked about %s. This wire: %s.", what, offered.said())
	}
	return f
}

func (c *comparison) rollsKind(e *evidence[Rolls]) Finding {
	has, name := c.feeder.Rolls, c.feeder.called()
	demanded := c.machine("").saying("%s rolls", has)
	switch {
	case e.conflict != nil:
		return disagree(c.machine("its drive rolls"), e.claim, e.conflict)
	case !e.known:
		return c.rollsByPractice()
	case has == "":
		return caution(c.machine("not known"), e.claim, "This wire wants %s rolls, and nobody has recorded which feeder %s has: look.", anyOf(e.allowed), name)
	}
	ok, doubt := e.admits(has)
	if !ok {
		return stop(demanded, e.claim, "This wire wants %s rolls. Feeder %s has %s: change them.", anyOf(e.allowed), name, has)
	}
	return passUnless(doubt, demanded, e.vouch(has), "Feeder %s has %s rolls, as this wire wants.", name, has)
}

// usualRolls are the kinds in common use for the wire, the first before the
// others; nil if its form is not known (testdata/trade_practice.csv T024, T025).
func (c *comparison) usualRolls() []Rolls {
	form, small := c.form(), c.offer.Diameter > 0 && c.offer.Diameter <= 45*unit.Inch/1000
	switch {
	case is(c.deposit(), aluminiumAlloy):
		return []Rolls{UGroove}
	case is(form, solid):
		return []Rolls{SmoothV}
	case is(form, metalCored), is(form, fluxCored) && small:
		return []Rolls{KnurledV, SmoothV}
	case is(form, fluxCored):
		return []Rolls{KnurledV}
	}
	return nil
}

func (c *comparison) rollsByPractice() Finding {
	usual, has, name := c.usualRolls(), c.feeder.Rolls, c.feeder.called()
	found := c.open(unknown(), topic("drive rolls"))
	switch {
	case has == "" || usual == nil:
		found.Message = say("No data sheet says which drive rolls this wire wants.")
		if usual != nil {
			found = found.and(say("Common practice is %s.", anyOf(usual)))
		}
	case slices.Contains(usual, has):
		found.Message = say("No data sheet says which drive rolls this wire wants. Common practice is %s, and feeder %s has %s.", anyOf(usual), name, has)
	default:
		usually := practiceOf("T024").saying("%s rolls", anyOf(usual))
		return caution(c.machine("").saying("%s rolls", has), usually, "Feeder %s has %s rolls. Common practice for this wire is %s: read the data sheet, or change them.", name, has, anyOf(usual))
	}
	return found
}

// rollsSize: the groove must be of the wire's size.
func (c *comparison) rollsSize() Finding {
	groove, name := c.feeder.RollSize, c.feeder.called()
	if groove == 0 {
		return Finding{Outcome: NotDemanded}
	}
	demanded := c.machine("").saying("rolls for %s", c.size(groove))
	if c.offer.Diameter == 0 {
		return stop(demanded, unknown(), "Nobody has recorded this wire's diameter: read the box. Feeder %s has rolls for %s.", name, c.size(groove))
	}
	offered := c.record(c.size(c.offer.Diameter))
	ok, doubt := fitsSize(c.offer.Diameter, []unit.Length{groove})
	if !ok {
		return stop(demanded, offered, "This wire is %s. Feeder %s has rolls for %s: change them.", c.size(c.offer.Diameter), name, c.size(groove))
	}
	return passUnless(doubt, demanded, offered, "Feeder %s has rolls for %s, the size of this wire.", name, c.size(groove))
}

// gunAndLiner: the wire must not be thicker than the gun or the liner takes.
func (c *comparison) gunAndLiner() Finding {
	found := Finding{Outcome: NotDemanded}
	for _, part := range [...]struct {
		what, whose word
		most        unit.Length
	}{{"gun", "The gun", c.feeder.Gun}, {"liner", "The liner", c.feeder.Liner}} {
		if part.most == 0 {
			continue
		}
		demanded := c.machine("").saying("%s for up to %s", part.what, c.size(part.most))
		offered := c.record(c.size(c.offer.Diameter))
		switch {
		case c.offer.Diameter == 0:
			found = worst(found, stop(demanded, unknown(), "Nobody has recorded this wire's diameter: read the box. %s of feeder %s takes up to %s.", part.whose, c.feeder.called(), c.size(part.most)))
		case c.offer.Diameter > part.most:
			found = worst(found, stop(demanded, offered, "This wire is %s. %s of feeder %s takes up to %s: change it or take another feeder.",
				c.size(c.offer.Diameter), part.whose, c.feeder.called(), c.size(part.most)))
		default:
			found = worst(found, pass(demanded, offered, "%s of feeder %s takes this wire.", part.whose, c.feeder.called()))
		}
	}
	return found
}
