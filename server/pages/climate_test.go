package pages_test

import (
	"bytes"
	"errors"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// TestClimateForms sets limits and enters readings by hand and by table, as
// somebody at the cabinet does.
func TestClimateForms(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	person := string(s.attendant.Code)
	engineer := string(must(s.ledger.AddPerson(t.Context(), inventory.Person{Name: "Ilse", Role: inventory.Engineer}))(t).Code)
	path := "/climate/" + string(s.cabinet.Code)
	if got := s.get(path); !strings.Contains(got.text("empty"), "POST http") || !strings.Contains(got.text("notice"), "It has no limits") {
		t.Errorf("GET %s without readings: empty %q, notice %q; want how to send them, and that it has no limits", path, got.text("empty"), got.text("notice"))
	}
	limits := form("person", engineer, "request_key", "limits-1", "version", "1", "max_rh_pct", "40", "lowest", "60 F", "highest", "45 C", "max_gap", "90 min", "source", "its manual")
	hand := form("person", person, "temperature", "22.5 C", "rh", "55", "logger", "gauge by the door")
	s.hold(t, []posts{
		{"limits without a scale", path + "/limits", with(limits, "highest", "45"), 422, "fault", "with its scale", "max_rh_pct"},
		{"limits without a source", path + "/limits", with(limits, "source", ""), 422, "fault", "say where the limits come from", "max_gap"},
		{"limits by an attendant", path + "/limits", with(limits, "person", person), 403, "notice", "enters places", ""},
		{"limits", path + "/limits", limits, 303, "", "", ""},
		{"a reading in no scale", path + "/readings", with(hand, "temperature", "22.5"), 422, "fault", "with its scale", "rh"},
		{"a reading of tomorrow", path + "/readings", with(hand, "at", "2099-01-01T10:00"), 422, "fault", "is in the future", "temperature"},
		{"a reading", path + "/readings", hand, 303, "", "", ""},
	})
	got := s.get(path)
	for class, want := range map[string]string{"climate-now": "not dry: too damp", "climate-limits": "at most 40 %RH, 15.556 °C to 45 °C, a reading at least every 90 min", "sheet": "dew point"} {
		if !strings.Contains(strings.ToLower(got.text(class)), strings.ToLower(want)) {
			t.Errorf("GET %s: %s %q, want %q in it", path, class, got.text(class), want)
		}
	}
	if plot := s.get(path + "/plot"); plot.status != 200 || !strings.Contains(plot.body, `"max_rh_pct":40`) || !strings.Contains(plot.body, `"highest_rh_pct":[55]`) {
		t.Errorf("GET %s/plot: %d %s, want the limit of 40 and the reading of 55", path, plot.status, plot.body)
	}
	if place := s.get("/places/" + string(s.cabinet.Code)); !strings.Contains(place.text("facts"), "at most 40 %RH") || !strings.Contains(place.text("section"), "source: its manual (shop)") {
		t.Errorf("the place's page: %q %q, want its limits and who set them", place.text("facts"), place.text("section"))
	}
	if all := s.get("/climate"); !strings.Contains(all.text("sheet"), "not dry: too damp") {
		t.Errorf("GET /climate: %q, want the cabinet that is not dry", all.text("sheet"))
	}
}

// TestLimitsAreFilledIn follows each link that fills the form in, and sets what
// is in it; with a word changed it is the shop's own.
func TestLimitsAreFilledIn(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	engineer := must(s.ledger.AddPerson(t.Context(), inventory.Person{Name: "Ilse", Role: inventory.Engineer}))(t)
	path := "/climate/" + string(s.cabinet.Code)
	var links []string
	for _, n := range s.get(path + "?range=month").all("") {
		if href, _, _ := strings.Cut(attr(n, "href"), "#"); n.Data == "a" && strings.Contains(href, "fill=") {
			links = append(links, href)
		}
	}
	if want := len(inventory.LimitOffers()); len(links) != want {
		t.Fatalf("GET %s offers %d limits, want %d", path, len(links), want)
	}
	for i, link := range links {
		offer := inventory.LimitOffers()[i]
		values := s.get(link).filled(path + "/limits")
		for name, want := range map[string]string{"source": offer.Limits.Source, "max_gap": "24 h", "lowest": offer.Limits.Lowest.String(), "highest": offer.Limits.Highest.String(), "max_rh_pct": strings.TrimSuffix(offer.Limits.MaxHumidity.String(), " %RH")} {
			if got := values.Get(name); got != want {
				t.Errorf("filled in by %s, %s is %q, want %q", offer.Row, name, got, want)
			}
		}
		values.Set("person", string(engineer.Code))
		for _, change := range []struct {
			source     string
			provenance filler.Provenance
		}{{offer.Limits.Source, filler.Published}, {"our own, after " + offer.Row, filler.Shop}} {
			place := must(s.store.Catalog(t.Context()).PlaceClimate(s.cabinet.Code))(t)
			values.Set("source", change.source)
			values.Set("version", strconv.Itoa(place.Version))
			values.Set("request_key", offer.Row+" "+string(change.provenance))
			if got := s.post(path+"/limits", values); got.status != http.StatusSeeOther {
				t.Fatalf("POST %s/limits %v: %d %s", path, values, got.status, got.text("fault"))
			}
			set := must(s.store.Catalog(t.Context()).PlaceClimate(s.cabinet.Code))(t).InForce(s.now)
			if set.String() != offer.Limits.String() || set.Source != change.source || set.Provenance != change.provenance {
				t.Errorf("after %s the limits are %s by %s (%s), want %s by %s (%s)", offer.Row, set, set.Source, set.Provenance, offer.Limits, change.source, change.provenance)
			}
		}
	}
}

// TestClimateTable uploads a logger's table: all of it, or none.
func TestClimateTable(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	path := "/climate/" + string(s.cabinet.Code) + "/import"
	tests := []struct {
		name, table string
		status      int
		says        string
	}{
		{"faults by line and column", "at,temperature_c,rh_pct\n2020-01-01T00:00:00Z,20,30\nlater,20,300\n", 422, `line 3, column "at" (A)`},
		{"nothing was kept", "at,temperature_c,rh_pct\n2020-01-01T00:00:00Z,20,30\n2099-01-01T00:00:00Z,20,30\n", 422, "line 3, at:"},
		{"good rows", "at,temperature_f,rh_pct\n2020-01-01T00:00:00Z,68,30\n2020-01-01T01:00:00Z,68,31\n", 303, "2+new"},
		{"the same rows", "at,temperature_f,rh_pct\n2020-01-01T00:00:00Z,68,30\n2020-01-01T01:00:00Z,68,31\n", 303, "2+there+already"},
	}
	for _, tt := range tests {
		got := s.uploadTo(path, "log.csv", tt.table, "person", string(s.attendant.Code), "logger", "L1")
		if text := got.text("fault") + got.location; got.status != tt.status || !strings.Contains(text, tt.says) {
			t.Errorf("%s: POST %s: %d %q, want %d and %q", tt.name, path, got.status, text, tt.status, tt.says)
		}
	}
}

// uploadTo posts a file with other fields.
func (s *site) uploadTo(path, name, content string, pairs ...string) answer {
	s.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for i := 0; i+1 < len(pairs); i += 2 {
		if err := w.WriteField(pairs[i], pairs[i+1]); err != nil {
			s.t.Fatal(err)
		}
	}
	part, err := w.CreateFormFile("file", name)
	if err != nil {
		s.t.Fatal(err)
	}
	_, errWrite := part.Write([]byte(content))
	if err := errors.Join(errWrite, w.Close()); err != nil {
		s.t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, path, &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	return s.do(r)
}
