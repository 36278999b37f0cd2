package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/store"
	"wirehold/server"
	"wirehold/server/schedule"
)

// today is the instant at which every test here takes place.
var today = time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)

func clock() time.Time { return today }

var quiet = slog.New(slog.DiscardHandler)

func TestMain(m *testing.M) {
	if isChild, code := child(); isChild {
		os.Exit(code)
	}
	code := m.Run()
	if dir, err := demoDir(); err == nil {
		os.RemoveAll(dir)
	}
	os.Exit(code)
}

var demoDir = sync.OnceValues(func() (string, error) { return os.MkdirTemp("", "wirehold-test-") })

// demo is the invented yard, made once and copied for each test.
var demo = sync.OnceValues(func() (*yard, error) {
	dir, err := demoDir()
	if err != nil {
		return nil, err
	}
	p := &program{ctx: context.Background(), out: io.Discard, err: io.Discard, now: clock}
	return makeDemo(p, filepath.Join(dir, "demo.db"), slog.New(slog.DiscardHandler))
})

// demoCopy returns the path of a database of the invented yard that is the
// test's own, and the yard.
func demoCopy(t testing.TB) (string, *yard) {
	t.Helper()
	y, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	dir, err := demoDir()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, "demo.db"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "demo.db")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path, y
}

// siteFixture is the whole program behind an HTTP server.
type siteFixture struct {
	*yard
	url   string
	store *store.Store
	deps  server.Deps
}

func newSite(t testing.TB) *siteFixture {
	t.Helper()
	path, y := demoCopy(t)
	return siteOn(t, path, y)
}

func siteOn(t testing.TB, path string, y *yard) *siteFixture {
	t.Helper()
	log := &syncBuffer{}
	p := &program{ctx: t.Context(), out: io.Discard, err: log, now: clock}
	s, ledger, err := openAt(p, path, p.log(slog.LevelError), clock)
	if err != nil {
		t.Fatal(err)
	}
	deps := server.Deps{Ledger: ledger, Catalog: func(ctx context.Context) server.Catalog { return s.Catalog(ctx) },
		Healthy: s.Ping, Log: p.log(slog.LevelError), Now: clock, Zone: time.UTC, Demo: demoBanner, NewID: rand.Text, AskPrinter: askPrinter}
	if deps.Schedule, err = schedule.NewRunner(ledger, time.UTC, p.log(slog.LevelError), clock, sweeps(ledger, quiet)); err != nil {
		t.Fatal(err)
	}
	deps.Live = newHub(ledger, quiet)
	h, err := server.New(deps)
	if err != nil {
		t.Fatal(err)
	}
	srv := httptest.NewServer(h)
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- deps.Live.Run(ctx) }()
	t.Cleanup(func() {
		stop() // lets the open pages go, for which the server would wait
		<-ended
		srv.Close()
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
		if log.String() != "" {
			t.Errorf("the log has errors:\n%s", log.String())
		}
		srv, s = nil, nil // a test keeps its clean-ups for as long as the one it is part of
	})
	y2 := *y
	y2.ledger = ledger
	return &siteFixture{yard: &y2, url: srv.URL, store: s, deps: deps}
}

// runSchedule runs the site's jobs until the test ends: once each, for the clock
// stands still, and when they are asked for.
func (s *siteFixture) runSchedule(t testing.TB) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan struct{})
	go func() {
		defer close(done)
		if err := s.deps.Schedule.Run(ctx); err != nil {
			t.Errorf("Run: %v", err)
		}
	}()
	t.Cleanup(func() { stop(); <-done })
	until(t, "each job has run once", func() bool {
		jobs := must(s.deps.Schedule.Jobs(t.Context()))(t)
		return !slices.ContainsFunc(jobs, func(j inventory.ScheduledJob) bool { return j.Last.EndedAt.IsZero() })
	})
}

// syncBuffer is a buffer that many goroutines may write.
type syncBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (b *syncBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.Write(p)
}

func (b *syncBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.String()
}

// do sends a request and returns status, media type and body.
func (s *siteFixture) do(t testing.TB, method, path, contentType, body string) (int, string, string) {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), method, s.url+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if contentType != "" {
		req.Header.Set("Content-Type", contentType)
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	resp, err := client.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	answer, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, resp.Header.Get("Content-Type"), string(answer)
}

// spoolOf returns a sealed spool of the wire that may be used.
func (s *siteFixture) spoolOf(t testing.TB, tradeName string) inventory.Code {
	t.Helper()
	code, err := s.sealed(s.store.Catalog(t.Context()), tradeName)
	if err != nil {
		t.Fatal(err)
	}
	return code
}

func (s *siteFixture) jobNumbered(t testing.TB, number string) inventory.Job {
	t.Helper()
	for _, j := range s.jobs {
		if j.Number == number {
			return j
		}
	}
	t.Fatalf("no job %s", number)
	return inventory.Job{}
}

func (s *siteFixture) movements(t testing.TB) int {
	t.Helper()
	v, err := s.ledger.Verify(t.Context())
	if err != nil || len(v.Faults) > 0 {
		t.Fatalf("Verify() = %v, %v", v.Faults, err)
	}
	return v.Movements
}

// crossSite posts as a browser does that was sent by another site.
func (s *siteFixture) crossSite(t testing.TB, path string) int {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.url+path, strings.NewReader("x=1"))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Sec-Fetch-Site", "cross-site")
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	return resp.StatusCode
}

// must returns v, or ends the test.
func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
