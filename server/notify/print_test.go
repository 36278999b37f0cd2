package notify_test

import (
	"context"
	"errors"
	"io"
	"iter"
	"log/slog"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/server/notify"
	"wirehold/server/notify/ipp"
)

// queueOfOne lends its one print job again and again until it is taken or given
// up, and keeps how each try went. A real queue is tested in inventory/store.
type queueOfOne struct {
	task   inventory.PrintTask
	at     time.Time
	due    time.Time
	taken  int
	faults []string
	over   bool
}

func (q *queueOfOne) ClaimPrint(_ context.Context, claim string, at, _ time.Time) (inventory.PrintTask, bool, error) {
	if q.over || at.Before(q.due) {
		return inventory.PrintTask{}, false, nil
	}
	q.task.Claim = claim
	q.task.Tries++
	return q.task, true, nil
}

func (q *queueOfOne) PrintAdvanced(context.Context, inventory.PrintTask, time.Time) error {
	return nil
}

func (q *queueOfOne) PrintTaken(_ context.Context, _ inventory.PrintTask, remote int, _ time.Time) error {
	q.taken, q.over = remote, true
	return nil
}

func (q *queueOfOne) PrintFailed(_ context.Context, _ inventory.PrintTask, fault string, _, next time.Time) error {
	q.faults, q.due, q.over = append(q.faults, fault), next, next.IsZero()
	return nil
}

// scriptedPrinter answers each document by the next of its errors.
type scriptedPrinter struct {
	answers []error
	got     []ipp.Document
}

func (p *scriptedPrinter) Print(_ context.Context, d ipp.Document) (int, error) {
	p.got = append(p.got, d)
	if len(p.answers) == 0 {
		return 7, nil
	}
	err := p.answers[0]
	p.answers = p.answers[1:]
	return 7, err
}

func TestPrinting(t *testing.T) {
	t.Parallel()
	drawn := func(context.Context, inventory.PrintTask) iter.Seq2[notify.Drawn, error] {
		return func(yield func(notify.Drawn, error) bool) {
			yield(notify.Drawn{Format: "application/pdf", Data: []byte("%PDF")}, nil)
		}
	}
	cannot := func(context.Context, inventory.PrintTask) iter.Seq2[notify.Drawn, error] {
		return func(yield func(notify.Drawn, error) bool) {
			yield(notify.Drawn{}, inventory.NotFoundf("no-such-spool", "there is no spool W7K2M-3"))
		}
	}
	busy, down := &ipp.StatusError{Code: 0x0507}, errors.New("connection refused")
	tests := []struct {
		name    string
		answers []error
		draw    func(context.Context, inventory.PrintTask) iter.Seq2[notify.Drawn, error]
		retired bool
		tries   int  // until it is over
		taken   bool // by the printer
		says    string
	}{
		{"taken at once", nil, drawn, false, 1, true, ""},
		{"busy, then down, then taken", []error{busy, down}, drawn, false, 3, true, "connection refused"},
		{"a document it never prints", []error{&ipp.StatusError{Code: 0x040a}}, drawn, false, 1, false, "kind of document"},
		{"labels that cannot be drawn", nil, cannot, false, 1, false, "no spool W7K2M-3"},
		{"a printer that was retired", nil, drawn, true, 1, false, "not used any more"},
		{"down for good", slicesOf(down, 30), drawn, false, 20, false, "connection refused"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			q := &queueOfOne{at: time.Date(2026, 11, 25, 7, 0, 0, 0, time.UTC)}
			q.task.ID, q.task.On.Name, q.task.On.Address = 12, "Receiving desk", "ipp://printer.example/"
			if tt.retired {
				q.task.On.RetiredAt = q.at
			}
			printer := &scriptedPrinter{answers: tt.answers}
			p := &notify.Printing{Queue: q, Draw: tt.draw, Reach: func(string) (notify.Printer, error) { return printer, nil },
				Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Now: func() time.Time { return q.at }, NewID: func() string { return "claim" }, Chance: func() float64 { return 0.5 }}
			for range 100 {
				if err := p.Round(t.Context()); err != nil {
					t.Fatal(err)
				}
				if q.over {
					break
				}
				if q.due.Sub(q.at) > 5*time.Minute {
					t.Fatalf("the next try is %s away", q.due.Sub(q.at))
				}
				q.at = q.due
			}
			if !q.over || q.task.Tries != tt.tries || (q.taken == 7) != tt.taken {
				t.Errorf("over %t after %d tries, taken as %d; want %d tries, taken %t", q.over, q.task.Tries, q.taken, tt.tries, tt.taken)
			}
			if tt.says != "" && !strings.Contains(strings.Join(q.faults, "\n"), tt.says) {
				t.Errorf("faults %q, want %q", q.faults, tt.says)
			}
			if tt.taken && (printer.got[0].Format != "application/pdf" || !strings.Contains(printer.got[0].Name, "12")) {
				t.Errorf("the printer got %+v", printer.got[0])
			}
		})
	}
}

func slicesOf(err error, n int) (out []error) {
	for range n {
		out = append(out, err)
	}
	return out
}
