package store_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// twoProcedures enters a job that is welded to the procedure that the shop's
// wire does not fit, and then to the one that it does.
func (s *shop) twoProcedures(t testing.TB) (job inventory.Job, wrong, right inventory.Procedure) {
	t.Helper()
	c := s.store.Catalog(t.Context())
	wrong, right = must(c.Procedure(s.wrongJob.Procedures[0]))(t), must(c.Procedure(s.job.Procedures[0]))(t)
	job = must(s.ledger.EnterJob(t.Context(), inventory.JobEntry{Edit: s.edit(s.engineer, 0), Of: inventory.Job{Number: "2212", Name: "root and fill", Site: inventory.InShop,
		Procedures: []int64{wrong.ID, right.ID}, ProfileID: s.job.ProfileID, BaseMetals: s.job.BaseMetals}}))(t)
	return job, wrong, right
}

func TestAJobKeepsItsProceduresInOrder(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	job, wrong, right := s.twoProcedures(t)
	c := s.store.Catalog(ctx)
	for name, got := range map[string]inventory.Job{"by code": must(c.Job(job.Code))(t), "by number": must(c.JobNumbered("2212"))(t)} {
		if diff := cmp.Diff([]int64{wrong.ID, right.ID}, got.Procedures); diff != "" {
			t.Errorf("the job %s: procedures (-want +got):\n%s", name, diff)
		}
	}
	for _, q := range []inventory.Query{{Text: "2212"}, {Procedure: right.ID}, {Text: "root " + right.Number}} {
		lines := must(c.Jobs(q))(t)
		i := slices.IndexFunc(lines, func(j inventory.JobLine) bool { return j.Code == job.Code })
		if i < 0 || lines[i].ProcedureName != wrong.Name()+", "+right.Name() || !slices.Equal(lines[i].Procedures, job.Procedures) {
			t.Errorf("Jobs(%+v) = %+v, want job 2212 with both procedures", q, lines)
		}
	}
	job.Procedures = []int64{right.ID, wrong.ID}
	job = must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, job.Version), Of: job}))(t)
	changes := must(s.ledger.Changes(ctx, inventory.JobRecord, string(job.Code)))(t)
	want := "procedure: " + right.Name() + ", then " + wrong.Name() + ", before " + wrong.Name() + ", then " + right.Name()
	if got := changes[0].What; len(got) != 1 || got[0] != want {
		t.Errorf("the change is told as %q, want %q", got, want)
	}
	for _, line := range must(c.Procedures(inventory.Query{}))(t) {
		if line.ID == wrong.ID && line.Jobs != 2 {
			t.Errorf("%d open jobs are welded to %s, want 2", line.Jobs, line.Name())
		}
	}
}

func TestAJobIsWeldedToEachProcedureOnce(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	job, _, right := s.twoProcedures(t)
	next := right
	next.Revision = "D"
	next = must(s.ledger.EnterProcedure(ctx, inventory.ProcedureEntry{Edit: s.edit(s.engineer, 0), Of: next, From: right.ID}))(t)
	for name, tt := range map[string]struct {
		ids   []int64
		wrong string // the field that is at fault
	}{"none": {nil, "procedure_1"}, "one twice": {[]int64{right.ID, right.ID}, "procedure_2"}, "two revisions of one": {[]int64{right.ID, next.ID}, "procedure_2"},
		"one that is not there": {[]int64{right.ID, 99}, "procedure_2"}, "the first is not there": {[]int64{99, right.ID}, "procedure_1"},
		"too many": {[]int64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}, "procedure_1"}} {
		job.Procedures = tt.ids
		if _, err := s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, job.Version), Of: job}); inventory.CodeOf(err) != "invalid-"+tt.wrong {
			t.Errorf("ChangeJob: procedures %v (%s): %v, want invalid-%s", tt.ids, name, err, tt.wrong)
		}
	}
}

