package pages_test

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// driable is a spool whose invented sheet allows 72 h and a drying.
func (s *site) driable() inventory.Code {
	s.t.Helper()
	w := inventory.Wire{Maker: "Testmaker", TradeName: "Redline 5", Classifications: []string{"E71T-5C"}, Diameter: s.gassed.Diameter, Marked: ".045 in", Package: "12 in spool", Net: 15000, Tare: 700}
	for name, value := range map[string]string{"exposure_limit": "72", "drying": "4 h at 260-290 degC, at most 2 times"} {
		f := filler.Fact{Name: name, Value: value, Provenance: filler.DataSheet, Source: "invented sheet"}
		if name == "exposure_limit" {
			f.Unit = "h"
		}
		w.Supplied = append(w.Supplied, f)
	}
	_, spools := s.receive(must(s.ledger.AddWire(s.t.Context(), w))(s.t), "R5-1", 1)
	return spools[0].Code
}

// TestTheClockOnASpoolsPage takes a spool through its exposure, with figures
// worked out by hand.
func TestTheClockOnASpoolsPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool := s.driable()
	page := "/spools/" + string(spool)
	stamp := func(hours int) string { return s.now.Add(time.Duration(hours) * time.Hour).Format("2006-01-02T15:04") }
	dried := url.Values{"oven": {string(s.cabinet.Code)}, "heat": {"270 °C"}, "held_h": {"4"}, "material": {"metal"}, "place": {string(s.shelf.Code)}}
	with := func(change ...string) url.Values {
		v := url.Values{}
		for name := range dried {
			v.Set(name, dried.Get(name))
		}
		for i := 0; i < len(change); i += 2 {
			v.Set(change[i], change[i+1])
		}
		return v
	}
	if said := s.get(page).text("main"); strings.Contains(said, "Exposed for") {
		t.Errorf("GET %s: a sealed spool has a clock: %q", page, said)
	}
	steps := []struct {
		name   string
		wait   time.Duration
		deed   string // empty is none
		form   func() url.Values
		person inventory.Code
		status int
		says   []string // on the page that follows
	}{
		{"opened", 0, "open", func() url.Values { return url.Values{} }, s.attendant.Code, http.StatusSeeOther, []string{"Exposed for 0 h . The clock runs.", "72 h"}},
		{"thirty hours on the shelf", 30 * time.Hour, "", nil, "", 0, []string{"Open 30 h of 72 h. Runs out Sat 07:10 if it stays out.", "Limit: invented sheet data sheet", "Exposed for 30 h . The clock runs.", "42 h", "data sheet: invented sheet", "open, in a place that is not dry-kept"}},
		{"put into the cabinet", 0, "move", func() url.Values { return url.Values{"place": {string(s.cabinet.Code)}} }, s.attendant.Code, http.StatusSeeOther, []string{"Open 30 h of 72 h. The clock stands: it is kept dry. 42 h left."}},
		{"ten hours there", 10 * time.Hour, "", nil, "", 0, []string{"Exposed for 30 h . The clock stands.", "not while the clock stands", "in a dry-kept place"}},
		{"dried too hot", 0, "dry", func() url.Values { return with("dried_from", stamp(-6), "heat", "300 °C") }, s.attendant.Code, http.StatusConflict, []string{"too hot", "Exposed for 30 h"}},
		{"dried at no temperature", 0, "dry", func() url.Values { return with("dried_from", stamp(-6), "heat", "hot") }, s.attendant.Code, http.StatusUnprocessableEntity, []string{"temperature"}},
		{"dried for no time", 0, "dry", func() url.Values { return with("dried_from", stamp(-6), "held_h", "0") }, s.attendant.Code, http.StatusUnprocessableEntity, []string{"give the hours"}},
		{"dried", 0, "dry", func() url.Values { return with("dried_from", stamp(-6)) }, s.attendant.Code, http.StatusSeeOther, []string{"Exposed for 0 h . The clock runs. Dried 1 time."}},
		{"five hours later", 5 * time.Hour, "", nil, "", 0, []string{"Exposed for 5 h", "67 h"}},
		{"set right by the attendant", 0, "redry", func() url.Values {
			return with("dried_from", stamp(-9), "dried_until", stamp(-4), "reason", "clock of the oven")
		}, s.attendant.Code, http.StatusForbidden, []string{"Ada Counter is a store attendant"}},
		{"set right without its end", 0, "redry", func() url.Values { return with("dried_from", stamp(-9), "reason", "clock of the oven") }, s.engineer.Code, http.StatusUnprocessableEntity, []string{"when it came out"}},
		{"set right", 0, "redry", func() url.Values {
			return with("dried_from", stamp(-9), "dried_until", stamp(-4), "reason", "clock of the oven")
		}, s.engineer.Code, http.StatusSeeOther, []string{"Exposed for 4 h", "68 h", "Dried 1 time"}},
	}
	for i, step := range steps {
		s.now = s.now.Add(step.wait)
		got := s.get(page)
		if step.deed != "" {
			form := step.form()
			form.Set("person", string(step.person))
			form.Set("request_key", "clock "+strconv.Itoa(i))
			if step.deed == "redry" {
				for _, m := range s.history(spool) {
					if m.Type == inventory.Dried {
						form.Set("corrects", strconv.FormatInt(m.Seq, 10))
					}
				}
			}
			got = s.post(page+"/"+step.deed, form)
			if got.status != step.status {
				t.Fatalf("%s: POST %s/%s %v: status %d, want %d\n%s", step.name, page, step.deed, form, got.status, step.status, got.text("main"))
			}
			if got.location != "" {
				got = s.get(got.location)
			}
		}
		said := got.text("main") + got.text("notice") + got.text("fault") + got.text("title")
		for _, want := range step.says {
			if !strings.Contains(said, want) {
				t.Errorf("%s: the page says %q, want %q", step.name, said, want)
			}
		}
	}
}

