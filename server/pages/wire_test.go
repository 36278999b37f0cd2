package pages_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// wireForm is a wire as the engineer types it.
func (s *site) wireForm() url.Values {
	return url.Values{"person": {string(s.engineer.Code)}, "request_key": {"w"}, "trade_name": {"Greyline 14"}, "maker": {"Testmaker"},
		"classifications": {"e71t-14\r\n"}, "diameter": {".035 in"}, "package": {"10 lb spool"}, "net": {"4.5 kg"}, "tare": {"250 g"},
		"sheet_title": {"Sheet 14"}, "sheet_revision": {"B"}, "stick_out": {"10-13 mm"}, "travel": {"drag"}}
}

func wirePath(w inventory.Wire) string { return "/wires/" + strconv.FormatInt(w.ID, 10) }

// disagreeing enters a wire whose sheet contradicts its box, and a spool of it.
func (s *site) disagreeing() (inventory.Wire, inventory.Spool) {
	s.t.Helper()
	w := must(s.ledger.AddWire(s.t.Context(), inventory.Wire{Maker: "Testmaker", TradeName: "Blueline 11", Classifications: []string{"E71T-11"},
		Diameter: 45 * unit.Inch / 1000, Net: 15000, Tare: 700,
		Supplied: filler.Facts{{Name: "polarity", Value: "DCEP", Provenance: filler.DataSheet, Source: "sheet rev 1"}}}))(s.t)
	_, spools := s.receive(w, "BL-1", 1)
	return w, spools[0]
}

// TestWirePagesKeepTheRulesOfMarkup holds the pages of a wire to what every
// page must keep.
func TestWirePagesKeepTheRulesOfMarkup(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w, _ := s.disagreeing()
	remembered := s.wire("Silver 308", "E308LT1-1/4")
	for _, target := range []string{"/wires/new", "/wires", wirePath(w), wirePath(w) + "/edit", "/receiving?wire=" + strconv.FormatInt(remembered.ID, 10), wirePath(remembered)} {
		got := s.get(target)
		if got.status != http.StatusOK {
			t.Errorf("GET %s: status %d, want 200\n%s", target, got.status, got.text("main"))
		}
		checkMarkup(t, target, got)
	}
}

// TestListsMarkSpoolsOfADisputedWire holds that nobody is sent for a spool that
// is refused at the counter.
func TestListsMarkSpoolsOfADisputedWire(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w, spool := s.disagreeing()
	for _, target := range []string{"/spools?q=Blueline", "/find?q=Blueline", wirePath(w)} {
		if got := s.get(target).text("table"); !strings.Contains(got, string(spool.Code)) || !strings.Contains(got, "Blueline 11 Box and sheet disagree") {
			t.Errorf("GET %s: the list says %q, want spool %s marked", target, got, spool.Code)
		}
	}
	if got := s.get("/wires?q=Blueline").text("table"); !strings.Contains(got, "0 kg 0.0 lb 15 kg waits to be settled") {
		t.Errorf("GET /wires?q=Blueline: %q, want nothing usable and 15 kg waiting", got)
	}
	if got := s.get("/spools?q=Greyline").text("table"); strings.Contains(got, "disagree") {
		t.Errorf("GET /spools?q=Greyline: %q, want no mark", got)
	}
}

// TestTheFormSuggestsStandardSizesAndPackages holds that what is suggested can
// be entered.
func TestTheFormSuggestsStandardSizesAndPackages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	page := s.get("/wires/new")
	for field, want := range map[string]string{"diameter": ".045 in", "package": "12 in spool"} {
		list, found := attr(page.field(field), "list"), false
		for _, n := range page.all("") {
			found = found || n.Data == "option" && attr(n, "value") == want && attr(n.Parent, "id") == list
		}
		if list == "" || !found {
			t.Errorf("the field %s suggests by %q, found %t, want %s among it", field, list, found, want)
		}
	}
}

