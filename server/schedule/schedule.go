// Package schedule runs the jobs that recur, once however many replicas there
// are. Lines of cron count in UTC, so that summer time neither skips nor
// doubles a run; a time of day on the shop's wall comes once each local day.
package schedule

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"wirehold/inventory"
)

// Job is something done again and again.
type Job struct {
	Name    string        // says what it does: "exposure sweep"
	Spec    string        // a line of cron in UTC, "*/5 * * * *", or a time on the shop's wall, "06:00" or "Mon 06:00"
	Timeout time.Duration // after which it is cancelled and another replica may run it; shorter than the time between two turns
	Do      func(ctx context.Context, at time.Time) error
}

// Book keeps what was run, for all replicas; see [inventory.Ledger].
type Book interface {
	BeginRun(ctx context.Context, job string, turn time.Time, timeout time.Duration) (inventory.Claim, error)
	AskRun(ctx context.Context, q inventory.RunRequest, timeout time.Duration) (run inventory.Run, fresh bool, err error)
	EndRun(ctx context.Context, run inventory.Run, result inventory.RunResult, says string) error
	RunSummaries(ctx context.Context) ([]inventory.RunSummary, error)
}

// Runner runs jobs. It is safe for concurrent use; Run is called once.
type Runner struct {
	book    Book
	log     *slog.Logger
	now     func() time.Time
	jobs    []planned
	asked   chan asked
	running chan struct{} // closed by Run
	stopped chan struct{} // closed when Run takes no more
	started time.Time
}

// planned is a job with its spec read.
type planned struct {
	Job
	turns turns
}

// asked is a run that somebody asked for, begun and not yet done.
type asked struct {
	job planned
	run inventory.Run
}

// NewRunner returns a runner of jobs that keeps its runs in book. Times of day
// are of zone. A spec that makes no sense is an error that names job and spec.
func NewRunner(book Book, zone *time.Location, log *slog.Logger, now func() time.Time, jobs []Job) (*Runner, error) {
	r := &Runner{book: book, log: log, now: now, asked: make(chan asked), running: make(chan struct{}), stopped: make(chan struct{}), started: now()}
	for _, j := range jobs {
		t, err := parseSpec(j.Spec, zone)
		if err != nil {
			return nil, fmt.Errorf("job %s: spec %q: %w", j.Name, j.Spec, err)
		}
		r.jobs = append(r.jobs, planned{j, t})
	}
	return r, nil
}

// Run runs each job in its turns until ctx ends, and waits for those under way.
// A turn that came while nothing was there to run it is caught up once.
func (r *Runner) Run(ctx context.Context) error {
	close(r.running)
	var wg sync.WaitGroup
	for _, j := range r.jobs {
		wg.Go(func() { r.follow(ctx, j) })
	}
	for {
		select {
		case a := <-r.asked:
			wg.Go(func() { r.do(ctx, a.job, a.run) })
		case <-ctx.Done():
			close(r.stopped)
			wg.Wait()
			return nil
		}
	}
}

// follow runs one job in its turns.
func (r *Runner) follow(ctx context.Context, j planned) {
	turn := j.turns.latest(r.now())
	if turn.IsZero() {
		turn = j.turns.Next(r.now().UTC())
	}
	for at := turn; r.wait(ctx, at); {
		busy := r.turn(ctx, j, turn)
		now := r.now()
		if now.Before(turn) {
			now = turn
		}
		next := j.turns.Next(now.UTC())
		if at = next; !busy.IsZero() && busy.Before(next) {
			at = busy // whoever has the turn may die of it
			continue
		}
		turn = next
	}
}

// wait returns true at the instant at, and false when ctx ends. It looks at the
// clock now and then, for the clock may be set and the machine may sleep.
func (r *Runner) wait(ctx context.Context, at time.Time) bool {
	for {
		left := at.Sub(r.now())
		if left <= 0 {
			return ctx.Err() == nil
		}
		timer := time.NewTimer(min(left, time.Minute))
		select {
		case <-ctx.Done():
			timer.Stop()
			return false
		case <-timer.C:
		}
	}
}

// retryAfter is when a turn is tried again that the book could not give out.
const retryAfter = 15 * time.Second

// turn runs a turn of j if this replica gets it. It returns when to look after
// the turn again if it is not done; zero if it is.
func (r *Runner) turn(ctx context.Context, j planned, turn time.Time) time.Time {
	claim, err := r.book.BeginRun(ctx, j.Name, turn, j.Timeout)
	switch {
	case claim.Mine:
		r.do(ctx, j, claim.Run)
	case err != nil && ctx.Err() == nil:
		r.log.Error("job_not_begun", "job", j.Name, "error", err)
		return r.now().Add(retryAfter)
	}
	return claim.Busy
}

// RunNow begins a run that somebody asks for and returns at once; the run goes
// on under [Runner.Run]. The error is [inventory.NotFound] if there is no such
// job, [inventory.Forbidden] if the person may not, [inventory.Conflict] if it
// runs already.
func (r *Runner) RunNow(ctx context.Context, q inventory.RunRequest) (inventory.Run, error) {
	j, ok := r.job(q.Job)
	if !ok {
		return inventory.Run{}, noSuchJob(q.Job)
	}
	q.Job = j.Name
	select {
	case <-r.running:
	default:
		return inventory.Run{}, notHere(nil)
	}
	run, fresh, err := r.book.AskRun(ctx, q, j.Timeout)
	if err != nil || !fresh {
		return run, err
	}
	select {
	case r.asked <- asked{j, run}:
		return run, nil
	case <-r.stopped:
	case <-ctx.Done():
	}
	return run, notHere(r.end(ctx, run, inventory.RunStopped, saysStopped))
}

func notHere(err error) error {
	return &inventory.Error{Kind: inventory.Unavailable, Code: "not-running", Detail: "the schedule is just being started or stopped: ask again in a moment", Err: err}
}

func (r *Runner) job(name string) (planned, bool) {
	for _, j := range r.jobs {
		if j.Name == name || inventory.JobSlug(j.Name) == name {
			return j, true
		}
	}
	return planned{}, false
}

func noSuchJob(name string) error {
	return inventory.NotFoundf("no-such-job", "the schedule has no job %q", name)
}
