package pages_test

import (
	"net/url"
	"strconv"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

func (s *site) wireAt(w inventory.Wire, rest string) string {
	return "/wires/" + strconv.FormatInt(w.ID, 10) + rest
}

// TestCardPages holds what the set-up card says, on its own page and on those
// of spool and wire.
func TestCardPages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	tests := []struct{ name, path, class, says string }{
		{"polarity in letters and words", s.wireAt(s.gasless, "/card"), "setup-main", "DCEN electrode negative"},
		{"gas large", s.wireAt(s.gasless, "/card"), "setup-big", "no gas"},
		{"with its source", s.wireAt(s.gasless, "/card"), "setup-source", "ISO 17632:2015 Table 5B"},
		{"unknown is written so", s.wireAt(s.gasless, "/card"), "setup-line", "Stick-out not known: read the box"},
		{"practice stands beside it, marked", s.wireAt(s.gasless, "/card"), "setup-line", "not known: read the box common practice, not evidence 10-19 mm"},
		{"a caution with its citation", s.wireAt(s.gasless, "/card"), "hazard", "29 CFR 1910.1000 Table Z-1"},
		{"a note from memory is marked", s.wireAt(s.gasless, "/card"), "hazard", "from memory: check the text"},
		{"what is not certain says why", s.wireAt(s.gasless, "/card"), "hazard", "Barium may apply"},
		{"the wire's page has the card", s.wireAt(s.gasless, ""), "setup-big", "no gas"},
		{"and leads to the sheet", s.wireAt(s.gasless, ""), "setup-sheet", "Card to print"},
		{"the spool's page has it", "/spools/" + string(s.good.Code), "setup-sheet", "Card to print"},
		{"the spool's card names spool", "/spools/" + string(s.good.Code) + "/card", "title", string(s.good.Code)},
		{"how long it may stay out", "/spools/" + string(s.good.Code) + "/card", "clock", "Sealed: its clock has not begun"},
		{"and lot", "/spools/" + string(s.good.Code) + "/card", "lead", "lot GL-1"},
	}
	for _, tt := range tests {
		got := s.get(tt.path)
		if got.status != 200 || !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("%s: GET %s: %d, %s %q, want %q", tt.name, tt.path, got.status, tt.class, got.text(tt.class), tt.says)
		}
	}
	for _, path := range []string{"/wires/99/card", "/wires/x/card", "/spools/W2222-2/card"} {
		if got := s.get(path); got.status != 404 {
			t.Errorf("GET %s: %d, want 404", path, got.status)
		}
	}
}

func TestComparePage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	a, b := strconv.FormatInt(s.gasless.ID, 10), strconv.FormatInt(s.gassed.ID, 10)
	closed := must(s.ledger.AddJob(t.Context(), inventory.Job{Number: "2100", Procedures: s.job.Procedures, ProfileID: inventory.GeneralProfile, Closed: true}))(t)
	tests := []struct {
		name   string
		ask    url.Values
		status int
		class  string
		says   string
	}{
		{"nothing chosen yet", url.Values{}, 200, "title", "Can this wire stand in for that?"},
		{"one chosen", url.Values{"a": {a}}, 200, "title", "Can this wire stand in for that?"},
		{"facts alone say that they decide nothing", url.Values{"a": {a}, "b": {b}}, 200, "section", "depends on the job"},
		{"differences first", url.Values{"a": {a}, "b": {b}}, 200, "section-title", "differences"},
		{"side by side", url.Values{"a": {a}, "b": {b}}, 200, "table-compared", "polarity DCEN"},
		{"a job that the stand-in does not fit", url.Values{"a": {a}, "b": {b}, "job": {"2207"}}, 200, "notice-stop", "Redline 1C cannot stand in on job 2207"},
		{"names the rules", url.Values{"a": {a}, "b": {b}, "job": {"2207"}}, 200, "versus-rule", "Polarity"},
		{"and says what is supposed", url.Values{"a": {a}, "b": {b}, "job": {"2207"}}, 200, "notice", "as if a spool of each lay sealed"},
		{"the other way round it fits", url.Values{"a": {b}, "b": {a}, "job": {"2207"}}, 200, "notice", "Greyline 11 can stand in on job 2207"},
		{"a wire for itself", url.Values{"a": {a}, "b": {a}}, 422, "fault", "choose another wire"},
		{"no such wire", url.Values{"a": {a}, "b": {"99"}}, 422, "fault", "there is no wire 99"},
		{"no number", url.Values{"a": {"x"}, "b": {b}}, 422, "fault", "choose a wire"},
		{"no such job", url.Values{"a": {a}, "b": {b}, "job": {"9999"}}, 422, "fault", `there is no job "9999"`},
		{"a closed job takes no wire", url.Values{"a": {a}, "b": {b}, "job": {closed.Number}}, 409, "notice", "closed"},
	}
	for _, tt := range tests {
		path := "/wires/compare?" + tt.ask.Encode()
		got := s.get(path)
		if got.status != tt.status || !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("%s: GET %s: %d, %s %q, want %d and %q", tt.name, path, got.status, tt.class, got.text(tt.class), tt.status, tt.says)
		}
		if got.field("a") == nil || got.field("job") == nil {
			t.Errorf("%s: GET %s: the form is not there", tt.name, path)
		}
	}
}

