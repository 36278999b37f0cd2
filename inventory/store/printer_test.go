package store_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
)

func (s *shop) printer(t testing.TB) inventory.Printer {
	t.Helper()
	return must(s.ledger.EnterPrinter(t.Context(), inventory.PrinterEntry{Edit: s.edit(s.engineer, 0),
		Of: inventory.Printer{Name: "Receiving desk", Address: "ipp://printer.example/ipp/print", DPI: 203, Size: "100x75", Format: "pdf"}}))(t)
}

func (s *shop) printOrder(p inventory.Printer, of ...string) inventory.PrintOrder {
	return inventory.PrintOrder{Person: s.attendant.Code, RequestKey: s.key(), PrinterID: p.ID, Kind: "spool", Of: of}
}

func TestAPrinterIsEnteredAndChanged(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx, l := t.Context(), s.ledger
	p := s.printer(t)
	good := p
	tests := []struct {
		name   string
		change func(*inventory.Printer)
		field  string
	}{
		{"no name", func(p *inventory.Printer) { p.Name = " " }, "name"},
		{"a web address", func(p *inventory.Printer) { p.Address = "http://printer.example/" }, "address"},
		{"a password in the address", func(p *inventory.Printer) { p.Address = "ipp://a:b@printer.example/" }, "address"},
		{"a resolution no head has", func(p *inventory.Printer) { p.DPI = 204 }, "dpi"},
		{"no labels", func(p *inventory.Printer) { p.Size = "" }, "size"},
		{"a format it cannot be sent", func(p *inventory.Printer) { p.Format = "svg" }, "format"},
	}
	for _, tt := range tests {
		bad := good
		tt.change(&bad)
		_, err := l.ChangePrinter(ctx, inventory.PrinterEntry{Edit: s.edit(s.engineer, p.Version), Of: bad})
		if e := asInvalid(err); e == nil || e.Fields[0].Field != tt.field {
			t.Errorf("%s: ChangePrinter: %v, want Invalid at %s", tt.name, err, tt.field)
		}
	}
	good.DPI, good.Address = 300, "ipps://printer.example:8631/ipp/print"
	if _, err := l.ChangePrinter(ctx, inventory.PrinterEntry{Edit: s.edit(s.attendant, p.Version), Of: good}); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("ChangePrinter by an attendant: %v, want Forbidden", err)
	}
	changed := must(l.ChangePrinter(ctx, inventory.PrinterEntry{Edit: s.edit(s.engineer, p.Version), Of: good}))(t)
	if diff := cmp.Diff([]inventory.Printer{changed}, must(l.Printers(ctx))(t)); diff != "" || changed.Version != 2 || changed.DPI != 300 {
		t.Errorf("Printers after the change (-want +got):\n%s", diff)
	}
	retired := must(l.RetirePrinter(ctx, s.edit(s.engineer, changed.Version), p.ID, true))(t)
	if _, err := l.Print(ctx, s.printOrder(retired, "W7K2M-3")); inventory.CodeOf(err) != "printer-retired" {
		t.Errorf("Print on a retired printer: %v, want printer-retired", err)
	}
}

func asInvalid(err error) *inventory.Error {
	e, ok := err.(*inventory.Error)
	if !ok || e.Kind != inventory.Invalid || len(e.Fields) == 0 {
		return nil
	}
	return e
}

