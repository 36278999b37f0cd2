package main

import (
	"fmt"
	"strings"
	"testing"

	"wirehold/inventory"
)

// apiStep is one request of a test that goes through the API in order.
type apiStep struct {
	name, method, path, body string
	status                   int
	holds                    string
}

// takes tries the steps in order, each with the words of fill put in.
func (s *siteFixture) takes(t *testing.T, fill *strings.Replacer, steps []apiStep) {
	t.Helper()
	for _, tt := range steps {
		status, _, answer := s.do(t, tt.method, "/api/v1"+fill.Replace(tt.path), "application/json", fill.Replace(tt.body))
		if status != tt.status || !strings.Contains(answer, fill.Replace(tt.holds)) {
			t.Errorf("%s: %s %s: status %d, want %d and %q\n%s", tt.name, tt.method, fill.Replace(tt.path), status, tt.status, fill.Replace(tt.holds), answer)
		}
	}
}

// TestPrintersByAPI enters printers, queues labels for them and prints again.
// Nothing runs that prints them.
func TestPrintersByAPI(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	long := must(s.ledger.EnterPlace(t.Context(), inventory.PlaceEntry{Edit: inventory.Edit{Person: s.withRole(inventory.Engineer)[0].Code, RequestKey: "long"},
		Of: inventory.Place{Name: strings.Repeat("W", 40), Kind: inventory.Shelf}}))(t)
	fill := strings.NewReplacer("{attendant}", string(s.withRole(inventory.Attendant)[0].Code), "{engineer}", string(s.withRole(inventory.Engineer)[0].Code),
		"{welder}", string(s.withRole(inventory.Welder)[0].Code), "{spool}", string(s.spoolOf(t, "Cobalt Wren 14")), "{job}", string(s.jobNumbered(t, "2201").Code),
		"{long}", string(long.Code),
		"{good}", `"name":"Desk","address":"ipp://printer.example/ipp/print","dpi":203,"size":"100x75","format":"pdf"`)
	s.takes(t, fill, []apiStep{
		{"the yard's own, which is invented", "GET", "/printers", "", 200, `"address":"ipp://label-printer.invalid/ipp/print"`},
		{"an attendant enters none", "POST", "/printers", `{"person":"{attendant}","request_key":"p0",{good}}`, 403, "/problems/may-not-enter-printers"},
		{"the engineer does", "POST", "/printers", `{"person":"{engineer}","request_key":"p1",{good}}`, 200, `"version":1`},
		{"the same request again", "POST", "/printers", `{"person":"{engineer}","request_key":"p1",{good}}`, 200, `"id":2`},
		{"a name twice", "POST", "/printers", `{"person":"{engineer}","request_key":"p2",{good}}`, 409, "#/name"},
		{"labels of no size", "POST", "/printers", `{"person":"{engineer}","request_key":"p3","name":"B","address":"ipp://printer.example/","dpi":203,"size":"15x15","format":"pdf"}`, 422, "#/size"},
		{"a web address", "POST", "/printers", `{"person":"{engineer}","request_key":"p4","name":"B","address":"http://printer.example/","dpi":203,"size":"50x25","format":"pdf"}`, 422, "#/address"},
		{"dots that no head has", "POST", "/printers", `{"person":"{engineer}","request_key":"p5","name":"B","address":"ipp://printer.example/","dpi":204,"size":"50x25","format":"pdf"}`, 422, "/dpi"},
		{"it is changed", "PUT", "/printers/2", `{"person":"{engineer}","request_key":"p6","version":1,"name":"Desk","address":"ipp://printer.example/ipp/print","dpi":300,"size":"100x75","format":"png"}`, 200, `"version":2`},
		{"from a version that is no more", "PUT", "/printers/2", `{"person":"{engineer}","request_key":"p7","version":1,{good}}`, 409, "/problems/record-changed"},
		{"a label is printed", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j1","printer_id":2,"codes":["{spool}"]}`, 200, `"state":"waiting"`},
		{"the same request again", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j1","printer_id":2,"codes":["{spool}"]}`, 200, `"id":3`},
		{"again without a reason", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j2","printer_id":2,"codes":["{spool}"]}`, 422, "#/reason"},
		{"again, with one", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j3","printer_id":2,"codes":["{spool}"],"reason":"torn off"}`, 200, `"number":2`},
		{"a spool that is not there", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j3a","printer_id":2,"codes":["W2222-2"]}`, 422, "#/codes"},
		{"two sorts at once", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j4","printer_id":2,"codes":["{spool}","{job}"]}`, 422, "one sort"},
		{"a kind that a job has not", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j5","printer_id":2,"kind":"hub","codes":["{job}"]}`, 422, "#/kind"},
		{"a tag of what is not on hold", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j5a","printer_id":2,"kind":"hold","codes":["{spool}"]}`, 409, "put it on hold first"},
		{"nothing", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j6","printer_id":2,"codes":[]}`, 422, "/codes"},
		{"a welder prints none", "POST", "/print-jobs", `{"person":"{welder}","request_key":"j7","printer_id":2,"codes":["{job}"]}`, 403, "/problems/may-not-print"},
		{"on no printer", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j8","printer_id":9,"codes":["{job}"]}`, 404, "/problems/no-such-printer"},
		{"the queue", "GET", "/print-jobs", "", 200, `"reason":"torn off"`},
		{"one that waits is not tried again", "POST", "/print-jobs/3/retry", `{"person":"{attendant}"}`, 409, "/problems/print-not-given-up"},
		{"a printer of small labels", "POST", "/printers", `{"person":"{engineer}","request_key":"p7a","name":"Hub","address":"ipp://printer.example/hub","dpi":203,"size":"50x25","format":"pdf"}`, 200, `"id":3`},
		{"a traveller goes on them", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j8a","printer_id":3,"codes":["{job}"]}`, 200, `"state":"waiting"`},
		{"a place whose name is too long for them", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j8b","printer_id":3,"codes":["{long}"]}`, 422, "Hub holds labels that cannot take it: "},
		{"the printer is retired", "POST", "/printers/2/retire", `{"person":"{engineer}","request_key":"p8"}`, 200, "retired_at"},
		{"and takes nothing", "POST", "/print-jobs", `{"person":"{attendant}","request_key":"j9","printer_id":2,"codes":["{job}"]}`, 409, "/problems/printer-retired"},
		{"until it is reinstated", "POST", "/printers/2/reinstate", `{"person":"{engineer}","request_key":"p9"}`, 200, `"version":4`},
		{"no such printer is asked", "GET", "/printers/9/answer", "", 404, "/problems/no-such-printer"},
	})
}

// TestScansByAPI asks what scanned texts mean, and links product numbers.
func TestScansByAPI(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	spool, wren, kestrel := string(s.spoolOf(t, "Cobalt Wren 14")), s.wireNamed(t, "Cobalt Wren 14"), s.wireNamed(t, "Amber Kestrel 71M")
	fill := strings.NewReplacer("{attendant}", string(s.withRole(inventory.Attendant)[0].Code), "{engineer}", string(s.withRole(inventory.Engineer)[0].Code), "{welder}", string(s.withRole(inventory.Welder)[0].Code),
		"{spool}", spool, "{wren}", fmt.Sprint(wren.ID), "{kestrel}", fmt.Sprint(kestrel.ID))
	s.takes(t, fill, []apiStep{
		{"a code", "GET", "/scan?text={spool}", "", 200, `"kind":"code","code":"{spool}","is":"spool"`},
		{"the link of a label", "GET", "/scan?text=https%3A%2F%2Fstore.example%2Fspools%2F{spool}", "", 200, `"code":"{spool}"`},
		{"the facts of a label", "GET", "/scan?text={spool}%3B+polarity%3A+DCEN%3B+gas%3A+no+gas", "", 200, `"code":"{spool}"`},
		{"a box", "GET", "/scan?text=%5DC10109521234543213310301270017280115%7C10A%2F7", "", 200, `"product":"09521234543213"`},
		{"its lot, weight and day", "GET", "/scan?text=%5DC10109521234543213310301270017280115%7C10A%2F7", "", 200, `"lot_number":"A/7","expires":"2028-01-15","net_g":12700`},
		{"a check digit that is wrong", "GET", "/scan?text=%5DC10109521234543214", "", 422, "check digit"},
		{"words", "GET", "/scan?text=girder", "", 200, `"kind":"text","text":"girder"`},
		{"nothing", "GET", "/scan", "", 422, "text"},
		{"no number is linked", "GET", "/wires/{wren}/products", "", 200, `"items":[]`},
		{"a number whose check digit is wrong", "POST", "/wires/{wren}/products", `{"person":"{attendant}","request_key":"l1","product":"9521234543214"}`, 422, "#/product"},
		{"a welder links none", "POST", "/wires/{wren}/products", `{"person":"{welder}","request_key":"l2","product":"9521234543213"}`, 403, "/problems/may-not-link"},
		{"an attendant does", "POST", "/wires/{wren}/products", `{"person":"{attendant}","request_key":"l3","product":"9521234543213"}`, 200, `"trade_name":"Cobalt Wren 14"`},
		{"it is listed", "GET", "/wires/{wren}/products", "", 200, `"items":["09521234543213"]`},
		{"and read off a box", "GET", "/scan?text=9521234543213", "", 200, `"wire_id":{wren}`},
		{"it is no other wire's", "POST", "/wires/{kestrel}/products", `{"person":"{attendant}","request_key":"l4","product":"9521234543213"}`, 409, "/problems/product-of-another"},
		{"an attendant does not end it", "POST", "/wires/{wren}/products/unlink", `{"person":"{attendant}","request_key":"l5","product":"9521234543213"}`, 403, "/problems/may-not-unlink"},
		{"the engineer does", "POST", "/wires/{wren}/products/unlink", `{"person":"{engineer}","request_key":"l6","product":"9521234543213"}`, 200, ""},
		{"but once", "POST", "/wires/{wren}/products/unlink", `{"person":"{engineer}","request_key":"l7","product":"9521234543213"}`, 404, ""},
	})
}
