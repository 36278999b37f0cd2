package inventory

import (
	"context"
	"fmt"
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
	Place       Code
	Spools      int        // how many packages
	Net         unit.Grams // of each; zero is the wire's own package weight

	// Box answers the wire's [Wire.BoxQuestions], all of them; nil leaves them
	// unasked: what rests on memory still does, and cautions at each issue.
	Box []BoxAnswer
}

const mostReceived = 500 // packages in one receipt

// Receive enters a delivery: a new lot and a code for each spool. A lot
// without a certificate, or whose box does not say what is remembered of its
// wire, is put on hold. Repeating the request key returns the
// spools of the first time.
func (l *Ledger) Receive(ctx context.Context, r Receipt) (Lot, []Spool, error) {
	if err := r.check(); err != nil {
		return Lot{}, nil, err
	}
	now := l.at()
	var lot Lot
	var spools []Spool
	err := l.store.Write(ctx, func(tx Tx) error {
		before, err := tx.Requested(r.RequestKey)
		if err != nil {
			return err
		}
		if len(before) > 0 {
			lot, spools, err = receivedAgain(tx, before)
			return err
		}
		wire, err := r.things(tx)
		if err != nil {
			return err
		}
		box, err := r.read(wire)
		if err != nil {
			return err
		}
		if lot, err = r.newLot(tx, box, now); err != nil {
			return err
		}
		if err := box.keep(tx, wire, lot, r.Person, r.RequestKey, now); err != nil {
			return err
		}
		spools, err = r.newSpools(tx, lot, wire, now)
		return err
	})
	return lot, spools, err
}

func (r Receipt) check() error {
	switch {
	case r.LotNumber == "" || len(r.LotNumber) > 40:
		return Invalidf("lot_number", "give the lot number as the maker prints it, at most 40 characters")
	case r.Spools < 1 || r.Spools > mostReceived:
		return Invalidf("spools", "give how many packages came, 1 to %d", mostReceived)
	case r.Net < 0:
		return Invalidf("net", "a weight is not below zero")
	}
	return Entry{Spool: "W", Person: r.Person, RequestKey: r.RequestKey}.check()
}

// things reads what the receipt names and checks that it is there.
func (r Receipt) things(tx Tx) (Wire, error) {
	if _, err := tx.Person(r.Person); err != nil {
		return Wire{}, err
	}
	if err := standsIn(tx, r.Place); err != nil {
		return Wire{}, err
	}
	return tx.Wire(r.WireID)
}

func (r Receipt) newLot(tx Tx, box reading, now time.Time) (lot Lot, err error) {
	lot = Lot{WireID: r.WireID, Number: r.LotNumber, Certificate: r.Certificate,
		ReceivedAt: Entry{At: r.At}.when(now), Status: fit.LotAccepted}
	if r.Certificate == "" {
		lot.Status, lot.Reason = fit.LotOnHold, "no certificate came with it"
	}
	box.hold(&lot)
	if lot.ID, err = tx.AddLot(lot); err != nil {
		return lot, fmt.Errorf("lot %s: %w", r.LotNumber, err)
	}
	return lot, nil
}

func (r Receipt) newSpools(tx Tx, lot Lot, wire Wire, now time.Time) ([]Spool, error) {
	net := r.Net
	if net == 0 {
		net = wire.Net
	}
	spools := make([]Spool, 0, r.Spools)
	for range r.Spools {
		code, err := tx.NextCode(SpoolCode)
		if err != nil {
			return nil, err
		}
		e := Entry{Spool: code, Person: r.Person, RequestKey: r.RequestKey, At: r.At}
		m := Movement{Type: Received, LotID: lot.ID, To: r.Place, Net: &net, Tare: &wire.Tare}
		s, err := appendAll(tx, Spool{}, []Movement{m}, e, now)
		if err != nil {
			return nil, err
		}
		spools = append(spools, s)
	}
	return spools, nil
}

// receivedAgain returns what the request brought the first time.
func receivedAgain(tx Tx, before []Movement) (Lot, []Spool, error) {
	spools := make([]Spool, 0, len(before))
	for _, m := range before {
		if m.Type != Received {
			return Lot{}, nil, repeated(before, "", Received)
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
