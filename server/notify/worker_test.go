package notify_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/store"
	"wirehold/server/notify"
	"wirehold/server/notify/smtptest"
)

// yard is a store on a real database with people who are told, under a clock
// that is moved by hand.
type yard struct {
	path   string
	store  *store.Store
	ledger *inventory.Ledger
	clock  atomic.Int64
	keys   atomic.Int64
	wires  int // entered so far
	log    *syncBuffer
	owner  inventory.Person
}

func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

type syncBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (b *syncBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.Write(p)
}
func (b *syncBuffer) String() string { b.mu.Lock(); defer b.mu.Unlock(); return b.b.String() }

func (y *yard) now() time.Time       { return time.Unix(y.clock.Load(), 0).UTC() }
func (y *yard) wait(d time.Duration) { y.clock.Add(int64(d / time.Second)) }
func (y *yard) key() string          { return fmt.Sprintf("key-%d", y.keys.Add(1)) }
func (y *yard) edit(n int) inventory.Edit {
	return inventory.Edit{Person: y.owner.Code, RequestKey: y.key(), Version: n}
}

func newYard(t testing.TB, start time.Time) *yard {
	t.Helper()
	y := &yard{path: filepath.Join(t.TempDir(), "yard.db"), log: &syncBuffer{}}
	y.clock.Store(start.Unix())
	y.store, y.ledger = y.open(t)
	y.owner = must(y.ledger.AddPerson(t.Context(), inventory.Person{Name: "Ola", Role: inventory.Owner}))(t)
	return y
}

// open opens the database once more, as another replica does.
func (y *yard) open(t testing.TB) (*store.Store, *inventory.Ledger) {
	t.Helper()
	s := must(store.Open(t.Context(), y.path, slog.New(slog.DiscardHandler)))(t)
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	return s, inventory.NewLedger(s, nil, y.now)
}

// person enters somebody who is told of kinds.
func (y *yard) person(t testing.TB, name, email string, kinds ...inventory.AlertKind) inventory.Person {
	t.Helper()
	p := must(y.ledger.AddPerson(t.Context(), inventory.Person{Name: name, Role: inventory.Engineer}))(t)
	must(y.ledger.ChangeContact(t.Context(), inventory.ContactEntry{Edit: y.edit(0), Of: inventory.Contact{Person: p.Code, Email: email, Kinds: kinds}}))(t)
	return p
}

// short enters wires below their minimum, and sweeps: an alert of each.
func (y *yard) short(t testing.TB, wires int) {
	t.Helper()
	for range wires {
		i := y.wires
		y.wires++
		must(y.ledger.AddWire(t.Context(), inventory.Wire{Maker: "Maker Amber", TradeName: fmt.Sprintf("Amber Kestrel %d", i), Classifications: []string{"E71T-1M"}, Diameter: 1_200_000, Net: 15_000, Tare: 700, Minimum: 60_000}))(t)
	}
	raised, _, err := y.ledger.SweepReorder(t.Context(), y.now())
	if err != nil || raised != wires {
		t.Fatalf("SweepReorder raised %d, %v, want %d", raised, err, wires)
	}
}

func (y *yard) worker(l notify.Outbox, c inventory.Channel, s notify.Sender) *notify.Worker {
	return &notify.Worker{Channel: c, Outbox: l, Sender: s, Log: slog.New(slog.NewJSONHandler(y.log, nil)), Now: y.now, NewID: y.key, Chance: func() float64 { return 0.5 }}
}

func (y *yard) messages(t testing.TB, state string) []inventory.MessageLine {
	t.Helper()
	return must(y.store.Read(t.Context()).Messages(inventory.MessageQuery{State: state, Limit: 200}))(t)
}

// smtpTo is the settings of the test's server, checked.
func smtpTo(t testing.TB, s *smtptest.Server, tlsMode string) notify.SMTP {
	t.Helper()
	return must(notify.SMTP{Server: s.Addr, User: smtptest.User, Password: smtptest.Password, From: "Wire store <store@yard.example>", TLS: tlsMode}.Check())(t)
}

func emailTo(t testing.TB, s *smtptest.Server, tlsMode string) *notify.Email {
	return notify.NewEmail(smtpTo(t, s, tlsMode), time.UTC, "https://wire.example/", s.Trust())
}

func round(t testing.TB, w *notify.Worker) {
	t.Helper()
	if err := w.Round(t.Context()); err != nil {
		t.Fatal(err)
	}
}

var monday = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

