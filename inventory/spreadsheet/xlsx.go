package spreadsheet

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"wirehold/inventory"
)

// readXLSX reads the first sheet of a workbook that is not hidden. Of a
// formula the value that was saved with it is read; nothing is computed.
//
// The library is handed files that anybody may have made up: what unpacks to
// too much is refused before it, and should it panic on a broken one, that is
// an unreadable file and no more.
func readXLSX(content []byte, most int) (rows []inventory.ImportRow, format string, err error) {
	defer func() {
		if recover() != nil {
			rows, format, err = nil, "", notReadable()
		}
	}()
	if err := checkArchive(content); err != nil {
		return nil, "", err
	}
	book, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked, RawCellValue: true})
	if err != nil {
		return nil, "", notReadable()
	}
	defer book.Close() // it was read from memory: there is nothing to lose
	sheet, format, err := firstSheet(book)
	if err != nil {
		return nil, "", err
	}
	s := sheetReader{book: book, sheet: sheet, most: most, formats: map[int]numberFormat{}}
	if rows, err = s.rows(); err != nil {
		return nil, "", err
	}
	for i := range rows {
		for j := range rows[i].Cells {
			if err := s.settle(&rows[i].Cells[j], rows[i].Line, j+1); err != nil {
				return nil, "", notReadable()
			}
		}
	}
	return rows, format, nil
}

func notReadable() error {
	return inventory.Invalidf("file", "the file is no XLSX workbook that can be read: open it, save it again as .xlsx, or save the table as CSV")
}

func firstSheet(book *excelize.File) (sheet, format string, err error) {
	var visible []string
	for _, name := range book.GetSheetList() {
		if shown, err := book.GetSheetVisible(name); err == nil && shown {
			visible = append(visible, name)
		}
	}
	switch len(visible) {
	case 0:
		return "", "", inventory.Invalidf("file", "the workbook has no sheet that is not hidden")
	case 1:
		return visible[0], fmt.Sprintf("XLSX, sheet %q", visible[0]), nil
	}
	return visible[0], fmt.Sprintf("XLSX, sheet %q, the first of %d", visible[0], len(visible)), nil
}

// mostColumns is how many columns of a sheet are read (practice: a list of
// wires with every fact has about 40).
const mostColumns = 200

// sheetReader reads one sheet.
type sheetReader struct {
	book    *excelize.File
	sheet   string
	most    int                  // rows below the header
	formats map[int]numberFormat // by style
}

// rows reads what stands in the cells, one row more than may be imported.
func (s *sheetReader) rows() ([]inventory.ImportRow, error) {
	iterator, err := s.book.Rows(s.sheet)
	if err != nil {
		return nil, notReadable()
	}
	defer iterator.Close() // nothing was unpacked to a file
	var out []inventory.ImportRow
	for line := 1; iterator.Next() && len(out) <= s.most+1; line++ {
		texts, err := iterator.Columns()
		if err != nil {
			return nil, notReadable()
		}
		if len(texts) == 0 {
			continue
		}
		if len(texts) > mostColumns {
			out = append(out, inventory.ImportRow{Line: line, Fault: fmt.Sprintf("the row reaches beyond column %d: leave out what says nothing of the wire", mostColumns)})
			continue
		}
		row := inventory.ImportRow{Line: line, Cells: make([]inventory.ImportCell, len(texts))}
		for i, text := range texts {
			row.Cells[i].Text = text
		}
		out = append(out, row)
	}
	if iterator.Error() != nil {
		return nil, notReadable()
	}
	return out, nil
}

