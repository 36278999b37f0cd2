package main

import (
	"fmt"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestAPIWaivesAndTightens goes through waivers and rule profiles.
func TestAPIWaivesAndTightens(t *testing.T) {
	t.Parallel()
	a := newAttempt(t, inventory.Attendant)
	engineer := a.withRole(inventory.Engineer)[0].Code
	entry := func(person inventory.Code, more string) string {
		return fmt.Sprintf(`{"person":%q,"request_key":%q%s}`, person, a.key(), more)
	}
	steps := []struct {
		name, method, path, body string
		status                   int
		holds                    []string
	}{
		{"the check names what may be waived", "GET", "/api/v1/check?spool=" + string(a.waivable) + "&job=2201", "", 200, []string{`"verdict":"does not fit"`, `"may_waive":["classification"]`}},
		{"what nobody may waive is not asked for", "POST", "/api/v1/waivers", entry(a.person.Code, fmt.Sprintf(`,"spool":%q,"job":"2201","rules":["gas"],"reason":"please"`, a.hopeless)), 409, []string{"/problems/not-waivable", `"rule":"gas"`}},
		{"it is asked for", "GET", "/api/v1/waivers?state=asked", "", 200, []string{`"id":3`, `"status":"asked"`, `"asked_why":"to get it out"`}},
		{"it is not granted for ever", "POST", "/api/v1/waivers/3/grant", entry(engineer, `,"reason":"seen","until":"2027-11-25T10:00:00Z"`), 422, []string{"#/until"}},
		{"it is granted", "POST", "/api/v1/waivers/3/grant", entry(engineer, `,"reason":"seen","until":"2026-12-01T12:00:00Z"`), 200, []string{`"status":"standing"`, `"until":"2026-12-01T12:00:00Z"`}},
		{"the check rests on it", "GET", "/api/v1/check?spool=" + string(a.waivable) + "&job=2201", "", 200, []string{`"verdict":"fits with cautions"`, `"waivers":[3]`}},
		{"it goes out", "POST", "/api/v1/spools/" + string(a.waivable) + "/issue", entry(a.person.Code, `,"job":"2201","gross_g":15700`), 200, []string{`"state":"issued"`}},
		{"its slip names the waiver", "GET", "/api/v1/spools/" + string(a.waivable) + "/movements", "", 200, []string{`"waivers":["classification: waiver 3, granted by Dr. Ilse Quarrymoor until 2026-12-01 12:00 UTC: seen`}},
		{"it is ended", "POST", "/api/v1/waivers/3/end", entry(engineer, `,"reason":"no more"`), 200, []string{`"status":"ended"`, `"ended_why":"no more"`}},
		{"one waiver is told", "GET", "/api/v1/waivers/3", "", 200, []string{`"status":"ended"`}},

		{"a profile is copied", "POST", "/api/v1/profiles", entry(engineer, `,"from":"structural-steel","name":"Ours"`), 200, []string{`"id":"shop-2"`, `"base":"structural-steel"`, `"version":1`}},
		{"profiles are listed", "GET", "/api/v1/profiles", "", 200, []string{`"id":"general-shop"`, `"id":"shop-2"`}},
		{"a limit is tightened", "POST", "/api/v1/profiles/shop-2/limits", entry(engineer, fmt.Sprintf(`,"line":%d,"value":"3 mph","action":"stops"`, a.windLine())), 200, []string{`"version":2`, `3 mph (stops), was 5 mph`, `"looser":false`}},
		{"none is loosened without a reason", "POST", "/api/v1/profiles/shop-2/limits", entry(engineer, fmt.Sprintf(`,"line":%d,"value":"30 mph","action":"stops"`, a.windLine())), 422, []string{"#/reason"}},
		{"the program's own stay", "POST", "/api/v1/profiles/general-shop/limits", entry(engineer, `,"line":0,"value":"yes"`), 409, []string{"/problems/profile-of-program"}},
		{"it is renamed", "POST", "/api/v1/profiles/shop-2", entry(engineer, `,"name":"Our limits","waiver_days":5`), 200, []string{`"name":"Our limits"`, `"waiver_days":5`}},
		{"its history is told", "GET", "/api/v1/profiles/shop-2/changes", "", 200, []string{`"deed":"copied"`, `"deed":"limit set"`, `"deed":"edited"`}},
	}
	for _, tt := range steps {
		status, _, body := a.do(t, tt.method, tt.path, "application/json", tt.body)
		if status != tt.status {
			t.Errorf("%s: %s %s: status %d, want %d\n%s", tt.name, tt.method, tt.path, status, tt.status, body)
		}
		for _, want := range tt.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the answer lacks %q:\n%s", tt.name, want, body)
			}
		}
	}
	a.movements(t)
}

// windLine is the line of the wind's limit in the job's profile.
func (a *attempt) windLine() int {
	a.t.Helper()
	for i, l := range must(a.ledger.Profile(a.t.Context(), a.job.ProfileID))(a.t).Limits {
		if l.Parameter == "wind_max" {
			return i
		}
	}
	a.t.Fatalf("%s has no limit on wind", a.job.ProfileID)
	return 0
}
