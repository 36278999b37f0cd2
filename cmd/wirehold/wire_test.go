package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wirehold/inventory"
)

// wireNamed returns the yard's wire of that trade name.
func (s *siteFixture) wireNamed(t testing.TB, tradeName string) inventory.Wire {
	t.Helper()
	wires, err := s.store.Catalog(t.Context()).Wires(inventory.Query{Text: tradeName, Limit: 1})
	if err != nil || len(wires) != 1 {
		t.Fatalf("no wire %s: %v", tradeName, err)
	}
	return wires[0].Wire
}

// TestADisagreementIsSettledByKeyboardAlone: box and sheet disagree, so the
// counter refuses the spool; the engineer settles it; it goes out.
func TestADisagreementIsSettledByKeyboardAlone(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	attendant, welder, engineer := site.withRole(inventory.Attendant)[0], site.withRole(inventory.Welder)[0], site.withRole(inventory.Engineer)[0]
	job, wire, spool := site.jobNumbered(t, "2205"), site.wireNamed(t, disagreeing), site.spoolOf(t, disagreeing)

	b := tab(t, chrome, site, "/counter")
	b.scan(attendant.Code)
	b.scan(welder.Code)
	b.scan(job.Code)
	b.scan(spool)
	b.says("does not fit", "The classification says DCEN, the data sheet says DCEP")
	if !b.stops("polarity") || b.count(`form[action="/counter/issue"]`) != 0 {
		t.Errorf("the counter does not stop on the polarity:\n%s", b.text())
	}

	settle := fmt.Sprintf(`form[action="/wires/%d/settle"]`, wire.ID)
	e := tab(t, chrome, site, "/wires?q=Shrike")
	e.says("Box and sheet disagree: polarity DCEN / DCEP")
	e.tabTo(fmt.Sprintf(`a[href="/wires/%d"]`, wire.ID))
	e.enter()
	e.says("Box and sheet disagree", "No spool of this wire is issued")
	e.tabTo("main .notice summary")
	e.press(kb.Enter)
	e.tabTo(settle + " [name=side]")
	e.press(" ")
	e.tabTo(settle + " [name=reason]")
	e.press("two boxes read, maker asked")
	e.tabTo(settle + " [name=person]")
	e.scan(attendant.Code)
	e.says("the welding engineer settles")
	e.tabTo(settle + " [name=person]")
	e.press(kb.End + strings.Repeat(kb.Backspace, 10))
	e.scan(engineer.Code)
	e.says("settled", "polarity DCEN holds", "settled by "+engineer.Name+" on 2026-11-25: two boxes read, maker asked")
	if e.count(settle) != 0 {
		t.Errorf("it is settled and still asked:\n%s", e.text())
	}

	b.scan(spool)
	b.says("fits")
	b.tabTo(`form[action="/counter/issue"] [name=gross]`)
	b.press("4.75 kg")
	b.enter()
	b.says("issued", string(spool), welder.Name)
	site.movements(t)
}