// TestSaveWire enters a wire and holds what is said of input that makes no
// sense.
func TestSaveWire(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	tests := []struct {
		name   string
		change map[string]string
		status int
		field  string
		says   string
	}{
		{"a character that means nothing", map[string]string{"classifications": "E71T-1C\nE71X-1C"}, 422, "classifications", "X"},
		{"no classification", map[string]string{"classifications": ""}, 422, "classifications", "at least one"},
		{"a diameter without unit", map[string]string{"diameter": ".035"}, 422, "diameter", "unit"},
		{"no weight", map[string]string{"net": ""}, 422, "net", "with its unit"},
		{"a stick-out without unit", map[string]string{"stick_out": "10-13"}, 422, "stick_out", "13-19 mm"},
		{"a fact of the shop from nowhere", map[string]string{"shop_positions": "flat"}, 422, "shop_source", "how the shop knows"},
		{"a fact of the sheet from nowhere", map[string]string{"sheet_title": ""}, 422, "sheet_title", "which sheet"},
		{"a shop that contradicts the box", map[string]string{"shop_passes": "single and multiple", "shop_source": "trial"}, 422, "shop_passes", "not contradict"},
		{"a welder", map[string]string{"person": string(s.welder.Code)}, 403, "", "Wil Bead is a welder"},
		{"all that is asked for", nil, 303, "", "entered"},
	}
	for _, tt := range tests {
		form := s.wireForm()
		for name, value := range tt.change {
			form.Set(name, value)
		}
		got := s.post("/wires", form)
		if got.status != tt.status {
			t.Errorf("%s: POST /wires: status %d, want %d\n%s", tt.name, got.status, tt.status, got.text("fault"))
			continue
		}
		if tt.status == 303 {
			got = s.get(got.location)
		} else if value := attr(got.field("trade_name"), "value"); value != "Greyline 14" {
			t.Errorf("%s: the form comes back with %q for the trade name", tt.name, value)
		}
		if said := got.text("notice-text") + got.text("field-wrong"); !strings.Contains(said, tt.says) {
			t.Errorf("%s: POST /wires says %q, want %q", tt.name, said, tt.says)
		}
		if tt.field != "" && !faultBeside(got, tt.field) {
			t.Errorf("%s: no fault stands beside %s", tt.name, tt.field)
		}
	}
	wires := must(s.store.Catalog(t.Context()).Wires(inventory.Query{Text: "Greyline 14"}))(t)
	if len(wires) != 1 || wires[0].Marked != ".035 in" {
		t.Fatalf("entered: %+v, want one, marked as its diameter was typed", wires)
	}
	page := s.get(wirePath(wires[0].Wire))
	for class, says := range map[string]string{"table": "Eva Root", "aside": "Sheet 14 rev B"} {
		if !strings.Contains(page.text(class), says) {
			t.Errorf("the wire's page lacks %q among its %s", says, class)
		}
	}
}

// faultBeside reports whether the field is marked as wrong.
func faultBeside(a answer, name string) bool {
	for _, n := range a.all("") {
		if attr(n, "name") == name && attr(n, "aria-invalid") == "true" {
			return true
		}
	}
	return false
}

// TestTwoEditors holds that the second is told and keeps what was typed.
func TestTwoEditors(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	path := wirePath(s.gasless)
	form := func(key, minimum string) url.Values {
		typed := s.wireForm()
		for _, n := range s.get(path + "/edit").all("input") {
			typed.Set(attr(n, "name"), attr(n, "value"))
		}
		typed.Set("classifications", "E71T-11")
		typed.Set("version", "1")
		typed.Set("person", string(s.engineer.Code))
		typed.Set("request_key", key)
		typed.Set("minimum", minimum)
		return typed
	}
	if got := s.post(path, form("one", "20 kg")); got.status != http.StatusSeeOther {
		t.Fatalf("POST %s: status %d\n%s", path, got.status, got.text("notice")+got.text("fault"))
	}
	got := s.post(path, form("two", "30 kg"))
	if got.status != http.StatusConflict || !strings.Contains(got.text("notice"), "Eva Root") || attr(got.field("minimum"), "value") != "30 kg" {
		t.Errorf("POST %s of an old version: status %d, %q, minimum %q; want 409 that names Eva Root and keeps 30 kg", path, got.status, got.text("notice"), attr(got.field("minimum"), "value"))
	}
}

