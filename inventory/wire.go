package inventory

import (
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Wire is a filler metal as it can be bought: one maker's product in one size
// and package.
type Wire struct {
	ID              int64
	Maker           string
	TradeName       string
	Classifications []string // canonical designations, at least one
	Diameter        unit.Length
	Marked          string // the size as the box prints it: ".045 in (1.1 mm)"
	Package         string // "12 in spool"
	Net             unit.Grams
	Tare            unit.Grams
	Minimum         unit.Grams   // the shop's own minimum in stock; zero is none
	Supplied        filler.Facts // what the data sheet and the shop add to the classification
}

// Name is the wire in one line: trade name, classification and size.
func (w Wire) Name() string {
	name := w.TradeName
	for _, c := range w.Classifications {
		name += " " + c
	}
	return name + " " + w.Diameter.Inches()
}

// Facts returns all that is known of the wire: what its classifications say,
// then what data sheet and shop say. A classification that cannot be read is
// [Internal]: it was read when the wire was entered.
func (w Wire) Facts() (filler.Facts, error) {
	var facts filler.Facts
	for _, c := range w.Classifications {
		d, err := filler.Decode(c)
		if err != nil {
			return nil, err
		}
		facts = append(facts, d.Facts...)
	}
	return append(facts, w.Supplied...), nil
}

// Lot is one maker's production lot of one wire, as received.
type Lot struct {
	ID          int64
	WireID      int64
	Number      string // as the maker prints it
	Certificate string // the certificate's number; empty if none came
	ReceivedAt  time.Time
	Status      fit.LotStatus
	Reason      string // why it is not accepted
}