// settle makes of a cell's raw value what a person sees in it, or its fault.
func (s *sheetReader) settle(cell *inventory.ImportCell, line, column int) error {
	name, err := excelize.CoordinatesToCellName(column, line)
	if err != nil {
		return err
	}
	if cell.Text == "" {
		return s.settleEmpty(cell, name)
	}
	kind, err := s.book.GetCellType(s.sheet, name)
	if err != nil {
		return err
	}
	switch kind {
	case excelize.CellTypeError:
		cell.Fault = "the formula gives " + cell.Text + ": mend it, or type the value"
	case excelize.CellTypeDate:
		cell.Fault = dateFault
	case excelize.CellTypeBool:
		cell.Text = map[bool]string{true: "TRUE", false: "FALSE"}[cell.Text == "1" || cell.Text == "TRUE"]
	case excelize.CellTypeUnset, excelize.CellTypeNumber:
		return s.settleNumber(cell, name)
	}
	return nil
}

// settleEmpty finds formulas that were saved without their value.
func (s *sheetReader) settleEmpty(cell *inventory.ImportCell, name string) error {
	formula, err := s.book.GetCellFormula(s.sheet, name)
	if err != nil || formula == "" {
		return err
	}
	kind, err := s.book.GetCellType(s.sheet, name)
	if err == nil && (kind == excelize.CellTypeUnset || kind == excelize.CellTypeNumber) {
		cell.Text, cell.Fault = "="+formula, "the formula was saved without its value: open the file in a spreadsheet and save it again, or type the value"
	}
	return err
}

const dateFault = "the spreadsheet has made a date of it: format the cell as text and type it again"

// settleNumber writes a number as it was typed: without the noise of binary
// fractions, with the percent sign or unit that its format shows.
func (s *sheetReader) settleNumber(cell *inventory.ImportCell, name string) error {
	n, err := strconv.ParseFloat(cell.Text, 64)
	if err != nil {
		return nil // no number: left as it is
	}
	style, err := s.book.GetCellStyle(s.sheet, name)
	if err != nil {
		return err
	}
	format, ok := s.formats[style]
	if !ok {
		format = s.numberFormat(style)
		s.formats[style] = format
	}
	switch {
	case format.date:
		cell.Fault = dateFault
	case format.percent:
		cell.Text = shortest(n*100) + " %"
	default:
		cell.Text = shortest(n) + format.suffix
	}
	return nil
}

// shortest writes n with the 15 digits that a spreadsheet keeps, and no
// exponent.
func shortest(n float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(n, 'g', 15, 64), 64)
	if err != nil {
		rounded = n
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// numberFormat is what a cell's format makes of its number.
type numberFormat struct {
	date, percent bool
	suffix        string // a unit that the format shows: " kg"
}

func (s *sheetReader) numberFormat(style int) numberFormat {
	st, err := s.book.GetStyle(style)
	if err != nil {
		return numberFormat{} // no such style: the number as it is
	}
	if st.CustomNumFmt != nil {
		return customFormat(*st.CustomNumFmt)
	}
	id := st.NumFmt
	// Built-in formats by ECMA-376 Part 1, 18.8.30: 9 and 10 are percentages;
	// 14 to 22 and 45 to 47 dates and times everywhere, 27 to 36 and 50 to 58
	// in some languages.
	return numberFormat{percent: id == 9 || id == 10,
		date: id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58}
}

// customFormat reads a format code: the part for numbers above zero.
func customFormat(code string) numberFormat {
	code, _, _ = strings.Cut(code, ";")
	var bare, literal strings.Builder
	quoted, bracketed, escaped := false, false, false
	for _, c := range code {
		switch {
		case escaped:
			literal.WriteRune(c)
			escaped = false
		case c == '\\' && !quoted:
			escaped = true
		case c == '"':
			quoted = !quoted
		case quoted:
			literal.WriteRune(c)
		case c == '[' || c == ']':
			bracketed = c == '['
		case !bracketed:
			bare.WriteRune(c)
			if literal.Len() > 0 && strings.ContainsRune("0#?", c) {
				literal.Reset() // it stands before the number: no unit
			}
		}
	}
	rest := strings.ToLower(bare.String())
	f := numberFormat{percent: strings.Contains(rest, "%"), date: rest != "general" && strings.ContainsAny(rest, "ymdhs")}
	if text := strings.TrimSpace(literal.String()); text != "" && !f.percent && !f.date {
		f.suffix = " " + text
	}
	return f
}
