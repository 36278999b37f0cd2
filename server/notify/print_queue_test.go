package notify_test

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/server/notify"
	"wirehold/server/notify/ipp"
)

// desk is a printer of labels that are text: it notes what it took, and fails or
// waits as a test has it. Two documents at once are a fault.
type desk struct {
	t      testing.TB
	mu     sync.Mutex
	busy   bool
	took   []string
	before func(label string) error // what happens before it takes one; nil is nothing
}

func (d *desk) Print(_ context.Context, doc ipp.Document) (int, error) {
	d.mu.Lock()
	if d.busy {
		d.t.Errorf("a printer gets %s while it has another document", doc.Data)
	}
	d.busy = true
	d.mu.Unlock()
	defer func() { d.mu.Lock(); d.busy = false; d.mu.Unlock() }()
	label := string(doc.Data)
	if d.before != nil {
		if err := d.before(label); err != nil {
			return 0, err
		}
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.took = append(d.took, label)
	return len(d.took), nil
}

func (d *desk) all() []string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Clone(d.took)
}

// printer enters a printer whose address is its name.
func (y *yard) printer(t testing.TB, name string) inventory.Printer {
	t.Helper()
	return must(y.ledger.EnterPrinter(t.Context(), inventory.PrinterEntry{Edit: y.edit(0),
		Of: inventory.Printer{Name: name, Address: "ipp://" + name, DPI: 203, Size: "100x75", Format: "png"}}))(t)
}

func (y *yard) queue(t testing.TB, on inventory.Printer, labels ...string) inventory.PrintJob {
	t.Helper()
	return must(y.ledger.Print(t.Context(), inventory.PrintOrder{Person: y.owner.Code, RequestKey: y.key(), PrinterID: on.ID, Kind: "spool", Of: labels}))(t)
}

// printing prints on desks, by the names of their printers, a document a label.
func (y *yard) printing(q notify.PrintQueue, desks map[string]*desk) *notify.Printing {
	return &notify.Printing{Queue: q, Log: slog.New(slog.NewJSONHandler(y.log, nil)), Now: y.now, NewID: y.key, Chance: func() float64 { return 0.5 },
		Reach: func(address string) (notify.Printer, error) { return desks[strings.TrimPrefix(address, "ipp://")], nil },
		Draw: func(_ context.Context, t inventory.PrintTask) iter.Seq2[notify.Drawn, error] {
			return func(yield func(notify.Drawn, error) bool) {
				for _, l := range t.Labels[t.Taken:] {
					if !yield(notify.Drawn{Format: "image/png", Labels: 1, Data: []byte(l.Of)}, nil) {
						return
					}
				}
			}
		}}
}

func printRound(t testing.TB, p *notify.Printing) {
	t.Helper()
	if err := p.Round(t.Context()); err != nil {
		t.Fatal(err)
	}
}

func (y *yard) job(t testing.TB, id int64) inventory.PrintJob {
	t.Helper()
	return must(y.store.Read(t.Context()).PrintJob(id))(t)
}

// TestAPrinterThatHangsHoldsNoOtherUp has one printer hang for as long as the
// other takes to print three jobs.
func TestAPrinterThatHangsHoldsNoOtherUp(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	hung, release := make(chan struct{}, 1), make(chan struct{})
	good := make(chan string, 10)
	desks := map[string]*desk{
		"hangs": {t: t, before: func(string) error { hung <- struct{}{}; <-release; return nil }},
		"good":  {t: t, before: func(label string) error { good <- label; return nil }},
	}
	hangs, other := y.printer(t, "hangs"), y.printer(t, "good")
	y.queue(t, hangs, "h1")
	y.queue(t, hangs, "h2")
	for _, label := range []string{"g1", "g2", "g3"} {
		y.queue(t, other, label)
	}
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- y.printing(y.ledger, desks).Run(ctx) }()
	wait(t, "the one printer has a document", hung)
	for _, want := range []string{"g1", "g2", "g3"} {
		if got := wait(t, "the other printer prints", good); got != want {
			t.Errorf("the other printer printed %s, want %s", got, want)
		}
	}
	if took := desks["hangs"].all(); len(took) != 0 {
		t.Errorf("the printer that hangs took %q", took)
	}
	cancel()
	close(release)
	if err := wait(t, "the program ends", ended); err != nil {
		t.Error(err)
	}
	if took := desks["hangs"].all(); !slices.Equal(took, []string{"h1"}) {
		t.Errorf("when it was stopped, the printer took %q, want the one it had begun", took)
	}
}

