package main

import (
	"fmt"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestAPIOfAJobWithTwoProcedures asks, issues and loads by the API.
func TestAPIOfAJobWithTwoProcedures(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool, attendant := s.spoolOf(t, "Amber Plain 6"), s.withRole(inventory.Attendant)[0].Code
	body := func(key, more string) string {
		return fmt.Sprintf(`{"person":%q,"request_key":%q,"job":"2216"%s}`, attendant, key, more)
	}
	ask := fmt.Sprintf(`{"person":%q,"request_key":"w","spool":%q,"job":"2216","reason":"r","rules":["process"]%%s}`, attendant, spool)
	for _, tt := range []struct {
		name, method, path, body string
		status                   int
		holds                    []string
	}{
		{"a check asks for which", "GET", "/check?job=2216&spool=" + string(spool), "", 422, []string{"/problems/which-procedure", `"parameter":"procedure"`, "WPS-31 rev B or WPS-11 rev C"}},
		{"one that is none of them", "GET", "/check?job=2216&procedure=WPS-12&spool=" + string(spool), "", 422, []string{"/problems/which-procedure"}},
		{"a check under the first", "GET", "/check?job=2216&procedure=WPS-31&spool=" + string(spool), "", 200, []string{`"procedure":"WPS-31 rev B"`, `"verdict":"fits"`}},
		{"a check under the second", "GET", "/check?job=2216&procedure=WPS-11+rev+C&spool=" + string(spool), "", 200, []string{`"verdict":"does not fit"`}},
		{"a waiver asks for which", "POST", "/waivers", fmt.Sprintf(ask, ""), 422, []string{"/problems/which-procedure"}},
		{"an issue asks for which", "POST", "/spools/" + string(spool) + "/issue", body("1", ""), 422, []string{"/problems/which-procedure", `"pointer":"#/procedure"`}},
		{"an issue under the wrong one", "POST", "/spools/" + string(spool) + "/issue", body("2", `,"procedure":"WPS-11"`), 409, []string{"/problems/does-not-fit"}},
		{"an issue under the right one", "POST", "/spools/" + string(spool) + "/issue", body("3", `,"procedure":"WPS-31"`), 200, []string{`"state":"issued"`, `"procedure_id":`}},
		{"the movement says which", "GET", "/spools/" + string(spool) + "/movements", "", 200, []string{`"procedure_id":`, `"checked":"WPS-31 rev B; `}},
		{"the load check goes by it", "GET", "/load-check?spool=" + string(spool) + "&feeder=" + string(s.feeders[0].Code), "", 200, []string{`"procedure":"WPS-31 rev B"`}},
	} {
		status, _, answer := s.do(t, tt.method, "/api/v1"+tt.path, "application/json", tt.body)
		if status != tt.status {
			t.Errorf("%s: %s %s: status %d, want %d\n%s", tt.name, tt.method, tt.path, status, tt.status, answer)
		}
		for _, want := range tt.holds {
			if !strings.Contains(answer, want) {
				t.Errorf("%s: %s %s lacks %q\n%s", tt.name, tt.method, tt.path, want, answer)
			}
		}
	}
	s.movements(t)
}
