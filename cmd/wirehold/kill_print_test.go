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
// only so many times.
type deafPrinter struct {
	mu      sync.Mutex
	answers int           // how often it still does
	got     chan struct{} // one for each document that came whole and has no answer
	printed [][]byte      // what it answered for
}

func (p *deafPrinter) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil || len(body) < 8 {
		http.Error(w, "no IPP", http.StatusBadRequest)
		return
	}
	p.mu.Lock()
	hears := p.answers > 0
	if hears {
		p.answers--
		p.printed = append(p.printed, body)
	}
	p.mu.Unlock()
	if !hears {
		p.got <- struct{}{}
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
// the same database prints what is left of them.
func TestAProgramThatIsKilledLosesNoPrintJob(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, format, begins string
		before               int // documents that the printer answered for before the kill
		after                int // and after it
	}{{"one document", "pdf", "%PDF-", 0, 1}, {"a document a label, half way", "png", "\x89PNG", 2, 2}} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			printer := &deafPrinter{got: make(chan struct{}, 10), answers: tt.before}
			outside := httptest.NewServer(printer)
			t.Cleanup(outside.Close)
			path, y := demoCopy(t)
			s, ledger, err := openAt(&program{ctx: t.Context(), now: clock}, path, quiet, clock)
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { s.Close() })
			on := must(ledger.EnterPrinter(t.Context(), inventory.PrinterEntry{Edit: inventory.Edit{Person: y.withRole(inventory.Engineer)[0].Code, RequestKey: "printer"},
				Of: inventory.Printer{Name: "Desk", Address: "ipp" + outside.URL[len("http"):], DPI: 203, Size: "100x75", Format: tt.format}}))(t)
			var of []string
			for _, j := range y.jobs[:4] {
				of = append(of, string(j.Code))
			}
			queued := must(ledger.Print(t.Context(), inventory.PrintOrder{Person: y.withRole(inventory.Attendant)[0].Code, RequestKey: "labels", PrinterID: on.ID, Kind: "job", Of: of}))(t)
			job := func() inventory.PrintJob { return must(ledger.PrintJobs(t.Context()))(t)[0] }

			first := serving(t, 0, "--db", path)
			select {
			case <-printer.got:
			case <-time.After(time.Minute):
				t.Fatal("no document came to the printer")
			}
			kill(t, first)
			if j := job(); j.ID != queued.ID || j.State() != inventory.MessageWaiting || j.Taken != tt.before {
				t.Fatalf("after the kill job %d is %s, %d labels taken; want job %d waiting, %d taken", j.ID, j.State(), j.Taken, queued.ID, tt.before)
			}
			printer.mu.Lock()
			printer.answers = 10
			printer.mu.Unlock()
			second := serving(t, 3*time.Minute, "--db", path) // what was lent to the first is lent no more
			until(t, "the labels are sent", func() bool { return !job().SentAt.IsZero() })
			kill(t, second)
			printer.mu.Lock()
			defer printer.mu.Unlock()
			if j := job(); j.Remote != 7 || j.Taken != 4 || len(printer.printed) != tt.before+tt.after {
				t.Errorf("job %+v after %d documents, want it sent as the printer's 7, four labels in %d", j, len(printer.printed), tt.before+tt.after)
			}
			seen := map[string]bool{}
			for _, document := range printer.printed {
				at := bytes.Index(document, []byte(tt.begins))
				if at < 0 || seen[string(document[at:])] {
					t.Errorf("a document of %d bytes is no %s, or was printed twice", len(document), tt.format)
					continue
				}
				seen[string(document[at:])] = true
			}
		})
	}
}
