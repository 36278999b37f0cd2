package main

import (
	"bytes"
	"encoding/binary"
	"io"
	"net/http"
	"net/http/httptest"
	"sync"
	"testing"
	"time"

	"wirehold/inventory"
)

// deafPrinter is outside: it takes documents whole, and answers that it has them
// only from when it is told to.
type deafPrinter struct {
	mu      sync.Mutex
	hears   bool
	got     chan struct{} // one for each document that came whole
	printed [][]byte      // what it answered for
}

func (p *deafPrinter) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil || len(body) < 8 {
		http.Error(w, "no IPP", http.StatusBadRequest)
		return
	}
	p.mu.Lock()
	hears := p.hears
	if hears {
		p.printed = append(p.printed, body)
	}
	p.mu.Unlock()
	p.got <- struct{}{}
	if !hears {
		<-r.Context().Done() // until the program is gone
		return
	}
	// Version 2.0, successful-ok, the request's id, a job with the number 7 (RFC 8010).
	answer := binary.BigEndian.AppendUint32([]byte{2, 0, 0, 0}, binary.BigEndian.Uint32(body[4:]))
	answer = append(answer, "\x01\x47\x00\x12attributes-charset\x00\x05utf-8\x02\x21\x00\x06job-id\x00\x04\x00\x00\x00\x07\x03"...)
	w.Header().Set("Content-Type", "application/ipp")
	w.Write(answer)
}

// TestAProgramThatIsKilledLosesNoPrintJob kills a real process after labels were
// queued, and while the printer has them in hand and has not said so; another on
// the same database prints them.
func TestAProgramThatIsKilledLosesNoPrintJob(t *testing.T) {
	t.Parallel()
	printer := &deafPrinter{got: make(chan struct{}, 10)}
	outside := httptest.NewServer(printer)
	t.Cleanup(outside.Close)
	path, y := demoCopy(t)
	s, ledger, err := openAt(&program{ctx: t.Context(), now: clock}, path, quiet, clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	on := must(ledger.EnterPrinter(t.Context(), inventory.PrinterEntry{Edit: inventory.Edit{Person: y.withRole(inventory.Engineer)[0].Code, RequestKey: "printer"},
		Of: inventory.Printer{Name: "Desk", Address: "ipp" + outside.URL[len("http"):], DPI: 203, Size: "100x75", Format: "pdf"}}))(t)
	queued := must(ledger.Print(t.Context(), inventory.PrintOrder{Person: y.withRole(inventory.Attendant)[0].Code, RequestKey: "labels", PrinterID: on.ID, Kind: "job", Of: []string{string(y.jobs[0].Code)}}))(t)
	job := func() inventory.PrintJob { return must(ledger.PrintJobs(t.Context()))(t)[0] }

	first := serving(t, 0, "--db", path)
	select {
	case <-printer.got:
	case <-time.After(time.Minute):
		t.Fatal("no document came to the printer")
	}
	kill(t, first)
	if j := job(); j.ID != queued.ID || j.State() != inventory.MessageWaiting {
		t.Fatalf("after the kill job %d is %s, want job %d waiting", j.ID, j.State(), queued.ID)
	}
	printer.mu.Lock()
	printer.hears = true
	printer.mu.Unlock()
	second := serving(t, 3*time.Minute, "--db", path) // what was lent to the first is lent no more
	until(t, "the labels are sent", func() bool { return !job().SentAt.IsZero() })
	kill(t, second)
	printer.mu.Lock()
	defer printer.mu.Unlock()
	if j := job(); j.Remote != 7 || j.Tries != 2 || len(printer.printed) != 1 || !bytes.Contains(printer.printed[0], []byte("%PDF-")) {
		t.Errorf("job %+v after %d documents, want it sent at its second try as the printer's 7, one PDF", j, len(printer.printed))
	}
}
