package pages_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"wirehold/inventory"
)

func hasAttr(n *html.Node, name string) bool {
	for _, a := range n.Attr {
		if a.Key == name {
			return true
		}
	}
	return false
}

// issue hands the spool out for the site's job.
func (s *site) issue(spool inventory.Code) {
	s.t.Helper()
	_, err := s.ledger.Issue(s.t.Context(), inventory.Issue{Entry: inventory.Entry{Spool: spool, Person: s.attendant.Code, RequestKey: "issue " + string(spool)}, Job: s.job.Code, Holder: s.welder.Code})
	if err != nil {
		s.t.Fatalf("Issue(%s): %v", spool, err)
	}
}

// TestReturn takes a spool back the morning after it came back.
func TestReturn(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	s.now = s.now.Add(24 * time.Hour)
	page := s.get("/returns?" + url.Values{"badge": {string(s.attendant.Code)}, "spool": {string(s.good.Code)}, "place": {string(s.cabinet.Code)}}.Encode())
	form := page.filled("/returns")
	form.Set("gross", "12.2 kg")
	form.Set("place", string(s.cabinet.Code))
	form.Set("effective_at", "2026-11-25T22:00")
	got := s.post("/returns", form)
	if got.status != http.StatusSeeOther {
		t.Fatalf("POST /returns %v: status %d, want 303\n%s", form, got.status, got.text("notice"))
	}
	slip := s.get(got.location).text("slip")
	for _, says := range []string{"Taken back", "Used on job 2207", "3.5 kg", "11.5 kg", "Cabinet 1", "came back 2026-11-25 22:00 UTC"} {
		if !strings.Contains(slip, says) {
			t.Errorf("slip %q, want %q", slip, says)
		}
	}
	history := s.get("/spools/" + string(s.good.Code)).text("table-history")
	for _, says := range []string{"2026-11-25 22:00 UTC", "entered 2026-11-26 07:10 UTC"} {
		if !strings.Contains(history, says) {
			t.Errorf("history %q, want %q: a late entry shows both times", history, says)
		}
	}
}

// TestReturnShows holds the page before anything is posted, and after what
// cannot be.
func TestReturnShows(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	a := string(s.attendant.Code)
	tests := []struct {
		name, method string
		form         url.Values
		status       int
		class, says  string
	}{
		{"a spool that is not out has nothing to return", http.MethodGet, url.Values{"badge": {a}, "spool": {string(s.other.Code)}}, 200, "notice", "is not out"},
		{"a spool that is out has a form", http.MethodGet, url.Values{"badge": {a}, "spool": {string(s.good.Code)}}, 200, "panel", "Wil Bead has it for job 2207"},
		{"no weight", http.MethodPost, url.Values{"badge": {a}, "spool": {string(s.good.Code)}, "place": {string(s.shelf.Code)}, "request_key": {"1"}}, 422, "field", "give the weight on the scale"},
		{"no place", http.MethodPost, url.Values{"badge": {a}, "spool": {string(s.good.Code)}, "gross": {"10 kg"}, "request_key": {"2"}}, 422, "field", "say where the spool is put"},
		{"in the future", http.MethodPost, url.Values{"badge": {a}, "spool": {string(s.good.Code)}, "gross": {"10 kg"}, "place": {string(s.shelf.Code)}, "effective_at": {"2030-01-01T00:00"}, "request_key": {"3"}}, 422, "field", "in the future"},
		{"not out", http.MethodPost, url.Values{"badge": {a}, "spool": {string(s.other.Code)}, "gross": {"10 kg"}, "place": {string(s.shelf.Code)}, "request_key": {"4"}}, 409, "notice", "nothing to return"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := s.get("/returns?" + tt.form.Encode())
			if tt.method == http.MethodPost {
				got = s.post("/returns", tt.form)
			}
			if got.status != tt.status || !strings.Contains(got.text(tt.class), tt.says) {
				t.Errorf("%s /returns %v: status %d, %s %q, want %d and %q", tt.method, tt.form, got.status, tt.class, got.text(tt.class), tt.status, tt.says)
			}
		})
	}
}
