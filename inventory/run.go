package inventory

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// Run is one run of a job that the schedule does again and again.
type Run struct {
	ID         int64
	Job        string    // the job's name: "exposure sweep"
	Turn       time.Time // when it was due; of a run that was asked for, when it was asked for
	Cause      RunCause
	Person     Code   // who asked for it; empty if nobody did
	PersonName string // filled in when it is read
	RequestKey string // of the request; empty if nobody asked for it
	StartedAt  time.Time
	Until      time.Time // when another replica may take it that it ended badly
	EndedAt    time.Time // zero while it is under way
	Result     RunResult // empty while it is under way
	Says       string    // why it failed, in words that may be shown; empty if it did not
}

// RunCause is why a job was run.
type RunCause string

// The causes of a run.
const (
	RunOnTime   RunCause = "on time"
	RunCaughtUp RunCause = "caught up" // its turn came while nothing was there to run it
	RunAsked    RunCause = "asked for"
)

// RunResult is how a run ended.
type RunResult string

// The results of a run.
const (
	RunDone    RunResult = "done"
	RunFailed  RunResult = "failed"
	RunStopped RunResult = "stopped"     // the program was stopped meanwhile
	RunLost    RunResult = "did not end" // the program ended without a word
)

// Took returns how long the run took; zero while it is under way.
func (r Run) Took() time.Duration {
	if r.EndedAt.IsZero() {
		return 0
	}
	return r.EndedAt.Sub(r.StartedAt)
}

// over reports whether the run is one that did its turn, well or badly: after a
// stopped or lost one the turn is still to be done.
func (r Run) over() bool { return r.Result == RunDone || r.Result == RunFailed }

// RunSummary is what is kept of one job's runs.
type RunSummary struct {
	Job    string
	Last   Run       // the latest begun
	RanAt  time.Time // the latest turn or start of a run that is under way, done or failed; zero if there is none
	Kept   int       // runs that are kept
	Failed int       // of those, the failed ones
}

// RunReader looks up what the schedule did.
type RunReader interface {
	// Runs returns up to limit runs of a job, the latest begun first.
	Runs(job string, limit int) ([]Run, error)
	// RunSummaries returns what is kept of each job's runs, by name.
	RunSummaries() ([]RunSummary, error)
}

// RunTx keeps what the schedule does.
type RunTx interface {
	// RunUnderWay returns the job's run that has not ended; [NotFound] if
	// there is none. There is never more than one.
	RunUnderWay(job string) (Run, error)
	// TurnFrom returns the run of the job's latest turn, where that is at or
	// after the instant; [NotFound] if there is none. Runs that were asked for
	// are no turns.
	TurnFrom(job string, turn time.Time) (Run, error)
	// RunRequested returns the run made by the request key; [NotFound] if it
	// is new.
	RunRequested(key string) (Run, error)
	// AddRun begins a run. [Conflict] if the turn has one, or another is under
	// way.
	AddRun(Run) (Run, error)
	// UpdateRun writes start, until, end, result and words of a run.
	UpdateRun(Run) error
	// PruneRuns deletes all but the latest keep ended runs of a job, and all
	// but as many failed ones.
	PruneRuns(job string, keep int) error
}

// keptRuns is how many runs of a job are kept, and as many failed ones.
const keptRuns = 300

// Claim is the answer to a replica that would run a job.
type Claim struct {
	Run  Run
	Mine bool      // nobody else runs this turn
	Busy time.Time // where a run is under way: until when at most; else zero
}

// BeginRun claims the turn of a job for whoever calls, for at most timeout:
// one of all replicas gets it, whatever their clocks say. A turn that another
// program was stopped in is given out again.
func (l *Ledger) BeginRun(ctx context.Context, job string, turn time.Time, timeout time.Duration) (Claim, error) {
	at := l.at()
	run := Run{Job: job, Turn: turn.UTC().Truncate(time.Second), Cause: RunOnTime}
	if at.Sub(run.Turn) > time.Minute {
		run.Cause = RunCaughtUp
	}
	var claim Claim
	err := l.store.Write(ctx, func(tx Tx) error {
		claim = Claim{}
		busy, err := underWay(tx, job, at)
		if err != nil || !busy.IsZero() {
			claim.Busy = busy
			return err
		}
		had, err := tx.TurnFrom(job, run.Turn)
		switch {
		case err == nil && (had.over() || had.Turn.After(run.Turn)):
			return nil
		case err == nil:
			run.ID = had.ID // it was stopped: once more
		case KindOf(err) != NotFound:
			return err
		}
		claim.Run, err = begin(tx, run, at, timeout)
		claim.Mine = err == nil
		return err
	})
	if KindOf(err) == Conflict { // another replica wrote first
		return Claim{}, nil
	}
	return claim, err
}

