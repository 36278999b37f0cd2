// Package spreadsheet reads the tables that people keep elsewhere, CSV and
// XLSX, into the rows that [inventory.PlanImport] takes, and writes CSV. It
// knows files, not wires: whatever is wrong with a cell is left to the plan,
// with the line it stands on.
package spreadsheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"unicode/utf8"

	"wirehold/inventory"
)

// File is a table that was read.
type File struct {
	Format string // "CSV, separated by semicolons", "XLSX, sheet “Wires”"
	SHA256 string // of its bytes, in hexadecimal
	Rows   []inventory.ImportRow
}

// The first bytes of files that are told by them: a ZIP archive, which XLSX
// is, and the compound file of the older .xls (ECMA-376; published format
// descriptions of its maker).
const (
	zipMagic      = "PK\x03\x04"
	compoundMagic = "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
)

// Read reads a file as CSV or XLSX, told by its content, never by its name.
// What cannot be read is [inventory.Invalid] with field "file"; a row or cell
// that is wrong is a fault in its place. Read is pure and safe for concurrent
// use.
func Read(content []byte) (File, error) { return ReadUpTo(content, inventory.MostImportRows) }

// ReadUpTo is [Read] of a table that may have so many rows below its header;
// one more is read, so that whoever takes them can say that there are more.
func ReadUpTo(content []byte, most int) (File, error) {
	switch {
	case len(content) > inventory.MostImportBytes:
		return File{}, TooLarge()
	case len(bytes.TrimSpace(content)) == 0:
		return File{}, inventory.Invalidf("file", "the file is empty")
	}
	sum := sha256.Sum256(content)
	f := File{SHA256: hex.EncodeToString(sum[:])}
	var err error
	switch {
	case bytes.HasPrefix(content, []byte(zipMagic)):
		f.Rows, f.Format, err = readXLSX(content, most)
	case bytes.HasPrefix(content, []byte(compoundMagic)):
		err = inventory.Invalidf("file", "the file is an .xls workbook, or one with a password: save it as .xlsx without a password, or as CSV")
	case bytes.HasPrefix(content, []byte("\xff\xfe")), bytes.HasPrefix(content, []byte("\xfe\xff")):
		err = inventory.Invalidf("file", "the file is text in UTF-16: save it as CSV in UTF-8")
	case bytes.IndexByte(content, 0) >= 0:
		err = inventory.Invalidf("file", "the file is neither CSV nor XLSX: save the table as one of them")
	case !utf8.Valid(content):
		err = inventory.Invalidf("file", "the file is not in UTF-8: save it as CSV in UTF-8, or as .xlsx")
	default:
		f.Rows, f.Format, err = readCSV(content, most)
	}
	return f, err
}

// TooLarge is the error of a file that is above the limit.
func TooLarge() error {
	return inventory.Invalidf("file", "the file is larger than %d MB: leave out what is not about wires, or cut it in two", inventory.MostImportBytes>>20)
}
