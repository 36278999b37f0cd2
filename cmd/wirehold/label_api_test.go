package main

import (
	"fmt"
	"strings"
	"testing"
)

// TestLabelsOfEverything asks pages and API for the label of each sort of thing
// in each format, and for what there is not.
func TestLabelsOfEverything(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool := s.spoolOf(t, "Cobalt Wren 14")
	line, err := s.store.Catalog(t.Context()).SpoolLine(spool)
	if err != nil {
		t.Fatal(err)
	}
	lot := fmt.Sprint("/lots/", line.LotID, "/labels")
	tests := []struct {
		name, page, api string // what follows the address
		status          int
		begins, holds   string
	}{
		{"a spool as PDF", "/labels/%s/label", "/labels/%s", 200, "%PDF-", ""},
		{"a spool as SVG on the smallest stock", "/labels/%s/label?format=svg&size=50x25", "/labels/%s?format=svg&size=50x25", 200, "<svg", string(spool)},
		{"its copy for the hub as PNG", "/labels/%s/label?kind=hub&format=png&dpi=300", "/labels/%s?kind=hub&format=png&dpi=300", 200, "\x89PNG", ""},
		{"on a sheet", "/labels/%s/label?sheet=A4&start=3", "/labels/%s?sheet=A4&start=3", 200, "%PDF-", "/MediaBox [0 0 595.28 841.89]"},
		{"a place on the sheet that there is not", "/labels/%s/label?sheet=A4&start=30", "/labels/%s?sheet=A4&start=30", 422, "", "no place 30"},
		{"a tag of a spool that is not on hold", "/labels/%s/label?kind=hold", "/labels/%s?kind=hold", 409, "", "put it on hold first"},
		{"a slip of a spool that was never issued", "/labels/%s/label?kind=slip", "/labels/%s?kind=slip", 409, "", "never issued"},
		{"a badge of a spool", "/labels/%s/label?kind=badge", "/labels/%s?kind=badge", 422, "", "no label of the kind"},
		{"a code that is none", "/labels/W22222-2/label", "/labels/W22222-2", 0, "", "check character"},
		{"the spools of a lot", lot + "/label", lot, 200, "%PDF-", ""},
		{"the lot itself as PNG", lot + "/label?kind=lot&format=png", lot + "?kind=lot&format=png", 200, "\x89PNG", ""},
		{"several labels as one picture", lot + "/label?format=png", lot + "?format=png", 422, "", "holds one page"},
	}
	for _, tt := range tests {
		for _, path := range []string{tt.page, "/api/v1" + tt.api} {
			if strings.Contains(path, "%s") {
				path = fmt.Sprintf(path, spool)
			}
			status, _, body := s.do(t, "GET", path, "", "")
			if status != tt.status && tt.status != 0 || status < 400 && tt.status == 0 || !strings.HasPrefix(body, tt.begins) || !strings.Contains(body, tt.holds) {
				t.Errorf("%s: GET %s: status %d, want %d, beginning with %q and %q in\n%.300s", tt.name, path, status, tt.status, tt.begins, tt.holds, body)
			}
		}
	}
	for _, path := range []string{"/labels/" + string(spool), "/labels/" + string(spool) + "?size=50x25&kind=hub", lot, lot + "?kind=lot"} {
		if status, _, body := s.do(t, "GET", path, "", ""); status != 200 || !strings.Contains(body, "format=svg") {
			t.Errorf("GET %s: status %d, want 200 and a picture in\n%.300s", path, status, body)
		}
	}
	if status, _, body := s.do(t, "GET", "/labels/"+string(spool)+"?kind=hold", "", ""); status != 409 || !strings.Contains(body, "put it on hold first") {
		t.Errorf("the page of a tag that there is not: status %d, want 409 and what to do in\n%.300s", status, body)
	}
}
