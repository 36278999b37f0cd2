package inventory

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	_ "image/jpeg" // told apart by their content
	_ "image/png"
	"path"
	"strings"
	"time"
	"unicode"

	"wirehold/inventory/filler"
)

// Sheet is a data sheet as it was attached to a wire.
type Sheet struct {
	ID         int64
	WireID     int64
	Title      string
	Revision   string // empty if it prints none
	FileName   string
	MediaType  string // by its content: application/pdf, image/png or image/jpeg
	Size       int64  // in bytes
	SHA256     string // of the content, in hexadecimal
	Person     Code
	PersonName string // filled in when it is read
	At         time.Time
}

// Source names the sheet as the source of a fact: "Sheet 71M rev 4".
func (s Sheet) Source() string { return SheetSource(s.Title, s.Revision) }

const beforeRevision = " rev "

// SheetSource names a sheet as the source of a fact.
func SheetSource(title, revision string) string {
	if revision == "" {
		return title
	}
	return title + beforeRevision + revision
}

// SheetOf returns title and revision of the sheet that w's facts are from;
// both empty if none is.
func (w Wire) SheetOf() (title, revision string) {
	for _, f := range w.Supplied {
		if f.Provenance != filler.DataSheet {
			continue
		}
		if i := strings.LastIndex(f.Source, beforeRevision); i > 0 {
			return f.Source[:i], f.Source[i+len(beforeRevision):]
		}
		return f.Source, ""
	}
	return "", ""
}

// Attachment is a data sheet to be kept with its wire.
type Attachment struct {
	Person     Code
	RequestKey string
	WireID     int64
	Title      string
	Revision   string
	FileName   string
	Content    []byte
}

// MaxSheet is the most that an attached sheet may hold, in bytes.
const MaxSheet = 5 << 20

// AttachSheet keeps a PDF, PNG or JPEG with its wire. Where the wire had a
// sheet already, this one is a changed sheet: what the engineer settled is
// unsettled.
func (l *Ledger) AttachSheet(ctx context.Context, a Attachment) (Sheet, error) {
	s, err := a.sheet()
	if err != nil {
		return Sheet{}, err
	}
	_, err = l.changeWire(ctx, wireDeed{person: a.Person, key: a.RequestKey, wish: wish(s.WireID, s.Title, s.Revision, s.FileName, s.SHA256), deed: SheetAttached, wire: a.WireID},
		func(tx Tx, by Person, before Wire, at time.Time) (Wire, []string, error) {
			if !by.Role.MayEnterWires() {
				return before, nil, Forbiddenf("may-not-enter-wires", "%s is a %s: the welding engineer, the owner or the buyer attaches data sheets", by.Name, by.Role)
			}
			s.Person, s.At = by.Code, at
			return s.attach(tx, before, a.Content)
		})
	return s, err
}

// attach keeps s and says what becomes of the wire.
func (s *Sheet) attach(tx Tx, before Wire, content []byte) (Wire, []string, error) {
	earlier, err := tx.Sheets(before.ID)
	if err != nil {
		return before, nil, err
	}
	for _, e := range earlier {
		if e.SHA256 == s.SHA256 {
			return before, nil, Conflictf("already-there", "this very file is attached already: %s, by %s", e.Source(), e.PersonName)
		}
	}
	if s.ID, err = tx.AddSheet(*s, content); err != nil {
		return before, nil, err
	}
	what := []string{fmt.Sprintf("%s: %s, SHA-256 %s", s.Source(), s.FileName, s.SHA256)}
	after := before
	if settled := before.Settled(); len(earlier) > 0 && len(settled) > 0 {
		after.Supplied = without(before.Supplied, func(f filler.Fact) bool { return Decided(f) && strings.HasPrefix(f.Source, settledBy) })
		for _, f := range settled {
			what = append(what, spaced(f.Name)+": unsettled, for the sheet has changed")
		}
	}
	return after, what, nil
}

// sheet checks the upload and says what it is.
func (a Attachment) sheet() (Sheet, error) {
	media, ok := mediaType(a.Content)
	title, err := tidy("title", a.Title, mostWireText)
	if err != nil {
		return Sheet{}, err
	}
	revision, err := tidy("revision", a.Revision, 40)
	if err != nil {
		return Sheet{}, err
	}
	s := Sheet{WireID: a.WireID, Title: title, Revision: revision, FileName: fileName(a.FileName), MediaType: media, Size: int64(len(a.Content))}
	switch {
	case a.WireID <= 0:
		return s, NotFoundf("no-such-wire", "there is no wire %d", a.WireID)
	case s.Title == "":
		return s, Invalidf("title", "give the sheet's title, and its revision if it prints one")
	case len(a.Content) == 0:
		return s, Invalidf("file", "choose the file of the sheet")
	case len(a.Content) > MaxSheet:
		return s, Invalidf("file", "the file is larger than 5 MB")
	case !ok:
		return s, Invalidf("file", "%q is no PDF, PNG or JPEG, whatever its name says", s.FileName)
	}
	sum := sha256.Sum256(a.Content)
	s.SHA256 = hex.EncodeToString(sum[:])
	return s, nil
}

// mediaType tells what a file is by its content; ok is false if it is none of
// the kinds that are kept.
func mediaType(content []byte) (media string, ok bool) {
	if bytes.HasPrefix(content, []byte("%PDF-")) {
		end := content[max(0, len(content)-1024):]
		return "application/pdf", bytes.Contains(end, []byte("%%EOF"))
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(content))
	if err != nil || config.Width <= 0 || config.Height <= 0 {
		return "", false
	}
	return "image/" + format, format == "png" || format == "jpeg"
}

// fileName keeps of an uploaded name what can stand in a header and on a page.
func fileName(name string) string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	name = strings.Map(func(r rune) rune {
		if r == '"' || r == utf8Error || unicode.IsControl(r) {
			return -1
		}
		return r
	}, name)
	if r := []rune(name); len(r) > 100 {
		name = string(r[len(r)-100:])
	}
	if strings.Trim(name, "./ ") == "" {
		return "sheet"
	}
	return name
}

const utf8Error = '\uFFFD'
