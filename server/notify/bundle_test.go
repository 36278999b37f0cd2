package notify_test

import (
	"io"
	"mime/quotedprintable"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/server/notify/smtptest"
)

var linked = regexp.MustCompile(`https://wire\.example/alerts/([0-9]+)\b`)

func body(t testing.TB, m smtptest.Mail) string {
	t.Helper()
	text := must(io.ReadAll(quotedprintable.NewReader(strings.NewReader(m.Body))))(t)
	return strings.ReplaceAll(string(text), "\r\n", "\n")
}

// alertsIn returns the alerts that a mail links, in order.
func alertsIn(t testing.TB, m smtptest.Mail) (out []int64) {
	t.Helper()
	for _, found := range linked.FindAllStringSubmatch(body(t, m), -1) {
		out = append(out, must(strconv.ParseInt(found[1], 10, 64))(t))
	}
	return out
}

// tookOnce checks that the mails are one to each address, with each of its
// alerts once.
func (y *yard) tookOnce(t testing.TB, mails []smtptest.Mail, want map[string][]int64) {
	t.Helper()
	got, seen := map[string][]int64{}, map[string]bool{}
	for _, m := range mails {
		alerts := alertsIn(t, m)
		slices.Sort(alerts)
		got[m.To] = append(got[m.To], alerts...)
		seen[m.Header.Get("Message-Id")] = true
	}
	if diff := cmp.Diff(want, got); diff != "" || len(mails) != len(want) || len(seen) != len(want) {
		t.Errorf("the server took %d mails under %d names, want %d; alerts in them (-want +got):\n%s\n%s", len(mails), len(seen), len(want), diff, y.log)
	}
}

func upTo(n int64) (out []int64) {
	for i := range n {
		out = append(out, i+1)
	}
	return out
}

