package pages_test

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"wirehold/inventory"
)

// TestABoxIsReceivedByItsCodes receives a delivery by the two symbols on its
// box, is asked once which wire it is, and is not asked again.
func TestABoxIsReceivedByItsCodes(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	first := s.get("/receiving?" + url.Values{"scan": {"]C10109521234543213"}, "badge": {string(s.attendant.Code)}}.Encode())
	if first.status != http.StatusOK || !strings.Contains(first.text("boxread"), "Choose the wire below") {
		t.Fatalf("GET /receiving with an unknown product: status %d, says %q; want to be asked for the wire", first.status, first.text("boxread"))
	}
	symbols := []string{"]C10109521234543213", "]C11126011517280115\x1d10GL-77"}
	both := s.get("/receiving?" + url.Values{"scan": symbols, "badge": {string(s.attendant.Code)}}.Encode())
	for _, says := range []string{"09521234543213", "GL-77", "2026-01-15", "2028-01-15"} {
		if !strings.Contains(both.text("boxread"), says) {
			t.Errorf("the box says %q, want %q in it", both.text("boxread"), says)
		}
	}
	form := both.filled("/receiving")
	if form.Get("lot_number") != "GL-77" || len(form["scan"]) != 2 {
		t.Fatalf("the form holds lot %q and scans %q, want GL-77 and both symbols", form.Get("lot_number"), form["scan"])
	}
	form.Set("certificate", "C-77")
	form.Set("spools", "48")
	form.Set("place", string(s.shelf.Code))
	if got := s.post("/receiving", form); got.status != http.StatusUnprocessableEntity || len(got.filled("/receiving")["scan"]) != 2 {
		t.Fatalf("POST /receiving without a wire: status %d, scans %q; want 422 that keeps both", got.status, got.filled("/receiving")["scan"])
	}
	form.Set("wire", strconv.FormatInt(s.gasless.ID, 10))
	received := s.post("/receiving", form)
	if received.status != http.StatusSeeOther {
		t.Fatalf("POST /receiving: status %d\n%s", received.status, received.text("fault"))
	}
	in := s.get(received.location)
	if len(in.all("codes-item")) != 48 || !strings.Contains(in.text("fold-summary"), "48 spools, one by one") || strings.Contains(in.body, "autofocus") {
		t.Errorf("GET %s shows %d codes under %q, autofocus %t; want 48 that are folded, and a page that stays at what came in", received.location, len(in.all("codes-item")), in.text("fold-summary"), strings.Contains(in.body, "autofocus"))
	}
	lots, err := s.store.Catalog(t.Context()).Lots(inventory.Query{Text: "GL-77"})
	if err != nil || len(lots) != 1 || lots[0].Papers.MadeOn != "2026-01-15" || lots[0].Papers.Expires != "2028-01-15" {
		t.Errorf("the lot has papers %+v, %v; want the days of the symbols", lots, err)
	}
	w, err := s.ledger.WireOfProduct(t.Context(), "09521234543213")
	if err != nil || w.ID != s.gasless.ID {
		t.Errorf("WireOfProduct = wire %d, %v; want %d", w.ID, err, s.gasless.ID)
	}
	again := s.get("/receiving?" + url.Values{"scan": {symbols[0]}}.Encode())
	if got := chosen(again.field("wire")); got != strconv.FormatInt(s.gasless.ID, 10) || !strings.Contains(again.text("boxread"), "Greyline 11") {
		t.Errorf("the next box: wire %q, says %q; want Greyline 11 chosen", got, again.text("boxread"))
	}
	wrong := s.post("/receiving", change(form, "wire", strconv.FormatInt(s.gassed.ID, 10), "request_key", "another"))
	if wrong.status != http.StatusConflict || !strings.Contains(wrong.body, "compare both boxes") {
		t.Errorf("POST /receiving of another wire under the number: status %d, want 409 that says so", wrong.status)
	}
}