// begin writes the start of a run: a new one, or one that was stopped.
func begin(tx Tx, run Run, at time.Time, timeout time.Duration) (Run, error) {
	run.StartedAt, run.Until = at, at.Add(timeout+time.Second)
	if run.ID == 0 {
		return tx.AddRun(run)
	}
	return run, tx.UpdateRun(run)
}

// underWay returns until when at most the job's run that is under way lasts;
// zero if none is. One whose time is up is lost.
func underWay(tx Tx, job string, at time.Time) (time.Time, error) {
	run, err := tx.RunUnderWay(job)
	switch {
	case KindOf(err) == NotFound:
		return time.Time{}, nil
	case err != nil:
		return time.Time{}, err
	case at.Before(run.Until):
		return run.Until, nil
	}
	run.EndedAt, run.Result, run.Says = run.Until, RunLost, "the program ended without a word while it ran"
	return time.Time{}, tx.UpdateRun(run)
}

// EndRun keeps how a run ended, and drops the oldest runs of its job.
func (l *Ledger) EndRun(ctx context.Context, run Run, result RunResult, says string) error {
	run.EndedAt, run.Result, run.Says = l.at(), result, says
	return l.store.Write(ctx, func(tx Tx) error {
		if err := tx.UpdateRun(run); err != nil {
			return fmt.Errorf("run %d of %s: %w", run.ID, run.Job, err)
		}
		return tx.PruneRuns(run.Job, keptRuns)
	})
}

// RunRequest asks for a job to be run now.
type RunRequest struct {
	Job        string
	Person     Code
	RequestKey string
}

// AskRun begins a run that the welding engineer or the owner asks for; fresh
// is false where the same request was sent before. [Conflict] if the job runs
// already.
func (l *Ledger) AskRun(ctx context.Context, q RunRequest, timeout time.Duration) (run Run, fresh bool, err error) {
	if err := (Entry{Spool: "W", Person: q.Person, RequestKey: q.RequestKey}).check(); err != nil {
		return Run{}, false, err
	}
	at := l.at()
	err = l.store.Write(ctx, func(tx Tx) error {
		done, err := tx.RunRequested(q.RequestKey)
		if err == nil {
			run, fresh = done, false
			return done.repeats(q)
		}
		if KindOf(err) != NotFound {
			return err
		}
		by, err := badge(tx, q.Person)
		if err != nil {
			return err
		}
		if !by.Role.MayRunJobs() {
			return Forbiddenf("may-not-run-jobs", "%s is a %s: the welding engineer or the owner runs a job out of turn", by.Name, by.Role)
		}
		busy, err := underWay(tx, q.Job, at)
		if err != nil {
			return err
		}
		if !busy.IsZero() {
			return Conflictf("run-under-way", "%s runs already: look again in a moment", q.Job)
		}
		run, err = begin(tx, Run{Job: q.Job, Turn: at, Cause: RunAsked, Person: by.Code, PersonName: by.Name, RequestKey: q.RequestKey}, at, timeout)
		fresh = err == nil
		return err
	})
	return run, fresh, err
}

// repeats says whether a request key may be met again.
func (r Run) repeats(q RunRequest) error {
	if r.Job == q.Job && r.Person == q.Person {
		return nil
	}
	return Conflictf("request-key-used", "request key %q was used already, for something else: use a new key", q.RequestKey)
}

// Runs returns up to limit runs of a job, the latest first.
func (l *Ledger) Runs(ctx context.Context, job string, limit int) ([]Run, error) {
	return l.store.Read(ctx).Runs(job, limit)
}

// RunSummaries returns what is kept of each job's runs.
func (l *Ledger) RunSummaries(ctx context.Context) ([]RunSummary, error) {
	return l.store.Read(ctx).RunSummaries()
}

// MayRunJobs reports whether a person in this role may run a job of the
// schedule out of turn.
func (r Role) MayRunJobs() bool { return r == Engineer || r == Owner }

// ScheduledJob is a job of the schedule as it stands.
type ScheduledJob struct {
	Name    string
	Spec    string        // as it is configured
	Words   string        // the same in words
	Next    time.Time     // its next turn
	Timeout time.Duration // after which a run is stopped
	RunSummary
	Overdue bool // it has not run for longer than twice its interval
}

// Slug names the job in an address: "exposure-sweep".
func (j ScheduledJob) Slug() string { return JobSlug(j.Name) }

// JobSlug is how a job of the name is named in an address.
func JobSlug(name string) string { return strings.ReplaceAll(name, " ", "-") }
