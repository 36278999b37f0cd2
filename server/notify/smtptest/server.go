// Package smtptest is a real SMTP server on loopback for tests: TLS either way
// and sign-in, by emersion/go-smtp, which shares no code with the sender.
package smtptest

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"net/http/httptest"
	"net/mail"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/emersion/go-sasl"
	"github.com/emersion/go-smtp"
)

// User and Password are what it lets sign in.
const User, Password = "store", "correct horse battery"

// Mail is one e-mail that the server took.
type Mail struct {
	From, To string
	SignedIn bool
	Header   mail.Header
	Body     string
}

// Server is an SMTP server on loopback.
type Server struct {
	Addr string            // host:port
	Cert *x509.Certificate // that it shows, good for 127.0.0.1

	t      testing.TB
	pair   tls.Certificate
	mu     sync.Mutex
	got    []Mail
	refuse map[string]bool // recipients
	gate   chan struct{}   // a mail is taken once it is closed; nil takes at once
	begun  chan struct{}   // told of each mail that waits at the gate
	server *smtp.Server
}

// New prepares a server: it answers nobody until it is started.
func New(t testing.TB) *Server {
	t.Helper()
	web := httptest.NewTLSServer(http.NotFoundHandler()) // only for its certificate
	defer web.Close()
	s := &Server{t: t, pair: web.TLS.Certificates[0], Cert: web.Certificate(), refuse: map[string]bool{}, begun: make(chan struct{}, 100)}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s.Addr = l.Addr().String()
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	return s
}

// Trust returns what trusts the server's certificate and no other.
func (s *Server) Trust() *tls.Config {
	pool := x509.NewCertPool()
	pool.AddCert(s.Cert)
	return &tls.Config{RootCAs: pool, MinVersion: tls.VersionTLS12}
}

// Start answers with STARTTLS, or, if implicit, with TLS from the first byte.
func (s *Server) Start(implicit bool) {
	s.t.Helper()
	l, err := net.Listen("tcp", s.Addr)
	if err != nil {
		s.t.Fatal(err)
	}
	server := smtp.NewServer(smtp.BackendFunc(func(*smtp.Conn) (smtp.Session, error) { return &session{server: s}, nil }))
	server.Domain, server.TLSConfig = "mail.test", &tls.Config{Certificates: []tls.Certificate{s.pair}, MinVersion: tls.VersionTLS12}
	server.ErrorLog = log.New(io.Discard, "", 0) // clients that are killed are part of the tests
	s.server = server
	if implicit {
		l = tls.NewListener(l, server.TLSConfig)
	}
	done := make(chan error, 1)
	go func() { done <- server.Serve(l) }()
	s.t.Cleanup(func() {
		_ = server.Close() // it may have been stopped by the test
		<-done
	})
}

// All returns the mails that were taken, in order.
func (s *Server) All() []Mail {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.got)
}

// Refuse makes the server refuse a recipient for good (550), or take them.
func (s *Server) Refuse(recipient string, refuse bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.refuse[recipient] = refuse
}

// Hold makes mails wait, whole but not taken, until the returned function is
// called. begun gets one value for each that waits.
func (s *Server) Hold() (begun <-chan struct{}, release func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	gate := make(chan struct{})
	s.gate = gate
	return s.begun, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.gate = nil
		close(gate)
	}
}

// session is one connection.
type session struct {
	server *Server
	in     Mail
}

func (s *session) AuthMechanisms() []string { return []string{sasl.Plain} }

func (s *session) Auth(string) (sasl.Server, error) {
	return sasl.NewPlainServer(func(_, user, password string) error {
		if user != User || password != Password {
			return &smtp.SMTPError{Code: 535, EnhancedCode: smtp.EnhancedCode{5, 7, 8}, Message: "wrong name or password"}
		}
		s.in.SignedIn = true
		return nil
	}), nil
}

func (s *session) Mail(from string, _ *smtp.MailOptions) error { s.in.From = from; return nil }

func (s *session) Rcpt(to string, _ *smtp.RcptOptions) error {
	s.server.mu.Lock()
	defer s.server.mu.Unlock()
	if s.server.refuse[to] {
		return &smtp.SMTPError{Code: 550, EnhancedCode: smtp.EnhancedCode{5, 1, 1}, Message: "there is no such user"}
	}
	s.in.To = to
	return nil
}

func (s *session) Data(r io.Reader) error {
	text, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	m, err := mail.ReadMessage(strings.NewReader(string(text)))
	if err != nil {
		return errors.Join(&smtp.SMTPError{Code: 550, Message: "it cannot be read"}, err)
	}
	body, err := io.ReadAll(m.Body)
	if err != nil {
		return err
	}
	got := s.in
	got.Header, got.Body = m.Header, string(body)
	if gate := s.server.held(); gate != nil {
		<-gate
		return &smtp.SMTPError{Code: 451, Message: "it waited too long"} // whoever sent it is gone
	}
	s.server.mu.Lock()
	defer s.server.mu.Unlock()
	s.server.got = append(s.server.got, got)
	return nil
}

func (s *session) Reset()        {}
func (s *session) Logout() error { return nil }

// held returns the gate that a mail waits at, and tells of it; nil if there is
// none.
func (s *Server) held() chan struct{} {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.gate != nil {
		s.begun <- struct{}{}
	}
	return s.gate
}