// TestNothingGoesOutBeforeItIsSaidForWhich tries every way with a job that has
// two procedures and none of them named.
func TestNothingGoesOutBeforeItIsSaidForWhich(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, spool := t.Context(), s.spools[0].Code
	job, wrong, right := s.twoProcedures(t)
	issue, ask := s.issue(spool), s.ask(spool)
	issue.Job, ask.Job = job.Code, job.Code
	ask.Rules = []fit.Rule{fit.RuleProcess}
	for name, do := range map[string]func() error{
		"check":  func() error { _, err := s.ledger.CheckFit(ctx, spool, job.Code, ""); return err },
		"choose": func() error { _, err := s.ledger.Choose(ctx, job.Code, "", 0); return err },
		"issue":  func() error { _, err := s.ledger.Issue(ctx, issue); return err },
		"waiver": func() error { _, err := s.ledger.AskWaiver(ctx, ask); return err },
		"another": func() error {
			_, err := s.ledger.CheckFitUnder(ctx, spool, job.Code, 99, "")
			return err
		},
		"find": func() error { _, err := s.ledger.FindProcedure(ctx, job.Code, "WPS-99"); return err },
	} {
		err := do()
		e, ok := asError(err)
		if !ok || e.Code != "which-procedure" || e.Kind != inventory.Invalid || e.Fields[0].Field != "procedure" || !strings.Contains(e.Detail, wrong.Name()+" or "+right.Name()) {
			t.Errorf("%s without a procedure: %v, want which-procedure with both choices", name, err)
		}
	}
	for _, text := range []string{"wps-11", " WPS-11  rev C", "1"} {
		if id := must(s.ledger.FindProcedure(ctx, job.Code, text))(t); id != right.ID {
			t.Errorf("FindProcedure(%q) = %d, want %d", text, id, right.ID)
		}
	}
	checks := must(s.ledger.CheckProcedures(ctx, spool, job.Code, ""))(t)
	if len(checks) != 2 || checks[0].Fits() || !checks[1].Fits() {
		t.Errorf("CheckProcedures = %+v, want the second alone to fit", checks)
	}
	if only, ok := inventory.OnlyFit(checks); !ok || only.ID != right.ID {
		t.Errorf("OnlyFit = %s, %v, want %s", only.Name(), ok, right.Name())
	}
	if _, ok := inventory.OnlyFit(append(checks, checks[1])); ok {
		t.Error("OnlyFit of two that fit proposes one")
	}
	if got := must(s.ledger.ChooseUnder(ctx, job.Code, right.ID, "", 0))(t); len(got.Fitting) != 1 || got.Procedure.ID != right.ID {
		t.Errorf("ChooseUnder(%s) = %+v, want the spool", right.Name(), got)
	}
	if got := must(s.ledger.ChooseUnder(ctx, job.Code, wrong.ID, "", 0))(t); len(got.Fitting) != 0 {
		t.Errorf("ChooseUnder(%s) = %+v, want none", wrong.Name(), got.Fitting)
	}
	verified(t, s)
}

