package inventory

import (
	"cmp"
	"context"
	"fmt"
	"strings"
	"time"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Receipt is a delivery of one lot of one wire.
type Receipt struct {
	Person      Code
	RequestKey  string
	At          time.Time // when it came; zero is now
	WireID      int64
	LotNumber   string
	Certificate string // empty puts the lot on hold until it comes
	Papers      LotPapers
	Place       Code
	Spools      int        // how many packages
	Damaged     int        // how many of them are torn or punctured: the last ones of those received; see [Ledger.FoundDamaged]
	Net         unit.Grams // of each; zero is the wire's own package weight
	Product     Product    // that the box bears; linked to the wire if it is linked to none; empty if it was not scanned

	// Box answers the wire's [Wire.BoxQuestions], all of them; nil leaves them
	// unasked: what rests on memory still does, and cautions at each issue.
	Box []BoxAnswer
}

const mostReceived = 500 // packages in one receipt

// Receive enters a delivery: a code for each spool, and a new lot unless the
// wire has one of that number. A new lot without a certificate, or whose box
// does not say what is remembered of its wire, is put on hold. Repeating the
// request key returns the spools of the first time.
func (l *Ledger) Receive(ctx context.Context, r Receipt) (lot Lot, spools []Spool, err error) {
	if r, err = r.tidied(); err != nil {
		return Lot{}, nil, err
	}
	now := l.at()
	err = l.store.Write(ctx, func(tx Tx) error {
		before, err := tx.Requested(r.RequestKey)
		if err != nil {
			return err
		}
		if len(before) > 0 {
			lot, spools, err = r.again(tx, before)
			return err
		}
		wire, err := r.things(tx)
		if err != nil {
			return err
		}
		linked, err := r.link(tx, wire)
		if err != nil {
			return err
		}
		box, err := r.read(wire)
		if err != nil {
			return err
		}
		box.linked = linked
		if lot, err = r.lot(tx, box, now); err != nil {
			return err
		}
		if err := box.keep(tx, wire, lot, r.Person, r.RequestKey, r.wish(), now); err != nil {
			return err
		}
		spools, err = r.newSpools(tx, lot, wire, now)
		return err
	})
	return lot, spools, err
}

const longestLotNumber, longestCertificate = 40, 80 // characters

func (r Receipt) tidied() (Receipt, error) {
	var err error
	if r.LotNumber, err = tidy("lot_number", r.LotNumber, longestLotNumber); err != nil {
		return r, err
	}
	if r.Certificate, err = tidy("certificate", r.Certificate, longestCertificate); err != nil {
		return r, err
	}
	switch {
	case r.LotNumber == "":
		return r, Invalidf("lot_number", "give the lot number as the maker prints it")
	case r.Spools < 1 || r.Spools > mostReceived:
		return r, Invalidf("spools", "give how many packages came, 1 to %d", mostReceived)
	case r.Damaged < 0 || r.Damaged > r.Spools:
		return r, Invalidf("damaged", "give how many of the %d packages are torn or punctured, 0 to %d", r.Spools, r.Spools)
	case r.Net < 0:
		return r, Invalidf("net", "a weight is not below zero")
	}
	return r, Entry{Spool: "W", Person: r.Person, RequestKey: r.RequestKey}.check()
}

// wish is the digest of what the receipt asks for.
func (r Receipt) wish() string {
	parts := []any{Received, r.At, r.WireID, r.LotNumber, r.Certificate, r.Place, r.Spools, r.Net, r.Box}
	if r.Product != "" { // a receipt from before there were product numbers keeps its digest
		parts = append(parts, r.Product)
	}
	if !r.Papers.IsZero() { // so does one from before papers were kept
		parts = append(parts, "papers", fmt.Sprintf("%q", r.Papers))
	}
	if r.Damaged > 0 { // and so does one of whole packages
		parts = append(parts, "damaged", r.Damaged)
	}
	return wish(parts...)
}

// things reads what the receipt names and checks that it is there.
func (r Receipt) things(tx Tx) (Wire, error) {
	if err := may(tx, r.Person, Received); err != nil {
		return Wire{}, err
	}
	if err := standsIn(tx, r.Place); err != nil {
		return Wire{}, err
	}
	return tx.Wire(r.WireID)
}

// link links the product number on the box to the wire, if it gives one.
func (r Receipt) link(tx Tx, wire Wire) (what []string, err error) {
	if r.Product == "" {
		return nil, nil
	}
	return linkProduct(tx, r.Product, wire)
}

// lot returns the wire's lot of the number; a new one, with its first
// decision, if there is none.
func (r Receipt) lot(tx Tx, box reading, now time.Time) (Lot, error) {
	lot, err := tx.LotNumbered(r.WireID, r.LotNumber)
	switch KindOf(err) {
	case "":
		return r.more(tx, lot, box, now)
	case NotFound:
	default:
		return lot, err
	}
	lot = Lot{WireID: r.WireID, Number: r.LotNumber, Certificate: r.Certificate,
		ReceivedAt: Entry{At: r.At}.when(now), Status: fit.LotAccepted, Papers: r.Papers}
	if err := faultsError(lot.Papers.faults(lot.Certificate, lot.ReceivedAt, now)); err != nil {
		return lot, err
	}
	if r.Certificate == "" {
		lot.Status, lot.Reason = fit.LotOnHold, "no certificate came with it"
	}
	box.hold(&lot)
	if lot.ID, err = tx.AddLot(lot); err != nil {
		return lot, fmt.Errorf("lot %s: %w", r.LotNumber, err)
	}
	return decide(tx, lot, r.decision(lot, now))
}

// more is a second delivery of a lot. What its box does not confirm puts the
// whole lot on hold.
func (r Receipt) more(tx Tx, lot Lot, box reading, now time.Time) (Lot, error) {
	switch {
	case lot.Status == fit.LotRejected:
		return lot, Refusedf("lot-rejected", "lot %s is rejected (%s): its spools are not received", lot.Number, lot.Reason)
	case r.Certificate != "" && lot.Certificate != "" && r.Certificate != lot.Certificate:
		return lot, Conflictf("lot-certificate", "lot %s came with certificate %s, not %s: look at both", lot.Number, lot.Certificate, r.Certificate)
	}
	next := lot
	next.Certificate = cmp.Or(lot.Certificate, r.Certificate)
	box.hold(&next)
	if err := r.addPapers(&next, now); err != nil {
		return lot, err
	}
	if next == lot {
		return lot, nil
	}
	return decide(tx, lot, r.decision(next, now))
}

// addPapers adds to the lot what only the papers of this delivery say. Where
// both say something and not the same it is a [Conflict].
func (r Receipt) addPapers(lot *Lot, now time.Time) error {
	came := r.Papers
	if err := faultsError(came.faults(lot.Certificate, lot.ReceivedAt, now)); err != nil {
		return err
	}
	joined, disagree := lot.Papers.joined(came)
	if len(disagree) == 0 {
		lot.Papers = joined
		return faultsError(lot.Papers.faults(lot.Certificate, lot.ReceivedAt, now))
	}
	var says []string
	err := Conflictf("lot-papers", "")
	for _, f := range disagree {
		mine, other := *f.value(&lot.Papers), *f.value(&came)
		says = append(says, fmt.Sprintf("%s %s, and this delivery says %s", f.Label, mine, other))
		err.Fields = append(err.Fields, FieldFault{f.Name, "the lot is on record with " + mine})
	}
	err.Detail = fmt.Sprintf("lot %s is on record with %s: look at both boxes and papers, then enter what is right here or on the lot's page", lot.Number, strings.Join(says, "; "))
	return err
}

// decision is what the receipt decides about the lot.
func (r Receipt) decision(lot Lot, now time.Time) LotDecision {
	return LotDecision{Status: lot.Status, Reason: lot.Reason, Certificate: lot.Certificate, Papers: lot.Papers, Person: r.Person,
		RequestKey: r.RequestKey, Request: r.wish(), DecidedAt: now}
}

func (r Receipt) newSpools(tx Tx, lot Lot, wire Wire, now time.Time) ([]Spool, error) {
	net := r.Net
	if net == 0 {
		net = wire.Net
	}
	wish, spools := r.wish(), make([]Spool, 0, r.Spools)
	for n := range r.Spools {
		code, err := tx.NextCode(SpoolCode)
		if err != nil {
			return nil, err
		}
		e := Entry{Spool: code, Person: r.Person, RequestKey: r.RequestKey, At: r.At}
		came := []Movement{{Type: Received, LotID: lot.ID, To: r.Place, Net: &net, Tare: &wire.Tare}}
		if n >= r.Spools-r.Damaged {
			came = append(came, Movement{Type: Damaged, Reason: "torn or punctured when it came"})
		}
		s, err := appendAll(tx, Spool{}, came, e, wish, now)
		if err != nil {
			return nil, err
		}
		spools = append(spools, s)
	}
	return spools, nil
}

// again returns what the request brought the first time.
func (r Receipt) again(tx Tx, before []Movement) (Lot, []Spool, error) {
	if err := repeated(before, r.wish()); err != nil {
		return Lot{}, nil, err
	}
	spools := make([]Spool, 0, len(before))
	for _, m := range before {
		if m.Type != Received {
			continue
		}
		s, err := tx.Spool(m.Spool)
		if err != nil {
			return Lot{}, nil, err
		}
		spools = append(spools, s)
	}
	lot, err := tx.Lot(before[0].LotID)
	return lot, spools, err
}
