package inventory

import (
	"context"
	"errors"
	"strconv"
	"time"
)

// Delivery is a message lent to whoever delivers it, with all they need.
type Delivery struct {
	Message
	Claim   string // proves that it is lent to them
	Alert   Alert
	Where   string  // where the spool is now; empty where the alert is about none
	Contact Contact // of an e-mail; its address may be empty by now
	Webhook Webhook // of a webhook; it may be retired by now
}

// ClaimDelivery lends the next message of the channel to the holder of the
// claim until an instant; ok is false if none is due at the instant at. In the
// shop's quiet hours only urgent ones are due. A claim is a word that was never
// given out.
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
		m, err := tx.ClaimMessage(c, urgent, claim, at, until)
		if err != nil {
			return err
		}
		d, err = lent(tx, m, claim)
		return err
	})
	if KindOf(err) == NotFound {
		return Delivery{}, false, nil // somebody else took it
	}
	return d, err == nil, err
}

// lent looks up what is needed to deliver m.
func lent(tx Tx, m Message, claim string) (d Delivery, err error) {
	d = Delivery{Message: m, Claim: claim}
	if d.Alert, err = tx.Alert(m.AlertID); err != nil {
		return d, errors.Join(errors.New("read its alert"), err)
	}
	if d.Alert.Kind.About() == AboutSpool {
		if d.Where, err = tx.Whereabouts(Code(d.Alert.Subject)); err != nil {
			return d, err
		}
	}
	if m.Channel == EmailChannel {
		d.Contact, err = tx.Contact(Code(m.Recipient))
		return d, err
	}
	id, err := strconv.ParseInt(m.Recipient, 10, 64)
	if err != nil {
		return d, err
	}
	d.Webhook, err = tx.Webhook(id)
	return d, err
}

// Delivered keeps that the message was taken at the instant at.
func (l *Ledger) Delivered(ctx context.Context, d Delivery, at time.Time) error {
	m := d.Message
	m.SentAt, m.Fault = at.UTC().Truncate(time.Second), ""
	return l.store.Write(ctx, func(tx Tx) error { return tx.SettleMessage(m, d.Claim) })
}

// putOff is how long what else waits for a webhook is put off when one message
// is not taken: one that hangs would hold up the others for a try each.
const putOff = time.Minute

// Undelivered keeps why the message was not taken, and when it is tried next;
// where next is zero it is given up, and stands in the list of those.
func (l *Ledger) Undelivered(ctx context.Context, d Delivery, fault string, at, next time.Time) error {
	m := d.Message
	m.Fault, m.DueAt = cut(fault, 500), next.UTC().Truncate(time.Second)
	if next.IsZero() {
		m.DueAt, m.DeadAt = d.DueAt, at.UTC().Truncate(time.Second)
	}
	return l.store.Write(ctx, func(tx Tx) error {
		if err := tx.SettleMessage(m, d.Claim); err != nil || m.Channel != WebhookChannel || next.IsZero() {
			return err
		}
		return tx.PutOffMessages(m.Channel, m.Recipient, at.UTC().Truncate(time.Second).Add(putOff))
	})
}

func cut(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// RetryMessage makes a message that was given up due again, at once. The
// welding engineer and the owner may.
func (l *Ledger) RetryMessage(ctx context.Context, id int64, badgeCode Code) (Message, error) {
	if badgeCode.Kind() != PersonCode {
		return Message{}, Invalidf("person", "scan a badge: %q is not one", badgeCode)
	}
	now := l.at()
	var m Message
	err := l.store.Write(ctx, func(tx Tx) error {
		by, err := badge(tx, badgeCode)
		if err != nil {
			return err
		}
		if !by.Role.MayEnterWork() {
			return Forbiddenf("may-not-retry", "%s is a %s: the welding engineer or the owner has a message tried again", by.Name, by.Role)
		}
		m, err = tx.RetryMessage(id, by.Code, now)
		return err
	})
	return m, err
}
