package main

import (
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// TestAPISaysFindingsInTheLanguageAskedFor holds what Accept-Language changes:
// findings and what is shown of a setting, and nothing that a client compares
// or sends back.
func TestAPISaysFindingsInTheLanguageAskedFor(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool, attendant, job := s.spoolOf(t, "Cobalt Wren 14"), s.withRole(inventory.Attendant)[0].Code, "2201"
	issue := fmt.Sprintf(`{"person":%q,"request_key":"es","job":%q}`, attendant, job)
	check := "/api/v1/check?spool=" + string(spool) + "&job=" + job
	for _, tt := range []struct {
		name, method, path, body, accept string
		status                           int
		language                         string
		holds, lacks                     []string
	}{
		{"a check in English", "GET", check, "", "", 200, "en", []string{`"verdict":"does not fit"`, "The procedure is FCAW-G"}, []string{`"translation"`}},
		{"a check in Spanish", "GET", check, "", "es-PE, en;q=0.5", 200, "es", []string{`"verdict":"does not fit"`, `"outcome":"stops"`, `"rule":"process"`, "El procedimiento es FCAW-G", `"provenance":"published"`, fit.Spanish.NotReviewed()}, []string{"The procedure is"}},
		{"a refusal in English", "POST", "/api/v1/spools/" + string(spool) + "/issue", issue, "fi", 409, "en", []string{"The procedure is FCAW-G"}, []string{`"translation"`}},
		{"a refusal in Spanish", "POST", "/api/v1/spools/" + string(spool) + "/issue", issue, "es", 409, "es", []string{`"title":"A rule says no"`, "El procedimiento es FCAW-G", fit.Spanish.NotReviewed()}, []string{"The procedure is"}},
	} {
		req, err := http.NewRequestWithContext(t.Context(), tt.method, s.url+tt.path, strings.NewReader(tt.body))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("Accept-Language", tt.accept)
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		answer, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil || resp.StatusCode != tt.status || resp.Header.Get("Content-Language") != tt.language || resp.Header.Get("Vary") != "Accept-Language" {
			t.Errorf("%s: %s %s: %d, Content-Language %q, Vary %q, %v, want %d, %q", tt.name, tt.method, tt.path, resp.StatusCode, resp.Header.Get("Content-Language"), resp.Header.Get("Vary"), err, tt.status, tt.language)
		}
		for _, want := range tt.holds {
			if !strings.Contains(string(answer), want) {
				t.Errorf("%s: the answer lacks %q:\n%s", tt.name, want, answer)
			}
		}
		for _, lack := range tt.lacks {
			if strings.Contains(string(answer), lack) {
				t.Errorf("%s: the answer has %q:\n%s", tt.name, lack, answer)
			}
		}
	}
}
