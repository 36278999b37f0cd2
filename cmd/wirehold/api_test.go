package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestAPIRefusesWhatIsWrongAndChangesNothing holds every sort of bad input
// against its own clear answer.
func TestAPIRefusesWhatIsWrongAndChangesNothing(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	attendant, welder := s.withRole(inventory.Attendant)[0].Code, s.withRole(inventory.Welder)[0].Code
	wrong, right := s.spoolOf(t, "Cobalt Wren 14"), s.spoolOf(t, "Amber Kestrel 71M")
	issue := func(set string) string {
		return fmt.Sprintf(`{"person":%q,"request_key":"t1","job":"2201","gross_g":15700%s}`, attendant, set)
	}
	out, err := s.store.Catalog(t.Context()).Spools(inventory.Query{State: string(inventory.StateIssued), Limit: 1})
	if err != nil || len(out) != 1 {
		t.Fatalf("no spool is out: %v", err)
	}
	misread := []byte(right)
	misread[2] = map[bool]byte{true: 'A', false: 'C'}[misread[2] != 'A']

	tests := []struct {
		name, method, path, body string
		status                   int
		holds                    []string
	}{
		{"a spool that does not fit", "POST", "/api/v1/spools/" + string(wrong) + "/issue", issue(""), 409, []string{`/problems/does-not-fit`, `"rule":"passes","outcome":"stops"`, `"rule":"gas","outcome":"stops"`, `"rule":"polarity","outcome":"stops"`, `"rule":"process","outcome":"stops"`}},
		{"a spool somebody has", "POST", "/api/v1/spools/" + string(out[0].Code) + "/issue", issue(""), 409, []string{`/problems/spool-out`, out[0].HolderName}},
		{"an unknown code", "POST", "/api/v1/spools/W9999-9/issue", issue(""), 422, []string{`"parameter":"code"`, "check character"}},
		{"a misread code", "POST", "/api/v1/spools/" + string(misread) + "/issue", issue(""), 422, []string{`"parameter":"code"`, "check character"}},
		{"a badge where a spool is due", "GET", "/api/v1/spools/" + string(welder), "", 422, []string{"is a badge, and a spool is due here"}},
		{"a spool where a badge is due", "POST", "/api/v1/spools/" + string(right) + "/open", fmt.Sprintf(`{"person":%q,"request_key":"x"}`, right), 422, []string{`#/person`, "is a spool, and a badge is due here"}},
		{"an unknown job", "POST", "/api/v1/spools/" + string(right) + "/issue", strings.Replace(issue(""), "2201", "9999", 1), 404, []string{"/problems/no-such-job"}},
		{"a closed job", "POST", "/api/v1/spools/" + string(right) + "/issue", strings.Replace(issue(""), "2201", "2198", 1), 409, []string{"/problems/job-closed"}},
		{"a welder at the counter", "POST", "/api/v1/spools/" + string(right) + "/issue", strings.Replace(issue(""), string(attendant), string(welder), 1), 403, []string{"/problems/may-not-enter"}},
		{"heavier than the package", "POST", "/api/v1/spools/" + string(right) + "/issue", strings.Replace(issue(""), "15700", "99000", 1), 422, []string{`#/gross_g`, "heavier than the full package"}},
		{"a time in the future", "POST", "/api/v1/spools/" + string(right) + "/issue", issue(`,"effective_at":"2026-11-25T10:00:01Z"`), 422, []string{`#/effective_at`, "in the future"}},
		{"a time before the spool came", "POST", "/api/v1/spools/" + string(right) + "/issue", issue(`,"effective_at":"2020-01-01T00:00:00Z"`), 422, []string{`#/effective_at`, "before the last movement"}},
		{"an unknown field", "POST", "/api/v1/spools/" + string(right) + "/issue", issue(`,"force":true`), 422, []string{`#/force`, "no such field"}},
		{"a field of the wrong sort", "POST", "/api/v1/spools/" + string(right) + "/issue", strings.Replace(issue(""), "15700", `"15.7"`, 1), 422, []string{`#/gross_g`}},
		{"a missing field", "POST", "/api/v1/spools/" + string(right) + "/issue", `{"person":"x","job":"2201"}`, 422, []string{`request_key`}},
		{"a number that is none", "POST", "/api/v1/spools/" + string(right) + "/issue", strings.Replace(issue(""), "15700", "1e30", 1), 422, []string{"not of the sort"}},
		{"a year one", "POST", "/api/v1/spools/" + string(right) + "/issue", issue(`,"effective_at":"0001-01-01T00:00:00Z"`), 422, []string{"#/effective_at"}},
		{"a state that there is not", "GET", "/api/v1/spools?state=bogus", "", 422, []string{`"parameter":"state"`, "on hold or scrapped"}},
		{"an oversized body", "POST", "/api/v1/spools/" + string(right) + "/issue", strings.Repeat("a", 70_000), 413, []string{"/problems/body-too-large"}},
		{"no JSON", "POST", "/api/v1/spools/" + string(right) + "/issue", `{`, 400, []string{"/problems/unreadable"}},
		{"a list without end", "GET", "/api/v1/spools?limit=100000", "", 422, []string{"limit"}},
		{"per cents that do not add up", "GET", "/api/v1/decode?d=82+Ar+20+CO2", "", 422, []string{"add up to 102"}},
		{"an unreadable designation", "GET", "/api/v1/decode?d=E71T-15", "", 422, []string{"usability number 15"}},
		{"an address nobody serves", "GET", "/api/v1/nothing", "", 404, []string{"/problems/no-such-address"}},
		{"a method nobody serves", "DELETE", "/api/v1/spools", "", 405, []string{"/problems/method-not-allowed"}},
		{"a lot nobody has", "GET", "/api/v1/lots/9999", "", 404, []string{"/problems/no-such-lot"}},
	}
	before := s.movements(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			status, media, body := s.do(t, tt.method, tt.path, "application/json", tt.body)
			if status != tt.status || media != "application/problem+json" {
				t.Errorf("%s %s: %d %s, want %d application/problem+json\n%s", tt.method, tt.path, status, media, tt.status, body)
			}
			var p struct {
				Type, Title, Detail string
				Status              int
				RequestID           string `json:"request_id"`
			}
			if err := json.Unmarshal([]byte(body), &p); err != nil || p.Type == "" || p.Title == "" || p.Detail == "" || p.Status != status || p.RequestID == "" {
				t.Errorf("%s %s: not a whole problem (%v): %s", tt.method, tt.path, err, body)
			}
			for _, want := range tt.holds {
				if !strings.Contains(body, want) {
					t.Errorf("%s %s: the answer lacks %q:\n%s", tt.method, tt.path, want, body)
				}
			}
		})
	}
	if after := s.movements(t); after != before {
		t.Errorf("%d movements, before %d: something was changed", after, before)
	}
}

