package fit

import (
	"fmt"
	"slices"
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
}

// Profile is a body of rules as data: which limits hold and who says so.
type Profile struct {
	ID     string // "structural-steel"
	Name   string // "Structural steel, AWS D1.1"
	Limits []Limit
}

// The conditions under which a limit may hold. A condition that is none of
// these is taken to hold always.
const (
	OnlyFluxCored    = "flux cored"
	AllButSolid      = "all but solid"
	OnlyPrequalified = "prequalified"
)

// Waivable reports whether the welding engineer may waive rule r: whether the
// profile has a line for it with the parameter "waiver" and the value "yes".
func (p Profile) Waivable(r Rule) bool {
	return slices.ContainsFunc(p.Limits, func(l Limit) bool {
		return l.Rule == r && l.Parameter == "waiver" && l.Value == "yes"
	})
}

// limits returns the profile's lines for a parameter that hold for this wire
// and job. A condition on a form holds too if the form is not known.
func (c *comparison) limits(r Rule, parameter string) []Limit {
	var out []Limit
	for _, l := range c.profile.Limits {
		if l.Rule == r && l.Parameter == parameter && c.holds(l.Condition) {
			out = append(out, l)
		}
	}
	return out
}

func (c *comparison) holds(condition string) bool {
	form := c.form()
	switch condition {
	case OnlyFluxCored:
		return !is(form, solid) && !is(form, metalCored)
	case AllButSolid:
		return !is(form, solid)
	case OnlyPrequalified:
		return c.demand.Prequalified
	}
	return true
}

// confirmed reports whether the limit counts in full: published, or from
// memory or practice and confirmed by somebody in the shop.
func (l Limit) confirmed() bool {
	switch l.Provenance {
	case filler.Published, filler.DataSheet, filler.Shop:
		return true
	}
	return l.ConfirmedBy != ""
}

// pastIt is what going past the limit does. One that is not confirmed only
// cautions.
func (l Limit) pastIt() Outcome {
	if l.Action == Caution || !l.confirmed() {
		return Caution
	}
	return Stops
}

// reserve is the sentence that an unconfirmed limit carries, with a space
// before it; empty if it is confirmed.
func (l Limit) reserve() string {
	if l.confirmed() {
		return ""
	}
	return fmt.Sprintf(" That limit is from %s: have the shop confirm it.", l.Provenance)
}

// doubt is reserve as a doubt about a match.
func (l Limit) doubt() string { return strings.TrimSpace(l.reserve()) }

// claim is the limit as a demand, with its authority.
func (l Limit) claim(text string) Claim {
	c := Claim{text, l.Source, l.Provenance}
	if c.Source == "" {
		c.Source = fmt.Sprintf("rule profile, %s", l.Provenance)
	}
	if l.ConfirmedBy != "" {
		c.Source += fmt.Sprintf("; confirmed by %s on %s", l.ConfirmedBy, l.ConfirmedOn)
		c.Provenance = filler.Shop
	}
	return c
}
