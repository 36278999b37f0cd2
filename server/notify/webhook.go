package notify

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"strings"
	"syscall"
	"time"

	"wirehold/inventory"
)

// Webhook posts alerts to webhooks, signed. It is safe for concurrent use.
type Webhook struct {
	client *http.Client
	base   string
}

// NewWebhook returns a sender. base is where the pages are reached; empty for
// no links.
//
// It follows no redirection, goes through no proxy, and connects to no
// link-local, multicast or unspecified address, whatever the name stands for:
// there the machine's own keys are given out in some places, and no shop's
// board is. Other addresses of the shop's own network are allowed, which is why
// only the owner enters a webhook.
func NewWebhook(base string) *Webhook {
	dialer := &net.Dialer{Timeout: 10 * time.Second, Control: func(_, address string, _ syscall.RawConn) error { return mayDial(address) }}
	return &Webhook{base: strings.TrimSuffix(base, "/"), client: &http.Client{
		Transport:     &http.Transport{DialContext: dialer.DialContext, DisableKeepAlives: true, TLSHandshakeTimeout: 10 * time.Second, ResponseHeaderTimeout: 15 * time.Second},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}
}

// mayDial refuses addresses at which nothing of the shop's is.
func mayDial(address string) error {
	a, err := netip.ParseAddrPort(address)
	if err != nil {
		return err
	}
	if ip := a.Addr().Unmap(); ip.IsLinkLocalUnicast() || ip.IsMulticast() || ip.IsUnspecified() {
		return refused("%s is an address of this machine's link, and nothing is posted there", ip)
	}
	return nil
}

// posted is what a webhook gets.
type posted struct {
	Delivery  string     `json:"delivery"` // the same however often it is tried
	Alert     int64      `json:"alert"`
	Kind      string     `json:"kind"`
	Title     string     `json:"title"`
	About     string     `json:"about"`
	Subject   string     `json:"subject"`
	Text      string     `json:"text"`
	Where     string     `json:"where,omitempty"`
	Advice    string     `json:"advice"`
	RaisedAt  time.Time  `json:"raised_at"`
	ClearedAt *time.Time `json:"cleared_at,omitempty"`
	Link      string     `json:"link,omitempty"`
}

func (w *Webhook) body(d inventory.Delivery) ([]byte, error) {
	n := d.News[0] // a webhook gets one at a time
	a := n.Alert
	p := posted{Delivery: d.Key, Alert: a.ID, Kind: string(a.Kind), Title: a.Kind.Title(), About: string(a.Kind.About()), Subject: a.Subject,
		Text: a.Text, Where: n.Where, Advice: a.Kind.Advice(), RaisedAt: a.RaisedAt}
	if at := a.ClearedAt; !at.IsZero() {
		p.ClearedAt = &at
	}
	if w.base != "" {
		p.Link = fmt.Sprintf("%s/alerts/%d", w.base, a.ID)
	}
	return json.Marshal(p)
}

// Sign returns the signature of a body that is sent at an instant:
// "t=1795000000,sha256=…", the HMAC-SHA256 (RFC 2104) with the secret of the
// seconds since 1970, a full stop and the body, in hexadecimal.
func Sign(secret inventory.Secret, at time.Time, body []byte) string {
	t := strconv.FormatInt(at.Unix(), 10)
	h := hmac.New(sha256.New, []byte(secret))
	h.Write([]byte(t + "."))
	h.Write(body)
	return "t=" + t + ",sha256=" + hex.EncodeToString(h.Sum(nil))
}

// Send posts the alert to the webhook.
func (w *Webhook) Send(ctx context.Context, d inventory.Delivery, at time.Time) error {
	if d.Webhook.Retired() {
		return refused("the webhook was retired at %s", inventory.Stamp(d.Webhook.RetiredAt))
	}
	body, err := w.body(d)
	if err != nil {
		return refused("the message cannot be written: %v", err)
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, d.Webhook.URL, bytes.NewReader(body))
	if err != nil {
		return refused("its address cannot be posted to: %v", err)
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("User-Agent", "Wirehold")
	req.Header.Set("Wirehold-Delivery", d.Key)
	req.Header.Set("Wirehold-Signature", Sign(d.Webhook.Secret, at, body))
	resp, err := w.client.Do(req)
	if err != nil {
		return fmt.Errorf("it cannot be reached: %w", err)
	}
	defer resp.Body.Close()
	_, _ = io.CopyN(io.Discard, resp.Body, 64<<10) // what it says is not read: the status is the answer
	return answered(resp.StatusCode)
}

// answered is what a status means (RFC 9110): 2xx took it; 408, 425, 429 and
// 5xx may take it later; all else never will.
func answered(status int) error {
	switch {
	case status >= 200 && status < 300:
		return nil
	case status == http.StatusRequestTimeout, status == http.StatusTooEarly, status == http.StatusTooManyRequests, status >= 500:
		return fmt.Errorf("it answered %d %s", status, http.StatusText(status))
	case status >= 300 && status < 400:
		return refused("it answered %d and points elsewhere: enter the address it points to", status)
	}
	return refused("it answered %d %s", status, http.StatusText(status))
}
