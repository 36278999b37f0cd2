package fit

import "wirehold/inventory/filler"

// Limit is one line of a rule profile: a number or word with its authority.
type Limit struct {
	Rule        Rule
	Parameter   string // "wind_max"
	Value       string // with its unit as the unit package reads it: "5 mph"
	Condition   string
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
