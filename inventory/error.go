package inventory

import (
	"errors"
	"fmt"

	"wirehold/inventory/fit"
)

// Kind says what sort of failure an [Error] is, and so how it is answered.
type Kind string

// The kinds of failure.
const (
	Invalid     Kind = "invalid"     // the input makes no sense
	Forbidden   Kind = "forbidden"   // this person may not
	NotFound    Kind = "not-found"   // no such thing
	Conflict    Kind = "conflict"    // somebody was first
	Refused     Kind = "refused"     // a rule says no
	Unavailable Kind = "unavailable" // busy, timed out or draining
	Internal    Kind = "internal"    // our fault
)

// Error is a failure that a person may read. All but Err is safe to show.
type Error struct {
	Kind     Kind
	Code     string // names the failure in URLs and logs: "spool-on-hold"
	Detail   string // one sentence: what is wrong and what to do
	Fields   []FieldFault
	Findings []fit.Finding // for a refused issue: every rule's finding
	Err      error         // the cause, for the log alone
}

// FieldFault is what is wrong with one field of the input.
type FieldFault struct {
	Field  string // as the caller spelt it: "gross"
	Detail string
}

func (e *Error) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("%s: %s: %v", e.Code, e.Detail, e.Err)
	}
	return e.Code + ": " + e.Detail
}

func (e *Error) Unwrap() error { return e.Err }

// KindOf returns the kind of err: empty for nil, Internal for an error that is
// not an [*Error].
func KindOf(err error) Kind {
	if err == nil {
		return ""
	}
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Kind
	}
	return Internal
}

// CodeOf returns the code of err, or "internal" if it has none; empty for nil.
func CodeOf(err error) string {
	if err == nil {
		return ""
	}
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Code
	}
	return string(Internal)
}

// Invalidf reports that field makes no sense, with what would.
func Invalidf(field, format string, args ...any) *Error {
	detail := fmt.Sprintf(format, args...)
	return &Error{Kind: Invalid, Code: "invalid-" + field, Detail: detail, Fields: []FieldFault{{field, detail}}}
}

// NotFoundf reports that there is no such thing.
func NotFoundf(code, format string, args ...any) *Error {
	return &Error{Kind: NotFound, Code: code, Detail: fmt.Sprintf(format, args...)}
}

// Conflictf reports that somebody was first.
func Conflictf(code, format string, args ...any) *Error {
	return &Error{Kind: Conflict, Code: code, Detail: fmt.Sprintf(format, args...)}
}

// Refusedf reports that a rule says no.
func Refusedf(code, format string, args ...any) *Error {
	return &Error{Kind: Refused, Code: code, Detail: fmt.Sprintf(format, args...)}
}

// Forbiddenf reports that this person may not.
func Forbiddenf(code, format string, args ...any) *Error {
	return &Error{Kind: Forbidden, Code: code, Detail: fmt.Sprintf(format, args...)}
}
