package main

import (
	"context"
	"net/http"
	"time"

	"wirehold/inventory"
	"wirehold/server/notify/ipp"
)

// askTime is how long a printer may take to say what it is: somebody waits for
// the page.
const askTime = 5 * time.Second

// mostAsked is how many jobs a printer is asked for.
const mostAsked = 20

// askPrinter asks the printer at an address what it is and which jobs it has.
// The error is [inventory.Unavailable] where it does not answer or refuses.
func askPrinter(ctx context.Context, address string) (inventory.PrinterAnswer, error) {
	ctx, cancel := context.WithTimeout(ctx, askTime)
	defer cancel()
	printer, err := ipp.New(address, "wirehold", new(http.Client))
	if err != nil {
		return inventory.PrinterAnswer{}, silent(err)
	}
	d, err := printer.Describe(ctx)
	if err != nil {
		return inventory.PrinterAnswer{}, silent(err)
	}
	a := inventory.PrinterAnswer{Name: d.Name, Model: d.Model, State: d.State, Reasons: d.Reasons, Accepting: d.Accepting, Formats: d.Formats, Resolutions: d.Resolutions, Media: d.Media}
	jobs, err := printer.Jobs(ctx, mostAsked)
	if err != nil {
		return inventory.PrinterAnswer{}, silent(err)
	}
	for _, j := range jobs {
		a.Jobs = append(a.Jobs, inventory.PrinterJob{Number: j.ID, Name: j.Name, State: j.State.String()})
	}
	return a, nil
}

// silent is a printer that gives no answer; why may be shown, as in the print
// queue.
func silent(err error) error {
	return &inventory.Error{Kind: inventory.Unavailable, Code: "printer-silent", Detail: "the printer gives no answer: " + err.Error() + ". Is it on, and is its address right?", Err: err}
}
