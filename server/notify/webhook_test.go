package notify_test

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/server/notify"
	"wirehold/server/notify/smtptest"
)

const hookSecret = "0123456789abcdefghij"

// board receives webhooks and answers each with the next of its statuses, the
// last one for ever.
type board struct {
	mu       sync.Mutex
	statuses []int
	headers  []http.Header
	bodies   []string
}

func (b *board) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, _ := io.ReadAll(r.Body) // a body cut short fails its signature
	b.mu.Lock()
	defer b.mu.Unlock()
	b.headers, b.bodies = append(b.headers, r.Header), append(b.bodies, string(body))
	status := b.statuses[0]
	if len(b.statuses) > 1 {
		b.statuses = b.statuses[1:]
	}
	w.Header().Set("Location", "https://elsewhere.example/")
	w.WriteHeader(status)
}

func (y *yard) hook(t testing.TB, url string) inventory.Webhook {
	t.Helper()
	return must(y.ledger.EnterWebhook(t.Context(), inventory.WebhookEntry{Edit: y.edit(0), Of: inventory.Webhook{Name: "Board", URL: url, Secret: hookSecret, Kinds: []inventory.AlertKind{inventory.ReorderAlert}}}))(t)
}

// TestAWebhookIsSignedAsDocumented checks the signature as the README tells a
// receiver to: it shares no code with the sender.
func TestAWebhookIsSignedAsDocumented(t *testing.T) {
	t.Parallel()
	b := &board{statuses: []int{204}}
	srv := httptest.NewServer(b)
	t.Cleanup(srv.Close)
	y := newYard(t, monday)
	y.hook(t, srv.URL+"/hook")
	y.short(t, 1)
	w := y.worker(y.ledger, inventory.WebhookChannel, notify.NewWebhook("https://wire.example"))
	round(t, w)
	round(t, w)
	if len(b.bodies) != 1 {
		t.Fatalf("the board got %d posts, want 1\n%s", len(b.bodies), y.log)
	}
	stamp, mark, ok := strings.Cut(strings.TrimPrefix(b.headers[0].Get("Wirehold-Signature"), "t="), ",sha256=")
	h := hmac.New(sha256.New, []byte(hookSecret))
	fmt.Fprintf(h, "%s.%s", stamp, b.bodies[0])
	if want := hex.EncodeToString(h.Sum(nil)); !ok || mark != want || stamp != fmt.Sprint(monday.Unix()) {
		t.Errorf("signature %q, want t=%d,sha256=%s", b.headers[0].Get("Wirehold-Signature"), monday.Unix(), want)
	}
	var got map[string]any
	if err := json.Unmarshal([]byte(b.bodies[0]), &got); err != nil {
		t.Fatal(err)
	}
	if got["kind"] != "reorder" || got["about"] != "wire" || got["subject"] != "1" || got["link"] != "https://wire.example/alerts/1" || got["raised_at"] != "2026-03-02T08:00:00Z" ||
		got["delivery"] == "" || got["delivery"] != b.headers[0].Get("Wirehold-Delivery") {
		t.Errorf("the body is %s", b.bodies[0])
	}
}

// TestSignAgainstAnOutsideProgram holds Sign against what OpenSSL makes of the
// same text and key:
//
//	printf '1772438400.{"a":1}' | openssl dgst -sha256 -hmac 0123456789abcdefghij
func TestSignAgainstAnOutsideProgram(t *testing.T) {
	t.Parallel()
	const want = "t=1772438400,sha256=761e2562009ecfe69a27ddd5a4a88b7a650287d0ba2f9df5c23bae63d12f3542"
	if got := notify.Sign(hookSecret, time.Unix(1772438400, 0), []byte(`{"a":1}`)); got != want {
		t.Errorf("Sign = %q, want %q", got, want)
	}
}

func TestWhatAWebhookAnswers(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name     string
		statuses []int
		state    string // after an hour
		posts    int
	}{
		{"it takes it", []int{200}, inventory.MessageSent, 1},
		{"it is down, and then takes it", []int{503, 502, 202}, inventory.MessageSent, 3},
		{"it is busy, and then takes it", []int{429, 200}, inventory.MessageSent, 2},
		{"it refuses it", []int{403}, inventory.MessageDead, 1},
		{"it is gone", []int{410}, inventory.MessageDead, 1},
		{"it points elsewhere, and nobody goes there", []int{307}, inventory.MessageDead, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			b := &board{statuses: tt.statuses}
			srv := httptest.NewServer(b)
			t.Cleanup(srv.Close)
			y := newYard(t, monday)
			y.hook(t, srv.URL)
			y.short(t, 1)
			w := y.worker(y.ledger, inventory.WebhookChannel, notify.NewWebhook(""))
			for range 60 {
				round(t, w)
				y.wait(time.Minute)
			}
			got := y.messages(t, tt.state)
			if len(got) != 1 || len(b.bodies) != tt.posts {
				t.Errorf("after an hour: %s %+v after %d posts, want one after %d\n%s", tt.state, got, len(b.bodies), tt.posts, y.log)
			}
			for i := range b.headers {
				if a, z := b.headers[0].Get("Wirehold-Delivery"), b.headers[i].Get("Wirehold-Delivery"); a != z {
					t.Errorf("post %d has delivery id %q, the first %q", i+1, z, a)
				}
			}
		})
	}
}