// TestASpoolIsOutForAJobAndAProcedure issues it under one, and holds the load
// check to that one.
func TestASpoolIsOutForAJobAndAProcedure(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, spool := t.Context(), s.spools[0].Code
	job, wrong, right := s.twoProcedures(t)
	issue := s.issue(spool)
	issue.Job, issue.Procedure = job.Code, wrong.ID
	if _, err := s.ledger.Issue(ctx, issue); inventory.CodeOf(err) != "does-not-fit" {
		t.Fatalf("Issue under %s: %v, want does-not-fit", wrong.Name(), err)
	}
	issue = s.issue(spool)
	issue.Job, issue.Procedure = job.Code, right.ID
	if out := must(s.ledger.Issue(ctx, issue))(t); out.Procedure != right.ID {
		t.Errorf("the spool is out under procedure %d, want %d", out.Procedure, right.ID)
	}
	history := must(s.ledger.History(ctx, spool))(t)
	last := history[len(history)-1]
	if last.Procedure != right.ID || !strings.HasPrefix(last.Checked, right.Name()+"; ") {
		t.Errorf("the movement was checked against %d, %q", last.Procedure, last.Checked)
	}
	if c := must(s.ledger.LoadCheck(ctx, s.feeder.Code, spool, ""))(t); c.Procedure.ID != right.ID || !c.May() {
		t.Errorf("LoadCheck is against %s and may is %v (%v), want %s", c.Procedure.Name(), c.May(), c.Bar, right.Name())
	}
	must(s.ledger.Load(ctx, s.load(t, spool, s.feeder.Code)))(t)
	must(s.ledger.Unload(ctx, s.entry(spool)))(t)

	third := must(s.ledger.AddProcedure(ctx, inventory.Procedure{Number: "WPS-31", Revision: "A"}))(t)
	job.Procedures = []int64{wrong.ID, third.ID}
	must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, job.Version), Of: job}))(t)
	c := must(s.ledger.LoadCheck(ctx, s.feeder.Code, spool, ""))(t)
	if inventory.CodeOf(c.Bar) != "procedure-changed" || c.May() {
		t.Errorf("LoadCheck once the job has other procedures: bar %v, may %v, want procedure-changed", c.Bar, c.May())
	}
	gross := *issue.Gross
	back := must(s.ledger.Return(ctx, inventory.Return{Entry: s.entry(spool), Place: s.shelf.Code, Gross: &gross}))(t)
	if back.Procedure != 0 {
		t.Errorf("a spool in the store is out under procedure %d", back.Procedure)
	}
	verified(t, s)
}

// TestAWaiverIsForOneProcedure grants one under the first, and tries the others.
func TestAWaiverIsForOneProcedure(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	_, wrong, right := s.twoProcedures(t)
	other := right
	other.Number = "WPS-12"
	other = must(s.ledger.AddProcedure(ctx, other))(t)
	job := must(s.store.Catalog(ctx).JobNumbered("2212"))(t)
	job.Procedures = []int64{right.ID, wrong.ID, other.ID}
	job = must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, job.Version), Of: job}))(t)
	spool := stale(t, s, 0)
	q := s.ask(spool)
	q.Job, q.Procedure = job.Code, right.ID
	w := must(s.ledger.AskWaiver(ctx, q))(t)[0]
	w = must(s.ledger.GrantWaiver(ctx, s.decision(w)))(t)
	if line := must(s.store.Catalog(ctx).Waiver(w.ID))(t); w.Procedure != right.ID || line.ProcedureName != right.Name() {
		t.Errorf("the waiver is for %d, %q, want %s", w.Procedure, line.ProcedureName, right.Name())
	}
	issue := s.issue(spool)
	issue.Job, issue.Procedure = job.Code, other.ID
	if _, err := s.ledger.Issue(ctx, issue); inventory.CodeOf(err) != "does-not-fit" {
		t.Errorf("Issue under another procedure than the waiver's: %v, want does-not-fit", err)
	}
	q = s.ask(spool)
	q.Job, q.Procedure = job.Code, other.ID
	if again, err := s.ledger.AskWaiver(ctx, q); err != nil || again[0].Procedure != other.ID {
		t.Errorf("AskWaiver under the other: %v, %v, want another waiver", again, err)
	}
	if got := must(s.ledger.ChooseUnder(ctx, job.Code, other.ID, "", 0))(t); len(got.Fitting) != 0 {
		t.Errorf("ChooseUnder the other lists %v by the waiver", got.Fitting)
	}
	job.Procedures = []int64{other.ID}
	job = must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, job.Version), Of: job}))(t)
	if c := must(s.ledger.CheckFit(ctx, spool, job.Code, ""))(t); c.Verdict.Answer != fit.DoesNotFit {
		t.Error("the waiver holds under a procedure that the job was moved to")
	}
	job.Procedures = []int64{right.ID, other.ID}
	must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, job.Version), Of: job}))(t)
	issue = s.issue(spool)
	issue.Job, issue.Procedure = job.Code, right.ID
	must(s.ledger.Issue(ctx, issue))(t)
	verified(t, s)
}
