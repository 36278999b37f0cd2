package filler

import (
	"errors"
	"strings"

	"wirehold/inventory/unit"
)

// Typed is what a text that somebody typed or scanned is: one of its fields is
// set, the others are nil.
type Typed struct {
	Wire    *Decoded
	Gas     *GasDecoded
	Size    *SizeDecoded
	Package *PackageDecoded
}

// String returns what was read, in its one spelling, which DecodeTyped reads
// back.
func (t Typed) String() string {
	switch {
	case t.Wire != nil:
		return t.Wire.String()
	case t.Gas != nil:
		return t.Gas.String()
	case t.Size != nil:
		return t.Size.String()
	case t.Package != nil:
		return t.Package.String()
	}
	return ""
}

// Facts returns what is known of it.
func (t Typed) Facts() Facts {
	switch {
	case t.Wire != nil:
		return t.Wire.Facts
	case t.Gas != nil:
		return t.Gas.Facts
	case t.Size != nil:
		return t.Size.Facts
	case t.Package != nil:
		return t.Package.Facts
	}
	return nil
}

// DecodeTyped reads whatever of a wire's box can be read: a classification as
// [Decode] does, a gas as [DecodeGas], a size as [DecodeSize] or a package as
// [DecodePackage]. No text is two of them. The error is that of the sort which
// the text looks like: a [*SyntaxError].
//
// DecodeTyped is pure and safe for concurrent use.
func DecodeTyped(text string) (Typed, error) {
	d, err := Decode(text)
	if err == nil {
		return Typed{Wire: &d}, nil
	}
	gas, errGas := DecodeGas(text)
	if errGas == nil {
		return Typed{Gas: &gas}, nil
	}
	size, errSize := DecodeSize(text)
	if errSize == nil {
		return Typed{Size: &size}, nil
	}
	pack, errPack := DecodePackage(text)
	switch {
	case errPack == nil:
		return Typed{Package: &pack}, nil
	case looksLikePackage(text):
		err = errPack
	case looksLikeSize(text):
		err = errSize
	case looksLikeGas(text, errGas):
		err = errGas
	}
	return Typed{}, err
}

func looksLikePackage(text string) bool {
	for _, f := range packageForms {
		if _, _, ok := cutWord(strings.ToLower(text), f.word); ok {
			return true
		}
	}
	return false
}

// looksLikeSize tells whether a text begins with a number and ends in a unit of
// length, or is a number that would be a wire's size with one.
func looksLikeSize(text string) bool {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" || !strings.ContainsRune("0123456789.", rune(text[0])) {
		return false
	}
	for _, end := range [...]string{"in", "mm", `"`} {
		if strings.HasSuffix(text, end) {
			return true
		}
	}
	for _, measure := range [...]string{" in", " mm"} {
		size, err := unit.ParseLength(text + measure)
		if err == nil && size <= largestWire && (measure == " in" || !strings.Contains(text, "/")) {
			return true
		}
	}
	return false
}

// looksLikeGas tells whether a text begins as a gas does: by the name of its
// specification, SG, a symbol or sign, or a per cent.
func looksLikeGas(text string, err error) bool {
	s, bad := scan(text)
	if bad != nil || s.end() {
		return false
	}
	if s.gasSpecName(); s.pos > 0 || s.word("SG") {
		return true
	}
	if c := s.peek(); '0' <= c && c <= '9' {
		return true
	}
	if e, ok := errors.AsType[*SyntaxError](err); ok && e.At == 0 && len(s.norm) > 1 {
		_, named := s.gasName(gasKeys())
		return named && (s.end() || s.spaced() || strings.IndexByte(mixtureParts, s.peek()) >= 0)
	}
	_, symbol := s.longest(gases().symbols)
	if !symbol {
		_, symbol = s.gasName(gasKeys())
	}
	return symbol && (s.end() || s.peek() == '-' || s.spaced())
}
