package ipp

import (
	"errors"
	"fmt"
)

// StatusError is a printer's refusal.
type StatusError struct {
	Code    int    // RFC 8011 appendix B
	Message string // the printer's own words; may be empty
}

func (e *StatusError) Error() string {
	text := fmt.Sprintf("the printer answers status 0x%04x", e.Code)
	if words, ok := statusWords[e.Code]; ok {
		text = "the printer says: " + words
	}
	if e.Message != "" {
		text += " (" + e.Message + ")"
	}
	return text
}

// Permanent reports whether printing again cannot help: the fault is in what
// was asked for.
func (e *StatusError) Permanent() bool { return e.Code >= 0x0400 && e.Code < 0x0500 }

// statusWords are the status codes that a label meets (RFC 8011 appendix B).
var statusWords = map[int]string{
	0x0400: "bad request",
	0x0401: "forbidden",
	0x0402: "sign in first",
	0x0403: "not authorised",
	0x0404: "not possible",
	0x0406: "not found",
	0x0408: "the document is too large",
	0x040a: "it does not print this kind of document",
	0x040b: "it does not have this paper or setting",
	0x0500: "internal error",
	0x0501: "it does not know this operation",
	0x0502: "service unavailable",
	0x0503: "it does not speak this version of the protocol",
	0x0504: "device error",
	0x0505: "temporary error",
	0x0506: "it accepts no jobs now",
	0x0507: "busy",
}

// IsPermanent reports whether err is a refusal that printing again cannot help.
func IsPermanent(err error) bool {
	status, ok := errors.AsType[*StatusError](err)
	return ok && status.Permanent()
}
