package main

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestTheScheduleByPageAndAPI asks for a job to be run, by who may and who may
// not, and reads how it ended.
func TestTheScheduleByPageAndAPI(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	engineer, attendant := site.withRole(inventory.Engineer)[0], site.withRole(inventory.Attendant)[0]
	form := func(by inventory.Person, key string) string {
		return url.Values{"person": {string(by.Code)}, "request_key": {key}}.Encode()
	}
	const media = "application/x-www-form-urlencoded"
	if status, _, page := site.do(t, "POST", "/schedule/exposure-sweep/run", media, form(engineer, "early")); status != http.StatusServiceUnavailable {
		t.Errorf("run before the schedule runs: status %d, want 503\n%s", status, page)
	}
	site.runSchedule(t)

	tests := []struct {
		name, method, path, media, body string
		status                          int
		holds                           string
	}{
		{"the list names each job and when it runs", "GET", "/schedule", "", "", 200, "every 5 minutes"},
		{"an attendant may not run a job", "POST", "/schedule/exposure-sweep/run", media, form(attendant, "k1"), 403, "the welding engineer or the owner runs a job out of turn"},
		{"nobody runs a job without a badge", "POST", "/schedule/exposure-sweep/run", media, "request_key=k2", 422, "scan your badge"},
		{"the engineer may", "POST", "/schedule/exposure-sweep/run", media, form(engineer, "k3"), 303, ""},
		{"there is no such job", "POST", "/schedule/tea/run", media, form(engineer, "k4"), 404, "no such job"},
		{"a job's page shows its runs", "GET", "/schedule/exposure-sweep", "", "", 200, "Run it now"},
		{"the API refuses the attendant too", "POST", "/api/v1/schedule/reorder-sweep/run", "application/json", `{"person":"` + string(attendant.Code) + `","request_key":"k5"}`, 403, "may-not-run-jobs"},
		{"the API knows no such job", "GET", "/api/v1/schedule/tea/runs", "", "", 404, "no-such-job"},
		{"it is healthy", "GET", "/health", "", "", 200, "ok"},
		{"it is ready", "GET", "/ready", "", "", 200, "ready"},
	}
	for _, tt := range tests {
		status, _, body := site.do(t, tt.method, tt.path, tt.media, tt.body)
		if status != tt.status || !strings.Contains(body, tt.holds) {
			t.Errorf("%s: %s %s: status %d, want %d and %q in\n%s", tt.name, tt.method, tt.path, status, tt.status, tt.holds, body)
		}
	}

	run := site.asked(t, "exposure sweep")
	if run.Person != engineer.Code || run.Cause != inventory.RunAsked || run.Result != inventory.RunDone {
		t.Errorf("the run asked for is %+v, want one done for %s", run, engineer.Code)
	}
	_, _, text := site.do(t, "GET", "/api/v1/schedule", "", "")
	var answer struct {
		Items []struct {
			Job, Words string
			Overdue    bool
			LastRun    *struct{ Result string } `json:"last_run"`
		}
	}
	if err := json.Unmarshal([]byte(text), &answer); err != nil || len(answer.Items) != len(sweeps(site.ledger, quiet)) || answer.Items[0].Job != "exposure-sweep" || answer.Items[0].LastRun == nil || answer.Items[0].Overdue {
		t.Errorf("GET /api/v1/schedule: %v\n%s", err, text)
	}
}

// asked waits until the run of the job that somebody asked for is over.
func (s *siteFixture) asked(t *testing.T, job string) (asked inventory.Run) {
	t.Helper()
	until(t, "the run of "+job+" that was asked for has ended", func() bool {
		for _, run := range must(s.ledger.Runs(t.Context(), job, 10))(t) {
			if run.Cause == inventory.RunAsked && !run.EndedAt.IsZero() {
				asked = run
				return true
			}
		}
		return false
	})
	return asked
}
