package store_test

import (
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
)

// setShifts makes the shop's shifts end as given.
func (s *shop) setShifts(t testing.TB, ends ...string) {
	t.Helper()
	now := must(s.store.Read(t.Context()).Shop())(t)
	e := inventory.ShopEntry{Edit: s.edit(s.engineer, now.Version), Of: now}
	e.Of.ShiftEnds = nil
	for _, text := range ends {
		e.Of.ShiftEnds = append(e.Of.ShiftEnds, must(inventory.ParseShiftEnd(text))(t))
	}
	must(s.ledger.ChangeShop(t.Context(), e))(t)
}

func TestAnAlertOfOneCauseStandsOnce(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1) // 15 kg, minimum 60 kg
	var wg sync.WaitGroup
	var mu sync.Mutex
	all := 0
	for range 8 {
		wg.Go(func() {
			raised, _, err := s.ledger.SweepReorder(t.Context(), s.now())
			if err != nil {
				t.Error(err)
			}
			mu.Lock()
			all += raised
			mu.Unlock()
		})
	}
	wg.Wait()
	if all != 1 {
		t.Errorf("8 sweeps at once raised %d alerts, want 1", all)
	}
	// Whoever writes past the program cannot raise it twice either.
	err := s.store.Write(t.Context(), func(tx inventory.Tx) error {
		a := inventory.Alert{Kind: inventory.ReorderAlert, Subject: "1", Text: "again", RaisedAt: s.now()}
		if _, raised, err := tx.RaiseAlert(a); err != nil || raised {
			t.Errorf("RaiseAlert of what stands: raised %t, error %v, want neither", raised, err)
		}
		a.Subject = "2"
		if _, raised, err := tx.RaiseAlert(a); err != nil || !raised {
			t.Errorf("RaiseAlert of another subject: raised %t, error %v", raised, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestTheTextOfAnAlertIsRenewedAndNobodyIsToldAgain lets hours go on, and has
// the engineer release the hold, while the alert of a spool stands.
func TestTheTextOfAnAlertIsRenewedAndNobodyIsToldAgain(t *testing.T) {
	t.Parallel()
	s, spool := driable(t, "")
	ctx := t.Context()
	must(s.ledger.ChangeContact(ctx, inventory.ContactEntry{Edit: s.edit(s.engineer, 0), Of: inventory.Contact{Person: s.engineer.Code, Email: "welding@yard.example", Kinds: []inventory.AlertKind{inventory.ExposureAlert}}}))(t)
	s.wait(30 * time.Hour)
	release := func() {
		e := s.entry(spool)
		e.Person = s.engineer.Code
		must(s.ledger.Release(ctx, e, "for a practice plate"))(t)
	}
	steps := []struct {
		name string
		do   func()
		says []string
	}{
		{"past its limit", func() {}, []string{"exposed for 80 h.", "It goes on hold."}},
		{"five minutes later", func() { s.wait(5 * time.Minute) }, []string{"exposed for 80 h 5 min.", "It is on hold."}},
		{"five hours later, released", func() { s.wait(5 * time.Hour); release() }, []string{"exposed for 85 h 5 min.", "Its hold was released."}},
	}
	var first inventory.Alert
	for i, step := range steps {
		step.do()
		raised, cleared, err := s.ledger.SweepExposure(ctx, s.now())
		if err != nil || cleared != 0 || (raised == 1) != (i == 0) {
			t.Fatalf("%s: SweepExposure raised %d and cleared %d, %v; want it raised once", step.name, raised, cleared, err)
		}
		standing := must(s.store.Read(ctx).Alerts(inventory.AlertQuery{Kind: inventory.ExposureAlert}))(t)
		if len(standing) != 1 {
			t.Fatalf("%s: %d alerts stand, want one", step.name, len(standing))
		}
		a := standing[0]
		for _, want := range step.says {
			if !strings.Contains(a.Text, want) {
				t.Errorf("%s: the alert says %q, want %q", step.name, a.Text, want)
			}
		}
		if i == 0 {
			first = must(s.ledger.SeeAlert(ctx, a.ID, s.engineer.Code))(t)
		} else if a.ID != first.ID || !a.RaisedAt.Equal(first.RaisedAt) || len(a.Seen) != 1 {
			t.Errorf("%s: the alert is %+v, want the same alert as %+v", step.name, a, first)
		}
		if sent := must(s.store.Read(ctx).Messages(inventory.MessageQuery{}))(t); len(sent) != 1 {
			t.Errorf("%s: %d messages were made, want one", step.name, len(sent))
		}
	}
}

func TestAnAlertIsSeenBySeveralAndClearedOnce(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	must(s.store.Read(ctx).Shop())(t)
	if _, _, err := s.ledger.SweepReorder(ctx, s.now()); err != nil {
		t.Fatal(err)
	}
	id := must(s.store.Read(ctx).OpenAlerts(inventory.ReorderAlert))(t)[0].ID
	raised := s.now().UTC()
	s.wait(time.Minute)
	must(s.ledger.SeeAlert(ctx, id, s.welder.Code))(t)
	s.wait(time.Minute)
	must(s.ledger.SeeAlert(ctx, id, s.engineer.Code))(t)
	s.wait(time.Minute)
	got := must(s.ledger.SeeAlert(ctx, id, s.welder.Code))(t) // again: the first time stays
	want := []inventory.Sighting{{AlertID: id, Person: s.welder.Code, PersonName: "Mirel", At: raised.Add(time.Minute)}, {AlertID: id, Person: s.engineer.Code, PersonName: "Ilse", At: raised.Add(2 * time.Minute)}}
	if diff := cmp.Diff(want, got.Seen); diff != "" {
		t.Errorf("SeeAlert (-want +got):\n%s", diff)
	}
	s.receive(t, 4)
	if _, _, err := s.ledger.SweepReorder(ctx, s.now()); err != nil {
		t.Fatal(err)
	}
	if _, err := s.ledger.SeeAlert(ctx, id, s.second.Code); inventory.CodeOf(err) != "alert-cleared" {
		t.Errorf("SeeAlert of one that was cleared: error %v, want alert-cleared", err)
	}
	if _, err := s.ledger.SeeAlert(ctx, 999, s.second.Code); inventory.KindOf(err) != inventory.NotFound {
		t.Errorf("SeeAlert of none: error %v, want not found", err)
	}
	history := must(s.store.Read(ctx).Alerts(inventory.AlertQuery{Kind: inventory.ReorderAlert, Cleared: true}))(t)
	if len(history) != 1 || len(history[0].Seen) != 2 || history[0].ClearedAt.IsZero() {
		t.Errorf("history %+v, want the one alert with both who saw it", history)
	}
	if _, err := s.store.Read(ctx).Alerts(inventory.AlertQuery{Kind: "weather"}); inventory.KindOf(err) != inventory.Invalid {
		t.Errorf("Alerts of no kind: error %v, want invalid", err)
	}
}

func TestASpoolNotReturnedAtTheEndOfTheShift(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2) // it is Monday 2026-03-02, 06:00
	ctx := t.Context()
	sweep := func(when string, wantRaised, wantCleared int) {
		t.Helper()
		raised, cleared, err := s.ledger.SweepReturns(ctx, s.now())
		if err != nil || raised != wantRaised || cleared != wantCleared {
			t.Errorf("%s: raised %d, cleared %d, error %v; want %d and %d", when, raised, cleared, err, wantRaised, wantCleared)
		}
	}
	must(s.ledger.Issue(ctx, s.issue(s.spools[0].Code)))(t)
	s.wait(48 * time.Hour)
	sweep("without shifts, two days later", 0, 0)
	s.clock.Store(time.Date(2026, 3, 2, 14, 0, 0, 0, time.UTC).Unix())
	s.setShifts(t, "Mon-Fri 15:30")
	sweep("in the shift", 0, 0)
	s.wait(2 * time.Hour) // 16:00
	sweep("at the end of the grace, which was given to it", 1, 0)
	sweep("again", 0, 0)
	must(s.ledger.Issue(ctx, s.issue(s.spools[1].Code)))(t) // after the shift: the next one's
	sweep("another went out after the shift", 0, 0)
	a := must(s.store.Read(ctx).OpenAlerts(inventory.NotReturnedAlert))(t)
	if len(a) != 1 || a[0].Subject != string(s.spools[0].Code) || !strings.Contains(a[0].Text, "Mirel has it") || !strings.Contains(a[0].Text, "2026-03-02 15:30 UTC") {
		t.Errorf("the alert is %+v", a)
	}
	gross := s.spools[0].Full + s.spools[0].Tare
	must(s.ledger.Return(ctx, inventory.Return{Entry: s.entry(s.spools[0].Code), Place: s.shelf.Code, Gross: &gross}))(t)
	sweep("returned", 0, 1)
	s.wait(24 * time.Hour)
	sweep("the next day's shift is over", 1, 0)
}

func TestWhoMayChangeTheShopContactsAndWebhooks(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	owner := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Ola", Role: inventory.Owner}))(t)
	shopNow := must(s.store.Read(ctx).Shop())(t)
	hook := inventory.Webhook{Name: "Board", URL: "https://board.example/hook", Secret: "0123456789abcdef", Kinds: []inventory.AlertKind{inventory.ReorderAlert}}
	shop := func(by inventory.Person, change func(*inventory.Shop)) error {
		e := inventory.ShopEntry{Edit: s.edit(by, shopNow.Version), Of: shopNow}
		change(&e.Of)
		_, err := s.ledger.ChangeShop(ctx, e)
		return err
	}
	contact := func(by, of inventory.Person, email string, kinds ...inventory.AlertKind) error {
		_, err := s.ledger.ChangeContact(ctx, inventory.ContactEntry{Edit: s.edit(by, 0), Of: inventory.Contact{Person: of.Code, Email: email, Kinds: kinds}})
		return err
	}
	webhook := func(by inventory.Person, change func(*inventory.Webhook)) error {
		w := hook
		change(&w)
		_, err := s.ledger.EnterWebhook(ctx, inventory.WebhookEntry{Edit: s.edit(by, 0), Of: w})
		return err
	}
	tests := []struct {
		name string
		err  error
		want string // code of the error
	}{
		{"an attendant sets no shifts", shop(s.attendant, func(*inventory.Shop) {}), "may-not-change-shop"},
		{"a grace of a day is too long", shop(s.engineer, func(s *inventory.Shop) { s.Grace = 24 * time.Hour }), "invalid-grace"},
		{"a shift without days never ends", shop(s.engineer, func(s *inventory.Shop) { s.ShiftEnds = []inventory.ShiftEnd{{}} }), "invalid-shift_ends"},
		{"a welder gives their own address", contact(s.welder, s.welder, "mirel@yard.example", inventory.ExposureAlert), ""},
		{"a second first change is a conflict", contact(s.welder, s.welder, "else@yard.example"), "record-changed"},
		{"nobody gives another's address", contact(s.attendant, s.second, "x@yard.example"), "may-not-change-contact"},
		{"the owner does", contact(owner, s.second, "otto@yard.example"), ""},
		{"two addresses are none", contact(owner, s.attendant, "a@yard.example, b@yard.example"), "invalid-email"},
		{"a name is no address", contact(owner, s.attendant, "Ina <ina@yard.example>"), "invalid-email"},
		{"a line end would begin a new header", contact(owner, s.attendant, "ina@yard.example\nBcc: b@yard.example"), "invalid-email"},
		{"a kind that is not", contact(owner, s.attendant, "", "weather"), "invalid-kinds"},
		{"the engineer enters no webhook", webhook(s.engineer, func(*inventory.Webhook) {}), "may-not-enter-webhooks"},
		{"the owner enters one", webhook(owner, func(*inventory.Webhook) {}), ""},
		{"a file is no address to post to", webhook(owner, func(w *inventory.Webhook) { w.URL = "file:///etc/passwd" }), "invalid-url"},
		{"nor is an address with a password", webhook(owner, func(w *inventory.Webhook) { w.URL = "https://a:b@board.example" }), "invalid-url"},
		{"a short secret", webhook(owner, func(w *inventory.Webhook) { w.Secret = "short" }), "invalid-secret"},
		{"of no kind", webhook(owner, func(w *inventory.Webhook) { w.Kinds = nil }), "invalid-kinds"},
	}
	for _, tt := range tests {
		if got := inventory.CodeOf(tt.err); got != tt.want {
			t.Errorf("%s: error %v, want %q", tt.name, tt.err, tt.want)
		}
	}
	hooks := must(s.store.Read(ctx).Webhooks())(t)
	changes := must(s.ledger.Changes(ctx, inventory.WebhookRecord, "1"))(t)
	if len(hooks) != 1 || len(changes) != 1 || strings.Contains(strings.Join(changes[0].What, " "), string(hook.Secret)) {
		t.Errorf("webhooks %v, history %+v, want one of each without the secret", hooks, changes)
	}
}