func wait[T any](t testing.TB, what string, c <-chan T) (v T) {
	t.Helper()
	select {
	case v = <-c:
	case <-time.After(time.Minute):
		t.Fatalf("after a minute: %s is not so", what)
	}
	return v
}

// TestReplicasPrintInOrder has two replicas with several rounds each print on
// two printers at once.
func TestReplicasPrintInOrder(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	desks := map[string]*desk{"one": {t: t}, "two": {t: t}}
	want := map[string][]string{}
	one, two := y.printer(t, "one"), y.printer(t, "two")
	for i := range 8 {
		for _, on := range []inventory.Printer{one, two} {
			labels := []string{fmt.Sprintf("%s-%d-a", on.Name, i), fmt.Sprintf("%s-%d-b", on.Name, i)}
			y.queue(t, on, labels...)
			want[on.Name] = append(want[on.Name], labels...)
		}
	}
	_, second := y.open(t)
	var all sync.WaitGroup
	for _, ledger := range []*inventory.Ledger{y.ledger, second, y.ledger, second} {
		p := y.printing(ledger, desks)
		all.Go(func() {
			for ctx := t.Context(); len(desks["one"].all()) < 16 || len(desks["two"].all()) < 16; {
				if err := p.Round(ctx); err != nil || ctx.Err() != nil {
					t.Error(err, ctx.Err())
					return
				}
			}
		})
	}
	all.Wait()
	if diff := cmp.Diff(want, map[string][]string{"one": desks["one"].all(), "two": desks["two"].all()}); diff != "" {
		t.Errorf("what the printers took (-want +got):\n%s", diff)
	}
}

// TestAPrintJobGoesOnWhereItStopped has a printer fail at the third of five
// labels, twice, and then take the rest.
func TestAPrintJobGoesOnWhereItStopped(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	fails := 2
	d := &desk{t: t, before: func(label string) error {
		if label == "c" && fails > 0 {
			fails--
			return errors.New("the labels are used up")
		}
		return nil
	}}
	job := y.queue(t, y.printer(t, "desk"), "a", "b", "c", "d", "e")
	p := y.printing(y.ledger, map[string]*desk{"desk": d})
	printRound(t, p)
	if j := y.job(t, job.ID); j.Taken != 2 || j.Tries != 1 || j.State() != inventory.MessageWaiting || !strings.Contains(j.Fault, "used up") {
		t.Fatalf("after the first failure the job is %+v, want two labels taken, waiting, with what is wrong", j)
	}
	y.wait(time.Minute)
	printRound(t, p)
	if j := y.job(t, job.ID); j.Taken != 2 || j.Tries != 2 {
		t.Errorf("after the second failure the job is %+v, want two labels taken after two tries", j)
	}
	y.wait(time.Minute)
	_, restarted := y.open(t)
	printRound(t, y.printing(restarted, map[string]*desk{"desk": d}))
	if diff := cmp.Diff([]string{"a", "b", "c", "d", "e"}, d.all()); diff != "" {
		t.Errorf("what the printer took (-want +got):\n%s", diff)
	}
	if j := y.job(t, job.ID); j.Taken != 5 || j.SentAt.IsZero() || j.Fault != "" {
		t.Errorf("in the end the job is %+v, want it sent, five labels taken", j)
	}
}

// TestAPrintJobThatIsGivenUpGoesOnWhereItStopped does so when somebody has it
// tried again.
func TestAPrintJobThatIsGivenUpGoesOnWhereItStopped(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	broken := true
	d := &desk{t: t, before: func(label string) error {
		if label == "b" && broken {
			return &ipp.StatusError{Code: 0x040a}
		}
		return nil
	}}
	job := y.queue(t, y.printer(t, "desk"), "a", "b", "c")
	p := y.printing(y.ledger, map[string]*desk{"desk": d})
	printRound(t, p)
	if j := y.job(t, job.ID); j.Taken != 1 || j.DeadAt.IsZero() {
		t.Fatalf("after it was refused the job is %+v, want it given up, one label taken", j)
	}
	broken = false
	must(y.ledger.RetryPrint(t.Context(), job.ID, y.owner.Code))(t)
	printRound(t, p)
	if diff := cmp.Diff([]string{"a", "b", "c"}, d.all()); diff != "" {
		t.Errorf("what the printer took (-want +got):\n%s", diff)
	}
}

