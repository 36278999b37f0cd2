package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/server/notify/ipp/ipptest"
)

// TestAPrinterIsAskedWhatItIs asks a real printer (ippeveprinter) from its page
// and through the API; entered wrong, the answer says so.
func TestAPrinterIsAskedWhatItIs(t *testing.T) {
	ipptest.Run(t, func(t *testing.T, printer ipptest.Server) {
		s := newSite(t)
		path := s.enterPrinter(t, printer.URL)
		for _, at := range []string{path + "?ask=now", "/api/v1" + path + "/answer"} {
			status, _, body := s.do(t, "GET", at, "", "")
			for _, want := range []string{"Label", "idle", "application/pdf", "dpi, and 203 dpi is entered"} {
				if status != 200 || !strings.Contains(body, want) {
					t.Errorf("GET %s: status %d, want 200 and %q in\n%s", at, status, want, body)
				}
			}
		}
	})
}

// TestAPrinterThatGivesNoAnswer asks what is no printer, and one that is not
// there.
func TestAPrinterThatGivesNoAnswer(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	web := httptest.NewServer(http.NotFoundHandler())
	t.Cleanup(web.Close)
	gone := httptest.NewServer(http.NotFoundHandler())
	gone.Close()
	tests := []struct{ name, address, says string }{
		{"a web server", web.URL, "404 Not Found"},
		{"nobody", gone.URL, "connection refused"},
	}
	for _, tt := range tests {
		path := s.enterPrinter(t, strings.Replace(tt.address, "http://", "ipp://", 1))
		status, _, body := s.do(t, "GET", path+"?ask=now", "", "")
		if status != 200 || !strings.Contains(body, tt.says) || !strings.Contains(body, "Is it on") || strings.Contains(body, "Post &#34;") {
			t.Errorf("%s: GET %s: status %d, want 200 and %q in\n%s", tt.name, path, status, tt.says, body)
		}
		status, _, body = s.do(t, "GET", "/api/v1"+path+"/answer", "", "")
		if status != 503 || !strings.Contains(body, tt.says) || !strings.Contains(body, "/problems/printer-silent") {
			t.Errorf("%s: GET /api/v1%s/answer: status %d, want 503 and %q in\n%s", tt.name, path, status, tt.says, body)
		}
		if status, _, body = s.do(t, "GET", path, "", ""); status != 200 || strings.Contains(body, tt.says) || !strings.Contains(body, "Ask the printer") {
			t.Errorf("%s: GET %s, not asked: status %d, want 200 and the way to ask in\n%s", tt.name, path, status, body)
		}
	}
}

// enterPrinter enters a printer of 203 dpi and returns its page.
func (s *siteFixture) enterPrinter(t *testing.T, address string) (path string) {
	t.Helper()
	p := must(s.ledger.EnterPrinter(t.Context(), inventory.PrinterEntry{Edit: inventory.Edit{Person: s.withRole(inventory.Engineer)[0].Code, RequestKey: "enter " + address},
		Of: inventory.Printer{Name: "Desk at " + address, Address: address, DPI: 203, Size: "100x75", Format: "pdf"}}))(t)
	return fmt.Sprint("/printers/", p.ID)
}
