package pages_test

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

func lotForm(s *site, version int, change map[string]string) url.Values {
	v := url.Values{"person": {string(s.attendant.Code)}, "request_key": {"papers"}, "version": {strconv.Itoa(version)}, "certificate": {s.lot.Certificate},
		"papers_type": {"3.1"}, "papers_schedule": {"J"}, "papers_lot_class": {"T4"}, "papers_melted_in": {"Country A"}, "papers_made_in": {"Country A"},
		"papers_made_on": {"2026-11-01"}, "papers_expires_on": {"2026-12-01"}, "papers_sealing": {"vacuum foil"}, "papers_tested_exposure": {"120h, 9 ml/100g"}}
	for name, value := range change {
		v.Set(name, value)
	}
	return v
}

func TestPapersOfALotOnItsPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	path := "/lots/" + strconv.FormatInt(s.lot.ID, 10)
	if said := s.get(path).text("facts"); !strings.Contains(said, "Certificate type not known") {
		t.Errorf("GET %s: facts %q, want what is not known said", path, said)
	}
	// The lot came on the site's one day, so it was made on it or before.
	tests := []struct {
		name   string
		form   url.Values
		status int
		says   string
	}{
		{"expires before made", lotForm(s, 1, map[string]string{"papers_expires_on": "2026-10-01"}), http.StatusUnprocessableEntity, "read both days on the box again"},
		{"made in the future", lotForm(s, 1, map[string]string{"papers_made_on": "2027-01-01"}), http.StatusUnprocessableEntity, "has not come yet"},
		{"tested before made", lotForm(s, 1, map[string]string{"papers_tested_on": "2026-10-01"}), http.StatusUnprocessableEntity, "from before the lot was made"},
		{"no exposure test", lotForm(s, 1, map[string]string{"papers_tested_exposure": "long"}), http.StatusUnprocessableEntity, "is no result of an exposure test"},
		{"no badge", lotForm(s, 1, map[string]string{"person": ""}), http.StatusUnprocessableEntity, "scan your badge"},
		{"by a welder", lotForm(s, 1, map[string]string{"person": string(s.welder.Code)}), http.StatusForbidden, "a store attendant or the welding engineer does this"},
		{"all known", lotForm(s, 1, nil), http.StatusSeeOther, "are on record"},
		{"opened before somebody else saved", lotForm(s, 1, map[string]string{"request_key": "late"}), http.StatusConflict, "changed after you opened it"},
		{"corrected without a reason", lotForm(s, 2, map[string]string{"request_key": "right", "papers_type": "2.2"}), http.StatusUnprocessableEntity, "say why"},
		{"corrected", lotForm(s, 2, map[string]string{"request_key": "right", "papers_type": "2.2", "note": "misread"}), http.StatusSeeOther, "are on record"},
	}
	for _, tt := range tests {
		got := s.post(path+"/papers", tt.form)
		if got.status != tt.status {
			t.Errorf("%s: POST %s/papers: status %d, want %d", tt.name, path, got.status, tt.status)
		}
		if got.location != "" {
			got = s.get(got.location)
		} else if !got.has("papers_melted_in", "Country A") {
			t.Errorf("%s: what was typed is gone", tt.name)
		}
		if said := got.text("notice") + got.text("fault"); !strings.Contains(said, tt.says) {
			t.Errorf("%s: says %q, want %q", tt.name, said, tt.says)
		}
	}
	page := s.get(path)
	for _, want := range []string{"Certificate type 2.2", "Melted in Country A", "Sealed in vacuum foil", "2026-12-01, in 6 days"} {
		if said := page.text("facts"); !strings.Contains(said, want) {
			t.Errorf("the page's facts lack %q: %q", want, said)
		}
	}
	for _, want := range []string{"papers recorded", "certificate type: 2.2, before 3.1", "why: misread"} {
		if said := page.text("table"); !strings.Contains(said, want) {
			t.Errorf("the lot's history lacks %q: %q", want, said)
		}
	}
	if said := s.get("/lots").text("table"); !strings.Contains(said, "type 2.2, schedule J, class T4") || !strings.Contains(said, "use by 2026-12-01, in 6 days") {
		t.Errorf("the list of lots lacks the papers: %q", said)
	}
}