func TestDecodePage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	tests := []struct {
		name, typed string
		status      int
		class, says string
	}{
		{"each run of characters stands over its place", "E71T-12MJ-H4", 200, "ruler", "12 6–7 M 8 J 9"},
		{"with what it means and who says so", "E71T-11", 200, "part", "11 usability: shielding self, polarity DCEN"},
		{"what is not fixed is listed", "E71T-GS", 200, "open-fact", "polarity of G and GS Take it from: maker data sheet or box"},
		{"the character at fault is marked", "E71T-1X", 422, "misread-at", "X ^"},
		{"with its place", "E71T-1X", 422, "fault", "Character 7, “X”"},
		{"what stands before it stays", "E71T-1X", 422, "misread-good", "E71T-1"},
		{"a letter that is missing has a gap", "E71T-", 422, "misread-gap", "^"},
		{"a character of several bytes is one", "E71T-1é", 422, "misread-at", "é ^"},
		{"a name people use leads on", "gasless", 422, "links", "FCAW-S"},
		{"a gas has its mixture", "M21-ArC-18", 200, "gist", "Mixture 82 % Ar + 18 % CO2"},
		{"its group and bounds", "M21-ArC-18", 200, "gist", "Group M21: oxidizing ISO 14175:2008 clause 5 Bounds CO2 over 15 up to 25 vol %, Ar balance ISO 14175:2008 Table 2"},
		{"and that 82/18 is no gas of the letter M", "82 Ar 18 CO2", 200, "gist", "rest CO2) no ASME SFA-5.20"},
		{"an old name has its new one", "SG-AC-25", 200, "gist", "In ISO 14175 M21-ArC-25"},
		{"whose band is from memory", "SG-AC-25", 200, "gist", "rest CO2) yes from memory: confirm on the box"},
		{"a symbol alone leaves the band open", "M21", 200, "gist", "rest CO2) not known: read the per cents on the cylinder"},
		{"per cents alone have alternatives", "75/25", 200, "links", "I3-ArHe-25"},
		{"and say that they are practice", "75/25", 200, "notice-text", "as is common practice"},
		{"per cents that do not add up are refused", "82 Ar 20 CO2", 422, "fault", "add up to 102, not 100"},
		{"a size has its exact measure", ".045 in", 200, "gist", "Measures .045 in = 1.143 mm"},
		{"a mark that misleads says so", "1.1 mm", 200, "notice-text", "may be the mark of a wire of 0.045 in"},
		{"a size without a unit is asked for it", "0.045", 422, "fault", "give a number with its unit"},
		{"a package has its standard name", "300 mm spool", 200, "gist", "Standard package 12 in spool"},
	}
	for _, tt := range tests {
		path := "/decode?" + url.Values{"d": {tt.typed}}.Encode()
		got := s.get(path)
		if got.status != tt.status || !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("%s: GET %s: %d, %s %q, want %d and %q", tt.name, path, got.status, tt.class, got.text(tt.class), tt.status, tt.says)
		}
	}
	for _, n := range s.get("/decode").all("try") {
		if got := s.get(attr(n, "href")); got.status != 200 {
			t.Errorf("the example %s: %d, want 200\n%s", attr(n, "href"), got.status, got.text("fault"))
		}
	}
}

