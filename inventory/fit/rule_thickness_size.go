package fit

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/unit"
)

// onePassLimit is the thickest plate that the wire fills in one pass, often
// size by size.
const onePassLimit = "max_thickness_single_pass"

// plateInOnePass: a wire laid in one pass must be thick enough to fill the
// plate in it. The data sheet says up to what plate its size does; where it does
// not, common practice is a caution. Sizes that would do are named.
func (c *comparison) plateInOnePass(demanded Claim, plate string) Finding {
	e := c.passes()
	many, _ := e.admits(MultiPass)
	single := c.demand.passes() == SinglePass || e.known && !many
	if c.demand.passes() == MultiPass && !single {
		return Finding{Outcome: NotDemanded}
	}
	found, given := Finding{Outcome: NotDemanded}, false
	for _, f := range c.named(onePassLimit) {
		size, err := parseLength(textOf(f))
		switch {
		case strengthOf(f) == byPractice || saysNothing(f.Value):
			continue
		case err != nil:
			found = worst(found, stop(demanded, claimOf(f), "The %s gives a thickness limit of %q, which cannot be read: ask the engineer.", f.Provenance, textOf(f)))
		case c.demand.Thickness <= size:
			found = worst(found, passUnless(strengthOf(f).doubt(), demanded, claimOf(f), "The plate is %s, and this wire fills up to %s in one pass.", plate, textOf(f)))
		case single:
			found = worst(found, stop(demanded, claimOf(f), "%s fills plate up to %s in one pass. The plate is %s.", c.thisWire(), textOf(f), plate).and(c.sizesForOnePass()))
		default:
			found = worst(found, caution(demanded, claimOf(f), "%s fills plate up to %s in one pass. The plate is %s: weld it in several.", c.thisWire(), textOf(f), plate))
		}
		given = true
	}
	if !given && single {
		return c.plateByPractice(demanded, plate)
	}
	return found
}

// thisWire is "This wire of .035 in"; "This wire" if its size is not known.
func (c *comparison) thisWire() any {
	if c.offer.Diameter == 0 {
		return word("This wire")
	}
	return say("This wire of %s", c.offer.Diameter.Inches())
}

// sizesForOnePass names the sizes of this wire that would fill the plate, by
// its sheet.
func (c *comparison) sizesForOnePass() *Message {
	var would []unit.Length
	for _, f := range c.otherSizes {
		size, _ := sizeOfFact(f)
		limit, err := parseLength(textOf(f))
		if f.Name == onePassLimit && strengthOf(f) <= bySheet && err == nil && limit >= c.demand.Thickness && !slices.Contains(would, size) {
			would = append(would, size)
		}
	}
	if len(would) == 0 {
		return say("Take a wire for thicker plate.")
	}
	slices.Sort(would)
	return say("By its data sheet it would in %s.", word(inInches(would)))
}

func inInches(ds []unit.Length) string {
	texts := make([]string, len(ds))
	for i, d := range ds {
		texts[i] = d.Inches()
	}
	return list(texts)
}

// plateByPractice cautions where the plate is thicker than tubular wire of the
// size is commonly used for.
func (c *comparison) plateByPractice(demanded Claim, plate string) Finding {
	if is(c.form(), solid) || c.demand.Thickness == 0 {
		return Finding{Outcome: NotDemanded}
	}
	var mine usualPlate
	var would []unit.Length
	for _, u := range usualPlates() {
		if u.size == c.offer.Diameter {
			mine = u
		}
		if u.most == 0 || u.most >= c.demand.Thickness {
			would = append(would, u.size)
		}
	}
	if mine.most == 0 || c.demand.Thickness <= mine.most {
		return Finding{Outcome: NotDemanded}
	}
	usual := practiceOf(mine.id).saying("up to %s", mine.most.Millimetres(1))
	return caution(demanded, usual, "Common practice with tubular wire of %s is plate up to %s. The plate is %s and is welded in one pass: the usual sizes for it begin at %s. Ask the engineer.",
		c.offer.Diameter.Inches(), mine.most.Millimetres(1), plate, would[0].Inches())
}

// usualPlate is what plate tubular wire of a size is commonly used for.
type usualPlate struct {
	id   string
	size unit.Length
	most unit.Length // zero is no bound
}

// usualPlates are rows T051 to T058 of testdata/trade_practice.csv, thinnest
// wire first.
var usualPlates = sync.OnceValue(func() []usualPlate {
	var out []usualPlate
	for _, m := range readTable("tables/trade_practice.csv") {
		text, ok := strings.CutPrefix(m["family"], "tubular ")
		if !ok || m["parameter"] != "plate thickness usual" {
			continue
		}
		size, err := unit.ParseLength(text)
		most, errMost := unit.Length(0), error(nil)
		if m["max"] != "" {
			most, errMost = parseLength(m["max"] + " " + m["unit"])
		}
		if err != nil || errMost != nil {
			panic("fit: trade_practice.csv: " + m["id"] + " cannot be read")
		}
		out = append(out, usualPlate{m["id"], size, most})
	}
	slices.SortFunc(out, func(a, b usualPlate) int { return cmp.Compare(a.size, b.size) })
	return out
})
