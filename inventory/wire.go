package inventory

import (
	"strings"
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
	Supplied        filler.Facts // what the data sheet and the shop add to the classification; see [SheetFacts]
	Version         int          // counts the changes of the wire, from 1
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
	return append(facts, w.holding()...), nil
}

// Conflicts returns on what box, data sheet and shop disagree; nil if on
// nothing. While there is one, no spool of the wire is issued.
func (w Wire) Conflicts() ([]fit.Conflict, error) {
	facts, err := w.Facts()
	if err != nil {
		return nil, err
	}
	return fit.Conflicts(facts), nil
}

// ofAnotherSize reports whether f holds for another size of the wire alone.
func (w Wire) ofAnotherSize(f filler.Fact) bool {
	size, one := diameterOf(f)
	return one && size != w.Diameter
}

// otherSizes returns what the sheet says of other sizes of the wire: the fit
// check names one that would do.
func (w Wire) otherSizes() filler.Facts {
	return without(w.Supplied, func(f filler.Fact) bool { return !w.ofAnotherSize(f) })
}

// holding returns the supplied facts that hold for the wire's own size, and
// the gas that follows from those approved. A self-shielded wire that may be
// run with gas stays one that needs none.
func (w Wire) holding() filler.Facts {
	facts := without(w.Supplied, w.ofAnotherSize)
	if len(facts.Named("gas")) > 0 || len(facts.Named("self_shielded_gas_permitted")) > 0 {
		return facts
	}
	var gases []string
	approved := facts.Named("approved_gas")
	for _, f := range approved {
		gases = append(gases, f.Value)
	}
	if len(gases) > 0 {
		facts = append(facts, filler.Fact{Name: "gas", Value: strings.Join(gases, " or "), Provenance: approved[0].Provenance, Source: approved[0].Source})
	}
	return facts
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
	Version     int    // how many decisions it has had
	Papers      LotPapers
}