func TestReceivingTakesPapers(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	form := lotForm(s, 0, map[string]string{"wire": strconv.FormatInt(s.gasless.ID, 10), "lot_number": "GL-9", "certificate": "C-9", "spools": "1", "place": string(s.shelf.Code)})
	form.Set("papers_expires_on", "2025-01-01")
	got := s.post("/receiving", form)
	if got.status != http.StatusUnprocessableEntity || !strings.Contains(got.text("fault"), "read both days on the box again") || !got.has("papers_made_in", "Country A") {
		t.Errorf("papers that cannot be: status %d, fault %q", got.status, got.text("fault"))
	}
	form.Set("papers_expires_on", "2027-01-01")
	got = s.post("/receiving", form)
	if got.status != http.StatusSeeOther {
		t.Fatalf("POST /receiving: status %d, %s", got.status, got.text("fault"))
	}
	lots, err := s.store.Catalog(t.Context()).Lots(inventory.Query{Text: "GL-9"})
	if err != nil || len(lots) != 1 || lots[0].Papers.Melted != "Country A" || lots[0].Papers.Sealing != fit.VacuumFoil {
		t.Fatalf("the lot received: %+v, %v", lots, err)
	}
	form.Set("request_key", "again")
	form.Set("papers_type", "2.2")
	got = s.post("/receiving", form)
	if got.status != http.StatusConflict || !strings.Contains(got.text("fault"), "the lot is on record with 3.1") && !strings.Contains(got.text("fault"), "The lot is on record with 3.1") {
		t.Errorf("a box that says otherwise: status %d, fault %q", got.status, got.text("fault"))
	}
}

// TestAContractIsServedAtTheCounter issues a spool whose lot has every paper that
// the job demands, and shows which is missing of another.
func TestAContractIsServedAtTheCounter(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx := t.Context()
	j := s.job
	j.Code, j.Number = "", "2290"
	j.Certificate = fit.Certificate{Type: "3.1", Schedule: "H", LotClass: "T3|T4"}
	j.Origin = fit.Origin{Clause: "clause 12", Melted: []string{"Country A"}, Made: []string{"Country A"}}
	job, err := s.ledger.AddJob(ctx, j)
	if err != nil {
		t.Fatal(err)
	}
	counter := "/counter?" + url.Values{"badge": {string(s.attendant.Code)}, "job": {string(job.Code)}, "spool": {string(s.good.Code)}}.Encode()
	page := s.get(counter)
	for _, want := range []string{"Nobody has recorded the certificate of this lot by EN 10204", "Nobody has recorded the testing schedule", "Nobody has recorded the lot class", "Nobody has recorded where this lot was melted", "Nobody has recorded where this lot was made"} {
		if said := page.text("finding-says"); !strings.Contains(said, want) {
			t.Errorf("the counter, of a lot without papers: says %q, want %q", said, want)
		}
	}
	if got := s.post("/lots/"+strconv.FormatInt(s.lot.ID, 10)+"/papers", lotForm(s, 1, nil)); got.status != http.StatusSeeOther {
		t.Fatalf("the papers are not taken: %s", got.text("fault"))
	}
	page = s.get(counter)
	if verdict := page.text("verdict-word"); !strings.HasPrefix(strings.ToLower(verdict), "fits") {
		t.Fatalf("the counter, of a lot with all papers: %q, %s", verdict, page.text("finding-says"))
	}
	got := s.post("/counter/issue", page.filled("/counter/issue"))
	if got.status != http.StatusSeeOther {
		t.Fatalf("the issue: status %d", got.status)
	}
	if said := s.get(got.location).text("slip-title"); !strings.Contains(said, "Issued") {
		t.Errorf("the slip says %q", said)
	}
	if said := s.get("/jobs").text("table"); !strings.Contains(said, "certificate type 3.1, schedule H, lot class T3 or T4") || !strings.Contains(said, "clause 12; melted in Country A") {
		t.Errorf("the list of jobs lacks what the contract demands: %q", said)
	}
}
