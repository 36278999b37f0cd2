package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// TestCardInJSON holds one card whole: self-shielded single-pass wire of the
// yard, which has settings from class and sheet, unknown ones, advice and
// cautions.
func TestCardInJSON(t *testing.T) {
	t.Parallel()
	const golden = "../../testdata/golden/card_cobalt_wren_14.json"
	s := newSite(t)
	spool := s.spoolOf(t, "Cobalt Wren 14")
	line, err := s.store.Catalog(t.Context()).SpoolLine(spool)
	if err != nil {
		t.Fatal(err)
	}
	status, media, body := s.do(t, "GET", fmt.Sprintf("/api/v1/wires/%d/card", line.WireID), "", "")
	if status != 200 || media != "application/json" {
		t.Fatalf("GET card: %d %s\n%s", status, media, body)
	}
	var got bytes.Buffer
	if err := json.Indent(&got, []byte(body), "", "  "); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(golden, append(bytes.TrimSpace(got.Bytes()), '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.TrimSpace(string(want)), strings.TrimSpace(got.String())); diff != "" {
		t.Errorf("the card differs from %s; look at it, then run with -update (-want +got):\n%s", golden, diff)
	}
	// The spool's card is the wire's, with spool, lot and clock.
	_, _, ofSpool := s.do(t, "GET", "/api/v1/spools/"+strings.ToLower(string(spool))+"/card", "", "")
	prefix := fmt.Sprintf(`{"spool":%q,"lot":%q,`, spool, line.LotNumber)
	card, clock, _ := strings.Cut(strings.TrimSpace(ofSpool), `,"clock":`)
	if card+"}" != strings.TrimSpace(strings.Replace(body, "{", prefix, 1)) {
		t.Errorf("the card of spool %s is not that of its wire with spool and lot:\n%s", spool, ofSpool)
	}
	if !strings.Contains(clock, `"state":"sealed","outcome":"passes","says":"Sealed: its clock has not begun.`) {
		t.Errorf("the card of spool %s has the clock %s, want that it is sealed", spool, clock)
	}
}

// TestTheClockOfACardInJSON opens a spool of a wire whose sheet allows 168 h
// and takes it out for 31 h of them.
func TestTheClockOfACardInJSON(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool := s.spoolOf(t, "Amber Kestrel 71M")
	at := today
	open := inventory.Entry{Spool: spool, Person: s.withRole(inventory.Attendant)[0].Code, RequestKey: "card clock", At: at.Add(-31 * time.Hour)}
	if _, err := s.ledger.Open(t.Context(), open); err != nil {
		t.Fatal(err)
	}
	var card struct {
		Clock struct {
			State, Outcome, Says, Source, Provenance string
			ExposedS                                 int64     `json:"exposed_s"`
			LimitS                                   int64     `json:"limit_s"`
			LeftS                                    int64     `json:"left_s"`
			RunsOut                                  time.Time `json:"runs_out"`
		}
	}
	_, _, body := s.do(t, "GET", "/api/v1/spools/"+string(spool)+"/card", "", "")
	if err := json.Unmarshal([]byte(body), &card); err != nil {
		t.Fatal(err)
	}
	got, hour := card.Clock, int64(3600)
	if got.State != "running" || got.Outcome != "passes" || !strings.HasPrefix(got.Says, "Open 31 h of 168 h. Runs out ") || got.Provenance != "data sheet" || got.Source != "invented sheet of Amber Kestrel 71M" {
		t.Errorf("the clock of %s says %+v", spool, got)
	}
	if got.ExposedS != 31*hour || got.LimitS != 168*hour || got.LeftS != 137*hour || !got.RunsOut.Equal(at.Add(137*time.Hour)) {
		t.Errorf("the clock of %s has the figures %+v, want 31, 168 and 137 h, out at %s", spool, got, at.Add(137*time.Hour))
	}
}

func TestAPIComparesWiresAndKnowsNames(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := func(name string) int64 {
		for _, w := range s.wires {
			if w.TradeName == name {
				return w.ID
			}
		}
		t.Fatalf("no wire %s", name)
		return 0
	}
	kestrel, wren := id("Amber Kestrel 71M"), id("Cobalt Wren 14")
	engineer, attendant := s.withRole(inventory.Engineer)[0].Code, s.withRole(inventory.Attendant)[0].Code
	name := func(badge inventory.Code, name, process string) string {
		return fmt.Sprintf(`{"person":%q,"name":%q,"process":%q}`, badge, name, process)
	}
	steps := []struct {
		name, method, path, body string
		status                   int
		holds                    []string
		lacks                    string
	}{
		{"facts alone", "GET", fmt.Sprintf("/api/v1/compare?a=%d&b=%d", kestrel, wren), "", 200, []string{`"fact":"polarity","a":{"known":true,"value":"DCEP"`, `"differences"`}, `"checks"`},
		{"for a job", "GET", fmt.Sprintf("/api/v1/compare?a=%d&b=%d&job=2201", kestrel, wren), "", 200, []string{`"supposed":"a sealed spool`, `"verdict":"does not fit"`, `"changed":["`}, ""},
		{"no such wire", "GET", fmt.Sprintf("/api/v1/compare?a=%d&b=999", kestrel), "", 404, []string{"no-such-wire"}, ""},
		{"one wire is not two", "GET", fmt.Sprintf("/api/v1/compare?a=%d", kestrel), "", 422, []string{"b"}, ""},
		{"no such card", "GET", "/api/v1/wires/999/card", "", 404, []string{"no-such-wire"}, ""},
		{"a search by name and size", "GET", "/api/v1/wires?q=gasless+.035", "", 200, []string{"Cobalt Wren 14", "Cobalt Petrel 11"}, "Kestrel"},
		{"the same in millimetres", "GET", "/api/v1/wires?q=gasless+0.9+mm", "", 200, []string{"Cobalt Wren 14"}, "Kestrel"},
		{"spools too", "GET", "/api/v1/spools?q=metal-cored", "", 200, []string{"Birch Core 6"}, "Kestrel"},
		{"what a text means", "GET", "/api/v1/names/read?q=flux+core+1/16", "", 200, []string{`"clear":false`, `"process":"FCAW-G"`, `"process":"FCAW-S"`, `"diameter_nm":1587500`}, ""},
		{"an attendant names nothing", "POST", "/api/v1/names", name(attendant, "girder wire", "FCAW-G"), 403, []string{"may-not-name"}, ""},
		{"the engineer does", "POST", "/api/v1/names", name(engineer, "girder wire", "FCAW-G"), 200, []string{`"name":"girder wire"`}, ""},
		{"a name of the trade stays", "POST", "/api/v1/names", name(engineer, "gasless", "FCAW-G"), 422, []string{"#/name", "FCAW-S everywhere"}, ""},
		{"no such process", "POST", "/api/v1/names", name(engineer, "girder", "SAW"), 422, []string{"#/process"}, ""},
		{"it is understood", "GET", "/api/v1/wires?q=girder+wire+.052", "", 200, []string{"Amber Kestrel 71M"}, "Cobalt"},
		{"it is listed", "GET", "/api/v1/names", "", 200, []string{`"name":"girder wire"`, string(engineer)}, ""},
		{"it is retired, the yard's own stays", "POST", "/api/v1/names/2/retire", fmt.Sprintf(`{"person":%q}`, engineer), 200, []string{`"name":"shed wire"`}, "girder wire"},
		{"and means nothing any more", "GET", "/api/v1/wires?q=girder+wire+.052", "", 200, []string{`"items":[]`}, ""},
	}
	for _, tt := range steps {
		status, _, body := s.do(t, tt.method, tt.path, "application/json", tt.body)
		if status != tt.status {
			t.Errorf("%s: %s %s: %d, want %d\n%s", tt.name, tt.method, tt.path, status, tt.status, body)
		}
		for _, want := range tt.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: %s %s lacks %q:\n%s", tt.name, tt.method, tt.path, want, body)
			}
		}
		if tt.lacks != "" && strings.Contains(body, tt.lacks) {
			t.Errorf("%s: %s %s has %q:\n%s", tt.name, tt.method, tt.path, tt.lacks, body)
		}
	}
}