func TestAPIIssuesReturnsAndTellsTheStory(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	attendant, welder := s.withRole(inventory.Attendant)[0].Code, s.withRole(inventory.Welder)[0].Code
	spool := s.spoolOf(t, "Amber Kestrel 71M")
	at := "/api/v1/spools/" + strings.ToLower(string(spool))
	steps := []struct {
		name, method, path, body string
		holds                    []string
	}{
		{"the check says it fits", "GET", "/api/v1/check?spool=" + string(spool) + "&job=2201", "", []string{`"verdict":"fits"`, `"procedure":"WPS-11 rev C"`}},
		{"it goes out", "POST", at + "/issue", fmt.Sprintf(`{"person":%q,"holder":%q,"request_key":"a","job":"2201","gross_g":15700}`, attendant, welder), []string{`"state":"issued"`, string(welder), `"opened_at"`}},
		{"the same request again changes nothing", "POST", at + "/issue", fmt.Sprintf(`{"person":%q,"holder":%q,"request_key":"a","job":"2201","gross_g":15700}`, attendant, welder), []string{`"state":"issued"`}},
		{"it comes back lighter", "POST", at + "/return", fmt.Sprintf(`{"person":%q,"request_key":"b","place":%q,"gross_g":12000}`, attendant, s.places[0].Code), []string{`"state":"open"`, `"net_g":11300`}},
		{"its movements are there", "GET", at + "/movements", "", []string{`"type":"returned"`, `"checked":"WPS-11 rev C; `, `"hash":`}},
		{"its wire says where each fact is from", "GET", "/api/v1/wires/3", "", []string{`"fact":"polarity"`, `"provenance":"published"`, `"provenance":"data sheet"`}},
		{"lists answer", "GET", "/api/v1/jobs?q=girders", "", []string{`"number":"2201"`}},
		{"its lot is put on hold", "POST", "/api/v1/lots/1/status", fmt.Sprintf(`{"person":%q,"request_key":"c","status":"on hold","reason":"torn boxes"}`, attendant), []string{`"status":"on hold"`, `"reason":"torn boxes"`}},
		{"its lot says so", "GET", "/api/v1/lots/1", "", []string{`"status":"on hold"`}},
		{"alerts answer", "GET", "/api/v1/alerts?cleared=true", "", []string{`"items"`}},
		{"the board answers", "GET", "/api/v1/board", "", []string{`"items":[{"spool":{"code":"W`, `"stand":"past its limit"`, `"left_s":-`, `"return_at":"`, `"late":true`, `"holder_name":"`, `"more":0`}},
		{"the API describes itself", "GET", "/api/openapi.json", "", []string{`"openapi":"3.1.0"`, `/api/v1/spools/{code}/issue`}},
	}
	last := ""
	for _, tt := range steps {
		status, _, body := s.do(t, tt.method, tt.path, "application/json", tt.body)
		if strings.Contains(tt.name, "changes nothing") && body != last {
			t.Errorf("%s: answered\n%s\nand the first time\n%s", tt.name, body, last)
		}
		last = body
		if status != 200 {
			t.Errorf("%s: %s %s: status %d\n%s", tt.name, tt.method, tt.path, status, body)
		}
		for _, want := range tt.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the answer lacks %q:\n%s", tt.name, want, body)
			}
		}
	}
	s.movements(t)
}

// Another site's page cannot make a browser write here.
func TestAnotherSiteCannotWrite(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	before := s.movements(t)
	for _, path := range []string{"/counter/issue", "/returns", "/receiving", "/api/v1/receipts"} {
		status := s.crossSite(t, path)
		if status != 403 {
			t.Errorf("POST %s from another site: status %d, want 403", path, status)
		}
	}
	if after := s.movements(t); after != before {
		t.Errorf("%d movements, before %d", after, before)
	}
}