func TestAnEmailOverEitherKindOfTLS(t *testing.T) {
	t.Parallel()
	for _, mode := range []string{"starttls", "implicit"} {
		t.Run(mode, func(t *testing.T) {
			t.Parallel()
			server := smtptest.New(t)
			server.Start(mode == "implicit")
			y := newYard(t, monday)
			y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
			y.person(t, "Otto", "otto@yard.example", inventory.ClimateAlert)
			y.short(t, 1)
			w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, mode))
			round(t, w)
			round(t, w)
			got := server.All()
			if len(got) != 1 || got[0].To != "ilse@yard.example" || got[0].From != "store@yard.example" || !got[0].SignedIn {
				t.Fatalf("the server took %+v, want one mail to the one who is told of reorders, signed in\n%s", got, y.log)
			}
			key := y.messages(t, inventory.MessageSent)[0].Key
			for header, want := range map[string]string{"Subject": "Below the minimum", "Message-Id": "<" + key + "@yard.example>", "Auto-Submitted": "auto-generated", "X-Mailer": "", "User-Agent": ""} {
				if got := got[0].Header.Get(header); got != want {
					t.Errorf("header %s is %q, want %q", header, got, want)
				}
			}
			body := strings.ReplaceAll(got[0].Body, "=\r\n", "")
			for _, want := range []string{"What:", "Amber Kestrel 0", "Raised:", "2026-03-02 08:00 UTC", "What to do:", "Order, or lower the minimum", "https://wire.example/alerts/1"} {
				if !strings.Contains(body, want) {
					t.Errorf("the mail lacks %q:\n%s", want, body)
				}
			}
			if strings.Contains(y.log.String(), smtptest.Password) {
				t.Errorf("the log has the password:\n%s", y.log)
			}
		})
	}
}

func TestAServerThatIsNotTrustedGetsNothing(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 1)
	round(t, y.worker(y.ledger, inventory.EmailChannel, notify.NewEmail(smtpTo(t, server, "starttls"), time.UTC, "", nil)))
	waiting := y.messages(t, inventory.MessageWaiting)
	if len(server.All()) != 0 || len(waiting) != 1 || !strings.Contains(waiting[0].Fault, "certificate") {
		t.Errorf("the server took %v; waiting are %+v, want the one message, its fault naming the certificate", server.All(), waiting)
	}
}

func TestAMailServerThatIsDownForAnHourDelaysAndLosesNothing(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.person(t, "Otto", "otto@yard.example", inventory.ReorderAlert)
	y.short(t, 7)
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	for range 60 {
		round(t, w)
		y.wait(time.Minute)
	}
	if waiting := y.messages(t, inventory.MessageWaiting); len(waiting) != 14 || waiting[0].Fault == "" {
		t.Fatalf("after an hour %+v wait, want 7 to each of two, with what is wrong", waiting)
	}
	server.Start(false)
	for range 65 {
		round(t, w)
		y.wait(time.Minute)
	}
	y.tookOnce(t, server.All(), map[string][]int64{"ilse@yard.example": upTo(7), "otto@yard.example": upTo(7)})
	if n := len(y.messages(t, inventory.MessageSent)); n != 14 {
		t.Errorf("%d messages are marked as sent, want 14", n)
	}
}

func TestTwoReplicasSendEachMessageOnce(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	want := map[string][]int64{}
	for i := range 10 {
		address := fmt.Sprintf("p%d@yard.example", i)
		y.person(t, fmt.Sprintf("Person %d", i), address, inventory.ReorderAlert)
		want[address] = upTo(5)
	}
	y.short(t, 5)
	_, second := y.open(t)
	var wg sync.WaitGroup
	for _, ledger := range []*inventory.Ledger{y.ledger, second, y.ledger, second} {
		w := y.worker(ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
		wg.Go(func() {
			if err := w.Round(t.Context()); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	y.tookOnce(t, server.All(), want)
}

// dyingOutbox is an outbox of a replica that dies before it writes down that a
// message was taken.
type dyingOutbox struct{ notify.Outbox }

func (dyingOutbox) Delivered(context.Context, inventory.Delivery, time.Time) error {
	return errors.New("died")
}

// TestTheWindowThatNoProgramCloses shows what is documented: a replica that
// dies after the server took a mail, and before that is written down, leaves it
// to be sent again, once its loan has run out, under the same Message-ID.
func TestTheWindowThatNoProgramCloses(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 1)
	if err := y.worker(dyingOutbox{y.ledger}, inventory.EmailChannel, emailTo(t, server, "starttls")).Round(t.Context()); err == nil {
		t.Fatal("the dying replica lived")
	}
	other := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, other)
	if n := len(server.All()); n != 1 {
		t.Fatalf("while it is lent the server took %d mails, want 1", n)
	}
	y.wait(2 * time.Minute)
	round(t, other)
	y.wait(time.Hour)
	round(t, other)
	got := server.All()
	if len(got) != 2 || got[0].Header.Get("Message-Id") != got[1].Header.Get("Message-Id") {
		t.Errorf("the server took %d mails, want the one and once more the same", len(got))
	}
}

func TestQuietHoursHoldBackAllButUsedUpExposure(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, time.Date(2026, 3, 2, 22, 0, 0, 0, time.UTC))
	ctx := t.Context()
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert, inventory.ClimateAlert)
	shop := must(y.store.Read(ctx).Shop())(t)
	shop.Quiet = must(inventory.ParseQuietHours("20:00-06:00"))(t)
	must(y.ledger.ChangeShop(ctx, inventory.ShopEntry{Edit: y.edit(shop.Version), Of: shop}))(t)
	y.short(t, 1)
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, w)
	if n := len(server.All()); n != 0 {
		t.Errorf("in quiet hours %d mails went out, want none", n)
	}
	if d, ok, err := y.ledger.In(time.FixedZone("west", -8*3600)).ClaimDelivery(ctx, inventory.EmailChannel, "west", y.now(), y.now()); err != nil || !ok {
		t.Errorf("where it is 14:00 ClaimDelivery = %+v, %t, %v, want the message", d, ok, err)
	}
	y.wait(8 * time.Hour)
	round(t, w)
	if n := len(server.All()); n != 1 {
		t.Errorf("after quiet hours %d mails went out, want 1\n%s", n, y.log)
	}
}

