package pages_test

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
)

// TestDeeds does one thing after another to a spool through its page.
func TestDeeds(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	code := string(s.good.Code)
	received := strconv.FormatInt(s.history(s.good.Code)[0].Seq, 10)
	steps := []struct {
		name, deed string
		form       url.Values
		person     inventory.Code
		status     int
		says       string // in the notice that follows, or the fault
	}{
		{"opened", "open", url.Values{}, s.attendant.Code, 303, "Package opened"},
		{"opened twice", "open", url.Values{}, s.attendant.Code, 409, "open already"},
		{"weighed", "weigh", url.Values{"gross": {"14.7 kg"}}, s.attendant.Code, 303, "Weighed"},
		{"weighed without a weight", "weigh", url.Values{}, s.attendant.Code, 422, "give the weight"},
		{"moved", "move", url.Values{"place": {string(s.cabinet.Code)}}, s.attendant.Code, 303, "Moved to Cabinet 1"},
		{"held without a reason", "hold", url.Values{}, s.attendant.Code, 422, "say why"},
		{"held", "hold", url.Values{"reason": {"torn foil"}}, s.attendant.Code, 303, "Put on hold"},
		{"released by the attendant", "release", url.Values{"reason": {"looks fine"}}, s.attendant.Code, 403, "Ada Counter is a store attendant"},
		{"released", "release", url.Values{"reason": {"looked at"}}, s.engineer.Code, 303, "Released"},
		{"corrected", "correct", url.Values{"corrects": {received}, "reason": {"wrong shelf"}, "place": {string(s.shelf.Code)}}, s.attendant.Code, 303, "Corrects movement " + received},
		{"corrected to sealed", "correct", url.Values{"corrects": {received}, "reason": {"never opened, and weighed on the wrong scale"}, "still_sealed": {"yes"}, "gross": {"15.7 kg"}}, s.engineer.Code, 303, "Corrects movement"},
		{"scrapped", "scrap", url.Values{"reason": {"rusty"}}, s.attendant.Code, 303, "Scrapped"},
		{"moved after that", "move", url.Values{"place": {string(s.shelf.Code)}}, s.attendant.Code, 409, "is scrapped"},
		{"something else", "lend", url.Values{}, s.attendant.Code, 404, "There is no such thing"},
	}
	for i, step := range steps {
		step.form.Set("person", string(step.person))
		step.form.Set("request_key", "step "+strconv.Itoa(i))
		s.now = s.now.Add(time.Minute)
		got := s.post("/spools/"+code+"/"+step.deed, step.form)
		if got.status != step.status {
			t.Fatalf("%s: POST %s %v: status %d, want %d\n%s", step.name, step.deed, step.form, got.status, step.status, got.text("main"))
		}
		if got.location != "" {
			got = s.get(got.location)
		}
		if said := got.text("notice") + got.text("fault") + got.text("title"); !strings.Contains(said, step.says) {
			t.Errorf("%s: POST %s %v says %q, want %q", step.name, step.deed, step.form, said, step.says)
		}
	}
	spool := must(s.store.Catalog(t.Context()).Spool(s.good.Code))(t)
	if spool.Opened() || !spool.Scrapped || spool.Net != 15000 {
		t.Errorf("after all steps: %+v, want it sealed, scrapped, 15 kg", spool)
	}
}

// TestSpoolPage holds what the page shows of a spool nobody has touched.
func TestSpoolPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	got := s.get("/spools/" + string(s.good.Code))
	tests := []struct{ name, class, says string }{
		{"its state", "state", "sealed"},
		{"its polarity, large", "setup-big", "DCEN"},
		{"no gas, in words", "setup-big", "no gas"},
		{"the source beside the value", "setup-source", "ISO 17632"},
		{"what nobody knows", "setup-none", "not known: read the box"},
		{"what is left", "left-figure", "15 kg"},
		{"its place", "facts", "Shelf A1"},
		{"its lot", "facts", "GL-1"},
		{"how it came", "table-history", "Received into Shelf A1"},
	}
	for _, tt := range tests {
		if !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("%s: %s says %q, want %q", tt.name, tt.class, got.text(tt.class), tt.says)
		}
	}
}

// TestLabels fetches labels and holds what they begin with.
func TestLabels(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	code := string(s.good.Code)
	tests := []struct {
		name, path string
		status     int
		kind       string
		begins     string
	}{
		{"PDF", "/spools/" + code + "/label.pdf", 200, "application/pdf", "%PDF-"},
		{"PNG", "/spools/" + code + "/label.png", 200, "image/png", "\x89PNG"},
		{"PNG for a 300 dpi head", "/spools/" + code + "/label.png?dpi=300", 200, "image/png", "\x89PNG"},
		{"no such head", "/spools/" + code + "/label.png?dpi=72", 422, "text/html; charset=utf-8", "<!doctype"},
		{"no number", "/spools/" + code + "/label.png?dpi=x", 422, "text/html; charset=utf-8", "<!doctype"},
		{"the whole lot", "/lots/" + strconv.FormatInt(s.lot.ID, 10) + "/labels.pdf", 200, "application/pdf", "%PDF-"},
		{"no such lot", "/lots/999/labels.pdf", 404, "text/html; charset=utf-8", "<!doctype"},
	}
	for _, tt := range tests {
		got := s.get(tt.path)
		if got.status != tt.status || got.header.Get("Content-Type") != tt.kind || !strings.HasPrefix(got.body, tt.begins) {
			t.Errorf("%s: GET %s: %d %s %.8q, want %d %s %q", tt.name, tt.path, got.status, got.header.Get("Content-Type"), got.body, tt.status, tt.kind, tt.begins)
		}
	}
	one, both := s.get(tests[0].path).body, s.get(tests[5].path).body
	if n, m := strings.Count(one, "/Type /Page\n"), strings.Count(both, "/Type /Page\n"); n != 1 || m != 2 {
		t.Errorf("pages in the PDFs: %d for the spool and %d for its lot of two, want 1 and 2", n, m)
	}
}

