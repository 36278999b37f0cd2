package main

import (
	"fmt"
	"strings"
	"testing"

	"wirehold/inventory"
)

// TestAPIRecordsPapersAndIssuesByThem receives a lot without papers for a job
// whose contract demands them, records them one by one, and issues a spool.
func TestAPIRecordsPapersAndIssuesByThem(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	attendant, welder := s.withRole(inventory.Attendant)[0].Code, s.withRole(inventory.Welder)[0].Code
	keys := 0
	entry := func(more string) string {
		keys++
		return fmt.Sprintf(`{"person":%q,"request_key":"k%d"%s}`, attendant, keys, more)
	}
	receipt := func(lot, papers string) string {
		return entry(fmt.Sprintf(`,"wire_id":%d,"lot_number":%q,"certificate":"MTC-7","place":%q,"spools":1%s`, s.wireNamed(t, "Birch Lowland 12").ID, lot, s.places[0].Code, papers))
	}
	spool := ""
	check := func() string { return "/api/v1/check?job=2212&spool=" + spool }
	papers := `"papers":{"type":"3.1","schedule":"J","lot_class":"T4","melted_in":"Eastmark","made_in":"Southmark","made_on":"2026-11-01","expires_on":"2027-10-31","sealing":"vacuum foil","tested_exposure":"120 h, 9 mL/100 g"}`
	status, _, body := s.do(t, "POST", "/api/v1/receipts", "application/json", receipt("N-1", ""))
	if status != 200 {
		t.Fatalf("a receipt without papers: %d\n%s", status, body)
	}
	spool = between(t, body, `"spools":[{"code":"`, `"`)
	lot := "/api/v1/lots/" + between(t, body, `"lot":{"id":`, `,`)
	steps := []struct {
		name, method, path, body string
		status                   int
		holds                    []string
	}{
		{"without papers it does not fit", "GET", check(), "", 200, []string{`"verdict":"does not fit"`, "Nobody has recorded the certificate of this lot by EN 10204", "Nobody has recorded the lot class", "Nobody has recorded where this lot was melted", "Nobody has recorded when this lot was made"}},
		{"it does not go out", "POST", "/api/v1/spools/" + spool + "/issue", entry(`,"job":"2212"`), 409, []string{"/problems/does-not-fit", "certificate, shelf-life, origin"}},
		{"expires before made", "POST", lot + "/papers", entry(`,"version":1,"certificate":"MTC-7","papers":{"made_on":"2026-11-01","expires_on":"2026-10-01"}`), 422, []string{`"#/papers/expires_on"`, "read both days on the box again"}},
		{"made in the future", "POST", lot + "/papers", entry(`,"version":1,"certificate":"MTC-7","papers":{"made_on":"2026-12-01"}`), 422, []string{`"#/papers/made_on"`, "has not come yet"}},
		{"no such lot class", "POST", lot + "/papers", entry(`,"version":1,"certificate":"MTC-7","papers":{"lot_class":"T9"}`), 422, []string{`"#/papers/lot_class"`}},
		{"no exposure test", "POST", lot + "/papers", entry(`,"version":1,"certificate":"MTC-7","papers":{"tested_exposure":"120 h"}`), 422, []string{`"#/papers/tested_exposure"`, "120 h, 9 mL/100 g"}},
		{"no such type", "POST", lot + "/papers", entry(`,"version":1,"certificate":"MTC-7","papers":{"type":"9.9"}`), 422, []string{"papers/type"}},
		{"not by a welder", "POST", lot + "/papers", fmt.Sprintf(`{"person":%q,"request_key":"w","version":1,"certificate":"MTC-7",%s}`, welder, papers), 403, []string{"/problems/may-not-enter"}},
		{"they are recorded", "POST", lot + "/papers", entry(`,"version":1,"certificate":"MTC-7",` + papers), 200, []string{`"version":2`, `"papers":{"type":"3.1","schedule":"J","lot_class":"T4","melted_in":"Eastmark"`, `"expires_on":"2027-10-31"`}},
		{"from a version that is no more", "POST", lot + "/papers", entry(`,"version":1,"certificate":"MTC-7",` + papers), 409, []string{"/problems/lot-changed"}},
		{"corrected without a reason", "POST", lot + "/papers", entry(`,"version":2,"certificate":"MTC-7","papers":{"type":"2.2"}`), 422, []string{`"#/note"`}},
		{"the history tells it", "GET", lot + "/changes", "", 200, []string{`"deed":"papers recorded"`, `"melted in: Eastmark"`, `"deed":"received"`}},
		{"a lot that is not there has none", "GET", "/api/v1/lots/9999/changes", "", 404, nil},
		{"a delivery that says otherwise", "POST", "/api/v1/receipts", receipt("N-1", `,"papers":{"type":"2.2"}`), 409, []string{"/problems/lot-papers", "certificate type 3.1, and this delivery says 2.2"}},
		{"now it fits", "GET", check(), "", 200, []string{`"verdict":"fits with cautions"`, "This lot's certificate is 3.1 by EN 10204, and the job wants 3.1. This lot's testing schedule is J", "This lot was melted in Eastmark, as the job wants."}},
		{"and goes out", "POST", "/api/v1/spools/" + spool + "/issue", entry(`,"job":"2212"`), 200, []string{`"state":"issued"`}},
		{"papers come with a receipt", "POST", "/api/v1/receipts", receipt("N-2", ","+papers), 200, []string{`"made_in":"Southmark"`, `"sealing":"vacuum foil"`}},
	}
	for _, tt := range steps {
		status, _, body := s.do(t, tt.method, tt.path, "application/json", tt.body)
		if status != tt.status {
			t.Errorf("%s: %s %s: status %d, want %d\n%s", tt.name, tt.method, tt.path, status, tt.status, body)
		}
		for _, want := range tt.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the answer lacks %q:\n%s", tt.name, want, body)
			}
		}
	}
	if v, err := s.ledger.Verify(t.Context()); err != nil || len(v.Faults) > 0 {
		t.Errorf("Verify: %v, %v", v.Faults, err)
	}
}

// between returns what stands between two texts.
func between(t *testing.T, text, before, after string) string {
	t.Helper()
	_, rest, found := strings.Cut(text, before)
	out, _, ends := strings.Cut(rest, after)
	if !found || !ends {
		t.Fatalf("nothing between %q and %q in %s", before, after, text)
	}
	return out
}
