package notify

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"log/slog"
	"sync"
	"time"

	"wirehold/inventory"
	"wirehold/server/notify/ipp"
)

// PrintQueue lends print jobs, one a printer, and keeps how they went;
// [inventory.Ledger] is one.
type PrintQueue interface {
	ClaimPrint(ctx context.Context, claim string, at, until time.Time) (inventory.PrintTask, bool, error)
	PrintAdvanced(ctx context.Context, t inventory.PrintTask, until time.Time) error
	PrintTaken(ctx context.Context, t inventory.PrintTask, remote int, at time.Time) error
	PrintFailed(ctx context.Context, t inventory.PrintTask, fault string, at, next time.Time) error
}

// Drawn is a document that is ready for a printer.
type Drawn struct {
	Format string // its media type
	Labels int    // how many labels are in it
	Data   []byte
}

// Printing sends queued labels to their printers: to some printers at once, so
// that one that hangs holds no other up, and to each one document at a time, in
// order. If the program dies after a printer took a document and before that is
// written down, its labels are printed once more; those before it are not.
type Printing struct {
	Queue PrintQueue
	// Draw draws the labels of a print job that its printer has not taken yet,
	// one after the other: one document or, for a format that holds one page,
	// several. An [*inventory.Error] that is no [inventory.Unavailable] is the
	// labels' own fault: they are given up.
	Draw func(ctx context.Context, t inventory.PrintTask) iter.Seq2[Drawn, error]
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

// mostAtOnce is how many printers are sent to at once: more than hang at the
// same time in any shop, and few enough to look into the queue each.
const mostAtOnce = 4

// Run prints until ctx ends, then waits for the documents under way.
func (p *Printing) Run(ctx context.Context) error {
	var all sync.WaitGroup
	for range mostAtOnce {
		all.Go(func() {
			turns(ctx, printRound, p.Round, func(err error) { p.Log.Error("print_queue_failed", "error", err) })
		})
	}
	all.Wait()
	return nil
}

// Round prints what is due, one print job at a time. The error is that of the
// queue: one of a printer is kept with the job.
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

// errStopped ends a print job between two documents, to go on from there.
var errStopped = errors.New("the program was stopped before all of it was printed")

// one tries one print job and keeps how it went.
func (p *Printing) one(ctx context.Context, t inventory.PrintTask) error {
	remote, failed, err := p.print(ctx, &t)
	if err != nil {
		return err
	}
	at := p.Now()
	keep, done := begun(ctx)
	defer done()
	log := p.Log.With("print_job", t.ID, "printer", t.On.Name, "labels", len(t.Labels), "try", t.Tries)
	if failed == nil {
		log.Info("labels_printed", "remote", remote)
		return p.Queue.PrintTaken(keep, t, remote, at)
	}
	next := at
	if !errors.Is(failed, errStopped) {
		next = printPatience().next(failed, t.Tries, at, p.Chance())
	}
	log.Warn("labels_not_printed", "error", failed, "given_up", next.IsZero(), "taken", t.Taken)
	return p.Queue.PrintFailed(keep, t, failed.Error(), at, next)
}

// print draws the labels that are left and sends them, and keeps in t and in the
// queue how far it came. failed is what the printer or the labels have against
// it, err what the queue has.
func (p *Printing) print(ctx context.Context, t *inventory.PrintTask) (remote int, failed, err error) {
	if t.On.Retired() {
		return 0, refused("printer %s is not used any more: print on another", t.On.Name), nil
	}
	printer, failed := p.Reach(t.On.Address)
	if failed != nil {
		return 0, refused("%s", failed), nil
	}
	look, done := begun(ctx)
	defer done()
	for d, failed := range p.Draw(look, *t) {
		if failed != nil {
			return 0, undrawn(failed), nil
		}
		if remote, failed = p.document(ctx, printer, *t, d); failed != nil {
			return 0, failed, nil
		}
		if t.Taken += d.Labels; t.Taken >= len(t.Labels) {
			break
		}
		t.Tries = 1 // what it takes, it prints: the rest is no old failure
		if err := p.advance(ctx, *t); err != nil {
			return 0, nil, fmt.Errorf("print job %d, %d labels taken: %w", t.ID, t.Taken, err)
		}
		if ctx.Err() != nil {
			return 0, errStopped, nil
		}
	}
	return remote, nil, nil
}

// document sends one document.
func (p *Printing) document(ctx context.Context, printer Printer, t inventory.PrintTask, d Drawn) (remote int, err error) {
	ctx, done := begun(ctx)
	defer done()
	remote, err = printer.Print(ctx, ipp.Document{Name: "Wirehold print job " + t.Name(), Format: d.Format, Data: d.Data})
	if ipp.IsPermanent(err) {
		return 0, refused("%s", err)
	}
	return remote, err
}

// advance writes down what the printer has taken, and keeps the loan.
func (p *Printing) advance(ctx context.Context, t inventory.PrintTask) error {
	ctx, done := begun(ctx)
	defer done()
	return p.Queue.PrintAdvanced(ctx, t, p.Now().Add(loan))
}

// undrawn tells labels that can never be drawn from trouble in looking them up.
func undrawn(err error) error {
	if e, ok := errors.AsType[*inventory.Error](err); ok && e.Kind != inventory.Unavailable && e.Kind != inventory.Internal {
		return refused("the labels cannot be drawn: %s", e.Detail)
	}
	return err
}

// printPatience tries a print job for about an hour: whoever wanted labels has
// long gone to another printer.
func printPatience() patience {
	return patience{first: 5 * time.Second, longest: 4 * time.Minute, tries: 20}
}
