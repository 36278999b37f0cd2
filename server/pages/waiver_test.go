package pages_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// lenient gives the site a job under a shop's profile that lets classification
// be waived, and nothing else; the spool wrong is stopped by more than that.
func (s *site) lenient() inventory.Job {
	s.t.Helper()
	ctx := s.t.Context()
	line := fit.Limit{Rule: fit.RuleClassification, Parameter: "waiver", Value: "yes", Provenance: filler.Shop, Source: "test"}
	general := fit.Profile{ID: inventory.GeneralProfile, Name: "General shop", Limits: []fit.Limit{line}}
	s.ledger = inventory.NewLedger(s.store, []fit.Profile{general}, func() time.Time { return s.now })
	s.serve()
	procedure := must(s.ledger.AddProcedure(ctx, inventory.Procedure{Number: "WPS-15", Revision: "A", Classifications: []string{"E70T-4"}}))(s.t)
	return must(s.ledger.AddJob(ctx, inventory.Job{Number: "2208", Name: "Fence", Procedures: []int64{procedure.ID}, ProfileID: inventory.GeneralProfile}))(s.t)
}

// TestAWaiverGoesThroughThePages is the whole way: refused, asked, granted by
// another, issued with the waiver on the slip.
func TestAWaiverGoesThroughThePages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	job := s.lenient()
	slots := url.Values{"badge": {string(s.attendant.Code)}, "job": {string(job.Code)}, "spool": {string(s.good.Code)}}
	counter := s.get("/counter?" + slots.Encode())
	href := ""
	for _, n := range counter.all("button") {
		if strings.HasPrefix(attr(n, "href"), "/waivers/new") {
			href = attr(n, "href")
		}
	}
	if href == "" || counter.field("gross") != nil {
		t.Fatalf("the refused counter offers %q to ask a waiver, and issue form %v", href, counter.field("gross"))
	}
	ask := s.get(href)
	form := url.Values{"spool": slots["spool"], "job": slots["job"], "rules": {"classification"}, "request_key": {"ask"}, "person": slots["badge"], "reason": {"ran sound"}}
	if ask.status != http.StatusOK || attr(ask.field("rules"), "value") != "classification" || attr(ask.field("person"), "value") != string(s.attendant.Code) {
		t.Fatalf("GET %s: %d\n%s", href, ask.status, ask.text("main"))
	}
	for name, wrong := range map[string]string{"reason": "", "person": "nobody"} {
		bad := url.Values{}
		for k, v := range form {
			bad[k] = v
		}
		bad.Set(name, wrong)
		if got := s.post("/waivers", bad); got.status != http.StatusUnprocessableEntity || got.text("fault") == "" || attr(got.field("rules"), "value") != "classification" {
			t.Errorf("POST /waivers with %s %q: %d, fault %q", name, wrong, got.status, got.text("fault"))
		}
	}
	if got := s.post("/waivers", form); got.status != http.StatusSeeOther || got.location != "/waivers/1?done=asked" {
		t.Fatalf("POST /waivers: %d to %q\n%s", got.status, got.location, got.text("notice"))
	}
	if got := s.get("/counter?" + slots.Encode()); !strings.Contains(got.text("panel"), "is asked for by Ada Counter") || strings.Contains(got.body, "/waivers/new") {
		t.Errorf("the counter while it is asked for:\n%s", got.text("panel"))
	}

	grant := url.Values{"person": {string(s.engineer.Code)}, "reason": {"seen the test plate"}, "until": {"2026-12-01T12:00"}, "request_key": {"grant"}}
	for name, tt := range map[string]struct {
		set    [2]string
		status int
		says   string
	}{
		"by an attendant":     {[2]string{"person", string(s.attendant.Code)}, http.StatusForbidden, "welding engineer decides"},
		"without an end":      {[2]string{"until", ""}, http.StatusUnprocessableEntity, "say when it ends"},
		"with an end too far": {[2]string{"until", "2027-12-01T12:00"}, http.StatusUnprocessableEntity, "30 days"},
		"without a reason":    {[2]string{"reason", ""}, http.StatusUnprocessableEntity, "say why"},
	} {
		bad := url.Values{}
		for k, v := range grant {
			bad[k] = v
		}
		bad.Set(tt.set[0], tt.set[1])
		if got := s.post("/waivers/1/grant", bad); got.status != tt.status || !strings.Contains(got.body, tt.says) {
			t.Errorf("POST /waivers/1/grant %s: %d, want %d with %q\n%s", name, got.status, tt.status, tt.says, got.text("notice"))
		}
	}
	page := s.get("/waivers/1")
	if !strings.Contains(page.text("verdict-word"), "DOES NOT FIT") || !strings.Contains(page.text("finding-says"), "The procedure lists") {
		t.Errorf("the page to grant it lacks the findings as they are now:\n%s", page.text("main"))
	}
	if got := s.post("/waivers/1/grant", grant); got.status != http.StatusSeeOther || got.location != "/waivers/1?done=grant" {
		t.Fatalf("POST /waivers/1/grant: %d to %q\n%s", got.status, got.location, got.text("notice"))
	}
	issue := s.post("/counter/issue", url.Values{"badge": slots["badge"], "job": slots["job"], "spool": slots["spool"], "request_key": {"issue"}, "stays_sealed": {"yes"}})
	if issue.status != http.StatusSeeOther {
		t.Fatalf("POST /counter/issue: %d\n%s", issue.status, issue.text("notice"))
	}
	slip := s.get(issue.location).text("slip")
	if want := "Waiver classification: waiver 1, granted by Eva Root until 2026-12-01 12:00 UTC: seen the test plate (asked by Ada Counter)"; !strings.Contains(slip, want) {
		t.Errorf("the slip lacks %q:\n%s", want, slip)
	}
	if got := s.get("/spools/" + string(s.good.Code)); !strings.Contains(got.text("main"), "waived: classification") {
		t.Errorf("the spool's history lacks the waiver:\n%s", got.text("main"))
	}
	if got := s.get("/waivers"); !strings.Contains(got.text("state-open"), "standing") {
		t.Errorf("the list lacks the standing waiver:\n%s", got.text("main"))
	}
	if got := s.post("/waivers/1/end", url.Values{"person": {string(s.engineer.Code)}, "reason": {"no more of it"}, "request_key": {"end"}}); got.location != "/waivers/1?done=end" {
		t.Errorf("POST /waivers/1/end: %d to %q", got.status, got.location)
	}
	if got := s.post("/waivers/1/lend", grant); got.status != http.StatusNotFound {
		t.Errorf("POST /waivers/1/lend: %d, want 404", got.status)
	}
}

