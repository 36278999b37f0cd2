package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// What a standard's limit is called in a sentence.
const (
	recommended  = "recommended"
	prequalified = "prequalified" // for prequalified work under AWS D1.1
)

// plateLimit is one thickness limit that holds for this wire and joint.
type plateLimit struct {
	claim   Claim
	doubt   *Message // of a match
	size    unit.Length
	least   bool    // the plate must be at least this thick, not at most
	special bool    // of prequalified work alone
	past    Outcome // what going past it does
	what    word    // "recommended", "prequalified", "limited by its data sheet"
}

// checkThickness: the plate must be within the wire's limits, and within what
// the procedure is qualified for.
func (c *comparison) checkThickness() Finding {
	return withJob(c.suitsPlate(), c.platesQualified())
}

// suitsPlate: the plate must be within the wire's limits. The data sheet's
// own limit stops, as does that of prequalified work; a general recommendation
// cautions, unless the profile says otherwise (parameters "prequalified_limit"
// and "general_recommendation"). A class that sets no limit passes.
func (c *comparison) suitsPlate() Finding {
	limits, odd := c.plateLimits()
	offered := c.plateClaim(limits)
	if c.demand.Thickness == 0 {
		return c.open(offered, topic("plate thickness"))
	}
	plate := c.plate()
	demanded := c.job("").saying("%s plate", plate)
	found := make([]Finding, 0, 8)
	for _, f := range odd {
		found = append(found, stop(demanded, claimOf(f), "The %s gives a thickness limit of %q, which cannot be read: ask the engineer.", f.Provenance, f.Value))
	}
	for _, l := range limits {
		found = append(found, l.judge(demanded, plate, c.demand.Thickness))
	}
	once := c.plateInOnePass(demanded, plate)
	limited := once.Outcome == Passed || slices.ContainsFunc(limits, func(l plateLimit) bool { return !l.special })
	return worst(append(found, once, c.plateWithoutLimit(demanded, offered, limited))...)
}

// plate is the thickness in both units, to the hundredth of a millimetre.
func (c *comparison) plate() string {
	if c.plateText == "" {
		c.plateText = bothUnits(c.demand.Thickness)
	}
	return c.plateText
}

func bothUnits(l unit.Length) string {
	return fmt.Sprintf("%s (%s)", l.Millimetres(2), l.Inches())
}

func (l plateLimit) judge(demanded Claim, plate string, thickness unit.Length) Finding {
	offered := l.claim
	switch {
	case l.least && thickness < l.size:
		return finding(l.past, demanded, offered, "This wire is for plate of %s and more. The plate is %s.", []any{offered.said(), plate})
	case !l.least && thickness > l.size:
		return finding(l.past, demanded, offered, "This wire is %s for plate up to %s. The plate is %s: take another wire or ask the engineer.", []any{l.what, offered.said(), plate})
	case l.least:
		return passUnless(l.doubt, demanded, offered, "The plate is %s, not thinner than the wire's %s.", plate, offered.said())
	default:
		return passUnless(l.doubt, demanded, offered, "The plate is %s, within the wire's %s.", plate, offered.said())
	}
}

// plateWithoutLimit is the finding before any limit is looked at: nothing to
// hold against a multiple-pass wire, but a single-pass wire has a limit that
// somebody must know, and of an unknown wire nothing can be said.
func (c *comparison) plateWithoutLimit(demanded, offered Claim, limited bool) Finding {
	if !c.ownLimit() {
		for _, f := range c.named("max_thickness_of_the_wire") {
			return caution(demanded, claimOf(f), "Some wires of this class are for thin plate only: read this wire's own limit on the data sheet.")
		}
	}
	passes := c.passes()
	ok, doubt := passes.admits(MultiPass)
	switch {
	case limited:
		return Finding{Outcome: NotDemanded}
	case !passes.known || passes.conflict != nil:
		return stop(demanded, offered, "Nobody says what plate this wire is for: read the box. The plate is %s.", c.plate())
	case !ok:
		return caution(demanded, offered, "Single-pass wire, and its thickness limit is not known: read the data sheet. The plate is %s.", c.plate())
	}
	return passUnless(doubt, demanded, passes.vouch(MultiPass), "This wire's class sets no limit on plate thickness.")
}

