package ipp_test

import (
	"bytes"
	"net/http"
	"slices"
	"testing"
	"time"

	"wirehold/server/notify/ipp"
	"wirehold/server/notify/ipp/ipptest"
)

// TestPrintOnARealServer prints on ippeveprinter of Debian's cups-ipp-utils and
// finds the document that it kept.
func TestPrintOnARealServer(t *testing.T) {
	ipptest.Run(t, func(t *testing.T, server ipptest.Server) {
		p, err := ipp.New(server.URL, "store", &http.Client{Timeout: 10 * time.Second})
		if err != nil {
			t.Fatal(err)
		}
		d, err := p.Describe(t.Context())
		if err != nil || d.Name != "Label" || !d.Accepting || !slices.Contains(d.Formats, "application/pdf") {
			t.Errorf("Describe = %+v, %v; want the printer Label that accepts PDF", d, err)
		}
		document := []byte("%PDF-1.4\n% a document that nobody looks into\n%%EOF\n")
		id, err := p.Print(t.Context(), ipp.Document{Name: "labels of lot 7F31", Format: "application/pdf", Data: document})
		if err != nil {
			t.Fatal(err)
		}
		if job := over(t, p, id); job.State != ipp.Completed || job.Name != "labels of lot 7F31" {
			t.Errorf("Job(%d) = %+v, want it completed", id, job)
		}
		if waiting, err := p.Jobs(t.Context(), 10); err != nil || len(waiting) != 0 {
			t.Errorf("Jobs = %+v, %v; want none waiting", waiting, err)
		}
		if got := server.Documents(t, ".pdf"); len(got) != 1 || !bytes.Equal(got[0], document) {
			t.Errorf("the printer kept %q, want %q", got, document)
		}
		_, err = p.Print(t.Context(), ipp.Document{Name: "a text", Format: "text/plain", Data: []byte("text")})
		if !ipp.IsPermanent(err) {
			t.Errorf("Print of plain text: %v, want a refusal for good", err)
		}
		if _, err := p.Job(t.Context(), 9999); !ipp.IsPermanent(err) {
			t.Errorf("Job that never was: %v, want a refusal", err)
		}
	})
}

// over waits until the printer is done with the job.
func over(t *testing.T, p *ipp.Printer, id int) ipp.Job {
	t.Helper()
	for range 100 {
		job, err := p.Job(t.Context(), id)
		if err != nil {
			t.Fatal(err)
		}
		if job.State.Over() {
			return job
		}
		time.Sleep(100 * time.Millisecond) // a real printer takes its time
	}
	t.Fatalf("job %d was not over after 10 s", id)
	return ipp.Job{}
}
