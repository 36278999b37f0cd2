package pages_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

func (s *site) atFeeder(spool inventory.Code, more ...string) string {
	q := url.Values{"feeder": {string(s.feeder.Code)}, "spool": {string(spool)}, "badge": {string(s.welder.Code)}}
	for i := 0; i+1 < len(more); i += 2 {
		q.Set(more[i], more[i+1])
	}
	return "/load?" + q.Encode()
}

// ticks returns the names and values of the page's tick boxes.
func (a answer) ticks() url.Values {
	out := url.Values{}
	for _, n := range a.all("tick-box") {
		out.Set(attr(n, "name"), attr(n, "value"))
	}
	return out
}

// TestLoadShows holds what the load check shows in each situation.
func TestLoadShows(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	positive := must(s.ledger.AddFeeder(t.Context(), inventory.Feeder{Place: inventory.Place{Name: "Feeder 4"}, Polarities: []fit.Polarity{fit.DCEP}, Gas: &fit.Gas{}}))(t)
	gassed := must(s.ledger.AddFeeder(t.Context(), inventory.Feeder{Place: inventory.Place{Name: "Feeder 5"}, Polarities: []fit.Polarity{fit.DCEN}, Gas: &fit.Gas{CO2: 100}}))(t)
	feeder, good := string(s.feeder.Code), string(s.good.Code)
	tests := []struct {
		name, path string
		class      string
		says       []string
		ticks      bool
	}{
		{"nothing scanned lists the feeders", "/load", "feeders", []string{"Feeder 3", "Nothing is on it."}, false},
		{"nothing scanned asks for the feeder", "/load", "next-ask", []string{"Scan the feeder"}, false},
		{"a feeder asks for the spool", "/load?feeder=" + feeder, "next-ask", []string{"Scan the spool"}, false},
		{"a spool asks for the feeder", "/load?spool=" + good, "next-ask", []string{"Scan the feeder"}, false},
		{"a spool that fits is loaded", s.atFeeder(s.good.Code), "verdict", []string{"LOAD", good, "Feeder 3"}, true},
		{"what to set is said with who says so", s.atFeeder(s.good.Code), "ticks", []string{"electrode negative (DCEN)", "Leave the gas off", "ISO 17632"}, true},
		{"how long it may stay out", s.atFeeder(s.good.Code), "clock", []string{"Open 0 h. Nobody gives a limit"}, true},
		{"also where it is not loaded", s.atFeeder(s.other.Code), "clock", []string{"Sealed: its clock has not begun"}, false},
		{"the job may be named too", s.atFeeder(s.good.Code, "job", string(s.job.Code)), "answer-against", []string{"job 2207", "WPS-14 rev C"}, true},
		{"a feeder of the wrong polarity is not", s.atFeeder(s.good.Code, "feeder", string(positive.Code)), "verdict", []string{"DO NOT LOAD", "Stops: polarity"}, false},
		{"and says why with both sources", s.atFeeder(s.good.Code, "feeder", string(positive.Code)), "finding-stop", []string{"gives only DCEP", "ISO 17632"}, false},
		{"gas that is connected is shut", s.atFeeder(s.good.Code, "feeder", string(gassed.Code)), "ticks", []string{"Shut the gas"}, true},
		{"a spool in the store is not loaded", s.atFeeder(s.other.Code), "answer-why", []string{"Spool " + string(s.other.Code) + " is in the store", "issued at the counter first"}, false},
		{"and the word says so", s.atFeeder(s.other.Code), "verdict", []string{"DO NOT LOAD"}, false},
	}
	for _, tt := range tests {
		got := s.get(tt.path)
		if got.status != http.StatusOK {
			t.Errorf("%s: GET %s: status %d, want 200", tt.name, tt.path, got.status)
		}
		for _, says := range tt.says {
			if !strings.Contains(got.text(tt.class), says) {
				t.Errorf("%s: GET %s: %s says %q, want %q", tt.name, tt.path, tt.class, got.text(tt.class), says)
			}
		}
		if ticks := len(got.ticks()) > 0; ticks != tt.ticks {
			t.Errorf("%s: GET %s: ticks %t, want %t", tt.name, tt.path, ticks, tt.ticks)
		}
	}
}

// TestNothingIsSetUpUnderAStop holds that what a welder would change at the
// feeder is put off, and said to be, while something else stops the spool.
func TestNothingIsSetUpUnderAStop(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	feeder := must(s.ledger.AddFeeder(t.Context(), inventory.Feeder{Place: inventory.Place{Name: "Feeder 6"}, Polarities: []fit.Polarity{fit.DCEP}, Gas: &fit.Gas{CO2: 100}}))(t)
	path := s.atFeeder(s.good.Code, "feeder", string(feeder.Code))
	got := s.get(path)
	if !strings.Contains(got.text("verdict"), "DO NOT LOAD") || !strings.Contains(got.text("finding-stop"), "gives only DCEP") {
		t.Fatalf("GET %s: %q, %q, want a stop of polarity", path, got.text("verdict"), got.text("finding-stop"))
	}
	if now := got.text("findings"); strings.Contains(now, "Shut the gas") {
		t.Errorf("GET %s: says %q below the stop, want nothing to set up", path, now)
	}
	if later := got.text("fold"); !strings.Contains(later, "for when the stop is cleared") || !strings.Contains(later, "Shut the gas") {
		t.Errorf("GET %s: put off %q, want the gas for when the stop is cleared", path, later)
	}
}

