package pages_test

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"wirehold/inventory"
)

// every returns the address of every page that can be looked at.
func (s *site) every() []string {
	id := strconv.FormatInt(s.lot.ID, 10)
	counter := "/counter?" + url.Values{"badge": {string(s.attendant.Code)}, "job": {string(s.job.Code)}, "spool": {string(s.good.Code)}}.Encode()
	return []string{"/counter", counter, counter + "&welder=" + string(s.welder.Code) + "&feeder=" + string(s.feeder.Code),
		"/counter?job=" + string(s.job.Code) + "&spool=" + string(s.wrong.Code),
		"/load", "/load?feeder=" + string(s.feeder.Code), "/load?feeder=" + string(s.feeder.Code) + "&spool=" + string(s.good.Code) + "&job=" + string(s.job.Code),
		"/returns", "/receiving", "/receiving?lot=" + id, "/spools", "/spools?q=nothing+like+it", "/spools/" + string(s.good.Code),
		"/wires", "/wires/import", "/wires/" + strconv.FormatInt(s.gasless.ID, 10), "/lots", "/lots/" + id, "/jobs", "/jobs/" + string(s.job.Code),
		"/board", "/schedule", "/places", "/places/new", "/places/" + string(s.shelf.Code), "/places/" + string(s.shelf.Code) + "/edit",
		"/people", "/people/new", "/people/" + string(s.welder.Code), "/people/" + string(s.welder.Code) + "/edit",
		"/feeders", "/feeders/new", "/feeders/" + string(s.feeder.Code), "/feeders/" + string(s.feeder.Code) + "/edit",
		"/jobs/new", "/jobs/" + string(s.job.Code) + "/edit", "/procedures", "/procedures?q=nothing+like+it", "/procedures/new", "/procedures/new?from=1", "/procedures/1", "/alerts", "/alerts?kind=reorder", "/climate", "/climate/" + string(s.shelf.Code), "/climate/" + string(s.cabinet.Code), "/climate/" + string(s.feeder.Code) + "?range=decade", "/messages", "/told", "/webhooks", "/webhooks/new", "/printers", "/printers/new", "/print-jobs", "/shop", "/shop/edit", "/people/" + string(s.welder.Code) + "/alerts", "/find?q=line", "/find?q=", "/find?q=nothing+like+it", "/decode", "/decode?d=E71T-1C", "/names", "/find?q=flux+core", "/wires?q=gasless+.045",
		"/wires/" + strconv.FormatInt(s.gasless.ID, 10) + "/card", "/spools/" + string(s.good.Code) + "/card", "/wires/compare", "/wires/compare?a=1",
		"/wires/compare?a=1&b=2", "/wires/compare?a=1&b=2&job=2207", "/problems/spool-out",
		"/waivers", "/waivers?state=standing", "/waivers/new?spool=" + string(s.wrong.Code) + "&job=" + string(s.job.Code), "/profiles", "/profiles/" + inventory.GeneralProfile}
}

// TestEveryPage holds what every page must keep: it may load only the
// program's own files, runs and styles nothing inline, has one heading of the
// first rank, names each field, and says what Wirehold is.
func TestEveryPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, target := range s.every() {
		got := s.get(target)
		if got.status != http.StatusOK {
			t.Errorf("GET %s: status %d, want 200\n%s", target, got.status, got.text("main"))
			continue
		}
		if csp := got.header.Get("Content-Security-Policy"); !strings.Contains(csp, "default-src 'self'") || strings.Contains(csp, "unsafe") {
			t.Errorf("GET %s: policy %q, want the program's own files only", target, csp)
		}
		if foot := got.text("foot-aid"); !strings.Contains(foot, "Wirehold is an aid. Local codes, the contract and licensed, qualified people decide.") {
			t.Errorf("GET %s: foot says %q", target, foot)
		}
		checkMarkup(t, target, got)
	}
}

