package main

import (
	"bufio"
	"context"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/server"
)

// event is one server-sent event.
type event struct{ name, id, data string }

// boardEvents opens the board's stream and returns its events as they come. The
// channel is closed when the stream ends.
func boardEvents(t *testing.T, url, lastID string) <-chan event {
	t.Helper()
	req := must(http.NewRequestWithContext(t.Context(), http.MethodGet, url+"/board/stream", nil))(t)
	if lastID != "" {
		req.Header.Set("Last-Event-ID", lastID)
	}
	resp := must(http.DefaultClient.Do(req))(t)
	t.Cleanup(func() { resp.Body.Close() })
	if resp.StatusCode != http.StatusOK || !strings.HasPrefix(resp.Header.Get("Content-Type"), "text/event-stream") {
		t.Fatalf("GET /board/stream: status %d, %s", resp.StatusCode, resp.Header.Get("Content-Type"))
	}
	out := make(chan event, 16)
	go func() {
		defer close(out)
		var e event
		lines := bufio.NewScanner(resp.Body)
		lines.Buffer(nil, 1<<20)
		for lines.Scan() {
			switch name, value, _ := strings.Cut(lines.Text(), ": "); name {
			case "event":
				e.name = value
			case "id":
				e.id = value
			case "data":
				e.data += value + "\n"
			case "":
				if e.name != "" {
					out <- e
				}
				e = event{}
			}
		}
	}()
	return out
}

// within waits for an event; the test fails if none comes.
func within(t *testing.T, events <-chan event, what string) event {
	t.Helper()
	select {
	case e, open := <-events:
		if !open {
			t.Fatalf("the stream ended before %s", what)
		}
		return e
	case <-time.After(30 * time.Second):
		t.Fatalf("no event: %s", what)
	}
	return event{}
}

func TestTheBoardIsToldOfEachChange(t *testing.T) {
	t.Parallel()
	path, y := demoCopy(t)
	here, there := siteOn(t, path, y), siteOn(t, path, y) // two replicas on one database
	spool, attendant := here.spoolOf(t, "Amber Kestrel 71M"), here.withRole(inventory.Attendant)[0]

	events := boardEvents(t, here.url, "")
	first := within(t, events, "the board as it stands")
	if first.name != "board" || first.id == "" || !strings.Contains(first.data, "board-table") || strings.Contains(first.data, string(spool)) {
		t.Fatalf("the first event is %q, id %q, %d letters; want the board without %s", first.name, first.id, len(first.data), spool)
	}
	open := inventory.Entry{Spool: spool, Person: attendant.Code, RequestKey: "open"}
	must(there.ledger.Open(t.Context(), open))(t)
	second := within(t, events, "what another replica did")
	if second.id == first.id || !strings.Contains(second.data, string(spool)) {
		t.Errorf("after %s was opened elsewhere: id %q after %q, and the board lacks it", spool, second.id, first.id)
	}
	body := `{"person":"` + string(attendant.Code) + `","request_key":"scrap","reason":"dropped"}`
	if status, _, answer := here.do(t, "POST", "/api/v1/spools/"+string(spool)+"/scrap", "application/json", body); status != http.StatusOK {
		t.Fatalf("scrap: status %d\n%s", status, answer)
	}
	third := within(t, events, "what was done here")
	if strings.Contains(third.data, string(spool)) {
		t.Errorf("%s is scrapped and still on the board", spool)
	}

	// Who comes back with the version that stands is sent nothing; with another, all.
	back := boardEvents(t, here.url, third.id)
	stale := boardEvents(t, here.url, first.id)
	if e := within(t, stale, "the board for who has an old one"); e.name != "board" || e.id != third.id {
		t.Errorf("who has an old board is sent %q, id %q, want the board, id %q", e.name, e.id, third.id)
	}
	open = inventory.Entry{Spool: here.spoolOf(t, "Amber Kestrel 71M"), Person: attendant.Code, RequestKey: "open another"}
	must(here.ledger.Open(t.Context(), open))(t)
	if e := within(t, back, "the next change"); e.id == third.id {
		t.Errorf("who had the board that stands was sent it again")
	}
}

func TestNothingIsWrittenByLookingAtTheBoard(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	before := must(site.ledger.BoardVersion(t.Context()))(t)
	for range 3 {
		if status, _, _ := site.do(t, "GET", "/board", "", ""); status != http.StatusOK {
			t.Fatalf("GET /board: status %d", status)
		}
	}
	if after := must(site.ledger.BoardVersion(t.Context()))(t); after != before {
		t.Errorf("the board's version was %s and is %s", before, after)
	}
}

// TestOpenPagesDoNotHoldTheProgramUp stops a server that has streams open, for
// which it would wait ten seconds.
func TestOpenPagesDoNotHoldTheProgramUp(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	deps := site.deps
	deps.Live = newHub(site.ledger, quiet)
	h := must(server.New(deps))(t)
	l := must(new(net.ListenConfig).Listen(t.Context(), "tcp", "127.0.0.1:0"))(t)
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 2)
	go func() { done <- server.Serve(ctx, l, h) }()
	go func() { done <- deps.Live.Run(ctx) }()
	var open []<-chan event
	for range 5 {
		open = append(open, boardEvents(t, "http://"+l.Addr().String(), ""))
	}
	for _, events := range open {
		within(t, events, "the board")
	}
	started := time.Now()
	stop()
	for range 2 {
		if err := <-done; err != nil {
			t.Errorf("stop: %v", err)
		}
	}
	if took := time.Since(started); took > 5*time.Second {
		t.Errorf("stopping took %s with five pages open", took)
	}
	for _, events := range open {
		if _, more := <-events; more {
			t.Error("a stream goes on after the end")
		}
	}
}

// TestTooManyOpenPagesAreRefused takes every stream there is.
func TestTooManyOpenPagesAreRefused(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	for {
		_, stop, err := site.deps.Live.Listen()
		if err != nil {
			break
		}
		t.Cleanup(stop)
	}
	status, _, body := site.do(t, "GET", "/board/stream", "", "")
	if status != http.StatusServiceUnavailable || !strings.Contains(body, "too many pages are kept live") {
		t.Errorf("GET /board/stream with none left: status %d\n%s", status, body)
	}
	if status, _, _ := site.do(t, "GET", "/board", "", ""); status != http.StatusOK {
		t.Errorf("GET /board with no stream left: status %d, want 200", status)
	}
}