// dyingQueue is the queue of a replica that dies after a printer took a document
// and before that is written down.
type dyingQueue struct {
	notify.PrintQueue
	after int // how many it writes down
}

func (q *dyingQueue) PrintAdvanced(ctx context.Context, t inventory.PrintTask, until time.Time) error {
	if q.after == 0 {
		return errors.New("died")
	}
	q.after--
	return q.PrintQueue.PrintAdvanced(ctx, t, until)
}

// TestTheWindowOfAPrinterIsOneDocument shows what is documented: the document in
// hand is printed once more, no other.
func TestTheWindowOfAPrinterIsOneDocument(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	d := &desk{t: t}
	desks := map[string]*desk{"desk": d}
	y.queue(t, y.printer(t, "desk"), "a", "b", "c", "d")
	if err := y.printing(&dyingQueue{y.ledger, 2}, desks).Round(t.Context()); err == nil || !strings.Contains(err.Error(), "died") {
		t.Fatalf("Round of the dying replica: %v, want that it died", err)
	}
	other := y.printing(y.ledger, desks)
	printRound(t, other)
	if n := len(d.all()); n != 3 {
		t.Errorf("while it is lent the printer took %d labels, want 3", n)
	}
	y.wait(2 * time.Minute)
	printRound(t, other)
	if diff := cmp.Diff([]string{"a", "b", "c", "c", "d"}, d.all()); diff != "" {
		t.Errorf("what the printer took (-want +got):\n%s", diff)
	}
}

// TestWhoLostAPrintJobStops has a replica stall between two documents for longer
// than its loan: what another has taken over, it prints no more of.
func TestWhoLostAPrintJobStops(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	other := &desk{t: t}
	otherPrints := y.printing(y.ledger, map[string]*desk{"desk": other})
	stalls := &desk{t: t, before: func(label string) error {
		if label == "b" {
			y.wait(3 * time.Minute)
			return otherPrints.Round(t.Context())
		}
		return nil
	}}
	y.queue(t, y.printer(t, "desk"), "a", "b", "c")
	if err := y.printing(y.ledger, map[string]*desk{"desk": stalls}).Round(t.Context()); inventory.CodeOf(err) != "print-taken" {
		t.Errorf("Round of who stalled: %v, want print-taken", err)
	}
	if diff := cmp.Diff([][]string{{"a", "b"}, {"b", "c"}}, [][]string{stalls.all(), other.all()}); diff != "" {
		t.Errorf("what the printer took of the two (-want +got):\n%s", diff)
	}
}

func TestAProgramThatIsStoppedEndsAfterTheDocumentInHand(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	ctx, stop := context.WithCancel(t.Context())
	d := &desk{t: t, before: func(label string) error {
		if label == "b" {
			stop()
		}
		return nil
	}}
	desks := map[string]*desk{"desk": d}
	job := y.queue(t, y.printer(t, "desk"), "a", "b", "c")
	if err := y.printing(y.ledger, desks).Round(ctx); err != nil {
		t.Fatal(err)
	}
	if j := y.job(t, job.ID); j.Taken != 2 || j.State() != inventory.MessageWaiting || !j.DueAt.Equal(y.now()) {
		t.Errorf("the job is %+v, want two labels taken, due at once", j)
	}
	printRound(t, y.printing(y.ledger, desks))
	if diff := cmp.Diff([]string{"a", "b", "c"}, d.all()); diff != "" {
		t.Errorf("what the printer took (-want +got):\n%s", diff)
	}
}

// TestALongPrintJobIsLentOn has each document take most of a loan; another
// replica looks whenever one was taken.
func TestALongPrintJobIsLentOn(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	other := &desk{t: t}
	slow := &desk{t: t, before: func(string) error {
		y.wait(100 * time.Second)
		return y.printing(y.ledger, map[string]*desk{"desk": other}).Round(t.Context())
	}}
	job := y.queue(t, y.printer(t, "desk"), "a", "b", "c", "d")
	printRound(t, y.printing(y.ledger, map[string]*desk{"desk": slow}))
	if j := y.job(t, job.ID); len(slow.all()) != 4 || len(other.all()) != 0 || j.SentAt.IsZero() {
		t.Errorf("the one printed %q, the other %q, the job is %s; want all by the one", slow.all(), other.all(), j.State())
	}
}
