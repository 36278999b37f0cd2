package labels

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var flated = regexp.MustCompile(`(?s)^\d+ 0 obj\n<</Filter /FlateDecode /Length (\d+)>>\nstream\n(.*)\nendstream\nendobj\n$`)

// TestAPackedPDFHoldsWhatItDid takes a PDF of many labels apart by its table of
// objects, before and after it is packed, and finds the same in both.
func TestAPackedPDFHoldsWhatItDid(t *testing.T) {
	t.Parallel()
	s, err := newSetter()
	if err != nil {
		t.Fatal(err)
	}
	d, err := newDocument(on(UsualSize, 203), s.fonts)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.pages(many(t, 210), on(UsualSize, 203), nil, d.page); err != nil {
		t.Fatal(err)
	}
	var before, after bytes.Buffer
	if err := d.pdf.Output(&before); err != nil {
		t.Fatal(err)
	}
	if err := s.packer.pdf(&after, before.Bytes()); err != nil {
		t.Fatal(err)
	}
	if after.Len() > before.Len()/3 {
		t.Errorf("packed, %d labels are %d bytes of %d, want a third at most", 210, after.Len(), before.Len())
	}
	was, is, packed := objectsOf(t, before.Bytes()), objectsOf(t, after.Bytes()), 0
	if len(was) != len(is) || len(is) < 420 {
		t.Fatalf("packed, there are %d objects, want %d", len(is), len(was))
	}
	for n, object := range is {
		if m := flated.FindSubmatch(object); m != nil && !bytes.Equal(object, was[n]) {
			packed++
			body := inflate(t, m[2])
			if string(m[1]) != fmt.Sprint(len(m[2])) {
				t.Errorf("object %d says %s bytes and has %d", n, m[1], len(m[2]))
			}
			object = fmt.Appendf(nil, "%d 0 obj\n<</Length %d>>\nstream\n%s\nendstream\nendobj\n", n, len(body), body)
		}
		if !bytes.Equal(object, was[n]) {
			t.Fatalf("object %d, unpacked, is\n%.200s\nwant\n%.200s", n, object, was[n])
		}
	}
	if packed < 210 {
		t.Errorf("%d streams are packed, want each of 210 pages", packed)
	}
}

// objectsOf returns the objects of a PDF by their numbers.
func objectsOf(t *testing.T, pdf []byte) map[int][]byte {
	t.Helper()
	offsets, table, _, err := pdfObjects(pdf)
	if err != nil {
		t.Fatal(err)
	}
	out := map[int][]byte{}
	for i, offset := range offsets {
		end := table
		for _, other := range offsets {
			if other > offset {
				end = min(end, other)
			}
		}
		if head := fmt.Sprintf("%d 0 obj\n", i+1); !bytes.HasPrefix(pdf[offset:], []byte(head)) {
			t.Fatalf("the table says that object %d is at %d: there is %.20q", i+1, offset, pdf[offset:])
		}
		out[i+1] = pdf[offset:end]
	}
	return out
}

func inflate(t *testing.T, data []byte) []byte {
	t.Helper()
	r, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	out, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestAPDFOfManyLabelsIsRead has programs not written here read the file.
func TestAPDFOfManyLabelsIsRead(t *testing.T) {
	t.Parallel()
	labels := many(t, 250)
	var b bytes.Buffer
	if err := press().PDF(&b, labels, on(UsualSize, 203), nil); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "many.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Run("its words", func(t *testing.T) {
		tool(t, "pdftotext")
		if said := run(t, "pdftotext", "-f", "250", "-l", "250", file, "-"); !strings.Contains(said, labels[249].Code) {
			t.Errorf("pdftotext reads %q on the last page, want %s", said, labels[249].Code)
		}
	})
	t.Run("its form", func(t *testing.T) {
		tool(t, "qpdf")
		if said := run(t, "qpdf", "--check", file); !strings.Contains(said, "No syntax or stream encoding errors found") {
			t.Errorf("qpdf --check: %s", said)
		}
	})
}

// TestWhatIsNoPDFIsNotPacked cuts a PDF off everywhere and breaks its table.
func TestWhatIsNoPDFIsNotPacked(t *testing.T) {
	t.Parallel()
	const pdf = "%PDF-1.3\n1 0 obj\n<</Length 3>>\nstream\nabc\nendstream\nendobj\nxref\n0 2\n0000000000 65535 f \n0000000009 00000 n \ntrailer\n<<\n>>\nstartxref\n59\n%%EOF\n"
	p := newPacker()
	var b bytes.Buffer
	if err := p.pdf(&b, []byte(pdf)); err != nil || !strings.Contains(b.String(), "/FlateDecode") {
		t.Fatalf("pdf(%q): %v, %q, want its stream packed", pdf, err, b.String())
	}
	if _, table, trailer, _ := pdfObjects(b.Bytes()); !strings.HasPrefix(b.String()[table:], "xref\n0 2\n") || string(trailer) != "trailer\n<<\n>>\n" {
		t.Errorf("packed, the table is at %d and the trailer %q", table, trailer)
	}
	for n := range strings.Index(pdf, "59\n") {
		if err := p.pdf(io.Discard, []byte(pdf[:n])); err == nil {
			t.Errorf("pdf(%q) packs what is cut off", pdf[:n])
		}
	}
	for _, broken := range []string{strings.Replace(pdf, "0000000009", "0000000999", 1), strings.Replace(pdf, "0000000009", "-000000009", 1), strings.Replace(pdf, "0 2\n", "0 99\n", 1),
		strings.Replace(pdf, "startxref\n59", "startxref\n99999", 1), strings.Replace(pdf, "startxref\n59", "startxref\n-59", 1)} {
		if err := p.pdf(io.Discard, []byte(broken)); err == nil {
			t.Errorf("pdf(%q) packs what is broken", broken)
		}
	}
}
