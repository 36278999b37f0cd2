// Package problem makes an error what a client or a person may read of it: an
// RFC 9457 problem. It alone knows which status answers which
// [inventory.Kind]; api writes problems as JSON and pages as HTML.
package problem

import (
	"cmp"
	"context"
	"errors"
	"net/http"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// Problem is an RFC 9457 problem with Wirehold's own members.
type Problem struct {
	Type      string    `json:"type" doc:"A page that explains this sort of problem: /problems/ and the code."`
	Title     string    `json:"title" doc:"The sort of problem, the same each time."`
	Status    int       `json:"status" doc:"The HTTP status."`
	Detail    string    `json:"detail" doc:"What is wrong this time and what to do."`
	RequestID string    `json:"request_id,omitempty" doc:"Names this request in the log."`
	Errors    []Fault   `json:"errors,omitempty" doc:"What is wrong with each field of the input."`
	Findings  []Finding `json:"findings,omitempty" doc:"Where an issue is refused: what every rule found."`

	Language    fit.Language `json:"-"` // of the findings; empty is English
	Translation string       `json:"translation,omitempty" doc:"What the translation of the findings is worth; left out where they are in English."`
}

// Fault is what is wrong with one field.
type Fault struct {
	Detail  string `json:"detail"`
	Pointer string `json:"pointer,omitempty" doc:"JSON Pointer to the field of the body, such as #/gross_g."`
	// Parameter is set in place of Pointer for what stands in path or query.
	Parameter string `json:"parameter,omitempty" doc:"The parameter of path or query."`
}

// Finding is one rule's result.
type Finding struct {
	Rule     string `json:"rule"`
	Outcome  string `json:"outcome" doc:"not demanded, passes, caution or stops"`
	Demanded Claim  `json:"demanded"`
	Offered  Claim  `json:"offered"`
	Says     string `json:"says" doc:"One sentence in a welder's words."`
}

// Claim is one side of a finding with its authority.
type Claim struct {
	Text       string `json:"text"`
	Source     string `json:"source"`
	Provenance string `json:"provenance,omitempty"`
}

// kinds is what each kind of failure is called and how it is answered.
var kinds = map[inventory.Kind]struct {
	status int
	title  string
}{
	inventory.Invalid:     {http.StatusUnprocessableEntity, "The input makes no sense"},
	inventory.Forbidden:   {http.StatusForbidden, "This person may not do that"},
	inventory.NotFound:    {http.StatusNotFound, "There is no such thing"},
	inventory.Conflict:    {http.StatusConflict, "Somebody was first"},
	inventory.Refused:     {http.StatusConflict, "A rule says no"},
	inventory.Unavailable: {http.StatusServiceUnavailable, "Busy: try again"},
	inventory.Internal:    {http.StatusInternalServerError, "Something went wrong on our side"},
}

// From returns what may be read of err. An error that is not an
// [*inventory.Error] is an internal one, and nothing of it is shown.
func From(err error, requestID string) Problem {
	e, ok := errors.AsType[*inventory.Error](err)
	switch {
	case ok && e.Kind != inventory.Internal:
	case errors.Is(err, context.DeadlineExceeded):
		e = &inventory.Error{Kind: inventory.Unavailable, Code: "timed-out", Detail: "The store did not answer in time. Nothing was changed; try again."}
	default:
		e = &inventory.Error{Kind: inventory.Internal, Code: "internal", Detail: "Nothing was changed. Tell whoever runs Wirehold the request id."}
	}
	known := kinds[e.Kind]
	p := Problem{Type: "/problems/" + e.Code, Title: known.title, Status: known.status, Detail: e.Detail, RequestID: requestID}
	if _, large := errors.AsType[*http.MaxBytesError](err); large {
		p.Title, p.Status = "What was sent is too large", http.StatusRequestEntityTooLarge
	}
	for _, f := range e.Fields {
		p.Errors = append(p.Errors, Fault{Detail: f.Detail, Pointer: "#/" + f.Field})
	}
	p.Findings = Findings(e.Findings)
	return p
}

// Findings returns the findings of a verdict as they are written.
func Findings(findings []fit.Finding) []Finding {
	var out []Finding
	for _, f := range findings {
		out = append(out, Finding{Rule: string(f.Rule), Outcome: string(f.Outcome),
			Demanded: claim(f.Demanded), Offered: claim(f.Offered), Says: f.Says})
	}
	return out
}

func claim(c fit.Claim) Claim {
	return Claim{Text: c.Text, Source: c.Source, Provenance: string(c.Provenance)}
}

func (p Problem) Error() string { return p.Title + ": " + p.Detail }

// GetStatus returns the HTTP status.
func (p Problem) GetStatus() int { return p.Status }

// ContentType returns the media type of a problem in JSON (RFC 9457).
func (p Problem) ContentType(string) string { return "application/problem+json" }

// GetHeaders returns the headers that go with the problem: when to try again,
// and the language of its findings.
func (p Problem) GetHeaders() http.Header {
	h := http.Header{}
	if p.Status == http.StatusServiceUnavailable {
		h.Set("Retry-After", "5")
	}
	if p.Findings != nil {
		h.Set("Content-Language", string(cmp.Or(p.Language, fit.English)))
		h.Set("Vary", "Accept-Language")
	}
	return h
}
