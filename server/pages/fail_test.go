package pages_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// TestBrokenDatabase holds that a failure of ours shows the request id and
// nothing of its cause.
func TestBrokenDatabase(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	if err := s.store.Close(); err != nil {
		t.Fatalf("Close: %v", err)
	}
	for _, target := range []string{"/spools", "/lots/1", "/counter?scan=2207", "/find?q=2207"} {
		got := s.get(target)
		if got.status != http.StatusInternalServerError || got.text("fail-request") != "REQUEST7" {
			t.Errorf("GET %s: status %d, request id %q, want 500 and REQUEST7", target, got.status, got.text("fail-request"))
		}
		for _, leak := range []string{"sql", "database", "closed"} {
			if strings.Contains(strings.ToLower(got.text("main")), leak) {
				t.Errorf("GET %s: the page says %q, and %q is nobody's business", target, got.text("main"), leak)
			}
		}
	}
}

// TestHungUp holds that a client that went away is no failure and gets no
// page.
func TestHungUp(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx, hangUp := context.WithCancel(t.Context())
	hangUp()
	w := httptest.NewRecorder()
	s.h.ServeHTTP(w, httptest.NewRequestWithContext(ctx, http.MethodGet, "/spools", nil))
	if w.Body.Len() != 0 {
		t.Errorf("GET /spools by a client that hung up: %d %.80q, want nothing", w.Code, w.Body)
	}
}
