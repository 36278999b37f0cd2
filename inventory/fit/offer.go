package fit

import (
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Offer is what one spool is and has been through.
type Offer struct {
	Spool           string   // its code
	Classifications []string // canonical designations of its wire
	Facts           filler.Facts
	Diameter        unit.Length
	LotNumber       string
	LotStatus       LotStatus
	LotReason       string // why the lot is not accepted
	Held            string // why this spool is on hold; empty if it is not
	Opened          bool
	Exposed         time.Duration // open so far; zero if sealed
}

// LotStatus is whether a lot may be used.
type LotStatus string

// The states of a lot.
const (
	LotAccepted LotStatus = "accepted"
	LotOnHold   LotStatus = "on hold"
	LotRejected LotStatus = "rejected"
)
