package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"time"
)

// Channel is a way on which alerts leave the program.
type Channel string

// The channels.
const (
	EmailChannel   Channel = "e-mail"
	WebhookChannel Channel = "webhook"
)

// Message is one alert on its way to one recipient. It is written in the
// transaction that raises the alert, and delivered afterwards: whatever happens
// to the program in between, it is in the database.
type Message struct {
	ID        int64
	AlertID   int64
	Channel   Channel
	Recipient string // a person's code, or a webhook's id
	Key       string // names the message: see Bundle
	// Bundle names what the message goes out in outside the program, alone or
	// with others, the same however often it is tried: in the Message-ID of an
	// e-mail, in the delivery id of a webhook. Of a message that goes alone it
	// is its Key. It is empty until the message is first lent, and again from
	// when somebody has it tried again.
	Bundle string
	Urgent bool      // it goes out in quiet hours too
	MadeAt time.Time // when the alert was raised
	Attempt
}

// MessageLine is a message with the names a list shows.
type MessageLine struct {
	Message
	Kind          AlertKind
	Subject       string
	RecipientName string // of the person or the webhook
}

// MessageQuery asks for one page of messages, the latest first.
type MessageQuery struct {
	State string // waiting, sent or given up; empty is any
	Alert int64  // of this alert; zero is any
	Limit int    // 1 to 200; zero is 50
	After int    // how many to leave out
}

// MessageReader looks messages up.
type MessageReader interface {
	ContactReader
	WebhookReader
	Messages(MessageQuery) ([]MessageLine, error)
	// CountMessages returns how many wait and how many were given up.
	CountMessages() (waiting, dead int, err error)
	// MessageDue reports whether a message may be tried at the instant at.
	MessageDue(c Channel, urgentOnly bool, at time.Time) (bool, error)
	// Whereabouts says in words where each of the spools is now; one that is not
	// there is left out.
	Whereabouts(spools []Code) (map[Code]string, error)
}

// MessageTx writes messages.
type MessageTx interface {
	UpdateContact(Contact) error
	AddWebhook(Webhook) (id int64, err error)
	UpdateWebhook(Webhook) error
	// AddMessages enters messages. One that is there already, by alert, channel
	// and recipient, is left as it is.
	AddMessages([]Message) error
	// ClaimMessages lends the message that is due longest to the holder of the
	// claim until an instant, with all that go out with it, and counts the try;
	// [NotFound] if none is due. Until then nobody else is lent any of them.
	//
	// Messages go out together by e-mail: those to one recipient that are due
	// when one of them is first lent, to the most that one e-mail holds. From
	// then on they stay together, tries, quiet hours and all, so that what is
	// sent again is the same and says so.
	ClaimMessages(c Channel, urgentOnly bool, claim string, at, until time.Time) ([]Message, error)
	// SettleMessages writes how a try of the messages with the ids went. It ends
	// the claim; [Conflict], and nothing is written, if somebody else has one of
	// them by now.
	SettleMessages(ids []int64, claim string, a Attempt) error
	// PutOffMessages makes what waits for a recipient due at until at the
	// soonest, but for what is lent.
	PutOffMessages(c Channel, recipient string, until time.Time) error
	// RetryMessage makes a message that was given up due again; [Conflict] if
	// it was not given up.
	RetryMessage(id int64, by Code, at time.Time) (Message, error)
}

// post writes a message of each alert to each who is told of its kind.
func post(tx Tx, alerts []Alert) error {
	if len(alerts) == 0 {
		return nil
	}
	people, err := tx.Contacts()
	if err != nil {
		return err
	}
	hooks, err := tx.Webhooks()
	if err != nil {
		return err
	}
	var out []Message
	for _, a := range alerts {
		for _, p := range people {
			if slices.Contains(p.Kinds, a.Kind) {
				out = append(out, newMessage(a, EmailChannel, string(p.Person)))
			}
		}
		for _, w := range hooks {
			if !w.Retired() && slices.Contains(w.Kinds, a.Kind) {
				out = append(out, newMessage(a, WebhookChannel, strconv.FormatInt(w.ID, 10)))
			}
		}
	}
	return tx.AddMessages(out)
}

func newMessage(a Alert, c Channel, recipient string) Message {
	h := sha256.New()
	number(h, a.ID)
	text(h, string(a.Kind))
	text(h, a.Subject)
	text(h, a.Text)
	number(h, a.RaisedAt.Unix())
	text(h, string(c))
	text(h, recipient)
	return Message{AlertID: a.ID, Channel: c, Recipient: recipient, Key: hex.EncodeToString(h.Sum(nil))[:32], Urgent: a.Kind.Urgent(), MadeAt: a.RaisedAt, Attempt: Attempt{DueAt: a.RaisedAt}}
}