// checkMarkup holds the rules of markup that a machine can see.
func checkMarkup(t *testing.T, target string, a answer) {
	t.Helper()
	ids, labelled, headings := map[string]int{}, map[string]bool{}, 0
	for _, n := range a.all("") {
		if id := attr(n, "id"); id != "" {
			ids[id]++
		}
		if n.Data == "label" {
			labelled[attr(n, "for")] = true
		}
		if n.Data == "h1" {
			headings++
		}
		for _, at := range n.Attr {
			if at.Key == "style" || strings.HasPrefix(at.Key, "on") {
				t.Errorf("GET %s: <%s %s=%q> is inline", target, n.Data, at.Key, at.Val)
			}
		}
		if n.Data == "style" || n.Data == "script" && attr(n, "src") == "" {
			t.Errorf("GET %s: <%s> is inline", target, n.Data)
		}
	}
	if headings != 1 {
		t.Errorf("GET %s: %d headings of the first rank, want 1", target, headings)
	}
	for id, n := range ids {
		if n > 1 {
			t.Errorf("GET %s: id %q stands %d times", target, id, n)
		}
	}
	for _, n := range a.all("") {
		control := n.Data == "select" || n.Data == "input" && attr(n, "type") != "hidden"
		if control && !labelled[attr(n, "id")] {
			t.Errorf("GET %s: field %q has no label", target, attr(n, "name"))
		}
		for _, id := range strings.Fields(attr(n, "aria-describedby")) {
			if ids[id] == 0 {
				t.Errorf("GET %s: field %q is described by %q, which is not there", target, attr(n, "name"), id)
			}
		}
	}
}

// TestLinksLeadSomewhere follows every link and file that the pages name.
func TestLinksLeadSomewhere(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	seen := map[string]string{}
	for _, target := range s.every() {
		for _, n := range s.get(target).all("") {
			for _, name := range []string{"href", "src"} {
				link, _, _ := strings.Cut(attr(n, name), "#")
				if strings.HasPrefix(link, "/") && !strings.HasPrefix(link, "/api/") && !strings.HasPrefix(link, "/decode?d=nothing") && n.Type == html.ElementNode {
					seen[link] = target
				}
			}
		}
	}
	for link, from := range seen {
		if got := s.get(link); got.status != http.StatusOK {
			t.Errorf("GET %s, linked from %s: status %d, want 200", link, from, got.status)
		}
	}
	if len(seen) < 40 {
		t.Errorf("only %d links were found on %d pages", len(seen), len(s.every()))
	}
}

