package schedule

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"time"

	"wirehold/inventory"
)

const saysStopped = "Wirehold was stopped while it ran"

// do runs j and keeps how the run ended.
func (r *Runner) do(ctx context.Context, j planned, run inventory.Run) {
	started := r.now()
	within, cancel := context.WithTimeout(ctx, j.Timeout)
	err := r.try(within, j, started.UTC().Truncate(time.Second))
	late := within.Err() != nil && ctx.Err() == nil
	cancel()
	result, says := inventory.RunDone, ""
	log := r.log.With("job", j.Name, "cause", string(run.Cause), "took", r.now().Sub(started))
	switch {
	case err == nil:
		log.Info("job_done")
	case ctx.Err() != nil:
		result, says = inventory.RunStopped, saysStopped
		log.Warn("job_stopped", "error", err)
	case late:
		result, says = inventory.RunFailed, fmt.Sprintf("it took longer than %s and was stopped", j.Timeout)
		log.Error("job_failed", "error", err)
	default:
		result, says = inventory.RunFailed, reason(err)
		log.Error("job_failed", "error", err)
	}
	if err := r.end(ctx, run, result, says); err != nil {
		r.log.Error("job_end_not_kept", "job", j.Name, "error", err)
	}
}

// end keeps the end of a run, also of one that was stopped.
func (r *Runner) end(ctx context.Context, run inventory.Run, result inventory.RunResult, says string) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	return r.book.EndRun(ctx, run, result, says)
}

// panicked is a bug in a job: the next turn comes nevertheless.
type panicked struct{ value any }

func (p panicked) Error() string { return fmt.Sprintf("panic: %v", p.value) }

func (r *Runner) try(ctx context.Context, j planned, at time.Time) (err error) {
	defer func() {
		if v := recover(); v != nil {
			r.log.Error("job_panicked", "job", j.Name, "panic", fmt.Sprint(v), "stack", string(debug.Stack()))
			err = panicked{v}
		}
	}()
	return j.Do(ctx, at)
}

// reason is what may be read of why a job failed.
func reason(err error) string {
	if e, ok := errors.AsType[*inventory.Error](err); ok {
		return e.Detail
	}
	if _, ok := errors.AsType[panicked](err); ok {
		return "a fault in the program: the log has it"
	}
	return "something went wrong on our side: the log has the reason"
}