// TestAWaiverDoesNotPassToTheNextRevision holds that the counter and the
// waiver's page say so where the job was moved, and offer to ask again.
func TestAWaiverDoesNotPassToTheNextRevision(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	job, ctx := s.lenient(), t.Context()
	must(s.ledger.AskWaiver(ctx, inventory.WaiverRequest{Spool: s.good.Code, Job: job.Code, Person: s.attendant.Code, Reason: "ran sound", RequestKey: "ask", Rules: []fit.Rule{fit.RuleClassification}}))(t)
	next := must(s.ledger.AddProcedure(ctx, inventory.Procedure{Number: "WPS-15", Revision: "B", Classifications: []string{"E70T-4"}}))(t)
	job.Procedures, job.Site = []int64{next.ID}, inventory.InShop
	job = must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: inventory.Edit{Person: s.engineer.Code, RequestKey: "move", Version: 1}, Of: job}))(t)
	counter := s.get("/counter?" + url.Values{"job": {string(job.Code)}, "spool": {string(s.good.Code)}}.Encode())
	if got := counter.text("panel"); !strings.Contains(got, "is for WPS-15 rev A and does not pass to WPS-15 rev B: ask again") || !strings.Contains(counter.body, "/waivers/new") {
		t.Errorf("the counter under the next revision says %q, want that the waiver does not pass and where to ask", got)
	}
	page := s.get("/waivers/1")
	if got := page.text("answer-why"); !strings.Contains(got, "it is for WPS-15 rev A, and the job is welded to WPS-15 rev B now") {
		t.Errorf("GET /waivers/1: %q, want what it is for and what the job is welded to", got)
	}
	if strings.Contains(page.body, "To the counter") {
		t.Error("GET /waivers/1 leads to the counter under a procedure that the job has no more")
	}
	again := page.all("links-item")
	if len(again) != 1 {
		t.Fatalf("GET /waivers/1: %d offers to ask again, want 1", len(again))
	}
	if ask := s.get(attr(again[0], "href")); ask.status != http.StatusOK || attr(ask.field("rules"), "value") != "classification" {
		t.Errorf("GET %s: %d, rules %q, want the classification asked again", attr(again[0], "href"), ask.status, attr(ask.field("rules"), "value"))
	}
}

// Where one rule stops that nobody may waive, the counter offers nothing.
func TestTheCounterOffersNoWaiverThatWouldNotHelp(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.lenient()
	target := "?" + url.Values{"job": {string(s.job.Code)}, "spool": {string(s.wrong.Code)}}.Encode()
	if got := s.get("/counter" + target); got.text("verdict-word") != "DOES NOT FIT" || strings.Contains(got.body, "/waivers/new") {
		t.Errorf("GET /counter%s: %s\n%s", target, got.text("verdict-word"), got.text("panel"))
	}
	if got := s.get("/waivers/new" + target); got.status != http.StatusOK || got.field("rules") != nil || !strings.Contains(got.body, "nothing to ask for") {
		t.Errorf("GET /waivers/new%s: %d\n%s", target, got.status, got.text("main"))
	}
	forced := url.Values{"job": {string(s.job.Code)}, "spool": {string(s.wrong.Code)}, "rules": {"gas", "classification"}, "person": {string(s.attendant.Code)}, "reason": {"please"}, "request_key": {"k"}}
	if got := s.post("/waivers", forced); got.status != http.StatusConflict || !strings.Contains(got.body, "nobody may waive it") {
		t.Errorf("POST /waivers for gas too: %d\n%s", got.status, got.text("notice"))
	}
}