// TestDamagedPackagesAreReceived receives three packages, one of them torn.
func TestDamagedPackagesAreReceived(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	form := func(damaged, key string) url.Values {
		return url.Values{"person": {string(s.attendant.Code)}, "request_key": {key}, "wire": {strconv.FormatInt(s.gasless.ID, 10)}, "lot_number": {"RL-9"}, "certificate": {"C-9"},
			"spools": {"3"}, "damaged": {damaged}, "place": {string(s.shelf.Code)}}
	}
	for _, tt := range []struct{ damaged, says string }{{"4", "0 to 3"}, {"-1", "0 to 3"}, {"one", "give a whole number"}} {
		if got := s.post("/receiving", form(tt.damaged, "bad")); got.status != http.StatusUnprocessableEntity || !strings.Contains(got.text("fault"), tt.says) {
			t.Errorf("POST /receiving, %q damaged: %d %q, want 422 and %q", tt.damaged, got.status, got.text("fault"), tt.says)
		}
	}
	got := s.post("/receiving", form("1", "torn"))
	if got.status != http.StatusSeeOther {
		t.Fatalf("POST /receiving, 1 damaged: %d\n%s", got.status, got.text("main"))
	}
	again := s.post("/receiving", form("1", "torn"))
	if again.location != got.location {
		t.Errorf("the same receipt again leads to %q, want %q", again.location, got.location)
	}
	lot := must(s.store.Catalog(t.Context()).Spools(inventory.Query{Text: "RL-9", Limit: 10}))(t)
	torn := []string{}
	for _, line := range lot {
		if e := must(s.ledger.Exposure(t.Context(), line.Code, time.Time{}))(t); e.Unknown {
			torn = append(torn, string(line.Code))
		}
	}
	if len(lot) != 3 || len(torn) != 1 {
		t.Fatalf("%d spools came, exposure not known of %v; want 3 and one", len(lot), torn)
	}
	if said := s.get(got.location).text("slip"); !strings.Contains(said, "Stick the labels of "+torn[0]+" on the damaged packages") {
		t.Errorf("the slip says %q, want it to name %s", said, torn[0])
	}
	if said := s.get("/spools/" + torn[0]).text("main"); !strings.Contains(said, "Exposure not known") {
		t.Errorf("the page of %s says %q, want that its exposure is not known", torn[0], said)
	}
}