// TestLookUp holds what single pages answer.
func TestLookUp(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	tests := []struct {
		name, path string
		status     int
		leads      string // where a redirect leads
		class      string
		says       string
	}{
		{"the root is the counter", "/", 303, "/counter", "", ""},
		{"a code finds its spool", "/find?q=" + string(s.good.Code), 303, "/spools/" + string(s.good.Code), "", ""},
		{"the link in a label's symbol does too", "/find?q=" + url.QueryEscape("https://wire.example/spools/"+string(s.good.Code)), 303, "/spools/" + string(s.good.Code), "", ""},
		{"and the facts in one that is read without a network", "/find?q=" + url.QueryEscape(string(s.good.Code)+"; polarity: DCEN; gas: no gas"), 303, "/spools/" + string(s.good.Code), "", ""},
		{"a maker's box leads to Receiving", "/find?q=" + url.QueryEscape("]C1010950600001234610LOT-R77"), 200, "", "panel", "09506000012346, which nobody has linked to a wire yet, lot LOT-R77"},
		{"a symbol that is misread says so", "/find?q=" + url.QueryEscape("]C1010950600001234010LOT-R77"), 200, "", "fault", "check digit"},
		{"a job's number finds it", "/find?q=2207", 303, "/jobs/" + string(s.job.Code), "", ""},
		{"a badge leads to the people", "/find?q=" + string(s.welder.Code), 303, "/people/" + string(s.welder.Code), "", ""},
		{"words find wires", "/find?q=Greyline", 200, "", "table", "Greyline 11"},
		{"a filter leaves out the rest", "/spools?state=issued", 200, "", "empty-title", "No spool is like that"},
		{"a job shows its demands with who says so", "/jobs/" + string(s.job.Code), 200, "", "table", "Polarity DCEN procedure WPS-14 rev C"},
		{"a job names what it leaves open", "/jobs/" + string(s.job.Code), 200, "", "aside", "toughness"},
		{"a job is listed with its number", "/jobs", 200, "", "table", "2207"},
		{"a feeder is listed with its code", "/feeders", 200, "", "cards", string(s.feeder.Code)},
		{"a wire shows whose word each fact is", "/wires/" + strconv.FormatInt(s.gasless.ID, 10), 200, "", "mark-of", "published"},
		{"a designation is taken apart", "/decode?d=E71T-1C", 200, "", "part", "C"},
		{"one that cannot be read says where", "/decode?d=E7XT-1C", 422, "", "fault", "X"},
		{"what people call a wire leads on from the wires", "/wires", 200, "", "head-act", "Names people use"},
		{"and from what a search found", "/find?q=Greyline", 200, "", "aside", "all names"},
		{"no alert is good news", "/alerts", 200, "", "empty-title", "Nothing needs anybody"},
		{"no such page", "/nowhere", 404, "", "title", "There is no such thing"},
		{"no such wire", "/wires/99", 404, "", "fail-body", "Search for it"},
		{"no such lot", "/lots/99", 404, "", "title", "There is no such thing"},
		{"no number", "/lots/abc", 404, "", "title", "There is no such thing"},
		{"no code", "/spools/abc", 404, "", "title", "There is no such thing"},
		{"a job's code is no spool", "/spools/" + string(s.job.Code), 404, "", "lead", "a spool is due here"},
		{"a problem is explained", "/problems/spool-out", 200, "", "prose", "who has it"},
		{"a problem nobody has is not", "/problems/bad-weather", 404, "", "title", "There is no such thing"},
	}
	for _, tt := range tests {
		got := s.get(tt.path)
		if got.status != tt.status || got.location != tt.leads || tt.class != "" && !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("%s: GET %s: %d to %q, %s %q, want %d to %q and %q", tt.name, tt.path, got.status, got.location, tt.class, got.text(tt.class), tt.status, tt.leads, tt.says)
		}
	}
}

// TestPaging walks a list of more lines than fit on a page.
func TestPaging(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.receive(s.gasless, "GL-9", 60)
	first := s.get("/spools?q=GL-9")
	next := ""
	for _, n := range first.all("") {
		if attr(n, "rel") == "next" {
			next = attr(n, "href")
		}
	}
	if next == "" || !strings.Contains(first.text("pager"), "1 to 50") {
		t.Fatalf("GET /spools?q=GL-9: pager %q, want 1 to 50 and a next page", first.text("pager"))
	}
	second := s.get(next)
	if !strings.Contains(second.text("pager"), "51 to 60") || strings.Contains(second.text("pager"), "More") {
		t.Errorf("GET %s: pager %q, want 51 to 60 and no next page", next, second.text("pager"))
	}
}

// TestStaticFiles holds that a file is kept for ever under its hash and not
// found under another.
func TestStaticFiles(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	var sheet string
	for _, n := range s.get("/counter").all("") {
		if n.Data == "link" && strings.HasSuffix(attr(n, "href"), "/css/base.css") {
			sheet = attr(n, "href")
		}
	}
	parts := strings.Split(sheet, "/")
	tests := []struct {
		name, path string
		status     int
		cache      string
	}{
		{"a style sheet", sheet, 200, "public, max-age=31536000, immutable"},
		{"a font beside it", strings.Join(parts[:3], "/") + "/fonts/barlow-semi-condensed-latin-400-normal.woff2", 200, "public, max-age=31536000, immutable"},
		{"another version's", "/static/0000000000000000/css/base.css", 404, ""},
		{"a directory", strings.Join(parts[:3], "/") + "/css", 404, ""},
		{"a way out", strings.Join(parts[:3], "/") + "/../../web.go", 404, ""},
	}
	for _, tt := range tests {
		got := s.get(tt.path)
		if got.status != tt.status || tt.cache != "" && got.header.Get("Cache-Control") != tt.cache {
			t.Errorf("%s: GET %s: %d, cache %q, want %d, %q", tt.name, tt.path, got.status, got.header.Get("Cache-Control"), tt.status, tt.cache)
		}
	}
}
