package labels

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
)

// pdfStream is the head of a stream that is not compressed, as fpdf writes it.
var pdfStream = regexp.MustCompile(`^\d+ 0 obj\n<</Length (\d+)>>\nstream\n`)

const (
	pdfStart = "startxref\n"
	pdfEnd   = "\nendstream\nendobj\n"
	pdfEntry = "%010d 00000 n \n" // of the cross-reference table: 20 bytes
)

// pdf writes a PDF that fpdf made, its streams compressed (ISO 32000-1, 7.4.4)
// and the cross-reference table (7.5.4) made anew. fpdf can compress too, but
// makes a compressor for each page, which takes longer than drawing it; the
// packer keeps its one.
func (p *packer) pdf(w io.Writer, whole []byte) error {
	offsets, table, trailer, err := pdfObjects(whole)
	if err != nil {
		return fmt.Errorf("pack PDF: %w", err)
	}
	order := make([]int, len(offsets))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return offsets[a] - offsets[b] })
	out, at, moved := bufio.NewWriterSize(w, 64<<10), offsets[order[0]], make([]int, len(offsets))
	out.Write(whole[:at]) // a writer keeps its first error
	for i, n := range order {
		end := table
		if i+1 < len(order) {
			end = offsets[order[i+1]]
		}
		moved[n] = at
		for _, part := range p.pdfObject(whole[offsets[n]:end]) {
			out.Write(part)
			at += len(part)
		}
	}
	fmt.Fprintf(out, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, offset := range moved {
		fmt.Fprintf(out, pdfEntry, offset)
	}
	fmt.Fprintf(out, "%s%s%d\n%%%%EOF\n", trailer, pdfStart, at)
	if err := out.Flush(); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}

// pdfObjects reads where each object begins, from the first on, where the
// cross-reference table begins, and the trailer behind it.
func pdfObjects(whole []byte) (offsets []int, table int, trailer []byte, err error) {
	end := bytes.LastIndex(whole, []byte(pdfStart))
	if end < 0 {
		return nil, 0, nil, io.ErrUnexpectedEOF
	}
	entries := 0
	if _, err = fmt.Sscanf(string(whole[end:]), pdfStart+"%d", &table); err == nil && table > 0 && table < end {
		_, err = fmt.Sscanf(string(whole[table:min(table+40, end)]), "xref\n0 %d", &entries)
	}
	head := len("xref\n0 \n") + len(strconv.Itoa(entries))
	size := len(fmt.Sprintf(pdfEntry, 0))
	if err != nil || entries < 2 || table+head+entries*size > end {
		return nil, 0, nil, fmt.Errorf("no table of objects: %w", err)
	}
	for n := 1; n < entries; n++ {
		offset, err := strconv.Atoi(string(whole[table+head+n*size:][:10]))
		if err != nil || offset <= 0 || offset >= table {
			return nil, 0, nil, fmt.Errorf("object %d is at %d: %w", n, offset, err)
		}
		offsets = append(offsets, offset)
	}
	return offsets, table, whole[table+head+entries*size : end], nil
}

// pdfObject returns the parts of an object, its stream compressed if it is not
// and has one. They are good until the next call.
func (p *packer) pdfObject(object []byte) [][]byte {
	m := pdfStream.FindSubmatchIndex(object)
	if m == nil || !bytes.HasSuffix(object, []byte(pdfEnd)) {
		return [][]byte{object}
	}
	stream := object[m[1] : len(object)-len(pdfEnd)]
	if string(object[m[2]:m[3]]) != strconv.Itoa(len(stream)) {
		return [][]byte{object}
	}
	p.out = p.out[:0]
	p.zlib.Reset(&p.out)
	p.zlib.Write(stream) // into memory: it cannot fail
	p.zlib.Close()
	name, _, _ := bytes.Cut(object, []byte("<"))
	head := fmt.Appendf(nil, "%s<</Filter /FlateDecode /Length %d>>\nstream\n", name, len(p.out))
	return [][]byte{head, p.out, []byte(pdfEnd)}
}