// TestAWireIsEnteredByKeyboardAlone: what makes no sense is named beside its
// field and kept; the wire is entered, its sheet attached and fetched.
func TestAWireIsEnteredByKeyboardAlone(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	buyer := site.withRole(inventory.Buyer)[0]
	b := tab(t, chrome, site, "/wires")
	b.tabTo(`a[href="/wires/new"]`)
	b.enter()
	for _, field := range [][2]string{{"person", string(buyer.Code)}, {"trade_name", "Birch Tarn 8"}, {"maker", "Maker Birch"}, {"classifications", "e71x-8"}, {"diameter", "5/64 in"},
		{"package", "14 lb coil"}, {"net", "6.3 kg"}, {"tare", "300 g"}, {"sheet_title", "Sheet 8"}, {"sheet_revision", "3"}, {"stick_out", "19 to 25"}} {
		b.tabTo(".form [name=" + field[0] + "]")
		b.press(field[1])
	}
	b.enter()
	b.says(`character 4 ("X")`, `"19 to 25" is not understood`, "13-19 mm")
	if typed := evaluate[string](b, `document.querySelector("[name=trade_name]").value`); typed != "Birch Tarn 8" {
		t.Errorf("the form comes back with %q for the trade name", typed)
	}
	b.tabTo("[name=classifications]")
	b.press(kb.End + strings.Repeat(kb.Backspace, 10) + "e71t-8 h8")
	b.tabTo("[name=stick_out]")
	b.press(kb.End + " mm")
	b.enter()
	b.says("Birch Tarn 8: entered", "E71T-8-H8", "19-25 mm", "Sheet 8 rev 3", buyer.Name)

	file := filepath.Join(t.TempDir(), "sheet-8.pdf")
	if err := os.WriteFile(file, []byte("%PDF-1.4\n% "+strings.Repeat("x", 200_000)+"\n%%EOF\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.run(chromedp.SetUploadFiles(`form [name=file]`, []string{file})) // the file dialogue is the system's own
	b.tabTo("#sheets summary")
	b.press(kb.Enter)
	b.tabTo("#sheets [name=person]")
	b.scan(buyer.Code)
	b.says("sheet-8.pdf", "application/pdf", "sheet attached")
}

// TestTheBoxIsReadAtReceivingByKeyboardAlone: what rests on memory is asked;
// what the box denies holds the lot, what it says is confirmed and not asked
// again.
func TestTheBoxIsReadAtReceivingByKeyboardAlone(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	attendant, wire := site.withRole(inventory.Attendant)[0], site.wireNamed(t, readFromBox)
	id := strconv.FormatInt(wire.ID, 10)

	b := tab(t, chrome, site, "/wires/"+id)
	b.says("To be read from the box")
	receive := func(lot string, answer func()) {
		t.Helper()
		b.tabTo("[name=person]")
		b.press(string(attendant.Code))
		for _, field := range [][2]string{{"lot_number", lot}, {"certificate", "MTC-1"}, {"spools", "2"}, {"place", "Shelf B"}} {
			b.tabTo(".form [name=" + field[0] + "]")
			b.press(field[1])
		}
		answer()
		b.tabTo(".form button")
		b.enter()
	}
	b.tabTo(`a[href="/receiving?wire=` + id + `"]`)
	b.enter()
	b.says("Look at the box", "Polarity, from memory: DCEP", "Passes, from memory: single and multiple")
	if n := b.count(".choices :checked"); n != 0 {
		t.Errorf("%d answers are given beforehand", n)
	}
	receive("E26-901", func() {
		b.tabTo("[name=box_polarity]")
		b.press(" ")
		b.tabTo("[name=box_passes]")
		b.press(kb.ArrowDown)
		b.tabTo("[name=box_passes_read]")
		b.press("single only")
	})
	b.says("Lot E26-901 is in", "on hold", "the box says single only for passes, not single and multiple")

	b = tab(t, chrome, site, "/receiving?wire="+id)
	b.says("Passes, from memory")
	if b.count("[name=box_polarity]") != 0 {
		t.Errorf("the polarity was confirmed and is asked again:\n%s", b.text())
	}
	receive("E26-902", func() {
		b.tabTo("[name=box_passes]")
		b.press(" ")
	})
	b.says("Lot E26-902 is in")

	b = tab(t, chrome, site, "/wires/"+id)
	b.says("confirmed on the box of lot E26-901 by "+attendant.Name, "confirmed on the box of lot E26-902 by "+attendant.Name)
	if strings.Contains(b.text(), "To be read from the box") {
		t.Errorf("all is confirmed, and something is still to be read:\n%s", b.text())
	}
	site.movements(t)
}

// TestAPIOfWires enters, edits and settles a wire, and holds what is refused.
func TestAPIOfWires(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	engineer, attendant := s.withRole(inventory.Engineer)[0].Code, s.withRole(inventory.Attendant)[0].Code
	shrike, ledger308 := s.wireNamed(t, disagreeing).ID, s.wireNamed(t, readFromBox).ID
	body := func(key, set string) string {
		return fmt.Sprintf(`{"person":%q,"request_key":%q,"trade_name":"Dune Teal 8","classifications":["e71t-8 h8"],"diameter":"5/64 in","net_g":11300,"tare_g":500,
			"facts":[{"fact":"travel","value":"drag","provenance":"data sheet","source":"Sheet 8 rev 1"}]%s}`, engineer, key, set)
	}
	next := len(s.wires) + 1
	path := fmt.Sprintf("/api/v1/wires/%d", next)
	settle := fmt.Sprintf("/api/v1/wires/%d/settle", shrike)
	receipt := func(key, box string) string {
		return fmt.Sprintf(`{"person":%q,"request_key":%q,"wire_id":%d,"lot_number":"E26-%s","certificate":"M","place":%q,"spools":1%s}`, attendant, key, ledger308, key, s.places[0].Code, box)
	}
	steps := []struct {
		name, method, path, body string
		status                   int
		holds                    []string
	}{
		{"an attendant may not", "POST", "/api/v1/wires", strings.Replace(body("a", ""), string(engineer), string(attendant), 1), 403, []string{"may-not-enter-wires"}},
		{"a character that means nothing", "POST", "/api/v1/wires", strings.Replace(body("a", ""), "e71t-8 h8", "E71X-8", 1), 422, []string{"#/classifications", "X"}},
		{"every field that is wrong", "POST", "/api/v1/wires", strings.NewReplacer("5/64 in", "5/64", `"drag"`, `"sideways"`).Replace(body("a", "")), 422, []string{"#/diameter", "#/travel", "drag only, push only or either"}},
		{"a fact that is none", "POST", "/api/v1/wires", strings.Replace(body("a", ""), `"fact":"travel"`, `"fact":"colour"`, 1), 422, []string{"#/facts", "/api/v1/wire-facts"}},
		{"entered", "POST", "/api/v1/wires", body("b", ""), 200, []string{`"classifications":["E71T-8-H8"]`, `"version":1`, `"value":"drag only"`}},
		{"entered again changes nothing", "POST", "/api/v1/wires", body("b", ""), 200, []string{fmt.Sprintf(`"id":%d`, next), `"version":1`}},
		{"edited", "PUT", path, body("c", `,"minimum_g":20000,"version":1`), 200, []string{`"minimum_g":20000`, `"version":2`}},
		{"edited at an old version", "PUT", path, body("d", `,"version":1`), 409, []string{"wire-changed"}},
		{"no such wire", "PUT", "/api/v1/wires/999", body("e", `,"version":1`), 404, []string{"no-such-wire"}},
		{"who changed what", "GET", path + "/changes", "", 200, []string{`"deed":"edited"`, `shop's minimum: 20 kg, before nothing`, string(engineer)}},
		{"its sheets", "GET", path + "/sheets", "", 200, []string{`"items":[]`}},
		{"what may be said of a wire", "GET", "/api/v1/wire-facts", "", 200, []string{`"fact":"stick_out"`, "13-19 mm"}},
		{"a disagreement is in the list", "GET", "/api/v1/wires?q=Shrike", "", 200, []string{`"conflicts":[{"fact":"polarity"`, `"value":"DCEN"`, `"value":"DCEP"`}},
		{"an attendant does not settle", "POST", settle, fmt.Sprintf(`{"person":%q,"request_key":"f","version":1,"fact":"polarity","side":"DCEN","reason":"box"}`, attendant), 403, []string{"may-not-settle"}},
		{"the engineer settles", "POST", settle, fmt.Sprintf(`{"person":%q,"request_key":"f","version":1,"fact":"polarity","side":"DCEN","reason":"box"}`, engineer), 200, []string{`"provenance":"shop"`, "settled by Dr. Ilse Quarrymoor on 2026-11-25: box"}},
		{"nothing is left to settle", "POST", settle, fmt.Sprintf(`{"person":%q,"request_key":"g","version":2,"fact":"polarity","side":"DCEN","reason":"box"}`, engineer), 409, []string{"nothing-to-settle"}},
		{"a receipt must answer the box", "POST", "/api/v1/receipts", receipt("1", ""), 422, []string{"#/box_polarity", "#/box_passes"}},
		{"and does", "POST", "/api/v1/receipts", receipt("2", `,"box":[{"question":"box_polarity","value":"DCEP","says":"as on the box"},{"question":"box_passes","value":"single and multiple","says":"not on the box"}]`), 200,
			[]string{`"status":"on hold"`, "passes is not on the box"}},
	}
	for _, tt := range steps {
		status, _, got := s.do(t, tt.method, tt.path, "application/json", tt.body)
		if status != tt.status {
			t.Errorf("%s: %s %s: status %d, want %d\n%s", tt.name, tt.method, tt.path, status, tt.status, got)
		}
		for _, want := range tt.holds {
			if !strings.Contains(got, want) {
				t.Errorf("%s: the answer lacks %q:\n%s", tt.name, want, got)
			}
		}
	}
}

// What the API says of a wire can be sent back as it is, and changes nothing.
func TestAPIWireGoesBackAsItCame(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, w := range s.wires {
		path := fmt.Sprintf("/api/v1/wires/%d", w.ID)
		_, _, got := s.do(t, "GET", path, "", "")
		var body map[string]any
		if err := json.Unmarshal([]byte(got), &body); err != nil {
			t.Fatalf("GET %s: %v", path, err)
		}
		send := map[string]any{"person": s.withRole(inventory.Engineer)[0].Code, "request_key": path, "diameter": w.Diameter.String(), "facts": body["supplied"]}
		for _, name := range []string{"maker", "trade_name", "classifications", "marked", "package", "net_g", "tare_g", "minimum_g", "version"} {
			send[name] = body[name]
		}
		back, err := json.Marshal(send)
		if err != nil {
			t.Fatal(err)
		}
		status, _, after := s.do(t, "PUT", path, "application/json", string(back))
		if status != 200 || after != got {
			t.Errorf("PUT %s of what GET gave: status %d\n%s\nwant\n%s", path, status, after, got)
		}
	}
}

// The whole server takes a sheet of megabytes, and nothing else of that size.
func TestOneRouteTakesALargeBody(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	wire := s.wireNamed(t, disagreeing)
	boundary := "b0undary"
	part := func(name, value string) string {
		return "--" + boundary + "\r\nContent-Disposition: form-data; name=\"" + name + "\"\r\n\r\n" + value + "\r\n"
	}
	pdf := "%PDF-1.4\n" + strings.Repeat("% nothing\n", 300_000) + "%%EOF\n"
	body := part("person", string(s.withRole(inventory.Buyer)[0].Code)) + part("request_key", "k") + part("title", "Sheet 11") +
		"--" + boundary + "\r\nContent-Disposition: form-data; name=\"file\"; filename=\"s.pdf\"\r\n\r\n" + pdf + "\r\n--" + boundary + "--\r\n"
	path := fmt.Sprintf("/wires/%d", wire.ID)
	if status, _, got := s.do(t, "POST", path+"/sheets", "multipart/form-data; boundary="+boundary, body); status != 303 {
		t.Errorf("POST a sheet of %d bytes: status %d\n%.2000s", len(pdf), status, got)
	}
	if status, _, _ := s.do(t, "POST", path, "application/x-www-form-urlencoded", "trade_name="+strings.Repeat("a", 200_000)); status == 303 || status == 200 {
		t.Errorf("POST a form of 200,000 bytes: status %d, want it refused", status)
	}
	sheets, err := s.store.Catalog(t.Context()).Sheets(wire.ID)
	if err != nil || len(sheets) != 1 || sheets[0].Size != int64(len(pdf)) {
		t.Errorf("Sheets = %+v, %v; want one of %d bytes", sheets, err, len(pdf))
	}
}
