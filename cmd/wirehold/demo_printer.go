package main

import (
	"context"
	"fmt"
	"sync/atomic"
	"time"

	"wirehold/inventory"
	"wirehold/labels"
	"wirehold/server/notify"
	"wirehold/server/notify/ipp"
)

// The demo's printer has an address that no network has: names that end in
// .invalid are reserved to be nobody's (RFC 6761 section 6.4). The demo answers
// for it itself.
const (
	inventedAddress = "ipp://label-printer.invalid/ipp/print"
	inventedPrinter = "Invented printer (prints nothing)"
)

// paperless is the demo's printer: it takes what it is sent and prints nothing.
type paperless struct{ jobs atomic.Int64 }

// Print takes a document.
func (p *paperless) Print(context.Context, ipp.Document) (job int, err error) {
	return int(p.jobs.Add(1)), nil
}

// reach answers for the demo's printer; any other is reached as it is.
func (p *paperless) reach(others func(string) (notify.Printer, error)) func(string) (notify.Printer, error) {
	return func(address string) (notify.Printer, error) {
		if address == inventedAddress {
			return p, nil
		}
		return others(address)
	}
}

// ask answers for the demo's printer; any other is asked.
func (p *paperless) ask(ctx context.Context, address string) (inventory.PrinterAnswer, error) {
	if address == inventedAddress {
		return inventory.PrinterAnswer{Name: inventedPrinter, Model: "part of the demo", State: "idle", Accepting: true,
			Formats: []string{"application/pdf", "image/png"}, Resolutions: []int{203}}, nil
	}
	return askPrinter(ctx, address)
}

// printSome enters the printer and queues labels for it: what was printed, and
// what it was given up for.
func (h *history) printSome() error {
	p, err := h.ledger.EnterPrinter(h.ctx, inventory.PrinterEntry{Edit: inventory.Edit{Person: h.engineer().Code, RequestKey: "demo-printer"},
		Of: inventory.Printer{Name: inventedPrinter, Address: inventedAddress, DPI: 203, Size: "100x75", Format: "pdf"}})
	if err != nil {
		return fmt.Errorf("printer: %w", err)
	}
	var feeders, hubs []string
	for _, f := range h.feeders {
		feeders = append(feeders, string(f.Code))
	}
	for _, s := range h.outNow[:min(2, len(h.outNow))] {
		hubs = append(hubs, string(s.Code))
	}
	for _, print := range []struct {
		kind  labels.Kind
		of    []string
		fault string // why it was given up; empty if it was printed
	}{{labels.KindFeeder, feeders, ""}, {labels.KindHub, hubs, "the printer says: device error (it has no labels left)"}} {
		if err := h.print(p, print.kind, print.of, print.fault); err != nil {
			return fmt.Errorf("print %s labels: %w", print.kind, err)
		}
	}
	return nil
}

// print queues labels and settles the print job.
func (h *history) print(on inventory.Printer, kind labels.Kind, of []string, fault string) error {
	_, err := h.ledger.Print(h.ctx, inventory.PrintOrder{Person: h.withRole(inventory.Attendant)[0].Code, RequestKey: "demo-print-" + string(kind), PrinterID: on.ID, Kind: string(kind), Of: of})
	if err != nil {
		return err
	}
	task, _, err := h.ledger.ClaimPrint(h.ctx, "demo-print-"+string(kind), h.clock, h.clock.Add(time.Minute))
	switch {
	case err != nil:
		return err
	case fault != "":
		return h.ledger.PrintFailed(h.ctx, task, fault, h.clock, time.Time{})
	}
	return h.ledger.PrintTaken(h.ctx, task, 40+int(task.ID), h.clock) // of another day than those it takes now
}
