package main

import (
	"strings"
	"testing"
)

// TestTheAPIRefusesAParameterThatItDoesNotKnow misspells what an answer would
// otherwise leave out of account.
func TestTheAPIRefusesAParameterThatItDoesNotKnow(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool, feeder := string(s.spoolOf(t, "Birch Keel 5")), string(s.feeders[0].Code)
	tests := []struct {
		name, method, path string
		status             int
		holds              string
	}{
		{"a check with its feeder", "GET", "/api/v1/check?job=2201&spool=" + spool + "&feeder=" + feeder, 200, `"verdict"`},
		{"one whose feeder is misspelt", "GET", "/api/v1/check?job=2201&spool=" + spool + "&feder=" + feeder, 422, `"parameter":"feder"`},
		{"a list by a state that is misspelt", "GET", "/api/v1/spools?stat=open", 422, "there is no such field here: check its spelling"},
		{"an exposure at an instant of another name", "GET", "/api/v1/spools/" + spool + "/exposure?when=2026-11-25T07:00:00Z", 422, `"parameter":"when"`},
		{"a deed that says something in its address", "POST", "/api/v1/spools/" + spool + "/open?effective_at=2026-11-25T07:00:00Z", 422, `"parameter":"effective_at"`},
	}
	for _, tt := range tests {
		status, _, answer := s.do(t, tt.method, tt.path, "application/json", "{}")
		if status != tt.status || !strings.Contains(answer, tt.holds) {
			t.Errorf("%s: %s %s: status %d, want %d with %s\n%s", tt.name, tt.method, tt.path, status, tt.status, tt.holds, answer)
		}
	}
}
