package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
)

// Schedule is what the API knows of the jobs that recur.
type Schedule interface {
	Jobs(context.Context) ([]inventory.ScheduledJob, error)
	RunNow(context.Context, inventory.RunRequest) (inventory.Run, error)
}

type runView struct {
	ID        int64      `json:"id"`
	TurnAt    time.Time  `json:"turn_at" doc:"When it was due, or asked for."`
	Cause     string     `json:"cause" doc:"on time, caught up or asked for"`
	Person    string     `json:"person,omitempty" doc:"The badge code of whoever asked for it."`
	StartedAt time.Time  `json:"started_at"`
	EndedAt   *time.Time `json:"ended_at,omitempty" doc:"Left out while it is under way."`
	Result    string     `json:"result,omitempty" doc:"done, failed, stopped or did not end; left out while it is under way."`
	Says      string     `json:"says,omitempty" doc:"Why it failed."`
}

func viewRun(r inventory.Run) runView {
	return runView{ID: r.ID, TurnAt: r.Turn, Cause: string(r.Cause), Person: string(r.Person), StartedAt: r.StartedAt, EndedAt: known(r.EndedAt), Result: string(r.Result), Says: r.Says}
}

type jobStandView struct {
	Job      string    `json:"job" doc:"Its name in addresses."`
	Name     string    `json:"name"`
	Spec     string    `json:"spec" doc:"A line of cron in UTC, or a time of day on the shop's clock."`
	Words    string    `json:"words"`
	NextAt   time.Time `json:"next_at"`
	LastRun  *runView  `json:"last_run,omitempty" doc:"Left out if it never ran."`
	Kept     int       `json:"runs_kept"`
	Failed   int       `json:"runs_failed" doc:"Of those that are kept."`
	Overdue  bool      `json:"overdue" doc:"It has not run for longer than twice its interval."`
	TimeoutS int64     `json:"timeout_s" doc:"After so many seconds a run is stopped."`
}

func viewScheduledJob(j inventory.ScheduledJob) jobStandView {
	v := jobStandView{Job: j.Slug(), Name: j.Name, Spec: j.Spec, Words: j.Words, NextAt: j.Next, Kept: j.Kept, Failed: j.Failed, Overdue: j.Overdue, TimeoutS: int64(j.Timeout.Seconds())}
	if j.Last.ID != 0 {
		last := viewRun(j.Last)
		v.LastRun = &last
	}
	return v
}

func (h *handlers) registerSchedule(a huma.API) {
	huma.Get(a, "/api/v1/schedule", h.schedule)
	huma.Get(a, "/api/v1/schedule/{job}/runs", h.runs)
	huma.Post(a, "/api/v1/schedule/{job}/run", h.runNow, func(o *huma.Operation) { o.MaxBodyBytes = MaxBody })
}

func (h *handlers) scheduledJobs(ctx context.Context) ([]inventory.ScheduledJob, error) {
	if h.Schedule == nil {
		return nil, nil
	}
	return h.Schedule.Jobs(ctx)
}

func (h *handlers) schedule(ctx context.Context, _ *struct{}) (*bodyOf[listOf[jobStandView]], error) {
	jobs, err := h.scheduledJobs(ctx)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(jobs, viewScheduledJob), nil
}

// jobNamed returns the job that an address names.
func (h *handlers) jobNamed(ctx context.Context, slug string) (inventory.ScheduledJob, error) {
	jobs, err := h.scheduledJobs(ctx)
	if err != nil {
		return inventory.ScheduledJob{}, err
	}
	for _, j := range jobs {
		if j.Slug() == slug {
			return j, nil
		}
	}
	return inventory.ScheduledJob{}, inventory.NotFoundf("no-such-job", "the schedule has no such job: /api/v1/schedule lists them")
}

func (h *handlers) runs(ctx context.Context, in *struct {
	Job   string `path:"job"`
	Limit int    `query:"limit" minimum:"1" maximum:"300" default:"50"`
}) (*bodyOf[listOf[runView]], error) {
	j, err := h.jobNamed(ctx, in.Job)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	runs, err := h.Ledger.Runs(ctx, j.Name, in.Limit)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(runs, viewRun), nil
}

func (h *handlers) runNow(ctx context.Context, in *struct {
	Job  string `path:"job"`
	Body struct {
		Person     string `json:"person" doc:"The badge code of the welding engineer or the owner."`
		RequestKey string `json:"request_key" minLength:"1" maxLength:"100" doc:"The same each time this request is repeated."`
	}
}) (*bodyOf[runView], error) {
	j, err := h.jobNamed(ctx, in.Job)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	run, err := h.Schedule.RunNow(ctx, inventory.RunRequest{Job: j.Name, Person: person, RequestKey: in.Body.RequestKey})
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return body(viewRun(run)), nil
}
