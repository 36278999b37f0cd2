package main

import (
	"encoding/json"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestAPISetsUpAStoreFromNothing enters everything that the first issue needs,
// each step with what must and must not be answered.
func TestAPISetsUpAStoreFromNothing(t *testing.T) {
	t.Parallel()
	s := newStore(t)
	code := map[string]string{} // what was given out, by the step's name
	steps := []struct {
		name, method, path, body string
		status                   int
		holds                    string
	}{
		{"a welder enters themselves", "POST", "/people", `{"request_key":"0","name":"Wil","role":"welder"}`, 422, `#/role`},
		{"owner", "POST", "/people", `{"request_key":"1","name":"Olive","role":"owner"}`, 200, `"role":"owner"`},
		{"somebody else enters themselves", "POST", "/people", `{"request_key":"2","name":"Me","role":"owner"}`, 403, "/problems/somebody-is-entered"},
		{"engineer", "POST", "/people", `{"person":"{owner}","request_key":"3","name":"Eva","role":"welding engineer"}`, 200, `"version":1`},
		{"the engineer enters a person", "POST", "/people", `{"person":"{engineer}","request_key":"4","name":"X","role":"welder"}`, 403, "/problems/may-not-enter-people"},
		{"welder", "POST", "/people", `{"person":"{owner}","request_key":"5","name":"Wil","role":"welder"}`, 200, ""},
		{"a person is edited", "PUT", "/people/{welder}", `{"person":"{owner}","request_key":"6","version":1,"name":"Wil Bead","role":"welder"}`, 200, `"name":"Wil Bead","role":"welder","version":2`},
		{"from a version that is no more", "PUT", "/people/{welder}", `{"person":"{owner}","request_key":"7","version":1,"name":"W","role":"welder"}`, 409, "/problems/record-changed"},
		{"people are listed", "GET", "/people", "", 200, `"name":"Wil Bead"`},
		{"shelf", "POST", "/places", `{"person":"{engineer}","request_key":"8","name":"Shelf A1","kind":"shelf","dry_kept":false}`, 200, `"kind":"shelf"`},
		{"a place is edited", "PUT", "/places/{shelf}", `{"person":"{engineer}","request_key":"9","version":1,"name":"Shelf A1","kind":"dry cabinet","dry_kept":true}`, 200, `"dry_kept":true`},
		{"feeder", "POST", "/feeders", `{"person":"{engineer}","request_key":"10","name":"Feeder 1","dry_kept":false,"polarities":["DCEP","DCEN"],"polarity":"DCEP","gas":"75 Ar 25 CO2","rolls":"knurled V","roll_size":".045 in","packages":["12 in spool"],"largest_package_g":20000}`, 200, `"roll_size":"1.143 mm"`},
		{"a feeder with a size that is none", "POST", "/feeders", `{"person":"{engineer}","request_key":"11","name":"Feeder 2","dry_kept":false,"gun":"big"}`, 422, "#/gun"},
		{"procedure", "POST", "/procedures", `{"person":"{engineer}","request_key":"12","number":"WPS-1","revision":"A","classifications":["E71T-1M"],"gas":"75 Ar 25 CO2","tensile":"70 ksi"}`, 200, `"number":"WPS-1"`},
		{"a demand without its unit", "POST", "/procedures", `{"person":"{engineer}","request_key":"13","number":"WPS-2","revision":"A","tensile":"70"}`, 422, "#/tensile"},
		{"its next revision", "POST", "/procedures", `{"person":"{engineer}","request_key":"14","from":1,"number":"WPS-1","revision":"B","hydrogen":8}`, 200, `"revision":"B"`},
		{"what it is qualified for", "POST", "/procedures", `{"person":"{engineer}","request_key":"14a","number":"WPS-3","revision":"A","thickness_least":"3 mm","thickness_most":"1 in","base_metals":["A36 (carbon steel)","group II"]}`, 200, `"thickness_least":"3 mm","thickness_most":"25.4 mm","base_metals":["A36 (carbon steel)","group II"]`},
		{"a metal of no kind", "POST", "/procedures", `{"person":"{engineer}","request_key":"14b","number":"WPS-4","revision":"A","base_metals":["A36"]}`, 422, "#/base_metals"},
		{"what it changed", "GET", "/procedures/2/changes", "", 200, "copied from A"},
		{"job", "POST", "/jobs", `{"person":"{engineer}","request_key":"15","number":"4401","procedure_ids":[1],"profile":"general-shop","site":"field","base_metals":[{"name":"A36","family":"carbon steel","thickness":"10 mm"}],"welds":["2 m of 6 mm fillet"]}`, 200, `"site":"field"`},
		{"a job without a known metal", "POST", "/jobs", `{"person":"{engineer}","request_key":"16","number":"4402","procedure_ids":[1],"profile":"general-shop","site":"shop","base_metals":[{"name":"A36","family":"iron"}]}`, 422, "#/base_metals/0/family"},
		{"a job is edited", "PUT", "/jobs/{job}", `{"person":"{engineer}","request_key":"17","version":1,"number":"4401","procedure_ids":[1],"profile":"general-shop","site":"field","wind":"3 mph"}`, 200, `"wind":"1.341 m/s"`},
		{"a job of two procedures", "POST", "/jobs", `{"person":"{engineer}","request_key":"17a","number":"4403","procedure_ids":[1,3],"profile":"general-shop","site":"shop"}`, 200, `"procedure_ids":[1,3]`},
		{"its choices ask for which", "GET", "/jobs/4403/choices", "", 422, "WPS-1 rev A or WPS-3 rev A"},
		{"and are told by number", "GET", "/jobs/4403/choices?procedure=WPS-3", "", 200, `"procedure":"WPS-3 rev A"`},
		{"one procedure twice", "POST", "/jobs", `{"person":"{engineer}","request_key":"17b","number":"4404","procedure_ids":[1,2],"profile":"general-shop","site":"shop"}`, 422, `named once","pointer":"#/procedure_ids/1"`},
		{"one that is not there", "POST", "/jobs", `{"person":"{engineer}","request_key":"17d","number":"4404","procedure_ids":[99,1],"profile":"general-shop","site":"shop"}`, 422, `"pointer":"#/procedure_ids/0"`},
		{"a job without any", "POST", "/jobs", `{"person":"{engineer}","request_key":"17c","number":"4404","procedure_ids":[],"profile":"general-shop","site":"shop"}`, 422, `"pointer":"#/procedure_ids"`},
		{"it is closed", "POST", "/jobs/{job}/close", `{"person":"{engineer}","request_key":"18"}`, 200, `"closed":true`},
		{"the same request again", "POST", "/jobs/{job}/close", `{"person":"{engineer}","request_key":"18"}`, 200, `"closed":true`},
		{"and opened again", "POST", "/jobs/{job}/reopen", `{"person":"{engineer}","request_key":"19"}`, 200, `"closed":false`},
		{"who did what", "GET", "/jobs/{job}/changes", "", 200, `"deed":"reopened","by":"Eva"`},
		{"a revision is retired", "POST", "/procedures/2/retire", `{"person":"{engineer}","request_key":"20"}`, 200, "retired_at"},
		{"only those that are good", "GET", "/procedures?state=good", "", 200, `"open_jobs":2`},
		{"a badge is retired", "POST", "/people/{engineer}/retire", `{"person":"{owner}","request_key":"21"}`, 200, "retired_at"},
		{"it is refused", "POST", "/places", `{"person":"{engineer}","request_key":"22","name":"Shelf B","kind":"shelf","dry_kept":false}`, 403, "/problems/badge-retired"},
		{"the last owner stays", "POST", "/people/{owner}/retire", `{"person":"{owner}","request_key":"23"}`, 409, "/problems/last-owner"},
		{"a page takes no PUT", "PUT", "../../places", ``, 405, "does not take this method"},
	}
	for _, tt := range steps {
		body, path := tt.body, "/api/v1"+tt.path
		if strings.HasPrefix(tt.path, "../../") {
			path = "/" + strings.TrimPrefix(tt.path, "../../")
		}
		for name, c := range code {
			body, path = strings.ReplaceAll(body, "{"+name+"}", c), strings.ReplaceAll(path, "{"+name+"}", c)
		}
		status, _, answer := s.do(t, tt.method, path, "application/json", body)
		if status != tt.status || !strings.Contains(answer, tt.holds) {
			t.Errorf("%s: %s %s: status %d, want %d and %q\n%s", tt.name, tt.method, path, status, tt.status, tt.holds, answer)
		}
		var given struct{ Code string }
		if status == 200 && json.Unmarshal([]byte(answer), &given) == nil && code[tt.name] == "" {
			code[tt.name] = given.Code
		}
	}
}

// TestAJobIsSentBackAsItWasGiven edits every job of the invented yard to what it
// is: what the API gives, it takes.
func TestAJobIsSentBackAsItWasGiven(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	engineer := s.withRole(inventory.Engineer)[0].Code
	_, _, answer := s.do(t, "GET", "/api/v1/jobs?limit=100", "", "")
	var given struct{ Items []map[string]any }
	if err := json.Unmarshal([]byte(answer), &given); err != nil || len(given.Items) < 10 {
		t.Fatalf("GET /api/v1/jobs: %v, %d jobs, want ten or more", err, len(given.Items))
	}
	for _, line := range given.Items {
		path := "/api/v1/jobs/" + line["code"].(string)
		_, _, answer := s.do(t, "GET", path, "", "")
		var job map[string]any
		if err := json.Unmarshal([]byte(answer), &job); err != nil {
			t.Fatal(err)
		}
		if job["base_metals"] == nil || job["site"] == "" {
			t.Errorf("GET %s: %s, want a job whose site and metals are stated", path, answer)
		}
		delete(job, "code")
		delete(job, "closed")
		job["person"], job["request_key"] = engineer, "back "+path
		body, err := json.Marshal(job)
		if err != nil {
			t.Fatal(err)
		}
		status, _, back := s.do(t, "PUT", path, "application/json", string(body))
		if status != 200 || back != answer {
			t.Errorf("PUT %s of what GET gave: %d %s, want 200 %s", path, status, back, answer)
		}
	}
}
