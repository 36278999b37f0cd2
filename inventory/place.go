package inventory

import (
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Place is where a spool can be.
type Place struct {
	Code    Code
	Name    string
	Kind    PlaceKind
	DryKept bool
	Version int // counts the changes, from 1
}

// PlaceKind is what sort of place it is.
type PlaceKind string

// The kinds of place.
const (
	Shelf      PlaceKind = "shelf"
	DryCabinet PlaceKind = "dry cabinet"
	Quarantine PlaceKind = "quarantine rack"
	AtFeeder   PlaceKind = "feeder"
)

// Feeder is a place that welds.
type Feeder struct {
	Place
	Polarities []fit.Polarity // what its source can give; empty is not known
	Gas        *fit.Gas       // what is connected; zero is no gas; nil is not known
	Diameters  []unit.Length  // the sizes its rolls and liner take; empty is not known

	Polarity       fit.Polarity  // as it is set now; empty is not known
	Rolls          fit.Rolls     // the drive rolls in it now; empty is not known
	RollSize       unit.Length   // of their groove; zero is not known
	Gun            unit.Length   // the thickest wire its gun takes; zero is not known
	Liner          unit.Length   // the thickest wire its liner takes; zero is not known
	Packages       []fit.Package // that its hub takes; empty is not known
	LargestPackage unit.Grams    // wire in the heaviest package it carries; zero is not known
}

// forFit returns the feeder as the fit check sees it; nil for no feeder.
func (f *Feeder) forFit() *fit.Feeder {
	if f == nil {
		return nil
	}
	return &fit.Feeder{Name: f.Name, Polarities: f.Polarities, Gas: f.Gas, Diameters: f.Diameters, Polarity: f.Polarity,
		Rolls: f.Rolls, RollSize: f.RollSize, Gun: f.Gun, Liner: f.Liner, Packages: f.Packages, LargestPackage: f.LargestPackage}
}

// Role is what a person does in the store.
type Role string

// The roles of design and store.
const (
	Attendant Role = "store attendant"
	Welder    Role = "welder"
	Buyer     Role = "buyer"
	Engineer  Role = "welding engineer"
	Owner     Role = "owner"
	Program   Role = "program" // of nobody: what the program itself enters, by rule; see [ExposureClock]
)

// MayIssue reports whether a person in this role may run the counter.
func (r Role) MayIssue() bool { return r == Attendant || r == Engineer || r == Owner }

// MayHold reports whether a person in this role may put a lot or spool on hold.
func (r Role) MayHold() bool { return r.MayIssue() }

// May reports whether a person in this role may enter a movement of the type.
// A welder opens a spool at the feeder, loads and unloads it; all else is the counter's, and what
// ends a hold is the engineer's.
func (r Role) May(t MovementType) bool {
	switch t {
	case Opened, Loaded, Unloaded:
		return r.MayIssue() || r == Welder
	case Released:
		return r.MayRelease()
	}
	return r.MayIssue()
}

// MayRelease reports whether a person in this role may end a hold: an
// attendant may start one, and only the engineer or owner ends it.
func (r Role) MayRelease() bool { return r == Engineer || r == Owner }
