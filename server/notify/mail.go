package notify

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/wneessen/go-mail"

	"wirehold/inventory"
)

// Email sends e-mails through one server. It is safe for concurrent use.
type Email struct {
	config SMTP
	roots  *tls.Config // nil is the system's certificates
	zone   *time.Location
	base   string
}

// NewEmail returns a sender through the server of c, which was checked. Times
// are written in the zone; base is where the pages are reached, empty for no
// links. trust says which certificates the server may show; nil is those that
// the system trusts.
func NewEmail(c SMTP, zone *time.Location, base string, trust *tls.Config) *Email {
	return &Email{c, trust, zone, strings.TrimSuffix(base, "/")}
}

// Send hands the message to the mail server. The recipient's address is the one
// they have now.
func (e *Email) Send(ctx context.Context, d inventory.Delivery, at time.Time) error {
	if d.Contact.Retired {
		return refused("the badge of %s was retired", d.Contact.Name)
	}
	if d.Contact.Email == "" {
		return refused("%s has no e-mail address any more", d.Contact.Name)
	}
	msg, err := e.message(d, at)
	if err != nil {
		return refused("the message cannot be written: %v", err)
	}
	client, err := e.client()
	if err != nil {
		return &Unreachable{fmt.Errorf("the mail server's settings: %w", err)}
	}
	conn, err := client.DialToSMTPClientWithContext(ctx)
	if err != nil {
		return &Unreachable{fmt.Errorf("the mail server cannot be reached: %w", err)}
	}
	err = client.SendWithSMTPClient(conn, msg)
	_ = client.CloseWithSMTPClient(conn) // what was taken is taken, however the server takes its leave
	if err == nil || msg.IsDelivered() {
		return nil
	}
	return classify(err)
}

// classify tells a refusal of this message from trouble with the server. Only a
// final answer (5xx, RFC 5321 4.2.1) to sender, recipient or content is a
// refusal: a wrong password, say, is mended without touching the message.
func classify(err error) error {
	sent, ok := errors.AsType[*mail.SendError](err)
	if !ok {
		return &Unreachable{fmt.Errorf("the mail server broke off: %w", err)}
	}
	switch sent.Reason {
	case mail.ErrSMTPMailFrom, mail.ErrSMTPRcptTo, mail.ErrSMTPData, mail.ErrSMTPDataClose, mail.ErrAmbiguous:
		if !sent.IsTemp() && sent.ErrorCode() >= 500 {
			return refused("the mail server refused it: %v", err)
		}
		if sent.ErrorCode() >= 400 {
			return fmt.Errorf("the mail server does not take it now: %w", err)
		}
	}
	return &Unreachable{fmt.Errorf("the mail server broke off: %w", err)}
}

func (e *Email) client() (*mail.Client, error) {
	c := e.config
	options := []mail.Option{mail.WithPort(c.port), mail.WithTimeout(tryTime), mail.WithoutNoop()}
	switch c.TLS {
	case "implicit":
		options = append(options, mail.WithSSL())
	case "none":
		options = append(options, mail.WithTLSPolicy(mail.NoTLS))
	default:
		options = append(options, mail.WithTLSPolicy(mail.TLSMandatory))
	}
	if e.roots != nil {
		trust := e.roots.Clone()
		if trust.ServerName == "" {
			trust.ServerName = c.host
		}
		options = append(options, mail.WithTLSConfig(trust))
	}
	if c.User != "" {
		auth := mail.SMTPAuthAutoDiscover
		if c.TLS == "none" {
			auth = mail.SMTPAuthPlainNoEnc // only on this machine: see [SMTP.Check]
		}
		options = append(options, mail.WithSMTPAuth(auth), mail.WithUsername(c.User), mail.WithPassword(string(c.Password)))
	}
	return mail.NewClient(c.host, options...)
}

// message writes the e-mail. Its Message-ID is the same however often it is
// tried.
func (e *Email) message(d inventory.Delivery, at time.Time) (*mail.Msg, error) {
	m := mail.NewMsg(mail.WithNoDefaultUserAgent())
	if err := errors.Join(m.From(e.config.From), m.To(d.Contact.Email)); err != nil {
		return nil, err
	}
	m.Subject(subject(d.News))
	m.SetDateWithValue(at.In(e.zone))
	m.SetMessageIDWithValue(d.Key + "@" + e.config.domain)
	m.SetGenHeader("Auto-Submitted", "auto-generated") // RFC 3834: no absence note answers it
	m.SetBodyString(mail.TypeTextPlain, e.text(d.News))
	return m, nil
}