func TestWhatIsRefusedIsGivenUpAndTriedAgainWhenSomebodySaysSo(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	ctx := t.Context()
	welder := must(y.ledger.AddPerson(ctx, inventory.Person{Name: "Mirel", Role: inventory.Welder}))(t)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 1)
	server.Refuse("ilse@yard.example", true)
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, w)
	dead := y.messages(t, inventory.MessageDead)
	if len(dead) != 1 || dead[0].Tries != 1 || !strings.Contains(dead[0].Fault, "550") {
		t.Fatalf("given up are %+v, want one after one try, saying 550\n%s", dead, y.log)
	}
	if _, err := y.ledger.RetryMessage(ctx, dead[0].ID, welder.Code); inventory.CodeOf(err) != "may-not-retry" {
		t.Errorf("RetryMessage by a welder: %v, want may-not-retry", err)
	}
	server.Refuse("ilse@yard.example", false)
	must(y.ledger.RetryMessage(ctx, dead[0].ID, y.owner.Code))(t)
	if _, err := y.ledger.RetryMessage(ctx, dead[0].ID, y.owner.Code); inventory.CodeOf(err) != "message-not-given-up" {
		t.Errorf("RetryMessage twice: %v, want message-not-given-up", err)
	}
	round(t, w)
	if len(server.All()) != 1 || len(y.messages(t, inventory.MessageSent)) != 1 {
		t.Errorf("after another try the server took %d mails, want 1", len(server.All()))
	}
}

func TestAWrongPasswordGivesNothingUp(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 2)
	c := smtpTo(t, server, "starttls")
	c.Password = "hunter2hunter2"
	round(t, y.worker(y.ledger, inventory.EmailChannel, notify.NewEmail(c, time.UTC, "", server.Trust())))
	waiting := y.messages(t, inventory.MessageWaiting)
	if len(waiting) != 2 || waiting[0].Tries != 1 || waiting[1].Tries != 1 {
		t.Errorf("waiting are %+v, want both, tried once together", waiting)
	}
	if text := y.log.String() + waiting[0].Fault + waiting[1].Fault; strings.Contains(text, "hunter2") {
		t.Errorf("the password is shown:\n%s", text)
	}
}

func TestAMessageIsGivenUpAfterTwoDaysOfTrying(t *testing.T) {
	t.Parallel()
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 1)
	w := y.worker(y.ledger, inventory.EmailChannel, failing{})
	for len(y.messages(t, inventory.MessageDead)) == 0 && y.now().Sub(monday) < 96*time.Hour {
		round(t, w)
		y.wait(5 * time.Minute)
	}
	if took := y.now().Sub(monday); took < 46*time.Hour || took > 54*time.Hour {
		t.Errorf("it was given up after %s, want about two days", took)
	}
}

type failing struct{}

func (failing) Send(context.Context, inventory.Delivery, time.Time) error {
	return errors.New("it rains")
}

func TestWhatIsOlderThanAWeekIsNoNews(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 1)
	y.wait(7*24*time.Hour + time.Second)
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, w)
	dead := y.messages(t, inventory.MessageDead)
	if len(dead) != 1 || len(server.All()) != 0 {
		t.Fatalf("given up are %+v, want the old message", dead)
	}
	must(y.ledger.RetryMessage(t.Context(), dead[0].ID, y.owner.Code))(t)
	round(t, w)
	if len(server.All()) != 1 {
		t.Errorf("somebody had it tried again, and the server took %d mails, want 1", len(server.All()))
	}
}

func TestSomebodyRetiredWhileTheirMailWaitsGetsNone(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	ilse := y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 1)
	must(y.ledger.RetirePerson(t.Context(), y.edit(0), ilse.Code, true))(t)
	round(t, y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls")))
	if n, dead := len(server.All()), y.messages(t, inventory.MessageDead); n != 0 || len(dead) != 1 || !strings.Contains(dead[0].Fault, "the badge of Ilse was retired") {
		t.Errorf("somebody retired: the server took %d mails, given up are %+v, want none and the one, saying why", n, dead)
	}
}
