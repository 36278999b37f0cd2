package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// exposed is a site with a spool that was opened 50 hours ago and stood in a
// dry-kept cabinet from 20 hours ago on, its code, and the path of the database.
func exposed(t *testing.T) (s *siteFixture, spool inventory.Code, path string) {
	t.Helper()
	path, y := demoCopy(t)
	s = siteOn(t, path, y)
	spool = s.spoolOf(t, "Amber Kestrel 71M")
	ctx, by := t.Context(), s.withRole(inventory.Attendant)[0].Code
	cabinet := must(s.ledger.AddPlace(ctx, inventory.Place{Name: "Cabinet of this test", Kind: inventory.DryCabinet, DryKept: true}))(t)
	ago := func(hours int, key string) inventory.Entry {
		return inventory.Entry{Spool: spool, Person: by, RequestKey: key, At: today.Add(-time.Duration(hours) * time.Hour)}
	}
	must(s.ledger.Open(ctx, ago(50, "exposed-open")))(t)
	must(s.ledger.Move(ctx, ago(20, "exposed-move"), cabinet.Code))(t)
	return s, spool, path
}

// TestTheExposureOfASpool asks API and command for one clock, with figures
// worked out by hand: 30 h open on the shelf, then 20 h that do not count, of
// the 168 h of the invented sheet.
func TestTheExposureOfASpool(t *testing.T) {
	t.Parallel()
	s, spool, path := exposed(t)
	stamp := func(hours int) string { return today.Add(time.Duration(hours) * time.Hour).UTC().Format(time.RFC3339) }
	page := "/api/v1/spools/" + string(spool) + "/exposure"
	tests := []struct {
		name   string
		at     string // empty is now
		state  string
		holds  []string // of the JSON, from both
		prints []string // by the command
	}{
		{"now it stands in the cabinet", "", "paused",
			[]string{`"exposed_s":108000`, `"limit_s":604800,"past":"stops","left_s":496800,"source":`, fmt.Sprintf(`"opened_at":%q`, stamp(-50)), `"dryings":0`,
				fmt.Sprintf(`{"from":%q,"to":%q,`, stamp(-50), stamp(-20)), fmt.Sprintf(`{"from":%q,"to":%q,`, stamp(-20), stamp(0)), `"counts":false,"why":"in a dry-kept place"`},
			[]string{"exposed     30 h (paused)", "168 h, left 138 h, does not run out while nothing moves", "data sheet: ", "counts", "in a dry-kept place", "local codes"}},
		{"before it went there it ran", stamp(-30), "running",
			[]string{`"exposed_s":72000`, fmt.Sprintf(`"left_s":532800,"runs_out":%q`, stamp(-30+148)), `"counts":true,"why":"open, in a place that is not dry-kept"`},
			[]string{"exposed     20 h (running)", "168 h, left 148 h, runs out " + stampSeconds(today.Add(118*time.Hour))}},
		{"before it was opened it was sealed", stamp(-51), "sealed", []string{`"exposed_s":0`, `"why":"sealed"`}, []string{"exposed     0 h (sealed)"}},
		{"in ten days it still stands", stamp(240), "paused", []string{`"exposed_s":108000`}, []string{"30 h (paused)"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			query, args := "", []string{"exposure", strings.ToLower(string(spool)), "--db", path}
			if tt.at != "" {
				query, args = "?at="+tt.at, append(args, "--at", tt.at)
			}
			status, _, body := s.do(t, "GET", page+query, "", "")
			if status != 200 {
				t.Fatalf("GET %s: %d %s", page+query, status, body)
			}
			printed := must(command(t, args...))(t)
			asJSON := must(command(t, append(args, "--json")...))(t)
			for where, text := range map[string]string{"GET " + page + query: body, "exposure --json": asJSON} {
				for _, want := range append(tt.holds, `"state":"`+tt.state+`"`) {
					if !strings.Contains(text, want) {
						t.Errorf("%s: got\n%s\nwant %s in it", where, text, want)
					}
				}
			}
			for _, want := range tt.prints {
				if !strings.Contains(printed, want) {
					t.Errorf("%v: got\n%s\nwant %q in it", args, printed, want)
				}
			}
		})
	}
}