func TestALabelIsPrintedAgainForAReason(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx, l := t.Context(), s.ledger
	p := s.printer(t)
	first, second := string(s.spools[0].Code), string(s.spools[1].Code)
	order := s.printOrder(p, first)
	job := must(l.Print(ctx, order))(t)
	if again := must(l.Print(ctx, order))(t); again.ID != job.ID {
		t.Errorf("Print with the same key made job %d beside %d", again.ID, job.ID)
	}
	both := s.printOrder(p, second, first)
	if _, err := l.Print(ctx, both); asInvalid(err) == nil || asInvalid(err).Fields[0].Field != "reason" {
		t.Errorf("Print of a label a second time: %v, want Invalid at reason", err)
	}
	both.Reason = "the first was torn"
	got := must(l.Print(ctx, both))(t)
	if len(got.Labels) != 2 || got.Labels[0].Number != 1 || got.Labels[1].Number != 2 {
		t.Errorf("Print = %+v, want print 1 of %s and print 2 of %s", got.Labels, second, first)
	}
	hub := s.printOrder(p, first)
	hub.Kind = "hub"
	if got := must(l.Print(ctx, hub))(t); got.Labels[0].Number != 1 {
		t.Errorf("Print of another kind = %+v, want its first", got.Labels)
	}
	jobs := must(l.PrintJobs(ctx))(t)
	if len(jobs) != 3 || jobs[1].Reason != "the first was torn" || jobs[1].PersonName != "Ina" || jobs[1].Printer != "Receiving desk" {
		t.Errorf("PrintJobs = %+v, want three, the second with its reason", jobs)
	}
	order.RequestKey = s.key()
	order.Person = s.welder.Code
	if _, err := l.Print(ctx, order); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("Print by a welder: %v, want Forbidden", err)
	}
}

// TestAPrintJobIsLentToOneAtATime lends, fails, lends again and gives up, as
// printers do.
func TestAPrintJobIsLentToOneAtATime(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, l := t.Context(), s.ledger
	job := must(l.Print(ctx, s.printOrder(s.printer(t), string(s.spools[0].Code))))(t)
	at := s.now()
	task, ok, err := l.ClaimPrint(ctx, "one", at, at.Add(time.Minute))
	if err != nil || !ok || task.ID != job.ID || task.Tries != 1 || task.On.DPI != 203 || len(task.Labels) != 1 {
		t.Fatalf("ClaimPrint = %+v, %t, %v; want job %d at its first try", task, ok, err, job.ID)
	}
	if _, ok, err := l.ClaimPrint(ctx, "two", at, at.Add(time.Minute)); ok || err != nil {
		t.Errorf("ClaimPrint of what is lent: %t, %v; want none", ok, err)
	}
	late, ok, err := l.ClaimPrint(ctx, "two", at.Add(time.Minute), at.Add(2*time.Minute))
	if err != nil || !ok {
		t.Fatalf("ClaimPrint after the loan ran out: %t, %v; want the job", ok, err)
	}
	if err := l.PrintTaken(ctx, task, 7, at); inventory.CodeOf(err) != "print-taken" {
		t.Errorf("PrintTaken by the one before: %v, want print-taken", err)
	}
	if err := l.PrintFailed(ctx, late, "no paper", at, at.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	if _, ok, err := l.ClaimPrint(ctx, "three", at.Add(59*time.Minute), at.Add(2*time.Hour)); ok || err != nil {
		t.Errorf("ClaimPrint before it is due: %t, %v; want none", ok, err)
	}
	third, _, err := l.ClaimPrint(ctx, "three", at.Add(time.Hour), at.Add(2*time.Hour))
	if err != nil || third.Fault != "no paper" {
		t.Fatalf("ClaimPrint when it is due: %+v, %v", third, err)
	}
	if err := l.PrintFailed(ctx, third, "unknown document", at, time.Time{}); err != nil {
		t.Fatal(err)
	}
	if given := must(l.PrintJobs(ctx))(t)[0]; given.State() != inventory.MessageDead {
		t.Errorf("after it was given up: %s", given.State())
	}
	if _, err := l.RetryPrint(ctx, job.ID, s.attendant.Code); err != nil {
		t.Fatal(err)
	}
	if _, err := l.RetryPrint(ctx, job.ID, s.attendant.Code); inventory.CodeOf(err) != "print-not-given-up" {
		t.Errorf("RetryPrint of what waits: %v, want print-not-given-up", err)
	}
	last, ok, err := l.ClaimPrint(ctx, "four", at, at.Add(time.Minute))
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	if err := l.PrintTaken(ctx, last, 7, at); err != nil {
		t.Fatal(err)
	}
	if sent := must(l.PrintJobs(ctx))(t)[0]; sent.Remote != 7 || sent.SentAt.IsZero() || sent.Fault != "" {
		t.Errorf("after it was taken: %+v", sent)
	}
}

func (s *shop) printerNamed(t testing.TB, name string) inventory.Printer {
	t.Helper()
	return must(s.ledger.EnterPrinter(t.Context(), inventory.PrinterEntry{Edit: s.edit(s.engineer, 0),
		Of: inventory.Printer{Name: name, Address: "ipp://printer.example/" + name, DPI: 203, Size: "100x75", Format: "pdf"}}))(t)
}

// lends claims until nothing is lent, and returns the tasks with the first label
// of each.
func (s *shop) lends(t testing.TB, at time.Time) (tasks []inventory.PrintTask, labels []string) {
	t.Helper()
	for {
		task, ok, err := s.ledger.ClaimPrint(t.Context(), s.key(), at, at.Add(2*time.Minute))
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			return tasks, labels
		}
		tasks, labels = append(tasks, task), append(labels, task.Labels[0].Of)
	}
}