// TestTheCountryOfABoxIsProposed holds that it goes into the form as where the
// wire was made, and never over what was typed nor as where it was melted.
func TestTheCountryOfABoxIsProposed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	page := s.get("/receiving?" + url.Values{"scan": {"(01)09521234543213(422)276"}}.Encode())
	form := page.filled("/receiving")
	if form.Get("papers_made_in") != "Germany" || form.Get("papers_melted_in") != "" {
		t.Errorf("GET /receiving with (422)276: made in %q, melted in %q, want Germany and nothing", form.Get("papers_made_in"), form.Get("papers_melted_in"))
	}
	if says := page.text("boxread"); !strings.Contains(says, "Germany (DE)") || !strings.Contains(says, "see on the certificate where the wire was drawn") {
		t.Errorf("the box says %q, want its country and what to compare it with", says)
	}
	if !strings.Contains(page.body, `<option value="Germany"></option>`) {
		t.Error("GET /receiving: no list of countries is offered")
	}
	again := s.post("/receiving", change(form, "papers_made_in", "AT"))
	if got := again.filled("/receiving").Get("papers_made_in"); again.status != http.StatusUnprocessableEntity || got != "AT" {
		t.Errorf("POST /receiving, not complete, made in AT: %d, %q, want what was typed kept", again.status, got)
	}
}

// chosen returns the value that is chosen in a select; empty if none is.
func chosen(n *html.Node) string {
	for o := range n.Descendants() {
		for _, a := range o.Attr {
			if o.Data == "option" && a.Key == "selected" {
				return attr(o, "value")
			}
		}
	}
	return ""
}

// change returns the form with some fields set otherwise.
func change(form url.Values, fields ...string) url.Values {
	out := url.Values{}
	for k, v := range form {
		out[k] = v
	}
	for i := 0; i+1 < len(fields); i += 2 {
		out.Set(fields[i], fields[i+1])
	}
	return out
}

func TestTheScanOfABoxSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	tests := []struct {
		name  string
		scans []string
		says  string
	}{
		{"a wrong check digit", []string{"]C10109521234543214"}, "check digit"},
		{"the symbol of another box", []string{"(01)09521234543213", "(01)99521234543216"}, "another box"},
		{"a code of the store", []string{string(s.good.Code)}, "is a spool of this store"},
		{"words", []string{"Greyline"}, "by hand"},
		{"a product number with a digit misread", []string{"]E09521234543210"}, "the check digit of 9521234543210 is wrong"},
		{"a weight from a reader that does not say it is GS1", []string{"3202000100"}, "symbology identifiers"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := s.get("/receiving?" + url.Values{"scan": tt.scans}.Encode())
			if got.status != http.StatusOK || !strings.Contains(got.text("fault"), tt.says) {
				t.Errorf("GET /receiving with %q: status %d, says %q; want %q", tt.scans, got.status, got.text("fault"), tt.says)
			}
		})
	}
	counter := s.get("/counter?scan=" + url.QueryEscape("]C10109521234543213"))
	if !strings.Contains(counter.text("fault"), "maker's box") {
		t.Errorf("GET /counter with a maker's box: says %q, want that it is one", counter.text("fault"))
	}
	link := s.get("/counter?scan=" + url.QueryEscape("https://store.example/spools/"+string(s.good.Code)))
	if link.status != http.StatusSeeOther && !strings.Contains(link.body, string(s.good.Code)) {
		t.Errorf("GET /counter with a label's link: status %d, want the spool", link.status)
	}
}

func TestAProductNumberIsLinkedOnTheWiresPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	page := "/wires/" + strconv.FormatInt(s.gasless.ID, 10)
	form := s.get(page).filled(page + "/products")
	form.Set("product", "9521234543214")
	form.Set("person", string(s.engineer.Code))
	if got := s.post(page+"/products", form); got.status != http.StatusUnprocessableEntity || !strings.Contains(got.text("fault"), "check digit") {
		t.Errorf("POST %s/products with a wrong digit: status %d, says %q", page, got.status, got.text("fault"))
	}
	form.Set("product", "]C10109521234543213")
	if got := s.post(page+"/products", form); got.status != http.StatusSeeOther {
		t.Fatalf("POST %s/products: status %d\n%s", page, got.status, got.text("fault"))
	}
	end := s.get(page).filled(page + "/products/unlink")
	end.Set("person", string(s.engineer.Code))
	if got := s.post(page+"/products/unlink", end); got.status != http.StatusSeeOther {
		t.Fatalf("POST %s/products/unlink: status %d\n%s", page, got.status, got.text("fault"))
	}
	if _, err := s.ledger.WireOfProduct(t.Context(), "09521234543213"); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("WireOfProduct after the link was ended: %v, want NotFound", err)
	}
}
