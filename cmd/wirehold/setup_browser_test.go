package main

import (
	"io"
	"log/slog"
	"net/http/httptest"
	"path/filepath"
	"testing"
	"time"

	"context"
	"crypto/rand"

	"wirehold/inventory"
	"wirehold/server"
)

// newStore returns the whole program on a database that has nothing in it.
func newStore(t testing.TB) *siteFixture {
	t.Helper()
	log := &syncBuffer{}
	p := &program{ctx: t.Context(), out: io.Discard, err: log, now: clock}
	s, ledger, err := openAt(p, filepath.Join(t.TempDir(), "new.db"), p.log(slog.LevelError), clock)
	if err != nil {
		t.Fatal(err)
	}
	h, err := server.New(server.Deps{Ledger: ledger, Catalog: func(ctx context.Context) server.Catalog { return s.Catalog(ctx) },
		Healthy: s.Ping, Log: p.log(slog.LevelError), Now: clock, Zone: time.UTC, NewID: rand.Text})
	if err != nil {
		t.Fatal(err)
	}
	srv := httptest.NewServer(h)
	t.Cleanup(func() {
		srv.Close()
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
		if log.String() != "" {
			t.Errorf("the log has errors:\n%s", log.String())
		}
	})
	return &siteFixture{yard: &yard{ledger: ledger}, url: srv.URL, store: s}
}

// fill tabs to a field of the page's form and types into it.
func (b *browser) fill(field, keys string) {
	b.t.Helper()
	b.tabTo(`main form[method=post] [name="` + field + `"]`)
	b.press(keys)
}

// send tabs to the form's button and presses it.
func (b *browser) send() {
	b.t.Helper()
	b.tabTo(`main form[method=post] .form-end button`)
	b.enter()
}

// nextStep tabs to the link of the next step and follows it.
func (b *browser) nextStep() {
	b.t.Helper()
	b.tabTo(`a[data-step]`)
	b.enter()
}

// TestFromNothingToTheFirstSpoolByKeyboardAlone takes an empty store through
// every step to the first spool that goes out.
func TestFromNothingToTheFirstSpoolByKeyboardAlone(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newStore(t)
	b := tab(t, chrome, site, "/")
	b.says("before the first spool goes out", "enter yourself as the owner", "enter a place", "receive wire")

	b.nextStep()
	b.fill("name", "Rowan Harbottle")
	b.send()
	people, err := site.store.Catalog(t.Context()).People()
	if err != nil || len(people) != 1 || people[0].Role != inventory.Owner {
		t.Fatalf("People() = %v, %v, want one owner", people, err)
	}
	b.says("Rowan Harbottle", string(people[0].Code), "entered", "next: enter a place")

	// The badge goes along with the steps, so that it is typed nowhere.
	b.nextStep()
	b.fill("name", "Shelf A1")
	b.fill("kind", "Shelf")
	b.send()
	b.says("Shelf A1", "next: enter a wire")

	b.nextStep()
	b.fill("trade_name", "Test Heron 71M")
	b.fill("classifications", "E71T-1M-H8")
	b.fill("diameter", ".045 in")
	b.fill("package", "12 in spool")
	b.fill("net", "15 kg")
	b.fill("tare", "700 g")
	b.send()
	b.says("Test Heron 71M")

	// The counter takes up where one left off.
	b.tabTo(`a[href="/counter"].brand`)
	b.enter()
	b.scan(people[0].Code)
	b.says("enter a wire done", "enter a procedure")
	b.nextStep()
	b.fill("number", "WPS-1")
	b.fill("revision", "A")
	b.fill("processes_FCAW-G", " ")
	b.fill("classifications", "E71T-1M")
	b.fill("gas", "75 Ar 25 CO")
	b.fill("positions_flat", " ")
	b.send()
	b.says("gas: give its parts in per cent") // what was typed is kept, the fault stands beside its field
	b.fill("gas", "75 Ar 25 CO2")
	b.send()
	b.says("WPS-1 rev A", "75 % Ar + 25 % CO2", "next: enter a job")

	b.nextStep()
	b.fill("number", "4401")
	b.fill("name", "Gate posts")
	b.fill("procedure_1", "WPS-1")
	b.fill("site", " ") // the first choice is the shop
	b.fill("metal_1", "A36")
	b.fill("family_1", "Carbon")
	b.fill("thickness_1", "10 mm")
	b.fill("welds", "2 m of 6 mm fillet")
	b.send()
	b.says("4401", "A36 (carbon steel), .3937 in / 10 mm", "2 m of 6 mm fillet", "next: receive wire")

	b.nextStep()
	b.fill("wire", "Test")
	b.fill("lot_number", "L-1")
	b.fill("certificate", "C-1")
	b.fill("spools", "1")
	b.fill("place", "Shelf")
	b.send() // what is known of the wire from memory alone is asked of the box
	b.says("look at the box", "vertical direction, from memory: up")
	b.fill("box_vertical_direction", " ")
	b.send()
	b.says("lot l-1 is in")

	spools, err := site.store.Catalog(t.Context()).Spools(inventory.Query{})
	if err != nil || len(spools) != 1 {
		t.Fatalf("Spools() = %v, %v, want one", spools, err)
	}
	b.tabTo(`a[href="/counter"].brand`)
	b.enter()
	if b.count(".steps") != 0 {
		t.Errorf("every step is done, and the counter still shows them:\n%s", b.text())
	}
	b.scan(people[0].Code)
	b.scan("4401")
	b.scan(spools[0].Code)
	b.tabTo(`form[action="/counter/issue"] button`)
	b.enter()
	b.says("issued", string(spools[0].Code), "4401", "WPS-1 rev A")
	if n := site.movements(t); n != 3 {
		t.Errorf("%d movements, want received, opened, issued", n)
	}
}
