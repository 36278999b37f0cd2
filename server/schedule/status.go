package schedule

import (
	"context"
	"fmt"
	"strings"
	"time"

	"wirehold/inventory"
)

// Jobs returns the jobs as they stand, in the order in which they were given.
func (r *Runner) Jobs(ctx context.Context) ([]inventory.ScheduledJob, error) {
	kept, err := r.book.RunSummaries(ctx)
	if err != nil {
		return nil, err
	}
	byName := map[string]inventory.RunSummary{}
	for _, s := range kept {
		byName[s.Job] = s
	}
	at := r.now()
	out := make([]inventory.ScheduledJob, len(r.jobs))
	for i, j := range r.jobs {
		s := byName[j.Name]
		out[i] = inventory.ScheduledJob{Name: j.Name, Spec: j.Spec, Words: j.turns.words, Next: j.turns.Next(at.UTC()), Timeout: j.Timeout,
			RunSummary: s, Overdue: r.overdue(j, s, at)}
	}
	return out, nil
}

// overdue reports whether j has not run for longer than twice its interval,
// counted from the start of this program if it never ran.
func (r *Runner) overdue(j planned, s inventory.RunSummary, at time.Time) bool {
	ran := s.RanAt
	if ran.IsZero() {
		ran = r.started
	}
	return j.turns.overdue(ran, at)
}

// Overdue is the code of the error of [Runner.Healthy] that names late jobs.
const Overdue = "jobs-overdue"

// Healthy returns nil if every job ran in time, and else says which did not:
// a job that nobody runs is not seen by what it fails to do.
func (r *Runner) Healthy(ctx context.Context) error {
	jobs, err := r.Jobs(ctx)
	if err != nil {
		return err
	}
	var late []string
	for _, j := range jobs {
		if j.Overdue {
			late = append(late, fmt.Sprintf("%s (%s) ran last %s", j.Name, j.Words, stamp(j.RanAt)))
		}
	}
	if len(late) == 0 {
		return nil
	}
	return &inventory.Error{Kind: inventory.Unavailable, Code: Overdue, Detail: "not run for longer than twice their interval: " + strings.Join(late, "; ")}
}

func stamp(t time.Time) string {
	if t.IsZero() {
		return "never"
	}
	return inventory.Stamp(t)
}
