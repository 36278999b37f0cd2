package main

import (
	"encoding/json"
	"fmt"
	"net/url"
	"strings"
	"testing"

	"wirehold/inventory"
)

// issued returns a spool of the wire that was just issued to the job.
func (s *siteFixture) issued(t testing.TB, tradeName, job string) inventory.Code {
	t.Helper()
	spool := s.spoolOf(t, tradeName)
	_, err := s.ledger.Issue(t.Context(), inventory.Issue{Entry: inventory.Entry{Spool: spool, Person: s.withRole(inventory.Attendant)[0].Code, RequestKey: "issue " + string(spool)},
		Job: s.jobNumbered(t, job).Code, Holder: s.withRole(inventory.Welder)[0].Code})
	if err != nil {
		t.Fatal(err)
	}
	return spool
}

// feederNamed returns the feeder whose name begins so.
func (s *siteFixture) feederNamed(t testing.TB, name string) inventory.Feeder {
	t.Helper()
	for _, f := range s.feeders {
		if strings.HasPrefix(f.Name, name+" ") {
			return f
		}
	}
	t.Fatalf("no feeder %s", name)
	return inventory.Feeder{}
}

// unload takes off the feeder whatever the yard's history left on it.
func (s *siteFixture) unload(t *testing.T, f inventory.Feeder, by inventory.Person) {
	t.Helper()
	on, err := s.store.Read(t.Context()).SpoolOn(f.Code)
	if inventory.KindOf(err) == inventory.NotFound {
		return
	}
	if err == nil {
		_, err = s.ledger.Unload(t.Context(), inventory.Entry{Spool: on.Code, Person: by.Code, RequestKey: "unload " + string(f.Code)})
	}
	if err != nil {
		t.Fatal(err)
	}
}

// takenFeeder returns a feeder that has a spool on it.
func (s *siteFixture) takenFeeder(t *testing.T) inventory.Feeder {
	t.Helper()
	loaded := must(s.store.Catalog(t.Context()).LoadedSpools())(t)
	if len(loaded) == 0 {
		t.Fatal("nothing is on a feeder")
	}
	return must(s.store.Catalog(t.Context()).Feeder(loaded[0].Feeder))(t)
}

// TestAPILoadsAFeeder checks, loads and unloads over HTTP.
func TestAPILoadsAFeeder(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	welder, spool := s.withRole(inventory.Welder)[0].Code, s.issued(t, "Amber Kestrel 71M", "2201")
	stored := s.spoolOf(t, "Amber Kestrel 71M")
	wrong, right, taken := s.feederNamed(t, "Feeder 8"), s.feederNamed(t, "Feeder 3"), s.takenFeeder(t)
	check := func(feeder inventory.Feeder, spool inventory.Code) string {
		return "/api/v1/load-check?" + url.Values{"feeder": {string(feeder.Code)}, "spool": {string(spool)}}.Encode()
	}
	_, _, body := s.do(t, "GET", check(right, spool), "", "")
	var said struct {
		Settings []struct{ Part, Says string }
	}
	if err := json.Unmarshal([]byte(body), &said); err != nil || len(said.Settings) < 4 {
		t.Fatalf("GET %s: %s, %v, want four settings and more", check(right, spool), body, err)
	}
	confirmed, err := json.Marshal(said.Settings)
	if err != nil {
		t.Fatal(err)
	}
	lower := strings.ToLower(strings.NewReplacer(`"Part"`, `"part"`, `"Says"`, `"says"`).Replace(string(confirmed)))
	ticks := strings.NewReplacer(`"Part"`, `"part"`, `"Says"`, `"says"`).Replace(string(confirmed))
	load := func(key string, feeder inventory.Feeder, confirmed string) string {
		return fmt.Sprintf(`{"person":%q,"request_key":%q,"feeder":%q,"confirmed":%s}`, welder, key, feeder.Code, confirmed)
	}
	at := "/api/v1/spools/" + string(spool)
	steps := []struct {
		name, method, path, body string
		status                   int
		holds                    []string
	}{
		{"another gas is changed", "GET", check(right, spool), "", 200, []string{`"may_load":true`, `"job":"2201"`, `Change the gas to 75 % Ar + 25 % CO2: CO2 100 % is connected.`}},
		{"a feeder that does not take the size", "GET", check(wrong, spool), "", 200, []string{`"may_load":false`, `"settings":[]`, `"rule":"diameter","outcome":"stops"`}},
		{"a feeder that has a spool on it", "GET", check(taken, spool), "", 200, []string{`"may_load":false`, `"on_feeder":"W`, "unload it first"}},
		{"a spool in the store", "GET", check(right, stored), "", 200, []string{`"may_load":false`, "issued at the counter first"}},
		{"nothing confirmed", "POST", at + "/load", load("l1", right, "[]"), 422, []string{"/problems/set-up-not-confirmed", "#/set-polarity", "#/set-gas"}},
		{"other words confirmed", "POST", at + "/load", load("l2", right, lower), 422, []string{"/problems/set-up-not-confirmed"}},
		{"the wrong feeder", "POST", at + "/load", load("l3", wrong, ticks), 409, []string{"/problems/do-not-load", `"rule":"diameter"`}},
		{"a spool that nobody issued", "POST", "/api/v1/spools/" + string(stored) + "/load", load("l4", right, ticks), 409, []string{"/problems/spool-not-issued"}},
		{"all confirmed", "POST", at + "/load", load("l5", right, ticks), 200, []string{`"feeder":"` + string(right.Code), `"state":"issued"`}},
		{"the same again changes nothing", "POST", at + "/load", load("l5", right, ticks), 200, []string{`"feeder":"` + string(right.Code)}},
		{"the ledger keeps what was confirmed", "GET", at + "/movements", "", 200, []string{`"type":"loaded"`, "set and confirmed: ", "Change the gas to 75 % Ar + 25 % CO2"}},
		{"it comes off", "POST", at + "/unload", fmt.Sprintf(`{"person":%q,"request_key":"l6"}`, welder), 200, []string{`"state":"issued"`}},
		{"and only once", "POST", at + "/unload", fmt.Sprintf(`{"person":%q,"request_key":"l7"}`, welder), 409, []string{"/problems/spool-not-loaded"}},
		{"a job has choices", "GET", "/api/v1/jobs/2201/choices", "", 200, []string{`"fitting":[{"spool":`, `"near_misses":[{"wire":`, `"place_name"`}},
		{"on a feeder too", "GET", "/api/v1/jobs/2201/choices?feeder=" + string(wrong.Code), "", 200, []string{`"fitting":[]`, wrong.Name}},
		{"a closed job has none", "GET", "/api/v1/jobs/2198/choices", "", 409, []string{"/problems/job-closed"}},
	}
	for _, tt := range steps {
		status, _, body := s.do(t, tt.method, tt.path, "application/json", tt.body)
		if status != tt.status {
			t.Errorf("%s: %s %s: %d, want %d\n%s", tt.name, tt.method, tt.path, status, tt.status, body)
		}
		for _, want := range tt.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: %s %s: the answer lacks %q:\n%s", tt.name, tt.method, tt.path, want, body)
			}
		}
	}
	s.movements(t)
}