// TestReceive receives a lot with and without a certificate.
func TestReceive(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	full := url.Values{"person": {string(s.attendant.Code)}, "wire": {strconv.FormatInt(s.gasless.ID, 10)}, "lot_number": {"GL-2"},
		"certificate": {"C-9"}, "spools": {"3"}, "place": {string(s.shelf.Code)}, "request_key": {"r"}}
	tests := []struct {
		name   string
		change map[string]string
		status int
		says   string
	}{
		{"with all", map[string]string{}, 303, "Lot GL-2 is in"},
		{"without a certificate it is held", map[string]string{"certificate": "", "lot_number": "GL-3", "request_key": "r2"}, 303, "The lot is on hold"},
		{"without a wire", map[string]string{"wire": "", "request_key": "r3"}, 422, "choose the wire"},
		{"too many", map[string]string{"spools": "5000", "request_key": "r4"}, 422, "how many packages"},
		{"a package without wire", map[string]string{"net": "0 kg", "request_key": "r6"}, 422, "holds wire"},
		{"a net weight without unit", map[string]string{"net": "15", "request_key": "r5"}, 422, "15"},
		{"no badge", map[string]string{"person": "", "request_key": "r6"}, 422, "scan your badge"},
	}
	for _, tt := range tests {
		form := url.Values{}
		for name, values := range full {
			form[name] = values
		}
		for name, value := range tt.change {
			form.Set(name, value)
		}
		got := s.post("/receiving", form)
		if got.status != tt.status {
			t.Errorf("%s: POST /receiving %v: status %d, want %d", tt.name, form, got.status, tt.status)
		}
		if got.location != "" {
			got = s.get(got.location)
			if n := len(got.all("codes-item")); n != 3 {
				t.Errorf("%s: %d codes are shown, want 3", tt.name, n)
			}
		}
		if said := got.text("slip") + got.text("fault"); !strings.Contains(said, tt.says) {
			t.Errorf("%s: says %q, want %q", tt.name, said, tt.says)
		}
	}
}

// TestChangeLot decides about a lot.
func TestChangeLot(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	path := "/lots/" + strconv.FormatInt(s.lot.ID, 10) + "/status"
	tests := []struct {
		name   string
		person inventory.Code
		status string
		reason string
		want   int
		says   string
	}{
		{"the attendant holds it", s.attendant.Code, "on hold", "wet cartons", http.StatusSeeOther, "Lot GL-1 is on hold now"},
		{"the attendant cannot accept it", s.attendant.Code, "accepted", "dry again", http.StatusForbidden, "welding engineer decides"},
		{"no decision", s.engineer.Code, "", "x", http.StatusUnprocessableEntity, "choose what the lot is"},
		{"no reason", s.engineer.Code, "accepted", "", http.StatusUnprocessableEntity, "say why"},
		{"the engineer accepts it", s.engineer.Code, "accepted", "weighed and dry", http.StatusSeeOther, "Lot GL-1 is accepted now"},
	}
	for _, tt := range tests {
		got := s.post(path, url.Values{"person": {string(tt.person)}, "request_key": {tt.name}, "status": {tt.status}, "reason": {tt.reason}})
		if got.status != tt.want {
			t.Errorf("%s: POST %s: status %d, want %d", tt.name, path, got.status, tt.want)
		}
		if got.location != "" {
			got = s.get(got.location)
		}
		if said := got.text("notice") + got.text("fault"); !strings.Contains(said, tt.says) {
			t.Errorf("%s: says %q, want %q", tt.name, said, tt.says)
		}
	}
}

// TestLabelsOfALargeLot prints more labels than one page of a list has lines.
func TestLabelsOfALargeLot(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	lot, spools := s.receive(s.gasless, "GL-210", 210)
	if _, err := s.ledger.Scrap(t.Context(), inventory.Entry{Spool: spools[7].Code, Person: s.attendant.Code, RequestKey: "scrap"}, "crushed"); err != nil {
		t.Fatalf("Scrap: %v", err)
	}
	got := s.get("/lots/" + strconv.FormatInt(lot.ID, 10) + "/labels.pdf")
	if n := strings.Count(got.body, "/Type /Page\n"); got.status != http.StatusOK || n != 209 {
		t.Errorf("labels of a lot of 210 with one scrapped: status %d, %d pages, want 200 and 209", got.status, n)
	}
}