// TestLoadByForm loads and unloads a spool as a welder does, with a tick
// forgotten at first.
func TestLoadByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	page := s.get(s.atFeeder(s.good.Code))
	form := page.filled("/load")
	for name := range page.ticks() {
		form.Del(name)
	}
	form.Set("set-gas", page.ticks().Get("set-gas"))
	got := s.post("/load", form)
	if got.status != http.StatusUnprocessableEntity || !strings.Contains(got.text("notice"), "polarity") || strings.Contains(got.text("tick-fault"), "gas") {
		t.Errorf("POST /load with one tick: %d, %q, want 422 and what is not ticked", got.status, got.text("notice"))
	}
	checked := 0
	for _, n := range got.all("tick-box") {
		if hasAttr(n, "checked") {
			checked++
		}
	}
	if checked != 1 {
		t.Errorf("POST /load with one tick: %d ticks are kept, want 1", checked)
	}
	for name, says := range page.ticks() {
		form[name] = says
	}
	got = s.post("/load", form)
	if got.status != http.StatusSeeOther {
		t.Fatalf("POST /load %v: %d, want 303\n%s", form, got.status, got.text("notice"))
	}
	on := s.get(got.location)
	if !strings.Contains(on.text("notice"), "is on Feeder 3") || !strings.Contains(on.text("feeder-on"), string(s.good.Code)) {
		t.Errorf("GET %s: %q, %q, want the spool on the feeder", got.location, on.text("notice"), on.text("feeder-on"))
	}
	if clock := s.get("/load?feeder=" + string(s.feeder.Code)).text("clock"); !strings.Contains(clock, "Open 0 h") {
		t.Errorf("the feeder's page says %q of the clock of what is on it, want that it is open since now", clock)
	}
	if out := s.get("/counter?spool=" + string(s.good.Code)).text("out-who"); !strings.Contains(out, "It is on Feeder 3") {
		t.Errorf("the counter says %q, want where the spool is", out)
	}
	if list := s.get("/spools?state=issued").text("table"); !strings.Contains(list, "on Feeder 3") {
		t.Errorf("the list says %q, want where the spool is", list)
	}
	if history := s.get("/spools/" + string(s.good.Code)).text("table-history"); !strings.Contains(history, "set and confirmed: ") {
		t.Errorf("history %q, want what was confirmed", history)
	}
	got = s.post("/load/unload", on.filled("/load/unload"))
	if got.status != http.StatusSeeOther || !strings.Contains(s.get(got.location).text("notice"), "is off the feeder") {
		t.Errorf("POST /load/unload: %d to %s, %q, want it off", got.status, got.location, s.get(got.location).text("notice"))
	}
}

// TestLoadWithoutABadge asks for it in the form and keeps the ticks.
func TestLoadWithoutABadge(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.issue(s.good.Code)
	page := s.get(strings.ReplaceAll(s.atFeeder(s.good.Code), "badge="+string(s.welder.Code)+"&", ""))
	form := page.filled("/load")
	for name, says := range page.ticks() {
		form[name] = says
	}
	form.Set("person", "")
	got := s.post("/load", form)
	if got.status != http.StatusUnprocessableEntity || !strings.Contains(got.text("fault"), "badge") {
		t.Errorf("POST /load without a badge: %d, %q, want 422 and the badge asked for", got.status, got.text("fault"))
	}
	form.Set("person", string(s.welder.Code))
	if got := s.post("/load", form); got.status != http.StatusSeeOther {
		t.Errorf("POST /load with a badge typed: %d, %q, want 303", got.status, got.text("notice"))
	}
}

// TestChoicesAreShown holds where the counter and a job's page say which spool
// to take.
func TestChoicesAreShown(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	a, job := string(s.attendant.Code), string(s.job.Code)
	tests := []struct {
		name, path string
		says       []string
	}{
		{"badge and job", "/counter?" + url.Values{"badge": {a}, "job": {job}}.Encode(), []string{string(s.good.Code), string(s.other.Code), "Shelf A1"}},
		{"a refusal", "/counter?" + url.Values{"badge": {a}, "job": {job}, "spool": {string(s.wrong.Code)}}.Encode(), []string{string(s.good.Code)}},
		{"the job's page", "/jobs/" + job, []string{string(s.good.Code)}},
	}
	for _, tt := range tests {
		got := s.get(tt.path)
		for _, says := range tt.says {
			if !strings.Contains(got.text("take"), says) {
				t.Errorf("%s: GET %s: %q, want %q", tt.name, tt.path, got.text("take"), says)
			}
		}
	}
	for _, n := range s.get(tests[0].path).all("take-code") {
		if to := attr(n, "href"); !strings.Contains(to, "badge="+a) || !strings.Contains(s.get(to).text("verdict"), "FITS") {
			t.Errorf("a spool that fits leads to %s, want the counter with it", to)
		}
	}
	if _, err := s.ledger.Hold(t.Context(), inventory.Entry{Spool: s.good.Code, Person: s.attendant.Code, RequestKey: "hold"}, "torn box"); err != nil {
		t.Fatal(err)
	}
	got := s.get(tests[0].path)
	if !strings.Contains(got.text("near"), "torn box") || strings.Contains(got.text("take"), string(s.good.Code)) {
		t.Errorf("a held spool: fits %q, misses %q, want it among what misses by one rule", got.text("take"), got.text("near"))
	}
}
