package labels

import (
	"net/url"
	"strings"
	"time"

	"wirehold/inventory"
)

// ScanKind is what a scanned string turned out to be.
type ScanKind string

// The kinds of scan.
const (
	CodeScan ScanKind = "code" // a Wirehold code, bare, in a link or among the facts of a label
	BoxScan  ScanKind = "box"  // a GS1 symbol or a product number from a maker's box
	TextScan ScanKind = "text" // anything else: a job's number, a lot's number, words
)

// Scan is what a string means that was scanned, typed or read from a picture.
type Scan struct {
	Kind ScanKind
	Code inventory.Code // of a CodeScan
	Box  Box            // of a BoxScan
	Text string         // what was scanned, without what the reader puts around it
}

// ReadScan is the one place that decides what a scanned string is. at tells in
// which century a box's dates are.
//
// The error is [inventory.Invalid]: with field "scan" where the reader says that
// it read a GS1 symbol and it cannot be one, with field "code" where a label's
// link names no good code. What it cannot place is a [TextScan].
func ReadScan(text string, at time.Time) (Scan, error) {
	symbology, text := cutSymbology(text)
	scan := Scan{Kind: TextScan, Text: text}
	if gs1Symbology(symbology) {
		return readBoxScan(text, at)
	}
	code, found, err := codeIn(text)
	if found {
		scan.Kind, scan.Code = CodeScan, code
		return scan, err
	}
	if product, err := inventory.ParseProduct(text); err == nil {
		scan.Kind, scan.Box = BoxScan, Box{Product: product, Elements: []Element{{AI: "01", Value: string(product), means: "gtin"}}}
		return scan, nil
	}
	if !likeElements(separators.Replace(text)) {
		return scan, nil
	}
	box, err := readBoxScan(text, at)
	if err != nil && !strings.HasPrefix(text, "(") && !strings.ContainsRune(text, separator) {
		return scan, nil // digits that only begin like one
	}
	return box, err
}

// ReadCode reads the code that a scan must be: bare, in the link or among the
// facts of a label. The error is [inventory.Invalid] with field "code".
func ReadCode(kind inventory.CodeKind, text string) (inventory.Code, error) {
	symbology, text := cutSymbology(text)
	code, found, err := codeIn(text)
	switch {
	case found && err == nil:
		return inventory.ParseCodeOf(kind, string(code))
	case err != nil:
		return "", err
	case gs1Symbology(symbology) || likeElements(separators.Replace(text)):
		return "", inventory.Invalidf("code", "that is the code on a maker's box, and a %s is due here", kind)
	}
	return inventory.ParseCodeOf(kind, text)
}

// codeIn returns the code in text; found is false where it is nothing that
// holds one, and err says what is wrong with one that a link holds.
func codeIn(text string) (code inventory.Code, found bool, err error) {
	if code, err := inventory.ParseCode(text); err == nil {
		return code, true, nil
	}
	if segment, ok := linked(text); ok {
		code, err := inventory.ParseCode(segment)
		return code, true, err
	}
	code, found = amongFacts(text)
	return code, found, nil
}

func readBoxScan(text string, at time.Time) (Scan, error) {
	elements, err := ReadElements(text)
	if err != nil {
		return Scan{}, err
	}
	box, err := ReadBox(elements, at)
	return Scan{Kind: BoxScan, Box: box, Text: text}, err
}

// cutSymbology cuts off what a reader may put around a scan: blanks, ends of
// line, and in front the symbology identifier, "]C1" (ISO/IEC 15424, from
// memory).
func cutSymbology(text string) (symbology, rest string) {
	text = strings.Trim(text, "\r\n\t \x00")
	if len(text) > 3 && text[0] == ']' {
		return text[1:3], text[3:]
	}
	return "", text
}

// gs1Symbology reports whether the identifier stands for a symbol that holds a
// GS1 element string: GS1-128, GS1 DataBar, GS1 DataMatrix, GS1 QR.
func gs1Symbology(id string) bool {
	return id == "C1" || id == "e0" || id == "d2" || id == "Q3"
}

// linked returns the code in the link that a label's QR symbol holds, whatever
// the address was when it was printed.
func linked(text string) (segment string, ok bool) {
	u, err := url.Parse(text)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" {
		return "", false
	}
	parts := strings.Split(strings.Trim(u.Path, "/"), "/")
	if len(parts) < 2 {
		return "", false
	}
	switch parts[len(parts)-2] {
	case "spools", "jobs", "people", "feeders", "places":
		return parts[len(parts)-1], true
	}
	return "", false
}

// amongFacts returns the code in the plain text that a label's QR symbol holds
// where no address is set: it comes first. Labels printed before their facts
// were one line have an end of line after it.
func amongFacts(text string) (inventory.Code, bool) {
	first, rest, found := strings.Cut(strings.Replace(text, "\n", betweenFacts, 1), betweenFacts)
	if !found || !strings.Contains(rest, ": ") {
		return "", false
	}
	code, err := inventory.ParseCode(first)
	return code, err == nil
}

// likeElements reports whether text may be an element string though the reader
// does not say so: it is bracketed, holds a separator, or begins with a product
// or pallet number whose check digit is right.
func likeElements(text string) bool {
	if strings.ContainsRune(text, separator) || strings.HasPrefix(text, "(") && len(text) > 3 && allDigits(text[1:3]) {
		return true
	}
	for prefix, n := range map[string]int{"00": 18, "01": 14, "02": 14} {
		if number, ok := strings.CutPrefix(text, prefix); ok && len(number) >= n && allDigits(number[:n]) && checkDigit("", number[:n]) == nil {
			return true
		}
	}
	return false
}