// TestAProfileIsCopiedAndChangedInThePages tightens, loosens and confirms.
func TestAProfileIsCopiedAndChangedInThePages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	wind := fit.Limit{Rule: fit.RuleWind, Parameter: "wind_max", Value: "5 mph", Action: fit.Stops, Provenance: filler.Practice, Source: "from practice"}
	waived := fit.Limit{Rule: fit.RuleDiameter, Parameter: "waiver", Value: "no", Provenance: filler.Practice, Source: "default"}
	s.ledger = inventory.NewLedger(s.store, []fit.Profile{{ID: inventory.GeneralProfile, Name: "General shop", Limits: []fit.Limit{wind, waived}}}, func() time.Time { return s.now })
	s.serve()
	person := []string{string(s.engineer.Code)}
	steps := []struct {
		name, path string
		form       url.Values
		status     int
		says       string // on the page that follows
	}{
		{"no name", "/profiles", url.Values{"from": {inventory.GeneralProfile}, "person": person, "request_key": {"1"}}, 422, "give the profile a name"},
		{"copied", "/profiles", url.Values{"from": {inventory.GeneralProfile}, "name": {"Ours"}, "person": person, "request_key": {"2"}}, 303, "version 1"},
		{"not the program's own", "/profiles/" + inventory.GeneralProfile + "/limits", url.Values{"line": {"0"}, "value": {"3 mph"}, "person": person, "request_key": {"3"}}, 409, "nobody changes it"},
		{"confirmed", "/profiles/shop-1/confirm", url.Values{"line": {"0"}, "person": person, "request_key": {"4"}, "version": {"1"}}, 303, "confirmed by Eva Root on 2026-11-25"},
		{"after somebody else", "/profiles/shop-1/limits", url.Values{"line": {"0"}, "value": {"3 mph"}, "action": {"stops"}, "person": person, "request_key": {"5"}, "version": {"1"}}, 409, "was changed after you opened it"},
		{"tightened", "/profiles/shop-1/limits", url.Values{"line": {"0"}, "value": {"3 mph"}, "action": {"stops"}, "person": person, "request_key": {"6"}, "version": {"2"}}, 303, "3 mph (stops), was 5 mph"},
		{"a value that is none", "/profiles/shop-1/limits", url.Values{"line": {"0"}, "value": {"fast"}, "action": {"stops"}, "person": person, "request_key": {"7"}}, 422, "fast"},
		{"looser without a reason", "/profiles/shop-1/limits", url.Values{"line": {"0"}, "value": {"9 mph"}, "action": {"stops"}, "person": person, "request_key": {"8"}}, 422, "give the reason"},
		{"looser with one", "/profiles/shop-1/limits", url.Values{"line": {"0"}, "value": {"9 mph"}, "action": {"stops"}, "reason": {"screens up"}, "person": person, "request_key": {"8b"}}, 303, "Because: screens up Eva Root. It goes on every issue slip"},
		{"a further limit", "/profiles/shop-1/limits", url.Values{"line": {"new"}, "kind": {"wind wind_max"}, "value": {"2 mph"}, "action": {"stops"}, "person": person, "request_key": {"9"}}, 303, "is new"},
		{"waivable with a reason", "/profiles/shop-1/limits", url.Values{"line": {"1"}, "value": {"yes"}, "reason": {"a batch test"}, "person": person, "request_key": {"9b"}}, 303, "Diameter may be waived"},
		{"not under a condition", "/profiles/shop-1/limits", url.Values{"line": {"1"}, "value": {"no"}, "condition": {"solid"}, "person": person, "request_key": {"9c"}}, 422, "at all times"},
		{"named and bounded", "/profiles/shop-1", url.Values{"name": {"Ours now"}, "waiver_days": {"7"}, "person": person, "request_key": {"10"}}, 303, "at most 7 days"},
	}
	for _, tt := range steps {
		got := s.post(tt.path, tt.form)
		page := got
		if got.status == http.StatusSeeOther {
			page = s.get(got.location)
		}
		if got.status != tt.status || !strings.Contains(page.text("main"), tt.says) {
			t.Errorf("%s: POST %s: %d, want %d with %q\n%s", tt.name, tt.path, got.status, tt.status, tt.says, page.text("main"))
		}
	}
}
