package ipp

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync/atomic"
)

// Printer is one printer's address with the client that reaches it. It is safe
// for concurrent use.
type Printer struct {
	uri    string // ipp:// or ipps://, as the printer wants to be called
	http   string // the same to be posted to
	client *http.Client
	user   string
	last   atomic.Int32 // request id
}

// New returns the printer at address: "ipp://printer.example/ipp/print", "ipps://…"
// or the same with http:// and https://. user names who prints, in the
// printer's own log. client sets the time that an answer may take.
func New(address, user string, client *http.Client) (*Printer, error) {
	u, err := url.Parse(address)
	if err != nil || u.Host == "" {
		return nil, fmt.Errorf("%q is no printer's address: give one such as ipp://printer.example/ipp/print", address)
	}
	secure := u.Scheme == "ipps" || u.Scheme == "https"
	if !secure && u.Scheme != "ipp" && u.Scheme != "http" {
		return nil, fmt.Errorf("%q is no printer's address: it begins with ipp:// or ipps://", address)
	}
	if u.User != nil {
		return nil, fmt.Errorf("%q: a printer's address holds no name and password", address)
	}
	p := &Printer{client: client, user: user}
	ours, theirs := *u, *u
	theirs.Scheme, ours.Scheme = "ipp", "http"
	if secure {
		theirs.Scheme, ours.Scheme = "ipps", "https"
	}
	if ours.Port() == "" && u.Scheme != "http" && u.Scheme != "https" {
		ours.Host += ":631" // RFC 8010 section 4
	}
	p.uri, p.http = theirs.String(), ours.String()
	return p, nil
}

// Document is what is printed.
type Document struct {
	Name   string // in the printer's list: "labels of lot 7F31"
	Format string // "application/pdf" or "image/png"
	Copies int    // zero is one
	Media  string // a size as the printer names it: "om_label_100x75mm"; empty is what is in it
	Data   []byte
}

// Print sends a document to be printed and returns the printer's number of the
// job. That is no proof that it was printed: see [Printer.Job].
//
// The error is a [*StatusError] where the printer refuses, and any other where it
// was not reached or its answer makes no sense.
func (p *Printer) Print(ctx context.Context, d Document) (job int, err error) {
	jobAttributes := group{tag: jobGroup}
	jobAttributes.add("copies", number(integerValue, max(d.Copies, 1)))
	if d.Media != "" {
		jobAttributes.add("media", text(keywordValue, d.Media))
	}
	answer, err := p.ask(ctx, printJob, d.Data, func(g *group) {
		g.add("job-name", text(nameValue, clip(d.Name)))
		g.add("document-format", text(mimeValue, d.Format))
	}, jobAttributes)
	if err != nil {
		return 0, err
	}
	for _, g := range answer.groups {
		if n, ok := g.number("job-id"); ok {
			return n, nil
		}
	}
	return 0, fmt.Errorf("%w: it gives the job no number", errAnswer)
}

// mostName is how long a name may be (RFC 8011 section 5.1.3), in bytes.
const mostName = 255

func clip(name string) string {
	if len(name) <= mostName {
		return name
	}
	return strings.ToValidUTF8(name[:mostName], "")
}

// ask sends one request and returns the answer. describe adds to the operation's
// own attributes, in order.
func (p *Printer) ask(ctx context.Context, op operation, document []byte, describe func(*group), more ...group) (message, error) {
	own := group{tag: operationGroup}
	own.add("attributes-charset", text(charsetValue, "utf-8"))
	own.add("attributes-natural-language", text(languageValue, "en"))
	own.add("printer-uri", text(uriValue, p.uri))
	if p.user != "" {
		own.add("requesting-user-name", text(nameValue, clip(p.user)))
	}
	describe(&own)
	m := message{code: uint16(op), id: p.last.Add(1), groups: append([]group{own}, more...)}
	body := io.MultiReader(bytes.NewReader(m.encode()), bytes.NewReader(document))
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, p.http, body)
	if err != nil {
		return message{}, err
	}
	req.Header.Set("Content-Type", "application/ipp")
	resp, err := p.client.Do(req)
	if e, ok := errors.AsType[*url.Error](err); ok {
		err = e.Err // the address is said once
	}
	if err != nil {
		return message{}, fmt.Errorf("printer %s: %w", p.uri, err)
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		return message{}, fmt.Errorf("printer %s: it answers %s", p.uri, resp.Status)
	}
	answer, err := decode(resp.Body)
	if err != nil {
		return message{}, fmt.Errorf("printer %s: %w", p.uri, err)
	}
	if answer.id != m.id {
		return message{}, fmt.Errorf("printer %s: %w: it answers request %d, not %d", p.uri, errAnswer, answer.id, m.id)
	}
	const redirects = 0x0300
	if answer.code >= redirects {
		return message{}, &StatusError{int(answer.code), answer.operation().text("status-message")}
	}
	return answer, nil
}

// operation returns the operation's own attributes; the zero group if there are
// none.
func (m message) operation() group {
	i := slices.IndexFunc(m.groups, func(g group) bool { return g.tag == operationGroup })
	if i < 0 {
		return group{}
	}
	return m.groups[i]
}
