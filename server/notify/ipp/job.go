package ipp

import (
	"context"
	"fmt"
	"slices"
)

// Job is a job as the printer tells of it.
type Job struct {
	ID      int
	Name    string
	State   JobState
	Reasons []string
}

// JobState is how far a job is (RFC 8011 section 5.3.7).
type JobState int

// The states of a job.
const (
	Pending    JobState = 3
	Held       JobState = 4
	Processing JobState = 5
	Stopped    JobState = 6
	Canceled   JobState = 7
	Aborted    JobState = 8
	Completed  JobState = 9
)

// Over reports whether nothing more will happen to the job.
func (s JobState) Over() bool { return s >= Canceled }

func (s JobState) String() string {
	return map[JobState]string{Pending: "waiting", Held: "held", Processing: "printing", Stopped: "stopped", Canceled: "cancelled", Aborted: "given up by the printer", Completed: "printed"}[s]
}

// Job asks how a job does. A job that the printer has forgotten is a
// [*StatusError] with code 0x0406.
func (p *Printer) Job(ctx context.Context, id int) (Job, error) {
	answer, err := p.ask(ctx, getJobAttributes, nil, func(g *group) {
		g.add("job-id", number(integerValue, id))
		g.add("requested-attributes", jobAttributes()...)
	})
	if err != nil {
		return Job{}, err
	}
	jobs := answer.jobs()
	if len(jobs) != 1 {
		return Job{}, fmt.Errorf("%w: it tells of %d jobs, not of one", errAnswer, len(jobs))
	}
	return jobs[0], nil
}

// Jobs returns up to limit jobs that are not over.
func (p *Printer) Jobs(ctx context.Context, limit int) ([]Job, error) {
	answer, err := p.ask(ctx, getJobs, nil, func(g *group) {
		g.add("limit", number(integerValue, limit))
		g.add("which-jobs", text(keywordValue, "not-completed"))
		g.add("requested-attributes", jobAttributes()...)
	})
	if err != nil {
		return nil, err
	}
	return answer.jobs(), nil
}

func jobAttributes() []value {
	return []value{text(keywordValue, "job-id"), text(keywordValue, "job-name"), text(keywordValue, "job-state"), text(keywordValue, "job-state-reasons")}
}

// jobs returns what the answer tells of jobs.
func (m message) jobs() (out []Job) {
	for _, g := range m.groups {
		id, ok := g.number("job-id")
		if g.tag != jobGroup || !ok {
			continue
		}
		state, _ := g.number("job-state") // not there: unknown
		out = append(out, Job{ID: id, Name: g.text("job-name"), State: JobState(state),
			Reasons: slices.DeleteFunc(g.texts("job-state-reasons"), func(r string) bool { return r == "none" })})
	}
	return out
}
