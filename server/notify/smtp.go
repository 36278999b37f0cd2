package notify

import (
	"errors"
	"fmt"
	"net"
	"net/mail"
	"slices"
	"strconv"
	"strings"

	"wirehold/inventory"
)

// SMTP is how the mail server is reached. An empty Server sends no e-mail.
type SMTP struct {
	Server   string // host:port
	User     string // empty signs in nowhere
	Password inventory.Secret
	From     string // "Wire store <store@yard.example>"
	TLS      string // starttls, implicit or none

	host, domain string // filled in by Check
	port         int
}

// Off reports whether no e-mail is sent.
func (s SMTP) Off() bool { return s.Server == "" }

// Check returns the settings ready for use, or every fault of them at once,
// each named by its flag.
func (s SMTP) Check() (SMTP, error) {
	var faults []error
	fault := func(flag, format string, args ...any) {
		faults = append(faults, fmt.Errorf("--%s: %s", flag, fmt.Sprintf(format, args...)))
	}
	if s.Off() {
		for flag, value := range map[string]string{"smtp-user": s.User, "smtp-from": s.From, "smtp-password-file": string(s.Password)} {
			if value != "" {
				fault(flag, "it says nothing without --smtp")
			}
		}
		return s, joined(faults)
	}
	host, port, err := net.SplitHostPort(s.Server)
	if err != nil || host == "" {
		fault("smtp", "give host and port, such as mail.yard.example:587, not %q", s.Server)
	}
	if s.host = host; err == nil {
		if s.port, err = strconv.Atoi(port); err != nil || s.port < 1 || s.port > 65535 {
			fault("smtp", "give a port from 1 to 65535, not %q", port)
		}
	}
	from, err := mail.ParseAddress(s.From)
	if err != nil {
		fault("smtp-from", "give the address that mails come from, such as Wire store <store@yard.example>")
	} else {
		s.domain = from.Address[strings.LastIndex(from.Address, "@")+1:]
	}
	if !slices.Contains([]string{"starttls", "implicit", "none"}, s.TLS) {
		fault("smtp-tls", "it is starttls, implicit or none, not %q", s.TLS)
	}
	if (s.User == "") != (s.Password == "") {
		fault("smtp-user", "give a user and a password file, or neither")
	}
	if s.TLS == "none" && s.User != "" && !loopback(host) {
		fault("smtp-tls", "without TLS the password would go over the network in the clear: use starttls or implicit")
	}
	return s, joined(faults)
}

// joined puts the faults in order, one a line.
func joined(faults []error) error {
	slices.SortFunc(faults, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
	return errors.Join(faults...)
}

func loopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}