func TestNothingIsPostedToTheMachinesOwnLink(t *testing.T) {
	t.Parallel()
	for _, url := range []string{"http://169.254.169.254/latest", "http://[fe80::1%25lo]/", "http://0.0.0.0:80/", "http://[::ffff:169.254.169.254]/"} {
		y := newYard(t, monday)
		y.hook(t, url)
		y.short(t, 1)
		round(t, y.worker(y.ledger, inventory.WebhookChannel, notify.NewWebhook("")))
		if dead := y.messages(t, inventory.MessageDead); len(dead) != 1 || !strings.Contains(dead[0].Fault, "this machine's link") {
			t.Errorf("%s: given up are %+v, waiting %+v, want one that is not posted", url, dead, y.messages(t, inventory.MessageWaiting))
		}
	}
}

// TestAWebhookThatIsDownHoldsNoOtherUp has five alerts for two webhooks: the
// one that is down is tried once a round, not five times, and gets each alert
// once when it is up again.
func TestAWebhookThatIsDownHoldsNoOtherUp(t *testing.T) {
	t.Parallel()
	down, good := &board{statuses: []int{503, 503, 503, 200}}, &board{statuses: []int{200}}
	y := newYard(t, monday)
	for _, b := range []*board{down, good} {
		srv := httptest.NewServer(b)
		t.Cleanup(srv.Close)
		y.hook(t, srv.URL)
	}
	y.short(t, 5)
	w := y.worker(y.ledger, inventory.WebhookChannel, notify.NewWebhook(""))
	round(t, w)
	if len(down.bodies) != 1 || len(good.bodies) != 5 {
		t.Errorf("in the first round %d posts went to the one that is down and %d to the other, want 1 and 5", len(down.bodies), len(good.bodies))
	}
	for range 60 {
		y.wait(time.Minute)
		round(t, w)
	}
	if sent := y.messages(t, inventory.MessageSent); len(sent) != 10 || len(down.bodies) != 3+5 || len(good.bodies) != 5 {
		t.Errorf("after an hour %d are sent, after %d and %d posts; want 10, 8 and 5\n%s", len(sent), len(down.bodies), len(good.bodies), y.log)
	}
}

func TestARetiredWebhookGetsNothing(t *testing.T) {
	t.Parallel()
	b := &board{statuses: []int{200}}
	srv := httptest.NewServer(b)
	t.Cleanup(srv.Close)
	y := newYard(t, monday)
	w := y.hook(t, srv.URL)
	y.short(t, 1)
	must(y.ledger.RetireWebhook(t.Context(), y.edit(0), w.ID, true))(t)
	round(t, y.worker(y.ledger, inventory.WebhookChannel, notify.NewWebhook("")))
	if dead := y.messages(t, inventory.MessageDead); len(dead) != 1 || len(b.bodies) != 0 {
		t.Errorf("given up are %+v after %d posts, want the one and none", dead, len(b.bodies))
	}
}

func TestSMTPSettingsNameEveryFault(t *testing.T) {
	t.Parallel()
	good := notify.SMTP{Server: "mail.yard.example:587", User: "store", Password: "secret word", From: "store@yard.example", TLS: "starttls"}
	tests := []struct {
		name   string
		change func(*notify.SMTP)
		want   []string // each in the error; none: it is good
	}{
		{"as it should be", func(*notify.SMTP) {}, nil},
		{"no mail at all", func(s *notify.SMTP) { *s = notify.SMTP{TLS: "starttls"} }, nil},
		{"signing in nowhere", func(s *notify.SMTP) { s.User, s.Password = "", "" }, nil},
		{"this machine without TLS", func(s *notify.SMTP) { s.Server, s.TLS = "localhost:25", "none" }, nil},
		{"a password in the clear", func(s *notify.SMTP) { s.TLS = "none" }, []string{"--smtp-tls: without TLS the password"}},
		{"all wrong at once", func(s *notify.SMTP) { *s = notify.SMTP{Server: "mail", User: "store", From: "nobody", TLS: "ssl"} },
			[]string{"--smtp: ", "--smtp-from: ", "--smtp-tls: ", "--smtp-user: "}},
		{"a port that is none", func(s *notify.SMTP) { s.Server = "mail.yard.example:0" }, []string{"--smtp: give a port"}},
		{"settings without a server", func(s *notify.SMTP) { s.Server = "" }, []string{"--smtp-user: ", "--smtp-from: "}},
	}
	for _, tt := range tests {
		s := good
		tt.change(&s)
		_, err := s.Check()
		if (err == nil) != (len(tt.want) == 0) {
			t.Errorf("%s: Check() = %v, want %q", tt.name, err, tt.want)
			continue
		}
		for _, want := range tt.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: Check() = %v, which lacks %q", tt.name, err, want)
			}
		}
	}
}

func TestSecretsAreShownToNobody(t *testing.T) {
	t.Parallel()
	w := inventory.Webhook{Name: "Board", Secret: hookSecret}
	s := notify.SMTP{Password: smtptest.Password}
	log := &syncBuffer{}
	slog.New(slog.NewTextHandler(log, nil)).Info("secrets", "webhook", w, "secret", w.Secret, "smtp", s, "password", s.Password)
	slog.New(slog.NewJSONHandler(log, nil)).Info("secrets", "secret", w.Secret, "password", s.Password)
	text := log.String() + fmt.Sprintf("%v %+v %#v %s %v %+v %#v", w, w, w, w.Secret, s, s, s)
	if strings.Contains(text, hookSecret) || strings.Contains(text, smtptest.Password) {
		t.Errorf("a secret is shown: %s", text)
	}
}
