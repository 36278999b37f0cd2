// Package schedule runs the jobs that recur, once however many replicas there
// are. Specs are in UTC, so that summer time neither skips nor doubles a run.
package schedule

import (
	"context"
	"fmt"
	"log/slog"
	"time"

	"github.com/robfig/cron/v3"
)

// Job is something done again and again.
type Job struct {
	Name    string
	Spec    string        // of robfig/cron, in UTC
	Timeout time.Duration // after which it is cancelled and another replica may run it; shorter than the time between two turns
	Do      func(ctx context.Context, at time.Time) error
}

// Lease keeps two replicas from running one job at once.
type Lease interface {
	// Hold takes the lease name from at until the instant until, and reports
	// whether it was free.
	Hold(ctx context.Context, name string, at, until time.Time) (bool, error)
}

// Runner runs jobs.
type Runner struct {
	lease Lease
	log   *slog.Logger
	now   func() time.Time
}

// NewRunner returns a runner that takes its leases from lease.
func NewRunner(lease Lease, log *slog.Logger, now func() time.Time) *Runner {
	return &Runner{lease, log, now}
}

// Run registers jobs, does each once at the start, and runs them until ctx
// ends; then it waits for those under way.
func (r *Runner) Run(ctx context.Context, jobs []Job) error {
	log := cronLog{r.log}
	c := cron.New(cron.WithLocation(time.UTC), cron.WithLogger(log), cron.WithChain(cron.SkipIfStillRunning(log), cron.Recover(log)))
	for _, j := range jobs {
		if _, err := c.AddFunc(j.Spec, func() { r.once(ctx, j) }); err != nil {
			return fmt.Errorf("job %s: spec %q: %w", j.Name, j.Spec, err)
		}
	}
	for _, j := range jobs {
		cron.NewChain(cron.Recover(log)).Then(cron.FuncJob(func() { r.once(ctx, j) })).Run()
	}
	c.Start()
	<-ctx.Done()
	<-c.Stop().Done()
	return nil
}

// once runs j if this replica gets its lease. The lease is kept until the job's
// time is up, so that no other replica runs the same turn after a short one.
func (r *Runner) once(ctx context.Context, j Job) {
	started := r.now()
	at := started.UTC().Truncate(time.Second)
	ctx, cancel := context.WithTimeout(ctx, j.Timeout)
	defer cancel()
	mine, err := r.lease.Hold(ctx, j.Name, at, at.Add(j.Timeout))
	if err == nil && mine {
		err = j.Do(ctx, at)
	}
	log := r.log.With("job", j.Name, "mine", mine, "took", r.now().Sub(started))
	switch {
	case ctx.Err() != nil && err != nil:
		log.Warn("job_cancelled", "error", err)
	case err != nil:
		log.Error("job_failed", "error", err)
	default:
		log.Info("job_done")
	}
}

// cronLog hands cron's own messages to the program's log.
type cronLog struct{ log *slog.Logger }

func (l cronLog) Info(msg string, keysAndValues ...any) {
	l.log.Debug("cron", append([]any{"message", msg}, keysAndValues...)...)
}

func (l cronLog) Error(err error, msg string, keysAndValues ...any) {
	l.log.Error("cron", append([]any{"message", msg, "error", err}, keysAndValues...)...)
}
