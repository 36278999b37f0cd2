package main

import (
	"context"
	"encoding/pem"
	"errors"
	"fmt"
	"io"
	"mime/quotedprintable"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/store"
	"wirehold/server/notify/smtptest"
)

// childClock is the variable by which this test program is told to be the
// program itself, its clock set that much after [today].
const childClock = "WIREHOLD_TEST_CHILD_CLOCK"

// child is the program itself if the test program was started as such.
func child() (isChild bool, code int) {
	after, err := time.ParseDuration(os.Getenv(childClock))
	if err != nil {
		return false, 0
	}
	started := time.Now()
	now := func() time.Time { return today.Add(after).Add(time.Since(started)) }
	if err := run(context.Background(), os.Args[1:], os.Getenv, os.Stdout, os.Stderr, now); err != nil {
		return true, 1
	}
	return true, 0
}

// serving is the program in a process of its own, serving a database.
func serving(t *testing.T, after time.Duration, args ...string) *exec.Cmd {
	t.Helper()
	cmd, _ := telling(t, after, args...)
	return cmd
}

// telling is serving, with what the program says.
func telling(t *testing.T, after time.Duration, args ...string) (*exec.Cmd, *syncBuffer) {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), os.Args[0], append([]string{"serve", "--listen", "127.0.0.1:0", "--zone", "UTC"}, args...)...)
	cmd.Env = append(os.Environ(), childClock+"="+after.String())
	log := &syncBuffer{}
	cmd.Stdout, cmd.Stderr = log, log
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("the program's log:\n%s", log)
		}
	})
	return cmd, log
}

// kill ends the process as a power cut would: it is told nothing.
func kill(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	if err := cmd.Process.Kill(); err != nil { // SIGKILL
		t.Fatal(err)
	}
	if err := cmd.Wait(); err == nil {
		t.Fatal("the program ended by itself")
	}
}

// until waits for another process, or a goroutine of the program, to have done
// something.
func until(t testing.TB, what string, done func() bool) {
	t.Helper()
	look := time.NewTicker(50 * time.Millisecond)
	defer look.Stop()
	for range 1200 {
		if done() {
			return
		}
		<-look.C
	}
	t.Fatalf("after a minute: %s is not so", what)
}

// TestAProgramThatIsKilledLosesNoMessage kills a real process between the commit
// that raises the alerts and the delivery of their messages, starts another on
// the same database, and counts what a real mail server got.
func TestAProgramThatIsKilledLosesNoMessage(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		inHand bool // the server has a mail whole, and has not taken it, when the program is killed
	}{{"before the mail server was reached", false}, {"while the mail server had a mail in hand", true}} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			server := smtptest.New(t)
			args, s := mailedYard(t, server)
			waiting := func() int {
				n, _, err := s.Read(t.Context()).CountMessages()
				if err != nil {
					t.Fatal(err)
				}
				return n
			}
			if waiting() != 0 {
				t.Fatal("messages wait before anything was raised")
			}
			release := func() {}
			var begun <-chan struct{}
			if tt.inHand {
				server.Start(false)
				begun, release = server.Hold()
			}
			first := serving(t, 0, args...)
			until(t, "messages wait", func() bool { return waiting() > 1 })
			if tt.inHand {
				select {
				case <-begun:
				case <-time.After(time.Minute):
					t.Fatal("no mail came")
				}
			}
			kill(t, first)
			want := map[string]int{} // what was committed; the yard's own messages were settled before
			for _, m := range must(s.Read(t.Context()).Messages(inventory.MessageQuery{Limit: 200}))(t) {
				if m.Waiting() {
					want[fmt.Sprintf("https://wire.example/alerts/%d", m.AlertID)] = 1
				}
			}
			if n := len(server.All()); n != 0 {
				t.Fatalf("the server took %d mails before the kill, want none", n)
			}
			release()
			if !tt.inHand {
				server.Start(false)
			}
			second := serving(t, 3*time.Minute, args...) // what was lent to the first is lent no more
			until(t, "every message is sent", func() bool { return waiting() == 0 })
			kill(t, second)
			got := map[string]int{}
			for _, m := range server.All() {
				text := must(io.ReadAll(quotedprintable.NewReader(strings.NewReader(m.Body))))(t)
				for _, link := range regexp.MustCompile(`https://wire\.example/alerts/\d+`).FindAllString(string(text), -1) {
					got[link]++
				}
			}
			if diff := cmp.Diff(want, got); diff != "" || len(want) < 2 {
				t.Errorf("how often the server took each of %d alerts (-want +got):\n%s", len(want), diff)
			}
		})
	}
}

// mailedYard is the invented yard with somebody who is told of what to order,
// and the flags that serve it and mail through the server.
func mailedYard(t *testing.T, server *smtptest.Server) ([]string, *store.Store) {
	t.Helper()
	path, y := demoCopy(t)
	p := &program{ctx: t.Context(), now: clock}
	s, ledger, err := openAt(p, path, quiet, clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	// The yard is told of what to order before: here it starts anew.
	if err := s.Write(t.Context(), func(tx inventory.Tx) error {
		standing, err := tx.OpenAlerts(inventory.ReorderAlert)
		for _, a := range standing {
			err = errors.Join(err, tx.ClearAlert(a.ID, today))
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	for _, c := range must(s.Catalog(t.Context()).Contacts())(t) { // nobody else is told
		must(ledger.ChangeContact(t.Context(), inventory.ContactEntry{Edit: inventory.Edit{Person: c.Person, RequestKey: "off-" + string(c.Person), Version: c.Version}, Of: inventory.Contact{Person: c.Person}}))(t)
	}
	for i, w := range must(s.Catalog(t.Context()).Webhooks())(t) {
		must(ledger.RetireWebhook(t.Context(), inventory.Edit{Person: y.withRole(inventory.Owner)[0].Code, RequestKey: fmt.Sprint("retire-", i)}, w.ID, true))(t)
	}
	buyer := y.withRole(inventory.Buyer)[0]
	contact := must(s.Catalog(t.Context()).Contact(buyer.Code))(t)
	must(ledger.ChangeContact(t.Context(), inventory.ContactEntry{Edit: inventory.Edit{Person: buyer.Code, RequestKey: "told", Version: contact.Version},
		Of: inventory.Contact{Person: buyer.Code, Email: "buyer@yard.example", Kinds: []inventory.AlertKind{inventory.ReorderAlert}}}))(t)
	dir := t.TempDir()
	password, trust := filepath.Join(dir, "password"), filepath.Join(dir, "trust.pem")
	for name, text := range map[string][]byte{password: []byte(smtptest.Password + "\n"), trust: pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: server.Cert.Raw})} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return []string{"--db", path, "--base", "https://wire.example", "--smtp", server.Addr, "--smtp-user", smtptest.User, "--smtp-password-file", password, "--smtp-from", "store@yard.example", "--smtp-trust-file", trust}, s
}