// TestSettleOnThePage shows a disagreement wherever the wire is, and settles it.
func TestSettleOnThePage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	w, spool := s.disagreeing()
	for target, class := range map[string]string{wirePath(w): "notice-title", "/spools/" + string(spool.Code): "notice-title", "/wires?q=Blueline": "disagree", "/find?q=Blueline": "disagree"} {
		if said := s.get(target).text(class); !strings.Contains(said, "Box and sheet disagree: polarity DCEN") || !strings.Contains(said, "DCEP") {
			t.Errorf("GET %s: %s says %q, want the disagreement", target, class, said)
		}
	}
	if said := s.get("/wires?q=Greyline").text("disagree"); said != "" {
		t.Errorf("a wire without a disagreement shows %q", said)
	}
	form := url.Values{"person": {string(s.engineer.Code)}, "request_key": {"s"}, "version": {"1"}, "fact": {"polarity"}, "side": {"DCEN"}, "reason": {"seen on the box"}}
	tests := []struct {
		name, field, value string
		status             int
		says               string
	}{
		{"no side", "side", "", 422, "choose which holds"},
		{"no reason", "reason", "", 422, "say why"},
		{"the attendant", "person", string(s.attendant.Code), 403, "the welding engineer settles"},
		{"the engineer", "person", string(s.engineer.Code), 303, "polarity DCEN holds"},
		{"once more", "request_key", "s2", 409, "changed by Eva Root"},
	}
	for _, tt := range tests {
		typed := url.Values{}
		for name := range form {
			typed.Set(name, form.Get(name))
		}
		typed.Set(tt.field, tt.value)
		got := s.post(wirePath(w)+"/settle", typed)
		if got.status != tt.status {
			t.Errorf("%s: POST settle: status %d, want %d", tt.name, got.status, tt.status)
		}
		if got.location != "" {
			got = s.get(got.location)
		}
		if said := got.text("notice") + got.text("fault"); !strings.Contains(said, tt.says) {
			t.Errorf("%s: POST settle says %q, want %q", tt.name, said, tt.says)
		}
	}
}

// attach posts a file to a wire's sheets.
func (s *site) attach(w inventory.Wire, key, name string, content []byte) answer {
	s.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for field, value := range map[string]string{"person": string(s.engineer.Code), "request_key": key, "title": "Sheet 11", "revision": "C"} {
		if err := form.WriteField(field, value); err != nil {
			s.t.Fatal(err)
		}
	}
	file, err := form.CreateFormFile("file", name)
	if err == nil {
		_, err = file.Write(content)
	}
	if err == nil {
		err = form.Close()
	}
	if err != nil {
		s.t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, wirePath(w)+"/sheets", &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return s.do(r)
}

// TestSheets attaches a sheet and fetches it: it is a download that runs
// nothing.
func TestSheets(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	pdf := append([]byte("%PDF-1.4\n"), bytes.Repeat([]byte("% nothing here\n"), 100_000)...)
	pdf = append(pdf, "%%EOF\n"...)
	if got := s.attach(s.gasless, "a", "Blatt “11”.pdf", pdf); got.status != http.StatusSeeOther {
		t.Fatalf("POST sheets, %d bytes: status %d\n%s", len(pdf), got.status, got.text("fault"))
	}
	var link string
	for _, n := range s.get(wirePath(s.gasless)).all("") {
		if n.Type == html.ElementNode && strings.HasPrefix(attr(n, "href"), "/sheets/") {
			link = attr(n, "href")
		}
	}
	w := httptest.NewRecorder()
	s.h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, link, nil))
	if w.Code != 200 || !bytes.Equal(w.Body.Bytes(), pdf) {
		t.Errorf("GET %s: status %d, %d bytes; want the file", link, w.Code, w.Body.Len())
	}
	for name, want := range map[string]string{"Content-Type": "application/pdf", "X-Content-Type-Options": "nosniff", "Content-Security-Policy": "default-src 'none'; sandbox", "Content-Disposition": "attachment; filename*=utf-8''Blatt"} {
		if got := w.Header().Values(name); len(got) != 1 || !strings.HasPrefix(got[0], want) {
			t.Errorf("GET %s: %s %q, want %q", link, name, got, want)
		}
	}
	bad := []struct {
		name    string
		content []byte
		status  int
		says    string
	}{
		{"evil.pdf", []byte("<script>alert(1)</script>"), 422, "no PDF, PNG or JPEG"},
		{"empty.pdf", nil, 422, "choose the file"},
		{"copy.pdf", pdf, 409, "attached already"},
		{"large.pdf", append([]byte("%PDF-"), make([]byte, inventory.MaxSheet+1)...), 422, "larger than 5 MB"},
		{"vast.pdf", make([]byte, inventory.MaxSheet+100<<10), 413, "larger than"},
	}
	for i, tt := range bad {
		got := s.attach(s.gasless, "b"+strconv.Itoa(i), tt.name, tt.content)
		if said := got.text("fault") + got.text("notice"); got.status != tt.status || !strings.Contains(said, tt.says) {
			t.Errorf("%s: POST sheets: status %d, %q; want %d and %q", tt.name, got.status, said, tt.status, tt.says)
		}
	}
	if got := s.get("/sheets/99"); got.status != http.StatusNotFound {
		t.Errorf("GET /sheets/99: status %d, want 404", got.status)
	}
}