// TestOnePrinterIsLentOneJobAtATimeInOrder walks through what may come before
// what.
func TestOnePrinterIsLentOneJobAtATimeInOrder(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx, l := t.Context(), s.ledger
	a, b := s.printerNamed(t, "a"), s.printerNamed(t, "b")
	job := func(on inventory.Printer, label string) inventory.PrintJob {
		return must(l.Print(ctx, s.printOrder(on, label)))(t)
	}
	want := func(what string, at time.Time, want ...string) []inventory.PrintTask {
		t.Helper()
		tasks, got := s.lends(t, at)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", what, diff)
		}
		return tasks
	}
	fails := func(task inventory.PrintTask, at, next time.Time) {
		t.Helper()
		if err := l.PrintFailed(ctx, task, "no answer", at, next); err != nil {
			t.Fatal(err)
		}
	}
	first := job(a, "a1")
	second := job(a, "a2")
	job(b, "b1")
	at := s.now()
	lent := want("the first of each printer is lent", at, "a1", "b1")
	want("while they are, nothing else is", at)
	fails(lent[0], at, at.Add(time.Hour))
	want("what waits for its next try holds up what is behind it", at.Add(time.Minute))
	if j := must(s.store.Read(ctx).PrintJob(second.ID))(t); j.Tries != 1 || j.Fault != "print job 1 is before it: no answer" {
		t.Errorf("behind it is %+v, want one try counted, and why", j)
	}
	job(a, "a3")
	lent = want("a new job has the first tried at once", at, "a1")
	if lent[0].Tries != 1 {
		t.Errorf("the try that was hurried is number %d, want 1: one was taken back", lent[0].Tries)
	}
	fails(lent[0], at, time.Time{})
	lent = want("once it is given up, the next has its turn", at, "a2")
	must(l.RetryPrint(ctx, first.ID, s.attendant.Code))(t)
	want("one that is tried again waits for what is lent", at)
	if err := l.PrintTaken(ctx, lent[0], 7, at); err != nil {
		t.Fatal(err)
	}
	want("and comes before what is younger", at, "a1")
	want("a loan that ran out is lent again, and nothing beside it", at.Add(2*time.Minute), "a1", "b1")
}

// TestAPrinterThatIsDownIsGivenUpForAll counts the tries of three jobs on a
// printer that is down for good.
func TestAPrinterThatIsDownIsGivenUpForAll(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx, l := t.Context(), s.ledger
	p := s.printer(t)
	for _, label := range []string{"x", "y", "z"} {
		must(l.Print(ctx, s.printOrder(p, label)))(t)
	}
	var tries []int
	for at := s.now(); len(tries) < 6; at = at.Add(time.Minute) {
		task, ok, err := l.ClaimPrint(ctx, s.key(), at, at.Add(time.Minute))
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		next := at.Add(time.Minute)
		if task.Tries >= 4 {
			next = time.Time{}
		}
		tries = append(tries, task.Tries)
		if err := l.PrintFailed(ctx, task, "down", at, next); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff([]int{1, 2, 3, 4, 4, 4}, tries); diff != "" {
		t.Errorf("the tries of the first until it is given up, then one of each behind it (-want +got):\n%s", diff)
	}
}
