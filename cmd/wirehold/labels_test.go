package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestLabelsCommandReadsCodes(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		codes []string
		in    string
		want  string
		fails string
	}{
		{"codes as arguments", []string{"A", "B"}, "", "A B", ""},
		{"lines of standard input", []string{"-"}, "A\n\n  B \r\n", "A B", ""},
		{"both, in order", []string{"A", "-", "C"}, "B\n", "A B C", ""},
		{"nothing", nil, "", "", "nothing to label"},
		{"an empty input", []string{"-"}, "\n", "", "nothing to label"},
		{"more than one run draws", []string{"-"}, strings.Repeat("A\n", mostLabels+1), "", "several runs"},
	}
	for _, tt := range tests {
		got, err := (&labelsCommand{Codes: tt.codes}).codes(strings.NewReader(tt.in))
		if tt.fails != "" {
			if err == nil || !strings.Contains(err.Error(), tt.fails) {
				t.Errorf("%s: error %v, want %q in it", tt.name, err, tt.fails)
			}
			continue
		}
		if joined := strings.Join(got, " "); err != nil || joined != tt.want {
			t.Errorf("%s: codes(%q) = %q, %v, want %q", tt.name, tt.in, joined, err, tt.want)
		}
	}
}

func TestLongRunsSayHowFarTheyAre(t *testing.T) {
	t.Parallel()
	at := time.Unix(0, 0)
	var said bytes.Buffer
	done := progress(&said, 10, func() time.Time { return at })
	for i := 1; i <= 10; i++ {
		at = at.Add(700 * time.Millisecond)
		done(i)
	}
	if want := "\r3 of 10 labels\r6 of 10 labels\r9 of 10 labels\r10 of 10 labels\n"; said.String() != want {
		t.Errorf("seven seconds say %q, want %q", said.String(), want)
	}
	said.Reset()
	progress(&said, 1, func() time.Time { return at })(1)
	if said.Len() > 0 {
		t.Errorf("a short run says %q, want nothing", said.String())
	}
}

func TestAFileIsWholeOrNotThere(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "labels.pdf")
	if err := os.WriteFile(out, []byte("before"), 0o600); err != nil {
		t.Fatal(err)
	}
	c := &labelsCommand{Out: out}
	if err := c.write(nil, func(w io.Writer) error {
		w.Write([]byte("half"))
		return os.ErrInvalid
	}); err == nil {
		t.Error("a drawing that fails: no error")
	}
	got, err := os.ReadFile(out)
	if entries, _ := os.ReadDir(filepath.Dir(out)); err != nil || string(got) != "before" || len(entries) != 1 {
		t.Errorf("after a drawing that fails the file holds %q and %d files are there, want what was there before alone", got, len(entries))
	}
}
