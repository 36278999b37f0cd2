package main

import (
	"fmt"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// driedWire is the wire whose invented sheet allows drying, and plasticWire one
// whose sheet does too, but whose spool does not bear it.
const driedWire, plasticWire = "Birch Core 6", "Birch Two-Gas 1"

// clocks are the spools of the yard on which the exposure clock is to be seen
// at work.
type clocks struct {
	paused  inventory.Code // open, in a dry cabinet
	dried   inventory.Code // its exposure is back at zero
	damaged inventory.Code // its package was torn when it came
	plastic inventory.Code // open, and not to be dried
}

// showClocks receives a lot of which one package is torn, opens some of it and
// dries one spool, all in the last days of the yard. It draws no lots, so that
// whatever came before stays as it is.
func (h *history) showClocks() error {
	h.clock = h.end
	dried, err := h.lately(driedWire, "B26-951", 4, 1)
	if err != nil {
		return err
	}
	plastic, err := h.lately(plasticWire, "B26-952", 2, 0)
	if err != nil {
		return err
	}
	c := clocks{paused: dried[0].Code, dried: dried[1].Code, damaged: dried[3].Code, plastic: plastic[0].Code}
	cabinet := h.yard.placeNamed("Dry cabinet 2")
	oven, err := h.ledger.AddPlace(h.ctx, inventory.Place{Name: "Drying oven", Kind: inventory.Shelf})
	if err != nil {
		return err
	}
	open := func(spool inventory.Code, hours int) error {
		_, err := h.ledger.Open(h.ctx, h.ago(spool, hours))
		return err
	}
	for _, o := range []struct {
		spool inventory.Code
		hours int
	}{{c.paused, 60}, {c.dried, 160}, {c.plastic, 90}} {
		if err := open(o.spool, o.hours); err != nil {
			return fmt.Errorf("open %s: %w", o.spool, err)
		}
	}
	if _, err := h.ledger.Move(h.ctx, h.ago(c.paused, 29), cabinet); err != nil {
		return fmt.Errorf("into the cabinet: %w", err)
	}
	how := inventory.Dry{Entry: h.ago(c.dried, 24), From: h.end.Add(-32 * time.Hour), Oven: oven.Code, Heat: 130 * unit.Degree, Held: 6 * time.Hour, Place: cabinet, Material: inventory.MetalSpool}
	if _, err := h.ledger.Dry(h.ctx, how); err != nil {
		return fmt.Errorf("dry %s: %w", c.dried, err)
	}
	h.yard.clocks = c
	return h.lookAtClimate()
}

// lately receives a lot of the wire, nine days ago.
func (h *history) lately(tradeName, lot string, spools, damaged int) ([]inventory.Spool, error) {
	e := h.ago("", 9*24)
	_, received, err := h.ledger.Receive(h.ctx, inventory.Receipt{Person: e.Person, RequestKey: e.RequestKey, At: e.At, WireID: h.named(tradeName).ID, LotNumber: lot, Certificate: "MTC-" + lot,
		Place: h.yard.placeNamed("Shelf A2"), Spools: spools, Damaged: damaged})
	if err != nil {
		return nil, fmt.Errorf("lot %s: %w", lot, err)
	}
	return received, nil
}

// ago is an entry of an attendant, so many hours before the end.
func (h *history) ago(spool inventory.Code, hours int) inventory.Entry {
	e := h.entry(spool, h.withRole(inventory.Attendant)[0])
	e.At = h.end.Add(-time.Duration(hours) * time.Hour)
	return e
}

// lookAtClimate raises the alerts about what the loggers say, and marks the
// messages of them as sent, as of all others of the yard.
func (h *history) lookAtClimate() error {
	if _, _, err := h.ledger.SweepClimate(h.ctx, h.clock); err != nil {
		return err
	}
	return h.send()
}
