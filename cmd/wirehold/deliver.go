package main

import (
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"log/slog"
	mathrand "math/rand/v2"
	"os"
	"strings"
	"time"

	"wirehold/inventory"
	"wirehold/server/notify"
)

// delivery is how alerts leave the program.
type delivery struct {
	SMTP             string `name:"smtp" help:"Mail server that alerts are sent through, host:port. Without it no e-mail is sent."`
	SMTPUser         string `name:"smtp-user" help:"Name to sign in there with."`
	SMTPPasswordFile string `name:"smtp-password-file" help:"File that holds the password for it."`
	SMTPFrom         string `name:"smtp-from" help:"Address that mails come from: 'Wire store <store@yard.example>'."`
	SMTPTLS          string `name:"smtp-tls" help:"starttls, implicit (TLS from the first byte) or none." default:"starttls"`
	SMTPTrustFile    string `name:"smtp-trust-file" help:"PEM file of the certificates that the mail server may show; without it those the system trusts."`
}

// read returns the settings, or every fault in them at once.
func (d delivery) read() (c notify.SMTP, trust *tls.Config, err error) {
	c = notify.SMTP{Server: d.SMTP, User: d.SMTPUser, From: d.SMTPFrom, TLS: d.SMTPTLS}
	var faults []error
	if d.SMTPPasswordFile != "" {
		text, err := os.ReadFile(d.SMTPPasswordFile)
		c.Password = inventory.Secret(strings.TrimRight(string(text), "\r\n"))
		switch {
		case err != nil:
			faults = append(faults, fmt.Errorf("--smtp-password-file: %w", err))
			c.Password = "unread" // that it cannot be read is the one fault
		case c.Password == "":
			faults = append(faults, fmt.Errorf("--smtp-password-file: %s is empty", d.SMTPPasswordFile))
		}
	}
	if d.SMTPTrustFile != "" {
		text, err := os.ReadFile(d.SMTPTrustFile)
		trust = &tls.Config{RootCAs: x509.NewCertPool(), MinVersion: tls.VersionTLS12}
		if err == nil && !trust.RootCAs.AppendCertsFromPEM(text) {
			err = fmt.Errorf("%s holds no certificate", d.SMTPTrustFile)
		}
		if err != nil {
			faults = append(faults, fmt.Errorf("--smtp-trust-file: %w", err))
		}
	}
	c, err = c.Check()
	return c, trust, errors.Join(append(faults, err)...)
}

// workers are those who deliver: e-mail if there is a mail server, webhooks
// unless it is the demo, whose addresses are invented.
func (l listen) workers(p *program, ledger *inventory.Ledger, log *slog.Logger, zone *time.Location, demo bool) ([]*notify.Worker, error) {
	c, trust, err := l.read()
	if err != nil {
		return nil, err
	}
	worker := func(channel inventory.Channel, sender notify.Sender) *notify.Worker {
		return &notify.Worker{Channel: channel, Outbox: ledger, Sender: sender, Log: log, Now: p.now, NewID: rand.Text, Chance: mathrand.Float64}
	}
	var out []*notify.Worker
	if !c.Off() {
		out = append(out, worker(inventory.EmailChannel, notify.NewEmail(c, zone, l.Base, trust)))
	}
	if !demo {
		out = append(out, worker(inventory.WebhookChannel, notify.NewWebhook(l.Base)))
	}
	return out, nil
}