func TestTheAlertsOfOneSweepAreOneMailAPerson(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.person(t, "Otto", "otto@yard.example", inventory.ReorderAlert)
	y.short(t, 200)
	round(t, y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls")))
	y.tookOnce(t, server.All(), map[string][]int64{"ilse@yard.example": upTo(200), "otto@yard.example": upTo(200)})
	if waiting, dead, err := y.store.Read(t.Context()).CountMessages(); err != nil || waiting+dead != 0 {
		t.Errorf("%d wait and %d were given up, %v; want each of 400 messages sent", waiting, dead, err)
	}
	if got := server.All()[0].Header.Get("Subject"); got != "200 alerts, the gravest: Below the minimum" {
		t.Errorf("the subject is %q", got)
	}
}

// raise enters an alert with a message to each of the people, as a sweep does.
func (y *yard) raise(t testing.TB, kind inventory.AlertKind, subject, text string, to ...inventory.Person) {
	t.Helper()
	err := y.store.Write(t.Context(), func(tx inventory.Tx) error {
		id, _, err := tx.RaiseAlert(inventory.Alert{Kind: kind, Subject: subject, Text: text, RaisedAt: y.now()})
		if err != nil {
			return err
		}
		var out []inventory.Message
		for _, p := range to {
			out = append(out, inventory.Message{AlertID: id, Channel: inventory.EmailChannel, Recipient: string(p.Code), Key: y.key(), Urgent: kind.Urgent(), MadeAt: y.now(), Attempt: inventory.Attempt{DueAt: y.now()}})
		}
		return tx.AddMessages(out)
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestAMailOfSeveralAlertsSaysTheGravestFirst(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	ilse := y.person(t, "Ilse", "ilse@yard.example")
	y.raise(t, inventory.ReorderAlert, "7", "Amber Kestrel is below its minimum.", ilse)
	y.raise(t, inventory.NotReturnedAlert, "W7K2M-3", "Spool W7K2M-3 is still out.", ilse)
	y.raise(t, inventory.ExposureAlert, "W7K2M-3", "Spool W7K2M-3 was open for 80 h.", ilse)
	y.raise(t, inventory.ReorderAlert, "8", "Cobalt Wren is below its minimum.", ilse)
	if err := y.store.Write(t.Context(), func(tx inventory.Tx) error { return tx.ClearAlert(2, y.now()) }); err != nil {
		t.Fatal(err)
	}
	round(t, y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls")))
	mails := server.All()
	if len(mails) != 1 {
		t.Fatalf("the server took %d mails, want 1\n%s", len(mails), y.log)
	}
	if got := mails[0].Header.Get("Subject"); got != "4 alerts, the gravest: Exposure time used up: spool W7K2M-3" {
		t.Errorf("the subject is %q", got)
	}
	want := `4 alerts, the gravest first.

EXPOSURE TIME USED UP: 1
What to do: Weld no more with it. Bring the spool back to the store; the welding engineer decides whether it is dried or scrapped.

1. Spool W7K2M-3 was open for 80 h.
   Raised: 2026-03-02 08:00 UTC
   More: https://wire.example/alerts/3

NOT RETURNED AT THE END OF THE SHIFT: 1

2. Spool W7K2M-3 is still out.
   Raised: 2026-03-02 08:00 UTC
   Cleared: 2026-03-02 08:00 UTC: nothing more to do
   More: https://wire.example/alerts/2

BELOW THE MINIMUM: 2
What to do: Order, or lower the minimum if the wire is used no more.

3. Amber Kestrel is below its minimum.
   Raised: 2026-03-02 08:00 UTC
   More: https://wire.example/alerts/1

4. Cobalt Wren is below its minimum.
   Raised: 2026-03-02 08:00 UTC
   More: https://wire.example/alerts/4

Wirehold sent this because you are told of such alerts. Change that on your page under People.
It is an aid: local codes, the contract and qualified people decide.
`
	if diff := cmp.Diff(want, body(t, mails[0])); diff != "" {
		t.Errorf("the mail (-want +got):\n%s", diff)
	}
}

// TestAReplicaThatDiesLeavesItsBundleWhole kills a replica after the server took
// its mail and before that is written down. Another sends the same alerts once
// more under the same name, and what was raised since apart.
func TestAReplicaThatDiesLeavesItsBundleWhole(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 3)
	if err := y.worker(dyingOutbox{y.ledger}, inventory.EmailChannel, emailTo(t, server, "starttls")).Round(t.Context()); err == nil {
		t.Fatal("the dying replica lived")
	}
	y.short(t, 2)
	other := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, other)
	y.wait(2 * time.Minute)
	round(t, other)
	y.wait(time.Hour)
	round(t, other)
	mails := server.All()
	if len(mails) != 3 {
		t.Fatalf("the server took %d mails, want 3\n%s", len(mails), y.log)
	}
	first, since, again := mails[0], mails[1], mails[2]
	if diff := cmp.Diff([][]int64{{1, 2, 3}, {4, 5}, {1, 2, 3}}, [][]int64{alertsIn(t, first), alertsIn(t, since), alertsIn(t, again)}); diff != "" {
		t.Errorf("alerts in the mails (-want +got):\n%s", diff)
	}
	if id := first.Header.Get("Message-Id"); id != again.Header.Get("Message-Id") || id == since.Header.Get("Message-Id") {
		t.Errorf("the mails are named %s, %s and %s: want the first and the last alike", id, since.Header.Get("Message-Id"), again.Header.Get("Message-Id"))
	}
}

// TestWhatFallsDueLaterGoesApart has a mail fail, and a further alert raised
// while it waits for its next try.
func TestWhatFallsDueLaterGoesApart(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 2)
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, w)
	tried := y.messages(t, inventory.MessageWaiting)
	if len(tried) != 2 || tried[0].Tries != 1 || tried[0].Bundle == "" || tried[0].Bundle != tried[1].Bundle || !tried[0].DueAt.Equal(tried[1].DueAt) || tried[0].Fault == "" {
		t.Fatalf("after a try in vain %+v wait, want both of one bundle, due together, with what is wrong", tried)
	}
	server.Start(false)
	y.wait(30 * time.Second)
	y.short(t, 1)
	round(t, w)
	y.wait(time.Hour)
	round(t, w)
	mails := server.All()
	if len(mails) != 2 || !slices.Equal(alertsIn(t, mails[0]), []int64{3}) || !slices.Equal(alertsIn(t, mails[1]), []int64{1, 2}) {
		t.Fatalf("the server took %d mails, want the one of alert 3 and then that of 1 and 2\n%s", len(mails), y.log)
	}
	sent := y.messages(t, inventory.MessageSent)
	if got, want := mails[0].Header.Get("Message-Id"), "<"+sent[0].Key+"@yard.example>"; got != want {
		t.Errorf("the mail of one alert is named %s, want %s", got, want)
	}
	if got, want := mails[1].Header.Get("Message-Id"), "<"+tried[0].Bundle+"@yard.example>"; got != want {
		t.Errorf("the mail of two is named %s, want %s, as it was tried first", got, want)
	}
}

func TestARefusedBundleIsGivenUpAlertByAlert(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 3)
	server.Refuse("ilse@yard.example", true)
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, w)
	dead := y.messages(t, inventory.MessageDead)
	if len(dead) != 3 || dead[2].Tries != 1 || !strings.Contains(dead[2].Fault, "550") {
		t.Fatalf("given up are %+v, want all three after one try, saying 550\n%s", dead, y.log)
	}
	server.Refuse("ilse@yard.example", false)
	must(y.ledger.RetryMessage(t.Context(), dead[0].ID, y.owner.Code))(t)
	round(t, w)
	must(y.ledger.RetryMessage(t.Context(), dead[1].ID, y.owner.Code))(t)
	must(y.ledger.RetryMessage(t.Context(), dead[2].ID, y.owner.Code))(t)
	round(t, w)
	var got [][]int64
	for _, m := range server.All() {
		got = append(got, alertsIn(t, m))
	}
	if diff := cmp.Diff([][]int64{{3}, {1, 2}}, got); diff != "" {
		t.Errorf("alerts in the mails after another try (-want +got):\n%s", diff)
	}
}

