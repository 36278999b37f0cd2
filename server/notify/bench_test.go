package notify_test

import (
	"context"
	"testing"
	"time"

	"wirehold/inventory"
)

// taking takes every message at once.
type taking struct{}

func (taking) Send(context.Context, inventory.Delivery, time.Time) error { return nil }

// BenchmarkRound settles the messages of one sweep, 200 alerts that two people
// and a webhook are told of, through a sender that takes no time: what is left
// is the outbox, on a real database.
func BenchmarkRound(b *testing.B) {
	for _, c := range []inventory.Channel{inventory.EmailChannel, inventory.WebhookChannel} {
		b.Run(string(c), func(b *testing.B) {
			const alerts = 200
			settled := 0
			for b.Loop() {
				b.StopTimer()
				y := newYard(b, monday)
				y.person(b, "Ilse", "ilse@yard.example", inventory.ReorderAlert)
				y.person(b, "Otto", "otto@yard.example", inventory.ReorderAlert)
				must(y.ledger.EnterWebhook(b.Context(), inventory.WebhookEntry{Edit: y.edit(0),
					Of: inventory.Webhook{Name: "Board", URL: "https://board.yard.example/", Secret: "invented-for-this-test", Kinds: []inventory.AlertKind{inventory.ReorderAlert}}}))(b)
				y.short(b, alerts)
				w := y.worker(y.ledger, c, taking{})
				b.StartTimer()
				round(b, w)
				b.StopTimer()
				waiting, dead, err := y.store.Read(b.Context()).CountMessages()
				if of := map[inventory.Channel]int{inventory.EmailChannel: 2, inventory.WebhookChannel: 1}[c]; err != nil || dead != 0 || waiting != (3-of)*alerts {
					b.Fatalf("%d wait and %d were given up, %v; want %d", waiting, dead, err, (3-of)*alerts)
				} else {
					settled += of * alerts
				}
				b.StartTimer()
			}
			b.ReportMetric(float64(settled)/b.Elapsed().Seconds(), "messages/s")
		})
	}
}
