package pages_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestScanFillsSlots scans things one after another, in different orders, and
// holds the counter's address against what was scanned.
func TestScanFillsSlots(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	a, w, e := string(s.attendant.Code), string(s.welder.Code), string(s.engineer.Code)
	job, good, other, feeder := string(s.job.Code), string(s.good.Code), string(s.other.Code), string(s.feeder.Code)
	tests := []struct {
		name  string
		scans []string
		want  url.Values
	}{
		{"badge, job, spool", []string{a, job, good}, url.Values{"badge": {a}, "job": {job}, "spool": {good}}},
		{"spool, job, badge", []string{good, job, a}, url.Values{"badge": {a}, "job": {job}, "spool": {good}}},
		{"a job by its number", []string{"2207"}, url.Values{"job": {job}}},
		{"lower case without the hyphen", []string{strings.ToLower(strings.ReplaceAll(good, "-", ""))}, url.Values{"spool": {good}}},
		{"a feeder", []string{feeder}, url.Values{"feeder": {feeder}}},
		{"another spool replaces the first", []string{good, other}, url.Values{"spool": {other}}},
		{"a second badge is the welder's", []string{a, w}, url.Values{"badge": {a}, "welder": {w}}},
		{"the welder's badge may come first", []string{w, a}, url.Values{"badge": {a}, "welder": {w}}},
		{"a third badge replaces the welder's", []string{a, w, e}, url.Values{"badge": {a}, "welder": {e}}},
		{"the same badge twice is one badge", []string{a, a}, url.Values{"badge": {a}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			at := "/counter"
			for _, scan := range tt.scans {
				u, _ := url.Parse(at)
				q := u.Query()
				q.Set("scan", scan)
				got := s.get("/counter?" + q.Encode())
				if got.status != http.StatusSeeOther {
					t.Fatalf("scan %q at %s: status %d, want 303\n%s", scan, at, got.status, got.text("fault"))
				}
				at = got.location
			}
			if want := "/counter?" + tt.want.Encode(); at != want {
				t.Errorf("scans %q lead to %s, want %s", tt.scans, at, want)
			}
		})
	}
}

