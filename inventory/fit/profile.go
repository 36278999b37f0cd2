package fit

import (
	"cmp"
	"fmt"
	"strings"

	"wirehold/inventory/filler"
)

// Limit is one line of a rule profile: a number or word with its authority.
type Limit struct {
	Rule        Rule
	Parameter   string  // "wind_max"
	Value       string  // with its unit as the unit package reads it: "5 mph"
	Condition   string  // one of the Conditions; empty is always
	Action      Outcome // what going past it does: Stops or Caution; empty is Stops
	Provenance  filler.Provenance
	Source      string
	Note        string
	ConfirmedBy string // who in the shop confirmed a memory or practice limit; empty if nobody
	ConfirmedOn string // the date, YYYY-MM-DD
	LoosenedBy  string // the engineer who set it below the original; empty if nobody did
	LoosenedOn  string // the date, YYYY-MM-DD
	LoosenedWhy string // the reason, which goes with every finding
}

// Profile is a body of rules as data: which limits hold and who says so.
type Profile struct {
	ID     string // "structural-steel"
	Name   string // "Structural steel, AWS D1.1"
	Base   string // the id of the profile it was copied from; empty if it came with the program
	Limits []Limit
}

// The conditions under which a limit may hold; of several, parted by ", ", all
// must. A condition that is none of these is taken to hold always, and one on
// the wire or its package holds too if that is not known.
const (
	OnlyFluxCored    = "flux cored"
	AllButSolid      = "all but solid"
	OnlySolid        = "solid"
	OnlyStainless    = "stainless"
	AllButStainless  = "all but stainless"
	OnlyInFoil       = VacuumFoil
	AllButInFoil     = "other package" // than vacuum foil
	OnlyPrequalified = "prequalified"
	OnlyToughness    = "toughness demanded"
	OnlyDated        = "date on record" // that of manufacture or test, from which the limit counts
)

// conditions are those above.
func conditions() []string {
	return []string{OnlyFluxCored, AllButSolid, OnlySolid, OnlyStainless, AllButStainless, OnlyInFoil, AllButInFoil, OnlyPrequalified, OnlyToughness, OnlyDated}
}

// Waivable reports whether the welding engineer may waive rule r: whether the
// profile has a line for it with the parameter "waiver" and the value "yes".
func (p Profile) Waivable(r Rule) bool {
	for i := range p.Limits {
		if l := &p.Limits[i]; l.Rule == r && l.Parameter == "waiver" && l.Value == "yes" {
			return true
		}
	}
	return false
}

// limits returns the profile's lines for a parameter that hold for this wire
// and job, which are not to be changed. A condition on a form holds too if the
// form is not known.
func (c *comparison) limits(r Rule, parameter string) []*Limit {
	var out []*Limit
	for i := range c.profile.Limits {
		if l := &c.profile.Limits[i]; l.Rule == r && l.Parameter == parameter && c.holds(l) {
			out = append(out, l)
		}
	}
	return out
}

// holds reports whether all of a limit's conditions do.
func (c *comparison) holds(l *Limit) bool {
	if l.Condition == "" {
		return true
	}
	for condition := range strings.SplitSeq(l.Condition, ", ") {
		if !c.meets(condition, l.Rule) {
			return false
		}
	}
	return true
}

func (c *comparison) meets(condition string, r Rule) bool {
	switch condition {
	case OnlyFluxCored:
		return !is(c.form(), solid) && !is(c.form(), metalCored)
	case AllButSolid:
		return !is(c.form(), solid)
	case OnlySolid:
		return !is(c.form(), fluxCored) && !is(c.form(), metalCored)
	case OnlyStainless:
		return !is(c.deposit(), carbonSteel) && !is(c.deposit(), lowAlloySteel) && !is(c.deposit(), aluminiumAlloy)
	case AllButStainless:
		return !is(c.deposit(), stainlessSteel)
	case OnlyInFoil:
		return c.offer.Sealing == VacuumFoil || c.offer.Sealing == ""
	case AllButInFoil:
		return c.offer.Sealing != VacuumFoil
	case OnlyPrequalified:
		return c.demand.Prequalified
	case OnlyToughness:
		return !c.demand.Toughness.IsZero() || len(c.limits(RuleToughness, "toughness_min")) > 0
	case OnlyDated:
		return c.dated(r)
	}
	return true
}

// dated reports whether the day is on record from which a limit of r counts.
func (c *comparison) dated(r Rule) bool {
	if r == RuleCertificate {
		return !c.offer.Certificate.Tested.IsZero()
	}
	return !c.offer.Made.IsZero()
}

// title names the profile in a sentence.
func (p Profile) title() string { return cmp.Or(p.Name, p.ID, "the rule profile") }

// confirmed reports whether the limit counts in full: published, or from
// memory or practice and confirmed by somebody in the shop.
func (l *Limit) confirmed() bool {
	switch l.Provenance {
	case filler.Published, filler.DataSheet, filler.Shop:
		return true
	}
	return l.ConfirmedBy != ""
}

// pastIt is what going past the limit does. One that is not confirmed only
// cautions.
func (l *Limit) pastIt() Outcome {
	if l.Action == Caution || !l.confirmed() {
		return Caution
	}
	return Stops
}

// reserve is the sentence that an unconfirmed limit carries; nil if it is
// confirmed.
func (l *Limit) reserve() *Message {
	if l.confirmed() {
		return nil
	}
	return say("That limit is from %s: have the shop confirm it.", l.Provenance)
}

// claim is the limit as a demand, with its authority.
func (l *Limit) claim(text string) Claim {
	c := Claim{Text: text, Source: l.Source, Provenance: l.Provenance}
	if c.Source == "" {
		c.Source = fmt.Sprintf("rule profile, %s", l.Provenance)
	}
	if l.ConfirmedBy != "" {
		c.Source += fmt.Sprintf("; confirmed by %s on %s", l.ConfirmedBy, l.ConfirmedOn)
		c.Provenance = filler.Shop
	}
	if l.LoosenedBy != "" {
		c.Source += fmt.Sprintf("; loosened by %s on %s: %s", l.LoosenedBy, l.LoosenedOn, l.LoosenedWhy)
		c.Provenance = filler.Shop
	}
	return c
}