// TestBadQuestionsAboutExposure holds that what is wrong is named.
func TestBadQuestionsAboutExposure(t *testing.T) {
	t.Parallel()
	s, spool, path := exposed(t)
	api := []struct {
		name, path string
		status     int
		holds      string
	}{
		{"no code", "/api/v1/spools/nothing/exposure", 422, "is not a Wirehold code"},
		{"no such spool", "/api/v1/spools/WZZZZZ-Z/exposure", 422, "WZZZZZ-Z"},
		{"no instant", "/api/v1/spools/" + string(spool) + "/exposure?at=noon", 422, `"at"`},
	}
	for _, tt := range api {
		if status, _, body := s.do(t, "GET", tt.path, "", ""); status != tt.status || !strings.Contains(body, tt.holds) {
			t.Errorf("%s: GET %s: %d %s, want %d and %q", tt.name, tt.path, status, body, tt.status, tt.holds)
		}
	}
	for name, args := range map[string][]string{"no code": {"exposure", "nothing"}, "no spool": {"exposure"}, "no instant": {"exposure", string(spool), "--at", "noon"}} {
		out, err := command(t, append(args, "--db", path)...)
		want := map[string]string{"no code": "nothing", "no spool": "<spool>", "no instant": `"noon" is no instant: give date, time and zone`}[name]
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v printed %q, error %v; want an error that names %q", name, args, out, err, want)
		}
	}
}

// TestADryingIsCorrectedByTheAPI dries a spool, and sets right when.
func TestADryingIsCorrectedByTheAPI(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx := t.Context()
	spool := s.spoolOf(t, "Amber Kestrel 71M")
	by, engineer := s.withRole(inventory.Attendant)[0].Code, s.withRole(inventory.Engineer)[0].Code
	must(s.ledger.Open(ctx, inventory.Entry{Spool: spool, Person: by, RequestKey: "dry-open", At: today.Add(-50 * time.Hour)}))(t)
	how := func(until int, heat float64) string {
		return fmt.Sprintf(`"dried_from":%q,"oven":%q,"heat_degc":%g,"held_h":4,"material":"metal"`, today.Add(time.Duration(until-6)*time.Hour).Format(time.RFC3339), s.places[0].Code, heat)
	}
	at := "/api/v1/spools/" + string(spool)
	tests := []struct {
		name, path, body string
		status           int
		holds            string
	}{
		{"without a rule it is refused", "/dry", fmt.Sprintf(`{"person":%q,"request_key":"d1",%s}`, by, how(0, 270)), 409, "E092"},
		{"a correction of what is no drying", "/correct", fmt.Sprintf(`{"person":%q,"request_key":"d2","corrects":%d,"reason":"clock","drying":{%s,"dried_until":%q}}`, engineer, 1, how(-2, 270), today.Format(time.RFC3339)), 422, "#/corrects"},
		{"a drying without its end", "/correct", fmt.Sprintf(`{"person":%q,"request_key":"d3","corrects":1,"reason":"clock","drying":{%s}}`, engineer, how(-2, 270)), 422, "dried_until"},
	}
	for _, tt := range tests {
		if status, _, body := s.do(t, "POST", at+tt.path, "application/json", tt.body); status != tt.status || !strings.Contains(body, tt.holds) {
			t.Errorf("%s: POST %s %s: %d %s, want %d and %q", tt.name, at+tt.path, tt.body, status, body, tt.status, tt.holds)
		}
	}
}