// TestReceivingAsksTheBox receives a wire of which much rests on memory.
func TestReceivingAsksTheBox(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	wire := s.wire("Silver 308", "E308LT1-1/4")
	id := strconv.FormatInt(wire.ID, 10)
	form := url.Values{"person": {string(s.attendant.Code)}, "wire": {id}, "lot_number": {"S-1"}, "certificate": {"C-1"}, "spools": {"1"}, "place": {string(s.shelf.Code)}, "request_key": {"r"}}
	got := s.post("/receiving", form)
	if got.status != 422 || !strings.Contains(got.text("form-ask"), "Look at the box") || !strings.Contains(got.text("fault"), "DCEP") || attr(got.field("lot_number"), "value") != "S-1" {
		t.Fatalf("POST /receiving without answers: status %d, asks %q, %q; want 422 that asks and keeps the lot", got.status, got.text("form-ask"), got.text("fault"))
	}
	for _, n := range got.all("check") {
		if hasAttr(n, "checked") {
			t.Errorf("%s is answered beforehand with %s", attr(n, "name"), attr(n, "value"))
		}
	}
	for name, value := range map[string]string{"box_wire": id, "box_polarity_value": "DCEP", "box_polarity": "as on the box", "box_passes_value": "single and multiple", "box_passes": "not on the box",
		"box_tensile_min_value": "75 ksi", "box_tensile_min": "box says otherwise", "box_tensile_min_read": "70 ksi"} {
		form.Set(name, value)
	}
	other := url.Values{}
	for name := range form {
		other.Set(name, form.Get(name))
	}
	other.Set("box_wire", strconv.FormatInt(s.gassed.ID, 10))
	if got := s.post("/receiving", other); got.status != 422 {
		t.Errorf("answers for another wire's box: status %d, want 422", got.status)
	}
	got = s.post("/receiving", form)
	if got.status != http.StatusSeeOther {
		t.Fatalf("POST /receiving: status %d\n%s", got.status, got.text("fault"))
	}
	slip := s.get(got.location).text("slip")
	for _, says := range []string{"on hold", "passes is not on the box", "the box says 70 ksi for tensile strength at least, not 75 ksi"} {
		if !strings.Contains(slip, says) {
			t.Errorf("slip %q, want %q", slip, says)
		}
	}
	if page := s.get(wirePath(wire)); !strings.Contains(page.text("table"), "confirmed on the box of lot S-1 by Ada Counter") {
		t.Errorf("the wire's page does not say who confirmed the polarity")
	}
}
