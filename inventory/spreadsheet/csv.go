package spreadsheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"strings"

	"wirehold/inventory"
)

// byteOrderMark is what some programs put before text in UTF-8.
const byteOrderMark = "\xef\xbb\xbf"

// separators are what CSV may be separated by, in the order of preference.
var separators = [...]struct {
	sign rune
	name string
}{{',', "commas"}, {';', "semicolons"}, {'\t', "tabs"}}

// readCSV reads CSV in UTF-8 whose separator the header line tells. One row
// more than may be imported is read, so that the plan can say so.
func readCSV(content []byte, most int) ([]inventory.ImportRow, string, error) {
	content = bytes.TrimPrefix(content, []byte(byteOrderMark))
	sign, name := separator(content)
	r := csv.NewReader(bytes.NewReader(content))
	r.Comma, r.FieldsPerRecord, r.ReuseRecord = sign, -1, true
	var rows []inventory.ImportRow
	for len(rows) <= most+1 {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		row, whole := csvRow(r, record, err)
		rows = append(rows, row)
		if !whole {
			break
		}
	}
	return rows, "CSV, separated by " + name, nil
}

// csvRow makes a row of a record. whole is false where a quotation mark that
// is not closed took in all that follows.
func csvRow(r *csv.Reader, record []string, err error) (row inventory.ImportRow, whole bool) {
	if err != nil {
		bad, ok := errors.AsType[*csv.ParseError](err)
		if !ok {
			return inventory.ImportRow{Line: 1, Fault: "it cannot be read: " + err.Error()}, false
		}
		row.Line = bad.StartLine
		if errors.Is(err, csv.ErrBareQuote) {
			row.Fault = `a quotation mark stands in a text that has none around it: write in for inch, or put the text in quotation marks and double the one inside: "5/64"""`
			return row, true
		}
		row.Fault = `a quotation mark is opened and not closed as it should be: a text in quotation marks ends with one, and one inside it is doubled; what follows was not read`
		return row, false
	}
	row.Line, _ = r.FieldPos(0)
	for _, text := range record {
		row.Cells = append(row.Cells, inventory.ImportCell{Text: text})
	}
	return row, true
}

// separator tells what separates the cells: the sign that stands most often in
// the first line that is not blank, outside quotation marks.
func separator(content []byte) (rune, string) {
	header, _, _ := bytes.Cut(bytes.TrimLeft(content, "\r\n \t"), []byte("\n"))
	counts, quoted := [len(separators)]int{}, false
	for _, c := range string(header) {
		if c == '"' {
			quoted = !quoted
		}
		for i, s := range separators {
			if c == s.sign && !quoted {
				counts[i]++
			}
		}
	}
	best := 0
	for i := range counts {
		if counts[i] > counts[best] {
			best = i
		}
	}
	return separators[best].sign, separators[best].name
}

// WriteCSV writes a table as CSV in UTF-8 with a byte order mark, which
// spreadsheets need to know it by, and lines that end as RFC 4180 has it.
func WriteCSV(rows [][]string) ([]byte, error) {
	var b strings.Builder
	b.WriteString(byteOrderMark)
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return []byte(b.String()), nil
}
