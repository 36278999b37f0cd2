package spreadsheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"

	"wirehold/inventory"
)

// What a workbook may unpack to (practice: a sheet of 5,000 rows and 40
// columns unpacks to about 10 MB and 200,000 cells).
const (
	mostUnpacked = 48 << 20 // bytes of all parts together
	mostCells    = 300_000  // of all sheets, those before the last cell of a row counted too
	mostLine     = 100_000  // the number of a row
	mostMerged   = 1_000    // merged ranges of a sheet: each is tried for each cell
)

// checkArchive refuses a workbook that unpacks to more than could be meant,
// before anything is made of it.
func checkArchive(content []byte) error {
	archive, err := zip.NewReader(bytes.NewReader(content), int64(len(content)))
	if err != nil {
		return notReadable()
	}
	var unpacked uint64
	cells := 0
	for _, part := range archive.File {
		if unpacked += part.UncompressedSize64; part.UncompressedSize64 > mostUnpacked || unpacked > mostUnpacked {
			return inventory.Invalidf("file", "the workbook unpacks to more than %d MB: save only the sheet of wires, as CSV if need be", mostUnpacked>>20)
		}
		n, err := countCells(part)
		if err != nil {
			return err
		}
		if cells += n; cells > mostCells {
			return tooWide()
		}
	}
	return nil
}

func tooWide() error {
	return inventory.Invalidf("file", "the workbook has more rows and columns than a list of wires: delete the empty ones that are only formatted, or save the table as CSV")
}

// countCells counts the cells that a sheet asks for; none if the part is not a
// sheet.
func countCells(part *zip.File) (n int, err error) {
	r, err := part.Open()
	if err != nil {
		return 0, notReadable()
	}
	defer r.Close() // it is read from memory
	d := xml.NewDecoder(r)
	d.Strict = false
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	inSheet, row, column, merged := false, 0, 0, 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) || err != nil && !inSheet {
			return n, nil
		}
		if err != nil {
			return 0, notReadable()
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch {
		case start.Name.Local == "worksheet":
			inSheet = true
		case !inSheet:
			return 0, nil
		case start.Name.Local == "row":
			row, column = row+1, 0
			if given := number(attribute(start, "r")); given > 0 {
				row = given
			}
		case start.Name.Local == "c":
			before := column
			column++
			if given := columnOf(attribute(start, "r")); given > 0 {
				column = given
			}
			n += max(1, column-before)
		case start.Name.Local == "mergeCell":
			merged++
		}
		if merged > mostMerged {
			return 0, inventory.Invalidf("file", "the workbook has more than %d merged cells: unmerge them, or save the table as CSV", mostMerged)
		}
		if row > mostLine || n > mostCells {
			return 0, tooWide()
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// number reads digits; 0 for anything else, and a number too large for a row
// of any sheet for one that is longer.
func number(text string) int {
	n := 0
	for _, c := range text {
		if c < '0' || c > '9' {
			return 0
		}
		if n = n*10 + int(c-'0'); n > mostLine {
			return mostLine + 1
		}
	}
	return n
}

// columnOf reads the letters of a cell's name: 28 for "AB7".
func columnOf(name string) int {
	n := 0
	for _, c := range name {
		switch {
		case c >= 'a' && c <= 'z':
			c -= 'a' - 'A'
		case c < 'A' || c > 'Z':
			return n
		}
		if n = n*26 + int(c-'A') + 1; n > mostCells {
			return n
		}
	}
	return n
}
