package fit

import (
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Offer is what one spool is and has been through. Of a zero field nothing is
// known.
type Offer struct {
	Spool           string       // its code
	Classifications []string     // canonical designations of its wire
	Facts           filler.Facts // those of other sizes too, with the condition [OneSize]
	Diameter        unit.Length
	LotNumber       string
	LotStatus       LotStatus
	LotReason       string // why the lot is not accepted
	Held            string // why this spool is on hold; empty if it is not
	Opened          bool
	Exposed         time.Duration // open so far, as far as it counts; zero if sealed
	ExposureUnknown string        // why nobody knows the exposure: it is then past every limit; empty if it is known
	Remedy          string        // what can be done about an exposure that is not known: a sentence; may be empty
	ShiftEnds       time.Time     // when the shift that uses it ends, in the shop's zone; zero is not known

	At             time.Time   // the instant of which the offer speaks; age and expiry count to it
	Net            unit.Grams  // wire left on the spool
	Package        Package     // how it is wound
	PackageNet     unit.Grams  // wire in a full package
	TestedExposure string      // by a test report of the lot: "120 h, 9 mL/100 g", as [ReadTestedExposure] writes it; empty if there is none
	Sealing        string      // how the package is sealed: [VacuumFoil] or anything else
	Certificate    Certificate // that came with the lot
	Origin         Origin      // of the lot
	Made           time.Time   // the day the lot was made
	Received       time.Time   // the day the lot came in
	Expires        time.Time   // the last day the box says it may be used
}

// VacuumFoil is the package that keeps longest (exposure_rules.csv E077).
const VacuumFoil = "vacuum foil"

// LotStatus is whether a lot may be used.
type LotStatus string

// The states of a lot.
const (
	LotAccepted LotStatus = "accepted"
	LotOnHold   LotStatus = "on hold"
	LotRejected LotStatus = "rejected"
)
