package pages

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
	"wirehold/labels"
)

// mostBody is the longest form that is read, in bytes.
const mostBody = 64 << 10

// input reads a posted form field by field and keeps what was wrong.
type input struct {
	get    func(string) string
	zone   *time.Location
	faults []inventory.FieldFault
	unread error // why none of it could be read; nil if it was
}

// posted returns the form that c carries.
func (p *Pages) posted(c *gin.Context) *input {
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, mostBody)
	in := &input{get: func(name string) string { return strings.TrimSpace(c.PostForm(name)) }, zone: p.Zone}
	in.unread = unread(c.Request.ParseForm(), "form", "64 KiB")
	return in
}

// unread says why a form could not be read; nil for nil. field is what is too
// large where it holds more than most.
func unread(err error, field, most string) error {
	if err == nil {
		return nil
	}
	if _, large := errors.AsType[*http.MaxBytesError](err); large {
		says := fmt.Sprintf("the %s is larger than the %s that are taken here", field, most)
		return &inventory.Error{Kind: inventory.Invalid, Code: "body-too-large", Err: err, Detail: says + ": send less. Nothing was changed",
			Fields: []inventory.FieldFault{{Field: field, Detail: says}}}
	}
	return inventory.Invalidf("form", "the form could not be read: send it again")
}

func (in *input) fault(field, detail string) {
	in.faults = append(in.faults, inventory.FieldFault{Field: field, Detail: detail})
}

// err returns all that was wrong as one error; nil if nothing was.
func (in *input) err() error {
	if in.unread != nil {
		return in.unread
	}
	if len(in.faults) == 0 {
		return nil
	}
	first := in.faults[0]
	return &inventory.Error{Kind: inventory.Invalid, Code: "invalid-" + first.Field, Detail: first.Detail, Fields: in.faults}
}

// code reads a code of the kind; empty if the field is.
func (in *input) code(field string, kind inventory.CodeKind) inventory.Code {
	text := in.get(field)
	if text == "" {
		return ""
	}
	code, err := labels.ReadCode(kind, text)
	if err != nil {
		in.fault(field, detailOf(err))
	}
	return code
}

// badge reads the badge of whoever makes the change, which must be given.
func (in *input) badge() inventory.Code {
	if in.get("person") == "" {
		in.fault("person", "scan your badge")
	}
	return in.code("person", inventory.PersonCode)
}

// grams reads a weight; nil if the field is empty.
func (in *input) grams(field string) *unit.Grams {
	text := in.get(field)
	if text == "" {
		return nil
	}
	g, err := unit.ParseGrams(text)
	if err != nil {
		in.fault(field, err.Error())
		return nil
	}
	return &g
}

// product reads a product number: its digits, or the symbol of a whole box.
func (in *input) product(field string, at time.Time) inventory.Product {
	text := in.get(field)
	scan, err := labels.ReadScan(text, at)
	if err == nil && scan.Kind == labels.BoxScan && scan.Box.Contents() != "" {
		return scan.Box.Contents()
	}
	product, err := inventory.ParseProduct(text)
	if err != nil {
		in.fault(field, detailOf(err))
	}
	return product
}

// whole reads a whole number; zero if the field is empty.
func (in *input) whole(field string) int64 {
	text := in.get(field)
	if text == "" {
		return 0
	}
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		in.fault(field, "give a whole number")
	}
	return n
}

// when reads an instant in the shop's zone; zero if the field is empty.
func (in *input) when(field string) time.Time {
	text := in.get(field)
	if text == "" {
		return time.Time{}
	}
	for _, layout := range [...]string{"2006-01-02T15:04", "2006-01-02T15:04:05", "2006-01-02 15:04"} {
		if t, err := time.ParseInLocation(layout, text, in.zone); err == nil {
			return t
		}
	}
	in.fault(field, "give a date and time such as 2026-11-25 07:10")
	return time.Time{}
}

// entry reads what every change to the spool has in common.
func (in *input) entry(spool inventory.Code) inventory.Entry {
	return inventory.Entry{Spool: spool, Person: in.badge(), RequestKey: in.get("request_key"), At: in.when("effective_at")}
}

// asFieldError returns what a label says is wrong with one of its fields.
func asFieldError(err error) (*labels.FieldError, bool) {
	return errors.AsType[*labels.FieldError](err)
}

// asError returns err as a failure that may be read.
func asError(err error) (*inventory.Error, bool) { return errors.AsType[*inventory.Error](err) }

// detailOf returns what may be read of err.
func detailOf(err error) string {
	if e, ok := asError(err); ok {
		return e.Detail
	}
	return "something went wrong on our side"
}

func findingsOf(err error) []fit.Finding {
	if e, ok := asError(err); ok {
		return e.Findings
	}
	return nil
}
