package ipp

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"
)

// example is the print-job request of RFC 8010 appendix A.1 (from memory),
// without its document; the version is 2.0 here.
func example() message {
	own := group{tag: operationGroup}
	own.add("attributes-charset", text(charsetValue, "utf-8"))
	own.add("attributes-natural-language", text(languageValue, "en-us"))
	own.add("printer-uri", text(uriValue, "ipp://printer.example.com/ipp/print/pinetree"))
	own.add("job-name", text(nameValue, "foobar"))
	job := group{tag: jobGroup}
	job.add("copies", number(integerValue, 20))
	job.add("sides", text(keywordValue, "two-sided-long-edge"))
	return message{code: uint16(printJob), id: 1, groups: []group{own, job}}
}

func TestEncodeAsTheStandardsExample(t *testing.T) {
	t.Parallel()
	want := "\x02\x00\x00\x02\x00\x00\x00\x01" +
		"\x01" +
		"\x47\x00\x12attributes-charset\x00\x05utf-8" +
		"\x48\x00\x1battributes-natural-language\x00\x05en-us" +
		"\x45\x00\x0bprinter-uri\x00\x2cipp://printer.example.com/ipp/print/pinetree" +
		"\x42\x00\x08job-name\x00\x06foobar" +
		"\x02" +
		"\x21\x00\x06copies\x00\x04\x00\x00\x00\x14" +
		"\x44\x00\x05sides\x00\x13two-sided-long-edge" +
		"\x03"
	if got := string(example().encode()); got != want {
		t.Errorf("encode() = %q\nwant       %q", got, want)
	}
}

func TestDecodeRefuses(t *testing.T) {
	t.Parallel()
	head := "\x02\x00\x00\x00\x00\x00\x00\x01"
	tests := []struct{ name, in string }{
		{"nothing", ""},
		{"a head cut short", "\x02\x00\x00"},
		{"version 3", "\x03\x00\x00\x00\x00\x00\x00\x01\x03"},
		{"no end", head + "\x01"},
		{"a name cut short", head + "\x01\x47\x00\x12attr"},
		{"a value cut short", head + "\x01\x47\x00\x01a\x00\x09utf"},
		{"an attribute before any group", head + "\x47\x00\x01a\x00\x01b\x03"},
		{"a further value before any attribute", head + "\x01\x47\x00\x00\x00\x01b\x03"},
		{"a web page", "<!DOCTYPE html><html></html>"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if got, err := decode(strings.NewReader(tt.in)); !errors.Is(err, errAnswer) {
				t.Errorf("decode(%q) = %+v, %v; want an error of form", tt.in, got, err)
			}
		})
	}
}

func TestCollectionsAreSkipped(t *testing.T) {
	t.Parallel()
	in := "\x02\x00\x00\x00\x00\x00\x00\x01\x04" +
		"\x34\x00\x0amedia-size\x00\x00" + // begins
		"\x4a\x00\x00\x00\x0bx-dimension" + "\x21\x00\x00\x00\x04\x00\x00\x27\x10" +
		"\x4a\x00\x00\x00\x05inner" + "\x34\x00\x00\x00\x00" + "\x37\x00\x00\x00\x00" +
		"\x37\x00\x00\x00\x00" + // ends
		"\x42\x00\x0cprinter-name\x00\x05Label" + "\x03"
	got, err := decode(strings.NewReader(in))
	if err != nil {
		t.Fatal(err)
	}
	if name := got.groups[0].text("printer-name"); name != "Label" || len(got.groups[0].attributes) != 2 {
		t.Errorf("decode: printer-name %q among %d attributes, want Label among 2", name, len(got.groups[0].attributes))
	}
}

// FuzzDecode holds that what is read can be written and read again.
func FuzzDecode(f *testing.F) {
	f.Add(example().encode())
	f.Add([]byte("\x02\x00\x00\x00\x00\x00\x00\x01\x04\x34\x00\x01a\x00\x00\x37\x00\x00\x00\x00\x03"))
	f.Fuzz(func(t *testing.T, in []byte) {
		m, err := decode(bytes.NewReader(in))
		if err != nil || slices.ContainsFunc(m.groups, func(g group) bool {
			return slices.ContainsFunc(g.attributes, func(a attribute) bool {
				return slices.ContainsFunc(a.values, func(v value) bool { return v.tag == beginCollection })
			})
		}) {
			return // a collection is not written again whole
		}
		again, err := decode(bytes.NewReader(m.encode()))
		if err != nil || !bytes.Equal(again.encode(), m.encode()) {
			t.Errorf("decode(%q) = %+v, again %+v, %v", in, m, again, err)
		}
	})
}

