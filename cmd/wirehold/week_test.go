package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
	"wirehold/server"
	"wirehold/server/notify"
	"wirehold/server/notify/smtptest"
)

// week is the whole program in a small shop, under a clock that a test moves:
// its pages behind HTTP, its sweeps, and its mail through a real server.
type week struct {
	*siteFixture
	t       *testing.T
	zone    *time.Location
	clock   atomic.Int64
	worker  *notify.Worker
	server  *smtptest.Server
	keys    int
	spool   inventory.Spool
	job     inventory.Job
	feeder  inventory.Feeder
	shelf   inventory.Place
	welder  inventory.Person
	counter inventory.Person
}

func (w *week) now() time.Time { return time.Unix(w.clock.Load(), 0).UTC() }

// at is an instant of the week by the clock on the shop's wall.
func (w *week) at(text string) time.Time {
	w.t.Helper()
	return must(time.ParseInLocation("2006-01-02 15:04", text, w.zone))(w.t)
}

func newWeek(t *testing.T, zone string, start string) *week {
	t.Helper()
	w := &week{t: t, zone: must(time.LoadLocation(zone))(t), server: smtptest.New(t)}
	w.clock.Store(w.at(start).Unix())
	w.server.Start(false)
	p := &program{ctx: t.Context(), now: w.now}
	s, ledger, err := openAt(p, filepath.Join(t.TempDir(), "week.db"), quiet, w.now)
	if err != nil {
		t.Fatal(err)
	}
	ledger = ledger.In(w.zone)
	deps := server.Deps{Ledger: ledger, Catalog: func(ctx context.Context) server.Catalog { return s.Catalog(ctx) }, Healthy: s.Ping, Log: quiet, Now: w.now, Zone: w.zone, NewID: rand.Text}
	srv := httptest.NewServer(must(server.New(deps))(t))
	t.Cleanup(func() {
		srv.Close()
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	w.siteFixture = &siteFixture{yard: &yard{ledger: ledger}, url: srv.URL, store: s}
	c := must(notify.SMTP{Server: w.server.Addr, User: smtptest.User, Password: smtptest.Password, From: "store@yard.example", TLS: "starttls"}.Check())(t)
	w.worker = &notify.Worker{Channel: inventory.EmailChannel, Outbox: ledger, Sender: notify.NewEmail(c, w.zone, "https://wire.example", w.server.Trust()),
		Log: slog.New(slog.DiscardHandler), Now: w.now, NewID: rand.Text, Chance: func() float64 { return 0.5 }}
	w.furnish(s)
	return w
}

func (w *week) edit(by inventory.Person, version int) inventory.Edit {
	w.keys++
	return inventory.Edit{Person: by.Code, RequestKey: fmt.Sprint("edit-", w.keys), Version: version}
}

func (w *week) entry(by inventory.Person) inventory.Entry {
	w.keys++
	return inventory.Entry{Spool: w.spool.Code, Person: by.Code, RequestKey: fmt.Sprint("entry-", w.keys)}
}

// furnish enters people, places, a wire that may be open for 44 hours and a job
// that it fits, and receives one spool.
func (w *week) furnish(s *store.Store) {
	t, ctx, l := w.t, w.t.Context(), w.ledger
	owner := must(l.AddPerson(ctx, inventory.Person{Name: "Olive", Role: inventory.Owner}))(t)
	w.counter = must(l.AddPerson(ctx, inventory.Person{Name: "Ina", Role: inventory.Attendant}))(t)
	w.welder = must(l.AddPerson(ctx, inventory.Person{Name: "Mirel", Role: inventory.Welder}))(t)
	must(l.ChangeContact(ctx, inventory.ContactEntry{Edit: w.edit(owner, 0), Of: inventory.Contact{Person: w.counter.Code, Email: "counter@yard.example", Kinds: w.counter.Role.UsualKinds()}}))(t)
	shop := must(s.Read(ctx).Shop())(t)
	shop.ShiftEnds, shop.Quiet = []inventory.ShiftEnd{must(inventory.ParseShiftEnd("Mon-Fri 15:30"))(t)}, must(inventory.ParseQuietHours("20:00-06:00"))(t)
	must(l.ChangeShop(ctx, inventory.ShopEntry{Edit: w.edit(owner, shop.Version), Of: shop}))(t)
	mixed := fit.Gas{Argon: 75, CO2: 25}
	w.shelf = must(l.AddPlace(ctx, inventory.Place{Name: "Shelf A1", Kind: inventory.Shelf}))(t)
	w.feeder = must(l.AddFeeder(ctx, inventory.Feeder{Place: inventory.Place{Name: "Feeder 1"}, Polarities: []fit.Polarity{fit.DCEP, fit.DCEN}, Gas: &mixed, Diameters: []unit.Length{45 * unit.Inch / 1000}}))(t)
	wire := must(l.AddWire(ctx, inventory.Wire{Maker: "Maker Amber", TradeName: "Amber Kestrel 71M", Classifications: []string{"E71T-1M-H8"}, Diameter: 45 * unit.Inch / 1000, Net: 15_000, Tare: 700,
		Supplied: filler.Facts{{Name: "exposure_limit", Value: "44", Unit: "h", Provenance: filler.DataSheet, Source: "invented sheet"}}}))(t)
	procedure := must(l.AddProcedure(ctx, inventory.Procedure{Number: "WPS-11", Revision: "C", Processes: []fit.Process{fit.FCAWG}, Gas: &mixed, Polarity: fit.DCEP, Passes: fit.MultiPass}))(t)
	w.job = must(l.AddJob(ctx, inventory.Job{Number: "2201", Name: "girders", Procedures: []int64{procedure.ID}, ProfileID: inventory.GeneralProfile, BaseMetals: []fit.BaseMetal{{Name: "A36", Family: "carbon steel"}}}))(t)
	_, spools, err := l.Receive(ctx, inventory.Receipt{Person: w.counter.Code, RequestKey: "receive", WireID: wire.ID, LotNumber: "A26-1", Certificate: "MTC-1", Place: w.shelf.Code, Spools: 1})
	if err != nil {
		t.Fatal(err)
	}
	w.spool = spools[0]
}

// until runs the shop's clock on: every five minutes all sweeps, then the mail.
func (w *week) until(text string) {
	w.t.Helper()
	for end := w.at(text); w.now().Before(end); {
		w.clock.Add(300)
		for _, job := range sweeps(w.ledger, quiet) {
			if err := job.Do(w.t.Context(), w.now()); err != nil {
				w.t.Fatalf("%s: %s: %v", w.now().In(w.zone), job.Name, err)
			}
		}
		if err := w.worker.Round(w.t.Context()); err != nil {
			w.t.Fatal(err)
		}
	}
}

// mailed checks which mails the server took so far, by subject and time.
func (w *week) mailed(when string, want ...string) {
	w.t.Helper()
	var got []string
	for _, m := range w.server.All() {
		date := must(m.Header.Date())(w.t)
		got = append(got, date.In(w.zone).Format("Mon 15:04 ")+m.Header.Get("Subject"))
		if m.To != "counter@yard.example" || !strings.Contains(m.Body, string(w.spool.Code)) {
			w.t.Errorf("%s: a mail to %s says\n%s", when, m.To, m.Body)
		}
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		w.t.Errorf("%s the server has taken\n%s\nwant\n%s", when, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// issue tries to issue the spool at the counter's page.
func (w *week) issue() (status int, page string) {
	w.t.Helper()
	w.keys++
	form := url.Values{"badge": {string(w.counter.Code)}, "welder": {string(w.welder.Code)}, "job": {string(w.job.Code)}, "spool": {string(w.spool.Code)},
		"gross": {"15.7 kg"}, "request_key": {fmt.Sprint("issue-", w.keys)}}
	status, _, page = w.do(w.t, "POST", "/counter/issue", "application/x-www-form-urlencoded", form.Encode())
	return status, page
}

// TestAWeekWithASpoolLeftOnTheFeeder leaves a spool that may be open for 44
// hours on its feeder over a weekend. Friday is 2026-11-20.
func TestAWeekWithASpoolLeftOnTheFeeder(t *testing.T) {
	t.Parallel()
	w := newWeek(t, "America/Chicago", "2026-11-16 06:00")
	ctx := t.Context()
	w.until("2026-11-20 07:00")
	w.mailed("in a week in which nothing is out")
	if status, page := w.issue(); status != 303 {
		t.Fatalf("the counter answers %d on Friday morning, want 303\n%s", status, page)
	}
	load := inventory.Load{Entry: w.entry(w.welder), Feeder: w.feeder.Code}
	for _, s := range must(w.ledger.LoadCheck(ctx, w.feeder.Code, w.spool.Code, ""))(t).Settings {
		load.Confirmed = append(load.Confirmed, inventory.Confirmation{Part: s.Part, Says: s.Says})
	}
	must(w.ledger.Load(ctx, load))(t)
	w.until("2026-11-20 15:30")
	w.mailed("as the shift ends on Friday",
		"Fri 15:30 Exposure time nearly used up: spool "+string(w.spool.Code)) // it runs out before the next shift ends
	w.until("2026-11-20 20:00")
	friday := []string{"Fri 15:30 Exposure time nearly used up: spool " + string(w.spool.Code), "Fri 16:00 Not returned at the end of the shift: spool " + string(w.spool.Code)}
	w.mailed("by Friday evening", friday...)
	w.until("2026-11-22 03:00") // 44 hours
	w.mailed("as the time runs out on Sunday", friday...)
	if s := must(w.store.Read(ctx).Spool(w.spool.Code))(t); s.Held != "" {
		t.Errorf("after 44 hours to the second it is held: %s", s.Held)
	}
	w.until("2026-11-22 03:05")
	sunday := append(friday, "Sun 03:05 Exposure time used up: spool "+string(w.spool.Code)) // in quiet hours: it is urgent
	w.mailed("after the time ran out on Sunday", sunday...)
	if s := must(w.store.Read(ctx).Spool(w.spool.Code))(t); !strings.Contains(s.Held, "44 h") || s.Feeder != w.feeder.Code {
		t.Errorf("on Sunday it is held %q on %q, want a hold by rule that names the limit, on the feeder", s.Held, s.Feeder)
	}
	w.until("2026-11-23 07:00")
	w.mailed("by Monday morning", sunday...)
	gross := unit.Grams(14_000)
	must(w.ledger.Return(ctx, inventory.Return{Entry: w.entry(w.counter), Place: w.shelf.Code, Gross: &gross}))(t)
	status, page := w.issue()
	if status != 409 || !strings.Contains(page, "DOES NOT FIT") && !strings.Contains(page, "oes not fit") || !strings.Contains(page, "44 h") {
		t.Errorf("the counter answers %d on Monday, want 409 and the limit of 44 h\n%s", status, page)
	}
	w.until("2026-11-24 06:00")
	w.mailed("by Tuesday", sunday...)
	for kind, want := range map[inventory.AlertKind]int{inventory.ExposureAlert: 1, inventory.NotReturnedAlert: 0, inventory.ExposureNearAlert: 0} {
		if got := must(w.store.Read(ctx).OpenAlerts(kind))(t); len(got) != want {
			t.Errorf("on Tuesday %d alerts of %q stand, want %d", len(got), kind, want)
		}
	}
	w.movements(t)
}