func TestQuietHoursLetAnUrgentAlertOutOfABundle(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	y := newYard(t, time.Date(2026, 3, 2, 19, 59, 30, 0, time.UTC))
	ilse := y.person(t, "Ilse", "ilse@yard.example")
	shop := must(y.store.Read(t.Context()).Shop())(t)
	shop.Quiet = must(inventory.ParseQuietHours("20:00-06:00"))(t)
	must(y.ledger.ChangeShop(t.Context(), inventory.ShopEntry{Edit: y.edit(shop.Version), Of: shop}))(t)
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	y.raise(t, inventory.ReorderAlert, "1", "1", ilse)
	y.raise(t, inventory.ExposureAlert, "W7K2M-3", "2", ilse)
	round(t, w) // in vain: the server is down
	server.Start(false)
	y.wait(2 * time.Minute) // quiet from here on
	y.raise(t, inventory.ReorderAlert, "3", "3", ilse)
	y.raise(t, inventory.ExposureAlert, "W7K2M-4", "4", ilse)
	y.raise(t, inventory.ExposureAlert, "W7K2M-5", "5", ilse)
	round(t, w)
	var got [][]int64
	for _, m := range server.All() {
		got = append(got, alertsIn(t, m))
	}
	if diff := cmp.Diff([][]int64{{2, 1}, {4, 5}}, got); diff != "" {
		t.Errorf("alerts in the mails of quiet hours (-want +got): what was one mail before goes as one, of the rest the urgent alone\n%s", diff)
	}
	y.wait(10 * time.Hour)
	round(t, w)
	if mails := server.All(); len(mails) != 3 || !slices.Equal(alertsIn(t, mails[2]), []int64{3}) {
		t.Errorf("in the morning the server has %d mails, want a third with alert 3", len(mails))
	}
}

func TestWhatIsStaleIsLeftOutOfABundle(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 2)
	y.wait(7*24*time.Hour + time.Second)
	y.short(t, 2)
	round(t, y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls")))
	y.tookOnce(t, server.All(), map[string][]int64{"ilse@yard.example": {3, 4}})
	if dead := y.messages(t, inventory.MessageDead); len(dead) != 2 || dead[0].AlertID != 2 {
		t.Errorf("given up are %+v, want the two old ones", dead)
	}
}

// TestALoanThatRunsOutLosesNothing has a replica die with a bundle in hand,
// before it reached the server.
func TestALoanThatRunsOutLosesNothing(t *testing.T) {
	t.Parallel()
	server := smtptest.New(t)
	server.Start(false)
	y := newYard(t, monday)
	y.person(t, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
	y.short(t, 4)
	d, ok, err := y.ledger.ClaimDelivery(t.Context(), inventory.EmailChannel, "dies", y.now(), y.now().Add(2*time.Minute))
	if err != nil || !ok || len(d.News) != 4 {
		t.Fatalf("ClaimDelivery = %+v, %t, %v, want four messages", d, ok, err)
	}
	w := y.worker(y.ledger, inventory.EmailChannel, emailTo(t, server, "starttls"))
	round(t, w)
	if n := len(server.All()); n != 0 {
		t.Errorf("while they are lent the server took %d mails, want none", n)
	}
	y.wait(2 * time.Minute)
	round(t, w)
	y.tookOnce(t, server.All(), map[string][]int64{"ilse@yard.example": upTo(4)})
	for name, settle := range map[string]func() error{
		"Delivered":   func() error { return y.ledger.Delivered(t.Context(), d, y.now()) },
		"Undelivered": func() error { return y.ledger.Undelivered(t.Context(), d, "late", y.now(), time.Time{}) },
	} {
		if err := settle(); inventory.CodeOf(err) != "message-taken" {
			t.Errorf("%s by the one that died: %v, want message-taken", name, err)
		}
	}
}
