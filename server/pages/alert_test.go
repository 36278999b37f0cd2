package pages_test

import (
	"strings"
	"testing"

	"wirehold/inventory"
)

func TestAlertsOnPages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx := t.Context()
	owner := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Olive Ridge", Role: inventory.Owner}))(t)
	o, e, w := string(owner.Code), string(s.engineer.Code), string(s.welder.Code)
	shop := form("person", e, "request_key", "s1", "version", "1", "shift_ends", "Mon-Fri 15:30\nSat 12:00", "grace", "15", "quiet", "20:00-06:00", "near_before", "180", "shelf_before", "60")
	hook := form("person", o, "request_key", "h1", "name", "Board", "url", "https://board.example/hook", "secret", "0123456789abcdef", "kinds_reorder", "yes")
	told := form("person", w, "request_key", "c1", "version", "0", "email", "hand@yard.example", "kinds_reorder", "yes", "kinds_not_returned", "yes")
	s.hold(t, []posts{
		{"the engineer sets the shifts", "/shop", shop, 303, "", "", ""},
		{"a day that is none stays as it was typed", "/shop", with(shop, "request_key", "s2", "version", "2", "shift_ends", "Mon-Fry 15:30"), 422, "fault", "Mon-Fri", "shift_ends"},
		{"a welder sets none", "/shop", with(shop, "request_key", "s3", "version", "2", "person", w, "grace", "20"), 403, "notice", "the welding engineer or the owner", ""},
		{"a version that is no more", "/shop", with(shop, "request_key", "s4", "version", "1", "grace", "20"), 409, "notice", "after you opened it", ""},
		{"the owner enters a webhook", "/webhooks", hook, 303, "", "", ""},
		{"an address that is no http", "/webhooks", with(hook, "request_key", "h2", "url", "ftp://board.example"), 422, "fault", "http or https", "url"},
		{"the engineer enters none", "/webhooks", with(hook, "request_key", "h3", "person", e), 403, "notice", "only the owner", ""},
		{"a welder chooses", "/people/" + w + "/alerts", told, 303, "", "", ""},
		{"for themselves alone", "/people/" + e + "/alerts", with(told, "request_key", "c2"), 403, "notice", "each says how they are reached", ""},
		{"an address that is none", "/people/" + w + "/alerts", with(told, "request_key", "c3", "version", "1", "email", "hand"), 422, "fault", "one address", "email"},
		{"nothing was given up", "/messages/again", form("person", e, "message", "1"), 404, "notice", "no message 1", ""},
		{"no such alert is seen", "/alerts/99/seen", form("person", w), 404, "title", "no such thing", ""},
	})
	raise(t, s)
	s.hold(t, []posts{
		{"an alert is seen without a badge", "/alerts/1/seen", form("person", ""), 422, "fault", "scan your badge", ""},
		{"and with one", "/alerts/1/seen", form("person", w), 303, "", "", ""},
		{"a message that waits is not tried again", "/messages/again", form("person", e, "message", "1"), 409, "notice", "is waiting", ""},
	})
	tests := []struct{ path, class, says string }{
		{"/alerts", "alert", "Seen by " + s.welder.Name},
		{"/alerts", "alert", "Below the minimum"},
		{"/alerts?kind=climate", "empty-title", "Nothing needs anybody"},
		{"/alerts/1", "facts", s.welder.Name},
		{"/alerts/1", "table", "webhook, message"},
		{"/messages", "table", "Board"},
		{"/messages", "notice-title", "No e-mail is sent"},
		{"/told", "table", "hand@yard.example"},
		{"/shop", "facts", "Mon-Fri 15:30; Sat 12:00"},
		{"/shop", "facts", "20:00-06:00"},
		{"/webhooks", "cards", "https://board.example/hook"},
		{"/webhooks/1", "facts", "kept, and not shown"},
	}
	for _, tt := range tests {
		if got := s.get(tt.path); got.status != 200 || !strings.Contains(got.text(tt.class), tt.says) {
			t.Errorf("GET %s: status %d, %s %q, want %q", tt.path, got.status, tt.class, got.text(tt.class), tt.says)
		}
	}
	for _, path := range []string{"/webhooks", "/webhooks/1", "/webhooks/1/edit", "/messages", "/alerts/1"} {
		if strings.Contains(s.get(path).text("main"), "0123456789abcdef") || s.get(path).has("secret", "0123456789abcdef") {
			t.Errorf("GET %s shows the secret", path)
		}
	}
	if got := s.get("/alerts?kind=weather"); got.status != 422 {
		t.Errorf("GET /alerts of no kind: status %d, want 422", got.status)
	}
}

// raise makes a wire fall short of its minimum, so that an alert stands.
func raise(t *testing.T, s *site) {
	t.Helper()
	short := s.gasless
	must(s.ledger.AddWire(t.Context(), inventory.Wire{Maker: short.Maker, TradeName: "Short Wire", Classifications: short.Classifications, Diameter: short.Diameter, Net: short.Net, Tare: short.Tare, Minimum: 60_000}))(t)
	if raised, _, err := s.ledger.SweepReorder(t.Context(), s.now); err != nil || raised != 1 {
		t.Fatalf("SweepReorder raised %d, %v, want 1", raised, err)
	}
}