// ownLimit reports whether data sheet or shop set a limit for this very wire.
func (c *comparison) ownLimit() bool {
	passes := c.demand.passes()
	return c.setByMaker("max_thickness") || c.setByMaker("max_thickness_of_the_wire") ||
		passes != MultiPass && c.setByMaker(onePassLimit) || passes != SinglePass && c.setByMaker("max_thickness_multi_pass")
}

func (c *comparison) setByMaker(name string) bool {
	_, ok := c.strongest(name, bySheet)
	return ok
}

// plateName is a fact that limits the plate, and what going past it does if the
// standard alone says so.
type plateName struct {
	name  string
	past  Outcome
	what  word
	least bool
}

// plateNames are the limits that hold for this joint. One of a kind nobody has
// named is held to all of them.
func (c *comparison) plateNames() []plateName {
	general := c.action("general_recommendation", Caution)
	out := append(make([]plateName, 0, 8),
		plateName{"max_thickness", general, recommended, false}, plateName{"max_thickness_of_the_wire", general, recommended, false},
		plateName{"max_sheet_thickness", general, recommended, false}, plateName{"min_thickness", general, recommended, true})
	if c.demand.passes() != SinglePass {
		out = append(out, plateName{"max_thickness_multi_pass", general, recommended, false})
	}
	fillet := c.demand.Joint == "tee" || c.demand.Joint == "lap"
	if !fillet {
		out = append(out, plateName{"max_thickness_butt_edge_corner", general, recommended, false})
	}
	if fillet || c.demand.Joint == "" {
		out = append(out, plateName{"max_thickness_tee_or_lap", general, recommended, false})
	}
	if c.demand.Prequalified {
		out = append(out, plateName{"max_thickness_d1_1_prequalified", c.action("prequalified_limit", Stops), prequalified, false})
	}
	return out
}

// plateLimits returns the limits that hold, strongest first of each name, and
// the facts of sheet or shop that cannot be read.
func (c *comparison) plateLimits() (limits []plateLimit, odd filler.Facts) {
	own := c.ownLimit()
	for _, n := range c.plateNames() {
		for _, f := range inOrder(c.named(n.name)) {
			s := strengthOf(f)
			replaced := own && n.what == recommended && s > bySheet // the maker has said otherwise
			if s == byPractice || replaced || saysNothing(f.Value) || f.Value == "any" {
				continue
			}
			size, ok := sizeOf(f)
			l := plateLimit{size: size, least: n.least, special: n.what == prequalified, past: n.past, what: n.what}
			switch {
			case !ok && s <= bySheet:
				odd = append(odd, f)
				continue
			case !ok:
				continue
			case s <= bySheet:
				l.past, l.what = Stops, word("limited by its "+f.Provenance)
			case s > byPublication:
				l.past = Caution
			}
			l.claim, l.doubt = claimOf(f), s.doubt()
			limits = append(limits, l)
		}
	}
	return limits, odd
}

// action is what the profile says going past a kind of limit does.
func (c *comparison) action(parameter string, otherwise Outcome) Outcome {
	var out Outcome
	for _, l := range c.limits(RuleThickness, parameter) {
		if l.pastIt().weight() > out.weight() {
			out = l.pastIt()
		}
	}
	return cmp.Or(out, otherwise)
}

// sizeOf reads a limit. The tables round inch limits to whole millimetres and
// note the inch form ("12 mm", note "1/2 in; ..."); a standard that prints two
// columns means either, so the larger holds.
func sizeOf(f filler.Fact) (unit.Length, bool) {
	size, err := parseLength(f.Value + " " + f.Unit)
	if err != nil {
		return 0, false
	}
	if strengthOf(f) > bySheet {
		note, _, _ := strings.Cut(f.Note, ";")
		if note == "" {
			return size, true
		}
		if inch, err := parseLength(note); err == nil && inch > size && inch < size+unit.Millimetre {
			size = inch
		}
	}
	return size, true
}

// plateClaim is all the limits in words.
func (c *comparison) plateClaim(limits []plateLimit) Claim {
	if len(limits) == 0 {
		return unknown()
	}
	out := limits[0].claim
	for _, l := range limits[1:] {
		more := l.claim
		if !strings.Contains(out.Text, more.Text) {
			out.Text += ", " + more.Text
		}
		if !strings.Contains(out.Source, more.Source) {
			out.Source += "; " + more.Source
		}
	}
	return out
}