// TestACorrectedDryingIsReckonedAnewByTheAPI dries a spool over HTTP and sets
// right, twice, when it came out of the oven; the exposure follows, by figures
// worked out by hand. In the end the drying never was.
func TestACorrectedDryingIsReckonedAnewByTheAPI(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool := s.driable(t, "4 h at 260-290 degC, at most 1 times")
	by, engineer := s.withRole(inventory.Attendant)[0].Code, s.withRole(inventory.Engineer)[0].Code
	at := "/api/v1/spools/" + string(spool)
	stamp := func(hours int) string { return today.Add(time.Duration(hours) * time.Hour).Format(time.RFC3339) }
	how := func(from int) string {
		return fmt.Sprintf(`"dried_from":%q,"oven":%q,"heat_degc":270,"held_h":4,"material":"metal"`, stamp(from), s.places[4].Code)
	}
	correct := func(key string, of int64, what string) string {
		return fmt.Sprintf(`{"person":%q,"request_key":%q,"corrects":%d,"reason":"clock of the oven",%s}`, engineer, key, of, what)
	}
	dried := func() int64 {
		for _, m := range must(s.ledger.History(t.Context(), spool))(t) {
			if m.Type == inventory.Dried {
				return m.Seq
			}
		}
		return 0
	}
	steps := []struct {
		name, path string
		body       func() string
		exposed    int // hours
		dryings    int
	}{
		{"dried, out of the oven 20 hours ago", "/dry", func() string {
			return fmt.Sprintf(`{"person":%q,"request_key":"d1",%s,"effective_at":%q,"place":%q}`, by, how(-26), stamp(-20), s.places[0].Code)
		}, 20, 1},
		{"it came out 15 hours ago", "/correct", func() string {
			return correct("c1", dried(), fmt.Sprintf(`"drying":{%s,"dried_until":%q}`, how(-22), stamp(-15)))
		}, 15, 1},
		{"no, 18 hours ago", "/correct", func() string {
			return correct("c2", dried(), fmt.Sprintf(`"drying":{%s,"dried_until":%q}`, how(-25), stamp(-18)))
		}, 18, 1},
		{"it was another spool", "/correct", func() string { return correct("c3", dried(), `"undone":true`) }, 50, 0},
	}
	for _, step := range steps {
		body := step.body()
		if status, _, answer := s.do(t, "POST", at+step.path, "application/json", body); status != 200 {
			t.Fatalf("%s: POST %s %s: %d %s", step.name, at+step.path, body, status, answer)
		}
		_, _, got := s.do(t, "GET", at+"/exposure", "", "")
		for _, want := range []string{fmt.Sprintf(`"exposed_s":%d,`, step.exposed*3600), fmt.Sprintf(`"dryings":%d,`, step.dryings), fmt.Sprintf(`"left_s":%d,`, (72-step.exposed)*3600)} {
			if !strings.Contains(got, want) {
				t.Errorf("%s: GET %s/exposure: %s\nwant %s in it", step.name, at, got, want)
			}
		}
	}
	if v := must(s.ledger.Verify(t.Context()))(t); len(v.Faults) > 0 {
		t.Errorf("Verify: %v", v.Faults)
	}
}

// driable returns a spool of an invented wire that may be dried by the rule and
// stay open for 72 h. It was opened 50 hours ago and lay on a shelf.
func (s *siteFixture) driable(t *testing.T, rule string) inventory.Code {
	t.Helper()
	ctx, by := t.Context(), s.withRole(inventory.Attendant)[0].Code
	like := s.named("Amber Kestrel 71M")
	w := inventory.Wire{Maker: like.Maker, TradeName: "Amber Kestrel 72M", Classifications: like.Classifications, Diameter: like.Diameter, Marked: like.Marked, Package: like.Package, Net: like.Net, Tare: like.Tare,
		Supplied: filler.Facts{{Name: "exposure_limit", Value: "72", Unit: "h", Provenance: filler.DataSheet, Source: "invented sheet"}, {Name: "drying", Value: rule, Provenance: filler.DataSheet, Source: "invented sheet"}}}
	added := must(s.ledger.AddWire(ctx, w))(t)
	_, spools, err := s.ledger.Receive(ctx, inventory.Receipt{Person: by, RequestKey: "driable", At: today.Add(-51 * time.Hour), WireID: added.ID, LotNumber: "A26-DRY", Certificate: "MTC-DRY", Place: s.places[0].Code, Spools: 1})
	if err != nil {
		t.Fatal(err)
	}
	must(s.ledger.Open(ctx, inventory.Entry{Spool: spools[0].Code, Person: by, RequestKey: "driable-open", At: today.Add(-50 * time.Hour)}))(t)
	return spools[0].Code
}
