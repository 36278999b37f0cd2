package inventory

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"time"
)

// Delivery is what goes to one recipient at once, lent to whoever delivers it,
// with all they need.
type Delivery struct {
	Channel   Channel
	Recipient string // a person's code, or a webhook's id
	Key       string // names it outside the program: [Message.Bundle]
	Claim     string // proves that it is lent to them
	News      []News // the gravest first, then the oldest; one, but for an e-mail
	Contact   Contact
	Webhook   Webhook
}

// News is a message with what it tells.
type News struct {
	Message
	Alert Alert
	Where string // where the spool is now; empty where the alert is about none
}

// Tries is how often the most tried of the news was tried, this time counted.
func (d Delivery) Tries() (most int) {
	for _, n := range d.News {
		most = max(most, n.Tries)
	}
	return most
}

// Split parts the delivery in those of its news that leave chooses, and the
// rest. They keep its key: it tells a recipient that has it from one that has
// not.
func (d Delivery) Split(leave func(News) bool) (left, rest Delivery) {
	left, rest = d, d
	left.News, rest.News = nil, nil
	for _, n := range d.News {
		if leave(n) {
			left.News = append(left.News, n)
		} else {
			rest.News = append(rest.News, n)
		}
	}
	return left, rest
}

func (d Delivery) ids() []int64 {
	out := make([]int64, len(d.News))
	for i, n := range d.News {
		out[i] = n.ID
	}
	return out
}

// ClaimDelivery lends what goes out next on the channel to the holder of the
// claim until an instant; ok is false if nothing is due at the instant at. In
// the shop's quiet hours only urgent messages are due, and what was sent with
// them before. A claim is a word that was never given out.
func (l *Ledger) ClaimDelivery(ctx context.Context, c Channel, claim string, at, until time.Time) (d Delivery, ok bool, err error) {
	r := l.store.Read(ctx)
	shop, err := r.Shop()
	if err != nil {
		return d, false, err
	}
	at = at.UTC().Truncate(time.Second)
	urgent := shop.Quiet.At(at.In(l.zone))
	if due, err := r.MessageDue(c, urgent, at); err != nil || !due {
		return d, false, err
	}
	err = l.store.Write(ctx, func(tx Tx) error {
		messages, err := tx.ClaimMessages(c, urgent, claim, at, until)
		if err != nil {
			return err
		}
		d, err = lent(tx, messages, claim)
		return err
	})
	if KindOf(err) == NotFound {
		return Delivery{}, false, nil // somebody else took it
	}
	return d, err == nil, err
}

// lent looks up what is needed to deliver the messages, which go to one
// recipient.
func lent(tx Tx, messages []Message, claim string) (Delivery, error) {
	first := messages[0]
	d := Delivery{Channel: first.Channel, Recipient: first.Recipient, Key: first.Bundle, Claim: claim}
	var err error
	if d.News, err = newsOf(tx, messages); err != nil {
		return d, err
	}
	if first.Channel == EmailChannel {
		d.Contact, err = tx.Contact(Code(first.Recipient))
		return d, err
	}
	id, err := strconv.ParseInt(first.Recipient, 10, 64)
	if err != nil {
		return d, err
	}
	d.Webhook, err = tx.Webhook(id)
	return d, err
}

// newsOf looks up what the messages tell.
func newsOf(tx Tx, messages []Message) ([]News, error) {
	ids := make([]int64, len(messages))
	for i, m := range messages {
		ids[i] = m.AlertID
	}
	alerts, err := tx.AlertsWith(ids)
	if err != nil {
		return nil, fmt.Errorf("read the alerts: %w", err)
	}
	byID, spools := make(map[int64]Alert, len(alerts)), []Code(nil)
	for _, a := range alerts {
		if byID[a.ID] = a; a.Kind.About() == AboutSpool {
			spools = append(spools, Code(a.Subject))
		}
	}
	where, err := tx.Whereabouts(spools)
	if err != nil {
		return nil, fmt.Errorf("read where the spools are: %w", err)
	}
	out := make([]News, len(messages))
	for i, m := range messages {
		a := byID[m.AlertID]
		out[i] = News{Message: m, Alert: a}
		if a.Kind.About() == AboutSpool {
			out[i].Where = where[Code(a.Subject)]
		}
	}
	kinds := AlertKinds()
	slices.SortFunc(out, func(a, b News) int {
		return cmp.Or(cmp.Compare(slices.Index(kinds, a.Alert.Kind), slices.Index(kinds, b.Alert.Kind)), a.MadeAt.Compare(b.MadeAt), cmp.Compare(a.ID, b.ID))
	})
	return out, nil
}

// Delivered keeps that the delivery was taken at the instant at.
func (l *Ledger) Delivered(ctx context.Context, d Delivery, at time.Time) error {
	done := d.News[0].Attempt.taken(at)
	return l.store.Write(ctx, func(tx Tx) error { return tx.SettleMessages(d.ids(), d.Claim, done) })
}

// putOff is how long what else waits for a webhook is put off when one message
// is not taken: one that hangs would hold up the others for a try each.
const putOff = time.Minute

// Undelivered keeps why the delivery was not taken, and when it is tried next;
// where next is zero its messages are given up, and stand in the list of those.
func (l *Ledger) Undelivered(ctx context.Context, d Delivery, fault string, at, next time.Time) error {
	how := d.News[0].Attempt.failed(fault, at, next)
	return l.store.Write(ctx, func(tx Tx) error {
		if err := tx.SettleMessages(d.ids(), d.Claim, how); err != nil || d.Channel != WebhookChannel || next.IsZero() {
			return err
		}
		return tx.PutOffMessages(d.Channel, d.Recipient, at.UTC().Truncate(time.Second).Add(putOff))
	})
}

// RetryMessage makes a message that was given up due again, at once. The
// welding engineer and the owner may.
func (l *Ledger) RetryMessage(ctx context.Context, id int64, badgeCode Code) (Message, error) {
	return byBadge(ctx, l, badgeCode, func(tx Tx, by Person, at time.Time) (Message, error) {
		if !by.Role.MayEnterWork() {
			return Message{}, Forbiddenf("may-not-retry", "%s is a %s: the welding engineer or the owner has a message tried again", by.Name, by.Role)
		}
		return tx.RetryMessage(id, by.Code, at)
	})
}