// TestBadScanKeepsSlots scans what names nothing: a message stands beside the
// box and what was scanned before is still there.
func TestBadScanKeepsSlots(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unknown, ok := inventory.Code(""), false
	for n := 9000; !ok; n++ {
		unknown, ok = inventory.NewCode(inventory.SpoolCode, n)
	}
	misread := []byte(s.good.Code)
	misread[1] = "23"[b2i(misread[1] == '2')]
	tests := []struct {
		name, scan string
		status     int
		says       string
	}{
		{"a misread character", string(misread), http.StatusUnprocessableEntity, "check character"},
		{"no code at all", "hello", http.StatusUnprocessableEntity, "not a Wirehold code"},
		{"a code that was never given out", string(unknown), http.StatusNotFound, string(unknown)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			target := "/counter?" + url.Values{"badge": {string(s.attendant.Code)}, "job": {string(s.job.Code)}, "scan": {tt.scan}}.Encode()
			got := s.get(target)
			if got.status != tt.status || !strings.Contains(got.text("fault"), tt.says) {
				t.Errorf("GET %s: status %d, fault %q, want %d and %q", target, got.status, got.text("fault"), tt.status, tt.says)
			}
			for _, keeps := range []string{"Ada Counter", "2207"} {
				if !strings.Contains(got.text("tag-title"), keeps) {
					t.Errorf("GET %s: tags %q, want %q kept", target, got.text("tag-title"), keeps)
				}
			}
		})
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// TestCounterShows holds what the counter shows in each situation.
func TestCounterShows(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	out := s.other
	if _, err := s.ledger.Issue(t.Context(), inventory.Issue{Entry: inventory.Entry{Spool: out.Code, Person: s.attendant.Code, RequestKey: "out"}, Job: s.job.Code, Holder: s.welder.Code}); err != nil {
		t.Fatalf("Issue: %v", err)
	}
	closed := must(s.ledger.AddJob(t.Context(), inventory.Job{Number: "1001", Procedures: s.job.Procedures, ProfileID: s.job.ProfileID, Closed: true}))(t)
	a, job := string(s.attendant.Code), string(s.job.Code)
	tests := []struct {
		name   string
		query  url.Values
		class  string // where the words stand
		says   []string
		form   string // a field that must be there; empty if none of the two forms may
		action string
	}{
		{"nothing scanned asks for a badge", url.Values{}, "next-ask", []string{"Scan your badge"}, "", ""},
		{"a badge asks for a job", url.Values{"badge": {a}}, "next-ask", []string{"Scan the job"}, "", ""},
		{"a spool that fits may be issued", url.Values{"badge": {a}, "job": {job}, "spool": {string(s.good.Code)}}, "verdict", []string{"FITS", string(s.good.Code), "2207"}, "stays_sealed", "/counter/issue"},
		{"without a badge it may not", url.Values{"job": {job}, "spool": {string(s.good.Code)}}, "next-ask", []string{"Scan your badge"}, "", ""},
		{"a spool that does not fit has no form", url.Values{"badge": {a}, "job": {job}, "spool": {string(s.wrong.Code)}}, "verdict", []string{"DOES NOT FIT", "Stops: classification"}, "", ""},
		{"what stops shows both sides and both sources", url.Values{"badge": {a}, "job": {job}, "spool": {string(s.wrong.Code)}}, "finding-stop", []string{"E71T-1C", "E71T-11", "procedure WPS-14 rev C"}, "", ""},
		{"a closed job takes nothing", url.Values{"badge": {a}, "job": {string(closed.Code)}, "spool": {string(s.good.Code)}}, "answer", []string{"DOES NOT FIT", "job 1001 is closed"}, "", ""},
		{"what would fit is linked", url.Values{"badge": {a}, "job": {job}, "spool": {string(s.wrong.Code)}}, "links", []string{"E71T-11 spools in the store"}, "", ""},
		{"a spool that is out names who has it", url.Values{"badge": {a}, "job": {job}, "spool": {string(out.Code)}}, "out-who", []string{"Wil Bead", "2207", "2026-11-25 07:10 UTC"}, "place", "/returns"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := s.get("/counter?" + tt.query.Encode())
			if got.status != http.StatusOK {
				t.Fatalf("GET /counter?%s: status %d, want 200", tt.query.Encode(), got.status)
			}
			for _, want := range tt.says {
				if !strings.Contains(got.text(tt.class), want) {
					t.Errorf("GET /counter?%s: %s says %q, want %q", tt.query.Encode(), tt.class, got.text(tt.class), want)
				}
			}
			if got.actions()[tt.action] != (tt.action != "") || tt.form != "" && got.field(tt.form) == nil {
				t.Errorf("GET /counter?%s: forms %v, want %q with field %q", tt.query.Encode(), got.actions(), tt.action, tt.form)
			}
			if tt.action == "" && (got.actions()["/counter/issue"] || got.actions()["/returns"]) {
				t.Errorf("GET /counter?%s: forms %v, want neither issue nor return", tt.query.Encode(), got.actions())
			}
		})
	}
}

// actions returns where the page's forms are posted.
func (a answer) actions() map[string]bool {
	out := map[string]bool{}
	for _, n := range a.all("") {
		if n.Data == "form" && attr(n, "method") == "post" {
			out[attr(n, "action")] = true
		}
	}
	return out
}

// TestIssue issues a spool as the counter's form does.
func TestIssue(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	page := s.get("/counter?" + url.Values{"badge": {string(s.attendant.Code)}, "welder": {string(s.welder.Code)}, "job": {string(s.job.Code)}, "spool": {string(s.good.Code)}}.Encode())
	form := page.filled("/counter/issue")
	form.Set("gross", "15.7 kg")
	got := s.post("/counter/issue", form)
	want := "/counter?" + url.Values{"badge": {string(s.attendant.Code)}, "job": {string(s.job.Code)}, "done": {string(s.good.Code)}}.Encode()
	if got.status != http.StatusSeeOther || got.location != want {
		t.Fatalf("POST /counter/issue %v: %d to %s, want 303 to %s\n%s", form, got.status, got.location, want, got.text("notice"))
	}
	slip := s.get(got.location).text("slip")
	for _, says := range []string{"Issued", string(s.good.Code), "2207", "Wil Bead", "15 kg", "WPS-14 rev C; General shop", "open since"} {
		if !strings.Contains(slip, says) {
			t.Errorf("slip %q, want %q", slip, says)
		}
	}
	// The slip on paper has the same numbers.
	paper := s.get("/labels/" + string(s.good.Code) + "/label?kind=slip&size=100x150&format=svg")
	for _, says := range []string{"ISSUE SLIP", string(s.good.Code), "2207", "Wil Bead", "15 kg (33.1 lb)", "WPS-14 rev C", "open since"} {
		if !strings.Contains(slip, says) && says != "ISSUE SLIP" || !strings.Contains(paper.body, says) {
			t.Errorf("slip on screen %q, on paper %d %.2000q: want %q on both", slip, paper.status, paper.body, says)
		}
	}
	if again := s.post("/counter/issue", form); again.location != want {
		t.Errorf("the same form again: %d to %q, want the same answer", again.status, again.location)
	}
	if history := s.history(s.good.Code); len(history) != 3 {
		t.Errorf("history has %d movements, want received, opened, issued and no more", len(history))
	}
}