func TestNewReadsAddresses(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, address, uri, posted string
		refused                    bool
	}{
		{"the protocol's own port", "ipp://label.example/ipp/print", "ipp://label.example/ipp/print", "http://label.example:631/ipp/print", false},
		{"secure", "ipps://label.example/ipp/print", "ipps://label.example/ipp/print", "https://label.example:631/ipp/print", false},
		{"another port", "ipp://label.example:8631/ipp/print", "ipp://label.example:8631/ipp/print", "http://label.example:8631/ipp/print", false},
		{"as a web address", "http://label.example:631/ipp/print", "ipp://label.example:631/ipp/print", "http://label.example:631/ipp/print", false},
		{"a file", "file:///etc/passwd", "", "", true},
		{"a name alone", "label", "", "", true},
		{"with a password", "ipp://a:b@label.example/", "", "", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p, err := New(tt.address, "store", http.DefaultClient)
			if tt.refused {
				if err == nil {
					t.Errorf("New(%q) = %+v, want an error", tt.address, p)
				}
				return
			}
			if err != nil || p.uri != tt.uri || p.http != tt.posted {
				t.Errorf("New(%q) = %+v, %v; want %s posted to %s", tt.address, p, err, tt.uri, tt.posted)
			}
		})
	}
}

// answering is a printer that answers each request with one message.
func answering(t *testing.T, answer func(asked message, document []byte) (int, message)) *Printer {
	t.Helper()
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		whole, err := io.ReadAll(r.Body)
		if err != nil {
			t.Error(err)
		}
		asked, err := decode(bytes.NewReader(whole))
		if err != nil {
			t.Error(err)
		}
		status, m := answer(asked, whole[len(asked.encode()):])
		w.WriteHeader(status)
		_, _ = w.Write(m.encode())
	}))
	t.Cleanup(s.Close)
	p, err := New(s.URL+"/ipp/print", "store", s.Client())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPrintSaysWhatWentWrong(t *testing.T) {
	t.Parallel()
	with := func(code uint16) func(message, []byte) (int, message) {
		return func(asked message, _ []byte) (int, message) {
			return http.StatusOK, message{code: code, id: asked.id, groups: []group{{tag: operationGroup}}}
		}
	}
	tests := []struct {
		name      string
		answer    func(message, []byte) (int, message)
		says      string
		permanent bool
	}{
		{"a format it does not print", with(0x040a), "this kind of document", true},
		{"busy", with(0x0507), "busy", false},
		{"a status that is not known here", with(0x05ff), "0x05ff", false},
		{"no number of the job", with(0x0000), "no number", false},
		{"a web server", func(asked message, _ []byte) (int, message) { return http.StatusNotFound, message{} }, "404", false},
		{"another request's answer", func(asked message, _ []byte) (int, message) { return http.StatusOK, message{id: asked.id + 1} }, "answers request", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := answering(t, tt.answer).Print(t.Context(), Document{Name: "labels", Format: "application/pdf"})
			if err == nil || !strings.Contains(err.Error(), tt.says) || IsPermanent(err) != tt.permanent {
				t.Errorf("Print: %v, permanent %t; want an error that says %q, permanent %t", err, IsPermanent(err), tt.says, tt.permanent)
			}
		})
	}
}

func TestPrintSendsTheDocumentAfterItsAttributes(t *testing.T) {
	t.Parallel()
	var asked message
	var got []byte
	p := answering(t, func(m message, document []byte) (int, message) {
		asked, got = m, document
		job := group{tag: jobGroup}
		job.add("job-id", number(integerValue, 7))
		return http.StatusOK, message{id: m.id, groups: []group{{tag: operationGroup}, job}}
	})
	id, err := p.Print(t.Context(), Document{Name: "labels of lot 7F31", Format: "image/png", Copies: 2, Media: "om_label_100x75mm", Data: []byte("\x89PNG…")})
	if err != nil || id != 7 || string(got) != "\x89PNG…" {
		t.Fatalf("Print = job %d, %v with document %q", id, err, got)
	}
	if n, ok := asked.groups[1].number("copies"); !ok || n != 2 || asked.groups[1].text("media") != "om_label_100x75mm" || asked.operation().text("job-name") != "labels of lot 7F31" {
		t.Errorf("Print asked %+v, want 2 copies on om_label_100x75mm under its name", asked)
	}
}

func TestAPrinterThatDoesNotAnswerIsGivenUp(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	p := answering(t, func(m message, _ []byte) (int, message) { cancel(); return http.StatusOK, message{id: m.id} })
	ctx2, cancel2 := context.WithTimeout(ctx, 5*time.Second)
	defer cancel2()
	cancel()
	if _, err := p.Describe(ctx2); !errors.Is(err, context.Canceled) {
		t.Errorf("Describe after it was cancelled: %v, want cancelled", err)
	}
}
