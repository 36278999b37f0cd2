package pages

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// Schedule is what the pages know of the jobs that recur.
type Schedule interface {
	// Jobs returns the jobs as they stand.
	Jobs(context.Context) ([]inventory.ScheduledJob, error)
	// RunNow begins a run that somebody asks for, and returns at once.
	RunNow(context.Context, inventory.RunRequest) (inventory.Run, error)
}

// SchedulePage lists the jobs that recur.
type SchedulePage struct {
	Base
	Zone string
	Jobs []JobStand
}

// JobStand is a job of the schedule with how its last run is told.
type JobStand struct {
	inventory.ScheduledJob
	Told RunTold
}

// RunTold is a run as a page tells it.
type RunTold struct {
	inventory.Run
	Word  string // "done", "failed", "runs now", "never ran"
	Shape string // safe, caution or stop
	Took  string // "under 1 s"
}

func (p *Pages) jobStands(c *gin.Context) ([]JobStand, error) {
	if p.Schedule == nil {
		return nil, nil
	}
	jobs, err := p.Schedule.Jobs(c.Request.Context())
	out := make([]JobStand, len(jobs))
	for i, j := range jobs {
		out[i] = JobStand{j, toldRun(j.Last)}
	}
	return out, err
}

// toldRun says how a run stands.
func toldRun(r inventory.Run) RunTold {
	t := RunTold{Run: r, Word: string(r.Result), Shape: "caution", Took: tookText(r)}
	switch {
	case r.ID == 0:
		t.Word = "never ran"
	case r.EndedAt.IsZero():
		t.Word, t.Shape = "runs now", "safe"
	case r.Result == inventory.RunDone:
		t.Shape = "safe"
	case r.Result == inventory.RunFailed:
		t.Shape = "stop"
	}
	return t
}

func tookText(r inventory.Run) string {
	switch d := r.Took(); {
	case r.EndedAt.IsZero():
		return ""
	case d < time.Second:
		return "under 1 s"
	default:
		return durationText(d)
	}
}

// durationText writes a length of time to the second.
func durationText(d time.Duration) string {
	switch {
	case d < time.Minute:
		return fmt.Sprintf("%d s", int(d.Seconds()))
	case d%time.Minute < time.Second:
		return fmt.Sprintf("%d min", int(d.Minutes()))
	}
	return fmt.Sprintf("%d min %d s", int(d.Minutes()), int(d.Seconds())%60)
}

// schedule answers GET /schedule.
func (p *Pages) schedule(c *gin.Context) error {
	jobs, err := p.jobStands(c)
	if err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "schedule", SchedulePage{Base: p.base(c, "Schedule", "schedule"), Zone: p.zoneName(), Jobs: jobs})
}

// ScheduledJobPage is one job with its latest runs.
type ScheduledJobPage struct {
	Base
	Job   JobStand
	Stops string // how long a run may take
	Zone  string
	Runs  []RunTold
	Form  Form
}

// mostRuns is how many runs of a job the page shows.
const mostRuns = 50

// scheduledJob answers GET /schedule/:job.
func (p *Pages) scheduledJob(c *gin.Context) error {
	page, err := p.scheduledJobPage(c)
	if err != nil {
		return err
	}
	if c.Query("done") == "asked" {
		page.Flash = "The job is begun. Look again in a moment to see how it ended."
	}
	return p.show(c, http.StatusOK, "scheduledjob", page)
}

func (p *Pages) scheduledJobPage(c *gin.Context) (*ScheduledJobPage, error) {
	jobs, err := p.jobStands(c)
	if err != nil {
		return nil, err
	}
	for _, j := range jobs {
		if j.Slug() != c.Param("job") {
			continue
		}
		runs, err := p.Ledger.Runs(c.Request.Context(), j.Name, mostRuns)
		if err != nil {
			return nil, err
		}
		page := &ScheduledJobPage{Base: p.base(c, sentence(j.Name), "schedule"), Job: j, Stops: durationText(j.Timeout), Zone: p.zoneName()}
		for _, r := range runs {
			page.Runs = append(page.Runs, toldRun(r))
		}
		badge := badgeField("")
		badge.Hint = "The welding engineer's or the owner's. " + badge.Hint
		page.Form = Form{Name: "run", Action: "/schedule/" + j.Slug() + "/run", Submit: "Run it now", Hidden: []Hidden{{"request_key", p.NewKey()}}}.fields(badge)
		return page, nil
	}
	return nil, inventory.NotFoundf("no-such-job", "the schedule has no such job")
}

// runNow answers POST /schedule/:job/run.
func (p *Pages) runNow(c *gin.Context) error {
	page, err := p.scheduledJobPage(c)
	if err != nil {
		return err
	}
	in := p.posted(c)
	q := inventory.RunRequest{Job: page.Job.Name, Person: in.badge(), RequestKey: in.get("request_key")}
	if err = in.err(); err == nil {
		_, err = p.Schedule.RunNow(c.Request.Context(), q)
	}
	if err == nil {
		return seeOther(c, "/schedule/"+page.Job.Slug()+"?done=asked")
	}
	if !again(err) {
		return err
	}
	page.Trouble = trouble(c, err)
	page.Form = page.Form.filled(in.get, err)
	return p.show(c, page.Trouble.status(), "scheduledjob", page)
}

// zoneName names the shop's zone; where it is the machine's own, as it stands
// on the clock now.
func (p *Pages) zoneName() string {
	if name := p.Zone.String(); name != "Local" {
		return name
	}
	return p.Now().In(p.Zone).Format("MST")
}
