package pages_test

import (
	"maps"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"wirehold/inventory"
)

// posts is one form that is sent: what must come back.
type posts struct {
	name, path string
	form       url.Values
	status     int
	class      string // where the words stand
	says       string
	keeps      string // a field that must still hold what was typed
}

func (s *site) hold(t *testing.T, tests []posts) {
	t.Helper()
	for _, tt := range tests {
		got := s.post(tt.path, tt.form)
		if got.status != tt.status || tt.class != "" && !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("%s: POST %s: status %d, %s %q, want %d and %q", tt.name, tt.path, got.status, tt.class, got.text(tt.class), tt.status, tt.says)
		}
		if tt.keeps != "" && !got.has(tt.keeps, tt.form.Get(tt.keeps)) {
			t.Errorf("%s: POST %s: field %s lost %q", tt.name, tt.path, tt.keeps, tt.form.Get(tt.keeps))
		}
	}
}

// has reports whether a field of the page holds the value.
func (a answer) has(field, value string) bool {
	for _, n := range a.all("") {
		if attr(n, "name") != field {
			continue
		}
		if attr(n, "value") == value || n.FirstChild != nil && strings.TrimSpace(n.FirstChild.Data) == value {
			return true
		}
	}
	return false
}

func form(pairs ...string) url.Values {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		v.Set(pairs[i], pairs[i+1])
	}
	return v
}

// with returns v with more.
func with(v url.Values, pairs ...string) url.Values {
	out := maps.Clone(v)
	for name, values := range form(pairs...) {
		out[name] = values
	}
	return out
}

func TestEnterPeoplePlacesAndFeeders(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	owner := must(s.ledger.AddPerson(t.Context(), inventory.Person{Name: "Olive Ridge", Role: inventory.Owner}))(t)
	o, e, w := string(owner.Code), string(s.engineer.Code), string(s.welder.Code)
	welder := form("person", o, "request_key", "p1", "name", "New Hand", "role", "welder")
	feeder := form("person", e, "request_key", "f1", "name", "Feeder 9", "polarities_DCEP", "yes", "polarity", "DCEP", "gas", "75 Ar 25 CO2", "rolls", "knurled V",
		"roll_size", ".045 in", "gun", "1/16 in", "diameters", ".035 in, .045 in", "packages", "12 in spool, drum", "largest_package", "20 kg")
	s.hold(t, []posts{
		{"the owner enters a person", "/people", welder, 303, "", "", ""},
		{"an engineer does not", "/people", with(welder, "person", e, "request_key", "p2"), 403, "notice-text", "only the owner enters people", "name"},
		{"a name and a role are due", "/people", with(welder, "name", "", "role", "", "request_key", "p3"), 422, "fault", "give the person's name", ""},
		{"nobody enters themselves once somebody is there", "/people", form("first", "yes", "request_key", "p4", "name", "Me Too"), 403, "fault", "scan the owner's badge", "name"},
		{"the engineer enters a place", "/places", form("person", e, "request_key", "k1", "name", "Shelf B", "kind", "shelf"), 303, "", "", ""},
		{"a welder does not", "/places", form("person", w, "request_key", "k2", "name", "Shelf C", "kind", "shelf"), 403, "", "", "name"},
		{"a name stands once", "/places", form("person", e, "request_key", "k3", "name", "Shelf A1", "kind", "shelf"), 409, "fault", "of that name already", "name"},
		{"a feeder with all that is known of it", "/feeders", feeder, 303, "", "", ""},
		{"a size without its unit", "/feeders", with(feeder, "request_key", "f2", "gun", "0.045"), 422, "fault", "number with its unit", "gun"},
		{"a polarity that the source does not give", "/feeders", with(feeder, "request_key", "f3", "polarity", "DCEN"), 422, "fault", "does not give that polarity", "roll_size"},
		{"a package that is none", "/feeders", with(feeder, "request_key", "f4", "packages", "box"), 422, "fault", "is no package", "packages"},
		{"a feeder is edited", "/feeders/" + string(s.feeder.Code), with(feeder, "request_key", "f5", "version", "1", "name", "Feeder 3"), 303, "", "", ""},
		{"not from a version that is no more", "/feeders/" + string(s.feeder.Code), with(feeder, "request_key", "f6", "version", "1", "name", "Feeder 3"), 409, "", "", "name"},
		{"a badge is retired", "/people/" + w + "/retire", form("person", o, "request_key", "r1"), 303, "", "", ""},
		{"nothing else is done to a person", "/people/" + w + "/promote", form("person", o, "request_key", "r2"), 404, "", "", ""},
	})
	page := s.get("/feeders/" + string(s.feeder.Code))
	for _, want := range []string{"knurled V", "75 % Ar + 25 % CO2", "12 in spool, drum", "20 kg"} {
		if !strings.Contains(page.text("facts"), want) {
			t.Errorf("the feeder's page lacks %q: %s", want, page.text("facts"))
		}
	}
	if got := page.text("table"); !strings.Contains(got, "connected gas: 75 % Ar + 25 % CO2, before no gas") {
		t.Errorf("the feeder's changes say %q", got)
	}
	if got := s.get("/counter?scan=" + w); got.status != http.StatusForbidden || !strings.Contains(got.text("fault"), "was retired") {
		t.Errorf("a retired badge at the counter: %d %q, want 403 and why", got.status, got.text("fault"))
	}
	if got := s.get("/people/" + w); !strings.Contains(got.text("title"), "retired") {
		t.Errorf("the page of a retired person says %q", got.text("title"))
	}
}

