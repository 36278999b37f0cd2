package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/server"
)

// shallowAnswers are the addresses that name a spool, a job or a movement and
// may answer 422 to what the attempts send, with a part of the answer and the
// reason: there is no request that would go further.
var shallowAnswers = []struct{ route, says, why string }{}

// namesASpool reports whether the address, or a field of what it takes, names a
// spool, a job or a movement.
func namesASpool(r server.Route, schema map[string]any) bool {
	for part := range strings.SplitSeq(strings.TrimPrefix(r.Path, "/api/v1"), "/") {
		if slices.Contains([]string{"spools", "jobs", "counter", "load", "returns", "waivers"}, part) {
			return true
		}
	}
	properties, _ := schema["properties"].(map[string]any)
	for _, name := range []string{"spool", "job", "corrects"} {
		if _, ok := properties[name]; ok {
			return true
		}
	}
	return false
}

// wentDeep checks that what was sent to an address that names a spool, a job or
// a movement was valid up to the rule: an answer 422 means that the gate itself
// was never tried.
func (a *attempt) wentDeep(r server.Route, schema map[string]any) {
	a.t.Helper()
	for _, says := range a.shallowAt(r, schema) {
		a.t.Error(says)
	}
}

// shallowAt says what to do about each answer 422 of the address that is not
// listed.
func (a *attempt) shallowAt(r server.Route, schema map[string]any) (out []string) {
	if !namesASpool(r, schema) {
		return nil
	}
	route := r.Method + " " + r.Path
	for _, answer := range a.shallow {
		if slices.ContainsFunc(shallowAnswers, func(s struct{ route, says, why string }) bool {
			return s.route == route && strings.Contains(answer, s.says)
		}) {
			continue
		}
		out = append(out, fmt.Sprintf("%s answers 422, so that the gate behind it is not tried:\n%s\n"+
			"Give each field that it names a value that is valid, by the field's name: in attempt.named of gate_attempt_test.go for the API, in attempt.form for a page. "+
			"If no request can go further, add to shallowAnswers of gate_depth_test.go: {%q, \"a part of the answer\", \"why nothing goes further\"}",
			route, whyShallow(answer), route))
	}
	return out
}

// TestTheGateTestSeesAShallowAttempt holds that an attempt which is not valid is
// found, on a page and in the API, and names the address and the field.
func TestTheGateTestSeesAShallowAttempt(t *testing.T) {
	t.Parallel()
	a := newAttempt(t, inventory.Attendant)
	form := a.form(a.hopeless)
	form.Set("wind", "a breeze")
	tests := []struct {
		route             server.Route
		path, media, body string
		says              string
	}{
		{server.Route{Method: "POST", Path: "/jobs"}, "/jobs", "application/x-www-form-urlencoded", form.Encode(), "is not a wind speed"},
		{server.Route{Method: "POST", Path: "/api/v1/spools/:code/issue"}, "/api/v1/spools/" + string(a.hopeless) + "/issue", "application/json", `{"person":"x"}`, "required property job"},
	}
	for _, tt := range tests {
		a.shallow = nil
		a.send(tt.route.Method, tt.path, tt.media, tt.body)
		got := strings.Join(a.shallowAt(tt.route, nil), "\n")
		for _, says := range []string{tt.route.Path + " answers 422", tt.says, "attempt.named", "shallowAnswers"} {
			if !strings.Contains(got, says) {
				t.Errorf("what is said of %s %s lacks %q:\n%s", tt.route.Method, tt.path, says, got)
			}
		}
	}
}

var (
	faultOnPage = regexp.MustCompile(`(?s)<p class="fault"[^>]*>.*?</p>`)
	tagOnPage   = regexp.MustCompile(`(?s)<svg.*?</svg>|<[^>]*>`)
)

// whyShallow is what an answer says of the fields: the problem as the API writes
// it, or the faults on a page.
func whyShallow(answer string) string {
	faults := faultOnPage.FindAllString(answer, -1)
	if faults == nil {
		return answer[:min(len(answer), 1000)]
	}
	var out []string
	for _, f := range faults {
		out = append(out, strings.Join(strings.Fields(tagOnPage.ReplaceAllString(f, " ")), " "))
	}
	return strings.Join(out, "\n")
}