func (s *site) history(code inventory.Code) []inventory.Movement {
	s.t.Helper()
	return must(s.store.Catalog(s.t.Context()).History(code))(s.t)
}

// filled returns the form posted to action as the page was sent, every hidden
// and chosen value in it.
func (a answer) filled(action string) url.Values {
	form := url.Values{}
	for _, n := range a.all("") {
		if n.Data != "form" || attr(n, "action") != action || attr(n, "method") == "get" {
			continue
		}
		for f := range n.Descendants() {
			switch {
			case f.Data == "input" && attr(f, "type") == "hidden":
				form.Add(attr(f, "name"), attr(f, "value"))
			case f.Data == "input" && attr(f, "type") != "checkbox":
				form.Set(attr(f, "name"), attr(f, "value"))
			}
		}
	}
	return form
}

// TestIssueFails posts issues that cannot be: the counter comes back with why,
// and nothing is in the ledger.
func TestIssueFails(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	tests := []struct {
		name   string
		change map[string]string
		status int
		class  string
		says   string
	}{
		{"a weight without its unit", map[string]string{"gross": "15.7"}, 422, "field", `"15.7" is not a weight`},
		{"more than the full package", map[string]string{"gross": "40 kg"}, 422, "field", "heavier than the full package"},
		{"a spool that does not fit", map[string]string{"spool": string(s.wrong.Code)}, 409, "notice", "does not fit"},
		{"a welder at the counter", map[string]string{"badge": string(s.welder.Code)}, 403, "notice", "Wil Bead is a welder"},
		{"a misread spool", map[string]string{"spool": "WWWWW-W"}, 422, "notice", "check character"},
		{"no request key", map[string]string{"request_key": ""}, 422, "notice", "key"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			form := url.Values{"badge": {string(s.attendant.Code)}, "job": {string(s.job.Code)}, "spool": {string(s.good.Code)}, "request_key": {"k " + tt.name}}
			for name, value := range tt.change {
				form.Set(name, value)
			}
			got := s.post("/counter/issue", form)
			if got.status != tt.status || !strings.Contains(got.text(tt.class), tt.says) {
				t.Errorf("POST /counter/issue %v: status %d, %s %q, want %d and %q", form, got.status, tt.class, got.text(tt.class), tt.status, tt.says)
			}
			if n := len(s.history(s.good.Code)) + len(s.history(s.wrong.Code)); n != 2 {
				t.Errorf("POST /counter/issue %v left %d movements, want the 2 receipts only", form, n)
			}
		})
	}
}

// TestWrongWeightComesBack holds that the form keeps what was typed, with the
// message tied to the field.
func TestWrongWeightComesBack(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	got := s.post("/counter/issue", url.Values{"badge": {string(s.attendant.Code)}, "job": {string(s.job.Code)},
		"spool": {string(s.good.Code)}, "request_key": {"k"}, "gross": {"15,7"}, "stays_sealed": {"yes"}})
	field, seal := got.field("gross"), got.field("stays_sealed")
	if field == nil || seal == nil {
		t.Fatalf("POST /counter/issue: no form came back:\n%s", got.body)
	}
	if attr(field, "value") != "15,7" || attr(field, "aria-invalid") != "true" || !strings.Contains(attr(field, "aria-describedby"), "issue-gross-fault") {
		t.Errorf("field gross came back as %v, want 15,7, invalid, described by its fault", field.Attr)
	}
	if !hasAttr(seal, "checked") {
		t.Errorf("field stays_sealed came back as %v, want it checked", seal.Attr)
	}
	if key := got.field("request_key"); key == nil || attr(key, "value") != "k" {
		t.Errorf("the request key came back as %v, want the one that was sent", key)
	}
}
