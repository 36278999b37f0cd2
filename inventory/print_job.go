package inventory

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// PrintJob is labels on their way to a printer. It is in the database before it
// is sent, so that a restart loses none.
type PrintJob struct {
	ID         int64
	PrinterID  int64
	Printer    string // its name, filled in when it is read
	Person     Code   // who had it printed
	PersonName string // filled in when it is read
	Kind       string // of the labels: "spool"
	Labels     []PrintedLabel
	Reason     string // why a label was printed again; empty where all are first prints
	AskedAt    time.Time
	RequestKey string
	Request    string // SHA-256 of what was asked for, as of [Movement]
	Taken      int    // how many of its labels the printer took: it goes on from there
	Remote     int    // the printer's own number of the job, or of its last document
	Attempt
}

// PrintedLabel is one label of a print job.
type PrintedLabel struct {
	Kind   string
	Of     string // the code it bears, or "lot 12"
	Number int    // of its print, from 1: the label says so from the second on
	At     time.Time
}

// Name is what the print job is called on the printer: its number here.
func (j PrintJob) Name() string { return strconv.FormatInt(j.ID, 10) }

// State returns the print job's state in a word or two.
func (j PrintJob) State() string {
	if !j.SentAt.IsZero() {
		return "sent to the printer"
	}
	return j.Attempt.State()
}

// PrintOrder asks for labels on paper.
type PrintOrder struct {
	Person     Code
	RequestKey string
	PrinterID  int64
	Kind       string   // one of the kinds of label
	Of         []string // codes, or "lot 12", a label each
	Reason     string   // needed where one of them was printed before
}

// mostPrinted is how many labels one print job has at most: a receipt's.
const mostPrinted = mostReceived

// MayPrint reports whether a person in this role may print labels: whoever runs
// the counter, and the buyer who receives.
func (r Role) MayPrint() bool { return r.MayIssue() || r == Buyer }

// Print queues labels for a printer. A label that was printed before wants a
// reason, which is kept; its print is counted and the label says which it is.
// What waits for the printer is tried at once: somebody stands before it.
//
// The error is [Invalid] with field "reason" where one is wanted, and [NotFound]
// for a printer that is not there. Whether the things are there is the caller's
// to know: the labels are drawn when their turn comes.
func (l *Ledger) Print(ctx context.Context, o PrintOrder) (PrintJob, error) {
	reason, err := tidy("reason", strings.Join(strings.Fields(o.Reason), " "), longestReason)
	if err != nil {
		return PrintJob{}, err
	}
	o.Reason = reason
	if err := o.check(); err != nil {
		return PrintJob{}, err
	}
	now := l.at()
	var job PrintJob
	err = l.store.Write(ctx, func(tx Tx) error {
		before, err := tx.PrintRequested(o.RequestKey)
		if err == nil {
			job = before
			return o.again(before)
		}
		if KindOf(err) != NotFound {
			return err
		}
		if job, err = o.job(tx, now); err != nil {
			return err
		}
		if job.ID, err = tx.AddPrintJob(job); err != nil {
			return err
		}
		return tx.HurryPrints(job.PrinterID, now)
	})
	return job, err
}

func (o PrintOrder) check() error {
	if err := (Entry{Spool: "W", Person: o.Person, RequestKey: o.RequestKey}).check(); err != nil {
		return err
	}
	switch {
	case o.Kind == "":
		return Invalidf("kind", "say which kind of label is printed")
	case len(o.Of) == 0 || len(o.Of) > mostPrinted:
		return Invalidf("of", "say what is labelled: 1 to %d labels", mostPrinted)
	}
	return nil
}

func (o PrintOrder) wish() string {
	return wish("print", o.PrinterID, o.Kind, o.Of, o.Reason)
}

func (o PrintOrder) again(before PrintJob) error {
	if before.Request != o.wish() {
		return Conflictf("request-key-used", "request key %q was used already, for other labels: look at the print queue, and use a new key", o.RequestKey)
	}
	return nil
}

// job makes the print job, its labels counted.
func (o PrintOrder) job(tx Tx, now time.Time) (PrintJob, error) {
	by, err := badge(tx, o.Person)
	if err != nil {
		return PrintJob{}, err
	}
	if !by.Role.MayPrint() {
		return PrintJob{}, Forbiddenf("may-not-print", "%s is a %s: a store attendant, the buyer or the welding engineer prints labels", by.Name, by.Role)
	}
	printer, err := tx.Printer(o.PrinterID)
	if err != nil {
		return PrintJob{}, err
	}
	if printer.Retired() {
		return PrintJob{}, Refusedf("printer-retired", "printer %s is not used any more: choose another", printer.Name)
	}
	job := PrintJob{PrinterID: printer.ID, Printer: printer.Name, Person: by.Code, PersonName: by.Name, Kind: o.Kind, Reason: o.Reason,
		AskedAt: now, RequestKey: o.RequestKey, Request: o.wish(), Attempt: Attempt{DueAt: now}}
	printed, err := tx.LastPrints(o.Kind, o.Of)
	if err != nil {
		return job, err
	}
	for _, of := range o.Of {
		last, again := printed[of]
		if again && o.Reason == "" {
			return job, Invalidf("reason", "the %s label of %s was printed already, at %s: say why it is printed again", o.Kind, of, Stamp(last.At))
		}
		job.Labels = append(job.Labels, PrintedLabel{Kind: o.Kind, Of: of, Number: last.Number + 1, At: now})
	}
	return job, nil
}