func TestSearchAsksWhich(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, page := range []string{"/find", "/wires"} {
		got := s.get(page + "?q=flux+core+.045")
		if ask := got.text("notice"); !strings.Contains(ask, "which?") || !strings.Contains(ask, "FCAW-G") || !strings.Contains(ask, "FCAW-S") {
			t.Errorf("GET %s?q=flux core: asks %q, want both", page, ask)
		}
		if table := got.text("table"); !strings.Contains(table, "Greyline 11") || !strings.Contains(table, "Redline 1C") {
			t.Errorf("GET %s?q=flux core: %q, want both wires", page, table)
		}
		var chosen string
		for _, n := range got.all("button-quiet") {
			if strings.HasPrefix(words(n), "FCAW-S") {
				chosen = attr(n, "href")
			}
		}
		after := s.get(chosen)
		if table := after.text("table"); !strings.Contains(table, "Greyline 11") || strings.Contains(table, "Redline 1C") || strings.Contains(after.text("notice"), "which?") {
			t.Errorf("GET %s: %q, want the self-shielded wire alone, and no question", chosen, table)
		}
	}
}

func TestNamesPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	form := func(person inventory.Person, name string, process fit.Process) url.Values {
		return url.Values{"person": {string(person.Code)}, "name": {name}, "process": {string(process)}}
	}
	tests := []struct {
		name        string
		form        url.Values
		status      int
		class, says string
	}{
		{"the attendant may not", form(s.attendant, "post wire", fit.FCAWS), 403, "notice", "Ada Counter is a store attendant"},
		{"without a process", form(s.engineer, "post wire", ""), 422, "fault", "choose the process"},
		{"without a name", form(s.engineer, "", fit.FCAWS), 422, "fault", "give a name"},
		{"without a badge", url.Values{"name": {"post wire"}, "process": {"FCAW-S"}}, 422, "fault", "scan your badge"},
		{"the engineer may", form(s.engineer, "post wire", fit.FCAWS), 303, "", ""},
		{"twice is a conflict", form(s.engineer, "Post Wire", fit.FCAWS), 409, "notice", "already"},
	}
	for _, tt := range tests {
		got := s.post("/names", tt.form)
		if got.status != tt.status || !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("%s: POST /names %v: %d, %s %q, want %d and %q", tt.name, tt.form, got.status, tt.class, got.text(tt.class), tt.status, tt.says)
		}
		if tt.status != 303 && attr(got.field("name"), "value") != tt.form.Get("name") {
			t.Errorf("%s: what was typed is gone: %q", tt.name, attr(got.field("name"), "value"))
		}
	}
	if got := s.get("/wires?q=post+wire").text("table"); !strings.Contains(got, "Greyline 11") || strings.Contains(got, "Redline") {
		t.Errorf("search by the nickname: %q", got)
	}
	id := strconv.FormatInt(must(s.ledger.Nicknames(t.Context()))(t)[0].ID, 10)
	if got := s.post("/names/"+id+"/retire", url.Values{"person": {string(s.welder.Code)}}); got.status != 403 || !strings.Contains(got.text("notice"), "Wil Bead is a welder") {
		t.Errorf("retire by a welder: %d %q", got.status, got.text("notice"))
	}
	if got := s.post("/names/"+id+"/retire", url.Values{"person": {string(s.engineer.Code)}}); got.status != 303 {
		t.Errorf("retire: %d %s", got.status, got.text("main"))
	}
	if got := s.get("/names").text("empty-title"); got != "No nickname yet" {
		t.Errorf("after retiring: %q", got)
	}
}
