package pages_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"wirehold/inventory"
)

const importList = "Maker;Product;Class;Size (in);Net (kg);Tare (g);Stick-out (mm);Data sheet\n" +
	"Maker Birch;Birch Reed 1;e71t-1c h8;.045;15;700;13-19;Reed sheet rev 2\n" +
	"Maker Birch;Birch Reed 1;E71T-1C-H8;1/16;15;700;;\n"

// upload posts a file as a browser does.
func (s *site) upload(badge inventory.Code, name, content string) answer {
	s.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	err := w.WriteField("person", string(badge))
	if err == nil && name != "" {
		part, errPart := w.CreateFormFile("file", name)
		if errPart != nil {
			s.t.Fatal(errPart)
		}
		_, err = part.Write([]byte(content))
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		s.t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, "/wires/import", &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	return s.do(r)
}

// wireCount returns how many wires there are.
func (s *site) wireCount() int {
	s.t.Helper()
	wires, err := s.store.Read(s.t.Context()).WiresAfter(0, 1000)
	if err != nil {
		s.t.Fatal(err)
	}
	return len(wires)
}

// TestImport checks a table, imports it without a second upload, and meets
// the same form again.
func TestImport(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	before := s.wireCount()
	checked := s.upload(s.engineer.Code, `C:\lists\reed.csv`, importList)
	if checked.status != http.StatusOK || s.wireCount() != before {
		t.Fatalf("POST /wires/import: status %d, %d wires, want 200 and still %d\n%s", checked.status, s.wireCount(), before, checked.text("notice"))
	}
	for _, says := range []string{"2 wires can be entered", "Read from reed.csv (CSV, separated by semicolons)", "Nothing is changed yet"} {
		if !strings.Contains(checked.text("notice"), says) {
			t.Errorf("the dry run says %q, want %q", checked.text("notice"), says)
		}
	}
	for _, says := range []string{"E71T-1C-H8", "typed e71t-1c h8", "Stick-out: 13-19 mm", "Reed sheet rev 2", ".045 in", "1/16 in"} {
		if !strings.Contains(checked.text("table"), says) {
			t.Errorf("the preview %q lacks %q", checked.text("table"), says)
		}
	}
	form := checked.filled("/wires/import/enter")
	if form.Get("person") != string(s.engineer.Code) || form.Get("file_name") != "reed.csv" {
		t.Errorf("the form holds badge %q and file %q, want the engineer's and reed.csv", form.Get("person"), form.Get("file_name"))
	}
	for range 2 { // a double click is one import
		got := s.post("/wires/import/enter", form)
		if got.status != http.StatusSeeOther || s.wireCount() != before+2 {
			t.Fatalf("POST /wires/import/enter: %d to %q, %d wires, want 303 and %d\n%s", got.status, got.location, s.wireCount(), before+2, got.text("notice"))
		}
		done := s.get(got.location)
		if slip := done.text("slip"); !strings.Contains(slip, "2 wires are in") || !strings.Contains(slip, "reed.csv") || !strings.Contains(slip, "Eva Root") {
			t.Errorf("GET %s: slip %q, want two wires from reed.csv by Eva Root", got.location, slip)
		}
	}
	again := s.upload(s.engineer.Code, "reed.csv", importList)
	if again.status != http.StatusUnprocessableEntity || !strings.Contains(again.text("table"), "in the store is the same") {
		t.Errorf("the same table again: status %d, %q, want 422 and that both are there", again.status, again.text("table"))
	}
}

// TestImportRefuses holds what a dry run answers to what cannot be.
func TestImportRefuses(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	before := s.wireCount()
	tests := []struct {
		name, file, content string
		badge               inventory.Code
		status              int
		class, says         string
	}{
		{"a fault by line and column", "a.csv", strings.Replace(importList, ";1/16;", ";thin;", 1), s.engineer.Code, 422, "table", `3 Size (in) D thin "thin" is not a length`},
		{"a header that is unknown", "a.csv", strings.Replace(importList, "Tare (g)", "Tarre (g)", 1), s.engineer.Code, 422, "table", `did you mean "Tare weight"?`},
		{"the count of faults", "a.csv", strings.Replace(importList, "E71T-1C-H8;1/16", "E71X;thin", 1), s.engineer.Code, 422, "notice", "2 faults in 2 rows"},
		{"markup in a cell is text", "a.csv", strings.Replace(importList, "1/16", "<b id=x>1</b>", 1), s.engineer.Code, 422, "table", "<b id=x>1</b>"},
		{"no file", "", "", s.engineer.Code, 422, "field", "choose"},
		{"an empty file", "a.csv", "", s.engineer.Code, 422, "field", "choose a file that is not empty"},
		{"a picture", "a.png", "\x89PNG\r\n\x1a\n\x00", s.engineer.Code, 422, "field", "neither CSV nor XLSX"},
		{"an old workbook", "a.xls", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", s.engineer.Code, 422, "field", ".xls"},
		{"a file above the limit", "a.csv", strings.Repeat("a", inventory.MostImportBytes+1), s.engineer.Code, 422, "field", "larger than 5 MB"},
		{"a file far above the limit", "a.csv", strings.Repeat("a", 4*inventory.MostImportBytes+1), s.engineer.Code, 413, "field", "larger than"},
		{"no badge", "a.csv", importList, "", 422, "field", "scan your badge"},
		{"a welder's badge", "a.csv", importList, s.welder.Code, 403, "notice", "the welding engineer"},
		{"an attendant's badge", "a.csv", importList, s.attendant.Code, 403, "notice", "the welding engineer"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := s.upload(tt.badge, tt.file, tt.content)
			if got.status != tt.status || !strings.Contains(got.text(tt.class), tt.says) {
				t.Errorf("POST /wires/import: status %d, %s %q, want %d and %q", got.status, tt.class, got.text(tt.class), tt.status, tt.says)
			}
			if got.field("content") != nil {
				t.Error("a table that cannot be imported has a form that imports it")
			}
			checkMarkup(t, "/wires/import", got)
		})
	}
	if after := s.wireCount(); after != before {
		t.Errorf("%d wires, before %d: something was entered", after, before)
	}
}

// TestImportTrustsNoForm holds that the second step checks again what it is
// handed.
func TestImportTrustsNoForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	form := s.upload(s.engineer.Code, "reed.csv", importList).filled("/wires/import/enter")
	before := s.wireCount()
	set := func(name, value string) url.Values {
		changed := url.Values{}
		for k, v := range form {
			changed[k] = v
		}
		changed.Set(name, value)
		return changed
	}
	tests := []struct {
		name   string
		form   url.Values
		status int
		class  string
		says   string
	}{
		{"another table in its place", set("content", "TWFrZXIKeA"), 422, "table", "is missing"}, // "Maker\nx"
		{"no table", set("content", ""), 422, "field", "choose it again"},
		{"no base64", set("content", "%%%"), 422, "field", "choose it again"},
		{"a picture", set("content", "iVBORw0KGgoA"), 422, "field", "neither CSV nor XLSX"},
		{"a welder's badge", set("person", string(s.welder.Code)), 403, "notice", "the welding engineer"},
		{"no badge", set("person", ""), 422, "field", "scan your badge"},
		{"no request key", set("request_key", ""), 422, "notice", "key"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := s.post("/wires/import/enter", tt.form)
			if got.status != tt.status || !strings.Contains(got.text(tt.class), tt.says) {
				t.Errorf("POST /wires/import/enter: status %d, %s %q, want %d and %q", got.status, tt.class, got.text(tt.class), tt.status, tt.says)
			}
		})
	}
	if after := s.wireCount(); after != before {
		t.Errorf("%d wires, before %d: something was entered", after, before)
	}
	wrong := s.post("/wires/import/enter", set("person", string(s.welder.Code)))
	mended := wrong.filled("/wires/import/enter")
	mended.Set("person", string(s.engineer.Code))
	if got := s.post("/wires/import/enter", mended); got.status != http.StatusSeeOther || s.wireCount() != before+2 {
		t.Errorf("after a wrong badge, the right one: status %d, %d wires, want 303 and %d", got.status, s.wireCount(), before+2)
	}
}

// TestImportExample downloads the example and uploads it as it is.
func TestImportExample(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	got := s.get("/wires/import/example.csv")
	if got.status != http.StatusOK || !strings.Contains(got.header.Get("Content-Disposition"), "attachment") || got.header.Get("X-Content-Type-Options") != "nosniff" {
		t.Fatalf("GET the example: status %d, %v", got.status, got.header)
	}
	checked := s.upload(s.engineer.Code, "wires-example.csv", got.body)
	if checked.status != http.StatusOK || !strings.Contains(checked.text("notice"), "1 wire can be entered") {
		t.Errorf("the example, uploaded as it is: status %d\n%s\n%s", checked.status, checked.text("notice"), checked.text("table"))
	}
}
