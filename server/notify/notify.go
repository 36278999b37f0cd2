// Package notify delivers messages of the outbox: by e-mail and by webhook. What
// is due to one person together is one e-mail.
//
// A delivery is lent to one replica for a while, sent, and marked as sent. A
// replica that dies with it lets the loan run out, and another sends it. So
// nothing is lost, and nothing is sent twice, but for one window that no
// program can close: if it dies after the other side took the delivery and
// before that is written down, it is sent once more, the same messages with the
// same Message-ID or delivery id, by which the other side can tell.
package notify

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"wirehold/inventory"
)

// Outbox lends deliveries and keeps how they went; [inventory.Ledger] is one.
type Outbox interface {
	ClaimDelivery(ctx context.Context, c inventory.Channel, claim string, at, until time.Time) (inventory.Delivery, bool, error)
	Delivered(ctx context.Context, d inventory.Delivery, at time.Time) error
	Undelivered(ctx context.Context, d inventory.Delivery, fault string, at, next time.Time) error
}

// Sender hands one delivery to the other side. It returns nil once the other
// side has taken it, an error of [Refused] if it never will, and any other
// error if it may later. Its text is shown to people.
type Sender interface {
	Send(ctx context.Context, d inventory.Delivery, at time.Time) error
}

// Refused is a refusal that trying again does not change.
type Refused struct{ Why string }

func (r *Refused) Error() string { return r.Why }

func refused(format string, args ...any) error { return &Refused{fmt.Sprintf(format, args...)} }

// Unreachable is the failure to reach what all messages of a channel go
// through: the rest of them are not tried until the next round.
type Unreachable struct{ Err error }

func (u *Unreachable) Error() string { return u.Err.Error() }
func (u *Unreachable) Unwrap() error { return u.Err }

const (
	round   = 5 * time.Second  // between two looks into the outbox
	loan    = 2 * time.Minute  // how long something is lent: longer than a try and the marking
	tryTime = 30 * time.Second // after which a try is cancelled
	stale   = 7 * 24 * time.Hour
)

// Worker delivers the messages of one channel, one delivery at a time.
type Worker struct {
	Channel inventory.Channel
	Outbox  Outbox
	Sender  Sender
	Log     *slog.Logger
	Now     func() time.Time
	NewID   func() string  // a word that was never given out
	Chance  func() float64 // from 0 up to 1
}

// Run delivers until ctx ends, then waits for the delivery under way.
func (w *Worker) Run(ctx context.Context) error {
	turns(ctx, round, w.Round, func(err error) { w.Log.Error("outbox_failed", "channel", w.Channel, "error", err) })
	return nil
}

// Round delivers what is due. The error is that of the outbox: one of the other
// side is kept with the message.
func (w *Worker) Round(ctx context.Context) error {
	for ctx.Err() == nil {
		at := w.Now()
		d, ok, err := w.Outbox.ClaimDelivery(ctx, w.Channel, w.NewID(), at, at.Add(loan))
		if err != nil || !ok {
			return err
		}
		unreachable, err := w.deliver(ctx, d)
		if err != nil || unreachable {
			return err
		}
	}
	return nil
}

// deliver tries one delivery, but for what is stale, and keeps how it went. A
// mail server that is set up after months does not pour out the news of all of
// them; somebody who has a message tried again knows how old it is.
func (w *Worker) deliver(ctx context.Context, d inventory.Delivery) (unreachable bool, err error) {
	at := w.Now()
	old, fresh := d.Split(func(n inventory.News) bool { return n.AgainBy == "" && at.Sub(n.MadeAt) > stale })
	if len(old.News) > 0 {
		if err := w.keep(ctx, old, refused("it waited for more than a week, and is no news any more")); err != nil {
			return false, err
		}
	}
	if len(fresh.News) == 0 {
		return false, nil
	}
	failed := w.send(ctx, fresh, at)
	_, unreachable = errors.AsType[*Unreachable](failed)
	return unreachable, w.keep(ctx, fresh, failed)
}

// send hands the delivery over.
func (w *Worker) send(ctx context.Context, d inventory.Delivery, at time.Time) error {
	ctx, cancel := begun(ctx)
	defer cancel()
	return w.Sender.Send(ctx, d, at)
}

// keep writes down how the delivery went; failed is nil if it was taken.
func (w *Worker) keep(ctx context.Context, d inventory.Delivery, failed error) error {
	ctx, cancel := begun(ctx)
	defer cancel()
	at, tries, first := w.Now(), d.Tries(), d.News[0]
	log := w.Log.With("channel", w.Channel, "message", first.ID, "alert", first.AlertID, "kind", first.Alert.Kind, "messages", len(d.News), "try", tries)
	if failed == nil {
		log.Info("message_sent")
		return w.Outbox.Delivered(ctx, d, at)
	}
	next := messagePatience().next(failed, tries, at, w.Chance())
	log.Warn("message_not_sent", "error", failed, "given_up", next.IsZero())
	return w.Outbox.Undelivered(ctx, d, failed.Error(), at, next)
}

// messagePatience tries a message for about two days.
func messagePatience() patience { return patience{first: time.Minute, longest: time.Hour, tries: 53} }
