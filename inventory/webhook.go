package inventory

import (
	"context"
	"log/slog"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Webhook is an address that alerts are posted to, signed with a secret that
// its owner knows too.
type Webhook struct {
	ID        int64
	Name      string
	URL       string // http or https
	Secret    Secret
	Kinds     []AlertKind // in the order of [AlertKinds]
	RetiredAt time.Time   // since when nothing is posted; zero while it is good
	Version   int         // counts the changes, from 1
}

// Retired reports whether nothing is posted to it any more.
func (w Webhook) Retired() bool { return !w.RetiredAt.IsZero() }

// Secret is a text that is shown to nobody: not in a log, not by a verb of fmt.
type Secret string

// String hides the secret.
func (Secret) String() string { return "[secret]" }

// GoString hides the secret from %#v.
func (s Secret) GoString() string { return s.String() }

// LogValue hides the secret from the log.
func (s Secret) LogValue() slog.Value { return slog.StringValue(s.String()) }

// WebhookReader looks up webhooks.
type WebhookReader interface {
	// Webhook returns one webhook, retired or not, with its secret.
	Webhook(id int64) (Webhook, error)
	// Webhooks returns them all by name, those that are retired last.
	Webhooks() ([]Webhook, error)
}

// WebhookEntry is a webhook as somebody enters or edits it. An empty secret
// keeps the one it has.
type WebhookEntry struct {
	Edit
	Of Webhook
}

// leastSecret is how many characters a secret has at least: 16 of an alphabet
// of 32 are 80 bits.
const leastSecret, mostSecret = 16, 200

// MayEnterWebhooks reports whether a person in this role may say where alerts
// are posted: the program sends a request to whatever address they give.
func (r Role) MayEnterWebhooks() bool { return r == Owner }

// EnterWebhook enters a webhook. Only the owner may.
func (l *Ledger) EnterWebhook(ctx context.Context, e WebhookEntry) (Webhook, error) {
	return changeRecord(ctx, l, e.deed(RecordEntered, ""))
}

// ChangeWebhook writes name, address, secret and kinds of the webhook e.Of.ID.
func (l *Ledger) ChangeWebhook(ctx context.Context, e WebhookEntry) (Webhook, error) {
	return changeRecord(ctx, l, e.deed(RecordEdited, strconv.FormatInt(e.Of.ID, 10)))
}

// RetireWebhook ends posting to a webhook, or begins it again.
func (l *Ledger) RetireWebhook(ctx context.Context, e Edit, id int64, retired bool) (Webhook, error) {
	deed := RecordReinstated
	if retired {
		deed = RecordRetired
	}
	return changeRecord(ctx, l, recordDeed[Webhook]{Edit: e, keeper: webhookKeeper(), deed: deed, subject: strconv.FormatInt(id, 10), wish: wish(deed, id), may: mayEnterWebhooks,
		decide: func(_ Tx, w Webhook, at time.Time) (Webhook, []string, error) {
			if w.Retired() == retired {
				return w, nil, nil
			}
			w.RetiredAt = time.Time{}
			if retired {
				w.RetiredAt = at
			}
			return w, []string{"webhook " + string(deed)}, nil
		}})
}

func mayEnterWebhooks(by Person) error {
	if by.Role.MayEnterWebhooks() {
		return nil
	}
	return Forbiddenf("may-not-enter-webhooks", "%s is a %s: only the owner says where alerts are posted", by.Name, by.Role)
}

func (e WebhookEntry) deed(deed RecordDeed, subject string) recordDeed[Webhook] {
	return recordDeed[Webhook]{Edit: e.Edit, keeper: webhookKeeper(), deed: deed, subject: subject, may: mayEnterWebhooks,
		wish: wish(deed, subject, e.Version, e.Of.Name, e.Of.URL, string(e.Of.Secret), e.Of.Kinds),
		decide: func(_ Tx, before Webhook, _ time.Time) (Webhook, []string, error) {
			after := before
			after.Name, after.URL, after.Kinds = e.Of.Name, strings.TrimSpace(e.Of.URL), e.Of.Kinds
			if e.Of.Secret != "" {
				after.Secret = e.Of.Secret
			}
			if err := after.ready(); err != nil {
				return before, nil, err
			}
			what := toldDifferences(differ(Difference{"name", before.Name, after.Name}, Difference{"URL", before.URL, after.URL}, Difference{"told of", kindsText(before.Kinds), kindsText(after.Kinds)}))
			switch {
			case before.Secret == "":
				what = append(what, "secret: given")
			case before.Secret != after.Secret:
				what = append(what, "secret: replaced")
			}
			return after, what, nil
		}}
}

// ready tidies the webhook and says what is wrong.
func (w *Webhook) ready() error {
	faults := tidyAll(map[string]*string{"name": &w.Name})
	if w.Name == "" {
		faults = append(faults, FieldFault{"name", "say what is there: the yard's message board"})
	}
	if says := badWebhookURL(w.URL); says != "" {
		faults = append(faults, FieldFault{"url", says})
	}
	if n := len(w.Secret); n < leastSecret || n > mostSecret || strings.ContainsFunc(string(w.Secret), func(r rune) bool { return r <= ' ' || r > '~' }) {
		faults = append(faults, FieldFault{"secret", "give 16 to 200 letters, digits or marks, without blanks"})
	}
	kinds, err := orderedKinds(w.Kinds)
	if err != nil {
		faults = append(faults, FieldFault{"kinds", detail(err)})
	} else if len(kinds) == 0 {
		faults = append(faults, FieldFault{"kinds", "choose at least one kind of alert"})
	}
	w.Kinds = kinds
	return faultsError(faults)
}

// badWebhookURL says what is wrong with an address to post to; empty if nothing
// is. A name and password in it would be kept and shown in the clear.
func badWebhookURL(text string) string {
	u, err := url.Parse(text)
	switch {
	case err != nil || u.Hostname() == "" || !slices.Contains([]string{"http", "https"}, u.Scheme):
		return "give a whole http or https address, such as https://board.example/hook"
	case u.User != nil:
		return "leave the name and password out: what is posted is signed with the secret"
	case u.Fragment != "":
		return "leave out what follows the #"
	case len(text) > 500:
		return "give at most 500 characters"
	}
	return ""
}

func webhookKeeper() recordKeeper[Webhook] {
	return recordKeeper[Webhook]{kind: WebhookRecord,
		name: func(w Webhook) string { return "webhook " + w.Name },
		mark: func(w *Webhook) (string, *int) { return strconv.FormatInt(w.ID, 10), &w.Version },
		read: func(tx Tx, id string) (Webhook, error) {
			n, err := strconv.ParseInt(id, 10, 64)
			if err != nil {
				return Webhook{}, NotFoundf("no-such-webhook", "there is no webhook %q", clip(id))
			}
			return tx.Webhook(n)
		},
		add: func(tx Tx, w Webhook) (_ Webhook, err error) {
			w.ID, err = tx.AddWebhook(w)
			return w, err
		},
		update: Tx.UpdateWebhook}
}
