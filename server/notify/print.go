package notify

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"wirehold/inventory"
	"wirehold/server/notify/ipp"
)

// PrintQueue lends print jobs and keeps how they went; [inventory.Ledger] is
// one.
type PrintQueue interface {
	ClaimPrint(ctx context.Context, claim string, at, until time.Time) (inventory.PrintTask, bool, error)
	PrintTaken(ctx context.Context, t inventory.PrintTask, remote int, at time.Time) error
	PrintFailed(ctx context.Context, t inventory.PrintTask, fault string, at, next time.Time) error
}

// Drawn is a document that is ready for a printer.
type Drawn struct {
	Format string // its media type
	Data   []byte
}

// Printing sends queued labels to their printers, one print job at a time. If
// the program dies after a printer took a job and before that is written down,
// the labels are printed once more.
type Printing struct {
	Queue PrintQueue
	// Draw draws the labels of a print job, for its printer; one document or,
	// for a format that holds one page, several. An [*inventory.Error] that is
	// no [inventory.Unavailable] is the labels' own fault: they are given up.
	Draw func(ctx context.Context, t inventory.PrintTask) ([]Drawn, error)
	// Reach returns the printer at an address.
	Reach  func(address string) (Printer, error)
	Log    *slog.Logger
	Now    func() time.Time
	NewID  func() string  // a word that was never given out
	Chance func() float64 // from 0 up to 1
}

// Printer prints one document and returns its own number of the job.
type Printer interface {
	Print(ctx context.Context, d ipp.Document) (job int, err error)
}

// printRound is the time between two looks into the queue: somebody stands
// before the printer and waits.
const printRound = time.Second

// Run prints until ctx ends, then waits for the job under way.
func (p *Printing) Run(ctx context.Context) error {
	tick := time.NewTicker(printRound)
	defer tick.Stop()
	for {
		if err := p.Round(ctx); err != nil && ctx.Err() == nil {
			p.Log.Error("print_queue_failed", "error", err)
		}
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
		}
	}
}

// Round prints what is due. The error is that of the queue: one of a printer is
// kept with the job.
func (p *Printing) Round(ctx context.Context) error {
	for ctx.Err() == nil {
		at := p.Now()
		t, ok, err := p.Queue.ClaimPrint(ctx, p.NewID(), at, at.Add(loan))
		if err != nil || !ok {
			return err
		}
		if err := p.one(ctx, t); err != nil {
			return err
		}
	}
	return nil
}

// one tries one print job and keeps how it went. A program that is being
// stopped finishes the job that it has begun.
func (p *Printing) one(ctx context.Context, t inventory.PrintTask) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), tryTime)
	defer cancel()
	remote, failed := p.print(ctx, t)
	at := p.Now()
	keep, done := context.WithTimeout(context.WithoutCancel(ctx), tryTime)
	defer done()
	log := p.Log.With("print_job", t.ID, "printer", t.On.Name, "labels", len(t.Labels), "try", t.Tries)
	if failed == nil {
		log.Info("labels_printed", "remote", remote)
		return p.Queue.PrintTaken(keep, t, remote, at)
	}
	var next time.Time
	if _, never := errors.AsType[*Refused](failed); !never && t.Tries < mostPrintTries {
		next = at.Add(printPause(t.Tries, p.Chance()))
	}
	log.Warn("labels_not_printed", "error", failed, "given_up", next.IsZero())
	return p.Queue.PrintFailed(keep, t, failed.Error(), at, next)
}

// print draws the labels and sends them.
func (p *Printing) print(ctx context.Context, t inventory.PrintTask) (remote int, err error) {
	if t.On.Retired() {
		return 0, refused("printer %s is not used any more: print on another", t.On.Name)
	}
	documents, err := p.Draw(ctx, t)
	if e, ok := errors.AsType[*inventory.Error](err); ok && e.Kind != inventory.Unavailable && e.Kind != inventory.Internal {
		return 0, refused("the labels cannot be drawn: %s", e.Detail)
	}
	if err != nil {
		return 0, err
	}
	printer, err := p.Reach(t.On.Address)
	if err != nil {
		return 0, refused("%s", err)
	}
	for _, d := range documents {
		remote, err = printer.Print(ctx, ipp.Document{Name: "Wirehold print job " + t.Name(), Format: d.Format, Data: d.Data})
		if ipp.IsPermanent(err) {
			return 0, refused("%s", err)
		}
		if err != nil {
			return 0, err
		}
	}
	return remote, nil
}

// mostPrintTries is how often a print job is tried before it is given up: with
// the pauses below, for about an hour. Whoever wanted labels has long gone to
// another printer.
const mostPrintTries = 20

// printPause returns how long to wait after a try: five seconds after the
// first, twice as long after each, at most four minutes; more or less by a
// fifth. chance is from 0 up to 1.
func printPause(tries int, chance float64) time.Duration {
	const first, longest = 5 * time.Second, 4 * time.Minute
	wait := longest
	if tries < 7 {
		wait = min(first<<max(tries-1, 0), longest)
	}
	return wait + time.Duration((chance-0.5)*0.4*float64(wait))
}