func TestEnterProceduresAndJobs(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	e := string(s.engineer.Code)
	procedure := form("person", e, "request_key", "w1", "number", "WPS-20", "revision", "A", "title", "Posts", "processes_FCAW-S", "yes", "classifications", "E71T-11\nE71T-8",
		"diameters", ".045 in", "polarity", "DCEN", "gas", "none", "passes", "multiple passes", "positions_flat", "yes", "positions_vertical_up", "yes", "tensile", "70 ksi",
		"toughness", "20 ft-lbf at -20 degF", "hydrogen", "8")
	job := form("person", e, "request_key", "j1", "number", "3301", "name", "Posts", "procedure_1", "1", "profile", s.job.ProfileID, "site", "field", "wind", "",
		"metal_1", "A36", "family_1", "carbon steel", "thickness_1", "3/8 in", "joint", "tee", "welds", "2 m of 6 mm fillet\n1 m of square groove 3 mm deep, gap 1 mm")
	outside := with(job, "number", "3309", "procedure_1", "3", "procedure_2", "1", "thickness_1", "2 in")
	seen := "WPS-20 rev B: The plate is 50.8 mm (2 in), thicker than procedure WPS-20 rev B is qualified for: up to 25.4 mm (1 in). Move the job to another procedure or ask the welding engineer."
	s.hold(t, []posts{
		{"a procedure", "/procedures", procedure, 303, "", "", ""},
		{"an attendant enters none", "/procedures", with(procedure, "person", string(s.attendant.Code), "request_key", "w2", "number", "WPS-21"), 403, "", "", "number"},
		{"its number stands once", "/procedures", with(procedure, "request_key", "w3", "revision", "B"), 409, "fault", "enter a new revision of it", "revision"},
		{"every field says what is wrong with it", "/procedures", with(procedure, "request_key", "w4", "tensile", "70"), 422, "fault", "70 ksi", "tensile"},
		{"a toughness without its temperature", "/procedures", with(procedure, "request_key", "w5", "toughness", "20 ft-lbf"), 422, "fault", "energy at a temperature", "toughness"},
		{"a class that cannot be read", "/procedures", with(procedure, "request_key", "w6", "classifications", "E7XT-1"), 422, "fault", "X", "classifications"},
		{"a qualified metal of no kind", "/procedures", with(procedure, "request_key", "w6a", "base_metals", "A36"), 422, "fault", "A36 (carbon steel)", "base_metals"},
		{"the next revision", "/procedures", with(procedure, "request_key", "w7", "revision", "B", "hydrogen", "4", "thickness_most", "1 in", "base_metals", "A36 (carbon steel)\ngroup II", "from", "2"), 303, "", "", ""},
		{"a copy of what is not there", "/procedures", with(procedure, "request_key", "w8", "from", "77"), 404, "", "", ""},
		{"a job", "/jobs", job, 303, "", "", ""},
		{"shop or field is due", "/jobs", with(job, "request_key", "j2", "number", "3302", "site", ""), 422, "fault", "shop or in the field", "number"},
		{"a wind without its unit", "/jobs", with(job, "request_key", "j3", "number", "3302", "wind", "5"), 422, "fault", "5 mph", "wind"},
		{"a weld that is none", "/jobs", with(job, "request_key", "j4", "number", "3302", "welds", "lots"), 422, "fault", "how much of which weld", "welds"},
		{"a job outside its procedure is said at once", "/jobs", with(outside, "request_key", "j8"), 200, "notice", "thicker than procedure WPS-20 rev B is qualified for", ""},
		{"and saved when it is sent again", "/jobs", with(outside, "request_key", "j8", "seen", seen), 303, "", "", ""},
		{"a job is edited", "/jobs/" + string(s.job.Code), with(job, "request_key", "j5", "number", "2207", "version", "1"), 303, "", "", ""},
		{"a procedure that stands twice is said beside the second", "/jobs", with(job, "request_key", "j9", "number", "3310", "procedure_2", "1"), 422, "fault", "stands twice", "number"},
		{"and closed", "/jobs/" + string(s.job.Code) + "/close", form("person", e, "request_key", "j6"), 303, "", "", ""},
		{"a welder does not open it again", "/jobs/" + string(s.job.Code) + "/reopen", form("person", string(s.welder.Code), "request_key", "j7"), 403, "", "", ""},
		{"a revision is retired", "/procedures/2/retire", form("person", e, "request_key", "w9"), 303, "", "", ""},
	})
	beside := s.get("/procedures/3").text("table-beside")
	for _, want := range []string{"Rev B, this one", "Rev A", "4 mL/100 g at most changed", "up to 25.4 mm (1 in) changed", "A36 (carbon steel) or group II", "flat, vertical up"} {
		if !strings.Contains(beside, want) {
			t.Errorf("the revisions side by side lack %q:\n%s", want, beside)
		}
	}
	if got := s.get("/jobs/" + string(s.job.Code)); !strings.Contains(got.text("table"), "2 m of 6 mm fillet; 1 m of square groove 3 mm deep, gap 1 mm") || !strings.Contains(got.text("title"), "closed") {
		t.Errorf("the job's page says %q and %q", got.text("title"), got.text("table"))
	}
	if got := s.get("/jobs/new").text("input"); strings.Contains(got, "WPS-20 rev A") || !strings.Contains(got, "WPS-20 rev B") {
		t.Errorf("procedures to choose from: %q, want WPS-20 rev B alone", got)
	}
}

func TestWhoMayNotIssueIsToldWhoMay(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	got := s.get("/counter?" + form("badge", string(s.welder.Code), "job", string(s.job.Code), "spool", string(s.good.Code)).Encode())
	if !strings.Contains(got.text("fault"), "Wil Bead is a welder: a store attendant, the welding engineer or the owner issues wire") {
		t.Errorf("a welder at the counter is told %q", got.text("fault"))
	}
	if got.has("stays_sealed", "yes") {
		t.Error("a welder is offered the form that issues")
	}
}

// TestTooMuchIsSaidToBeTooMuch sends more than a form may hold.
func TestTooMuchIsSaidToBeTooMuch(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, path := range []string{"/places", "/counter/issue", "/spools/" + string(s.good.Code) + "/hold", "/names"} {
		got := s.post(path, form("name", strings.Repeat("a", 70_000)))
		if got.status != http.StatusRequestEntityTooLarge || !strings.Contains(got.text("main"), "larger than the 64 KiB") {
			t.Errorf("POST %s: status %d, want 413 and how much is taken:\n%s", path, got.status, got.text("main"))
		}
	}
}