// PrintTask is a print job lent to whoever prints it, with its printer.
type PrintTask struct {
	PrintJob
	Claim string
	On    Printer
}

// ClaimPrint lends the next print job to the holder of the claim until an
// instant; ok is false if none is due at the instant at.
func (l *Ledger) ClaimPrint(ctx context.Context, claim string, at, until time.Time) (t PrintTask, ok bool, err error) {
	at = at.UTC().Truncate(time.Second)
	if due, err := l.store.Read(ctx).PrintDue(at); err != nil || !due {
		return t, false, err
	}
	err = l.store.Write(ctx, func(tx Tx) error {
		job, err := tx.ClaimPrint(claim, at, until)
		if err != nil {
			return err
		}
		t = PrintTask{PrintJob: job, Claim: claim}
		t.On, err = tx.Printer(job.PrinterID)
		return err
	})
	if KindOf(err) == NotFound {
		return PrintTask{}, false, nil // somebody else took it
	}
	return t, err == nil, err
}

// PrintAdvanced keeps how many labels of the task the printer took so far,
// t.Taken, and lends it until a later instant.
func (l *Ledger) PrintAdvanced(ctx context.Context, t PrintTask, until time.Time) error {
	return l.store.Write(ctx, func(tx Tx) error { return tx.AdvancePrint(t.ID, t.Claim, t.Taken, until) })
}

// PrintTaken keeps that the printer took all of the job, under its own number.
func (l *Ledger) PrintTaken(ctx context.Context, t PrintTask, remote int, at time.Time) error {
	j := t.PrintJob
	j.Attempt, j.Remote, j.Taken = j.taken(at), remote, len(j.Labels)
	return l.store.Write(ctx, func(tx Tx) error { return tx.SettlePrint(j, t.Claim) })
}

// PrintFailed keeps why the printer did not take the job, and when it is tried
// next; where next is zero it is given up. A try in vain counts for what waits
// behind the job too: a printer that is down for good is given up for all at
// about the same time, after one try each.
func (l *Ledger) PrintFailed(ctx context.Context, t PrintTask, fault string, at, next time.Time) error {
	j := t.PrintJob
	j.Attempt = j.failed(fault, at, next)
	return l.store.Write(ctx, func(tx Tx) error {
		if err := tx.SettlePrint(j, t.Claim); err != nil || next.IsZero() {
			return err
		}
		return tx.DelayPrints(j, cut("print job "+j.Name()+" is before it: "+fault, 500))
	})
}

// RetryPrint makes a print job that was given up due again, at once.
func (l *Ledger) RetryPrint(ctx context.Context, id int64, badgeCode Code) (PrintJob, error) {
	return byBadge(ctx, l, badgeCode, func(tx Tx, by Person, at time.Time) (PrintJob, error) {
		if !by.Role.MayPrint() {
			return PrintJob{}, Forbiddenf("may-not-print", "%s is a %s: a store attendant, the buyer or the welding engineer prints labels", by.Name, by.Role)
		}
		job, err := tx.RetryPrint(id, by.Code, at)
		if err != nil {
			return job, err
		}
		return job, tx.HurryPrints(job.PrinterID, at)
	})
}

// Printers returns the printers by name, those that are retired last.
func (l *Ledger) Printers(ctx context.Context) ([]Printer, error) {
	return l.store.Read(ctx).Printers()
}

// PrinterOf returns one printer, retired or not.
func (l *Ledger) PrinterOf(ctx context.Context, id int64) (Printer, error) {
	return l.store.Read(ctx).Printer(id)
}

// PrintJobs returns the latest print jobs, the latest first.
func (l *Ledger) PrintJobs(ctx context.Context) ([]PrintJob, error) {
	return l.store.Read(ctx).PrintJobs(mostLines)
}

// LotLabel names a lot as the thing that a label is of.
func LotLabel(id int64) string { return fmt.Sprintf("lot %d", id) }

// LotOfLabel returns the lot that [LotLabel] named; ok is false if it named
// none.
func LotOfLabel(of string) (id int64, ok bool) {
	number, isLot := strings.CutPrefix(of, "lot ")
	id, err := strconv.ParseInt(number, 10, 64)
	return id, isLot && err == nil
}
