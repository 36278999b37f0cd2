package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"wirehold/inventory"
)

// From these days on the yard's alerts are looked for at the end of each
// working day, and people are told of them.
const alertsFrom, toldFrom = demoDays - 60, demoDays - 12

// watch is the end of a working day: what is due is raised, what is gone is
// cleared, and who is told is told. Nothing leaves the program: the demo's
// messages are marked as sent, and one of them as given up.
func (h *history) watch(day int) error {
	if day < alertsFrom {
		return nil
	}
	if !h.shopSet {
		if err := h.setShop(); err != nil {
			return err
		}
	}
	if day >= toldFrom && !h.told {
		if err := h.tellPeople(); err != nil {
			return err
		}
	}
	h.goTo(day, 17)
	for _, step := range []func() error{h.sweep, h.seeSome, h.send} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (h *history) sweep() error {
	l := h.ledger
	for _, sweep := range []func(context.Context, time.Time) (int, int, error){l.SweepReturns, l.SweepReorder, l.SweepLots, l.SummariseWaivers} {
		if _, _, err := sweep(h.ctx, h.clock); err != nil {
			return err
		}
	}
	return nil
}

// setShop says when the yard's shift ends and when its hours are quiet.
func (h *history) setShop() error {
	h.shopSet = true
	shop := inventory.Shop{Grace: 30 * time.Minute, NearBefore: 4 * time.Hour, ShelfBefore: 30, Quiet: inventory.QuietHours{From: 20 * 60, To: 6 * 60}}
	end, err := inventory.ParseShiftEnd("Mon-Fri 15:30")
	if err != nil {
		return err
	}
	shop.ShiftEnds = []inventory.ShiftEnd{end}
	_, err = h.ledger.ChangeShop(h.ctx, inventory.ShopEntry{Edit: inventory.Edit{Person: h.engineer().Code, RequestKey: "demo-shop", Version: 1}, Of: shop})
	return err
}

// tellPeople gives some of the yard an address, and the yard a webhook.
func (h *history) tellPeople() error {
	h.told = true
	addresses := map[inventory.Role]string{inventory.Attendant: "counter@yard.example", inventory.Engineer: "welding@yard.example", inventory.Buyer: "buying@yard.example"}
	for _, role := range []inventory.Role{inventory.Attendant, inventory.Engineer, inventory.Buyer} {
		person := h.withRole(role)[0]
		_, err := h.ledger.ChangeContact(h.ctx, inventory.ContactEntry{Edit: inventory.Edit{Person: person.Code, RequestKey: "demo-contact-" + string(role)},
			Of: inventory.Contact{Person: person.Code, Email: addresses[role], Kinds: role.UsualKinds()}})
		if err != nil {
			return err
		}
	}
	_, err := h.ledger.EnterWebhook(h.ctx, inventory.WebhookEntry{Edit: inventory.Edit{Person: h.withRole(inventory.Owner)[0].Code, RequestKey: "demo-webhook"},
		Of: inventory.Webhook{Name: "Board in the canteen", URL: "https://board.yard.example/wire", Secret: "invented-for-the-demo", Kinds: []inventory.AlertKind{inventory.ExposureAlert, inventory.NotReturnedAlert}}})
	return err
}

// seeSome has the attendant see what is older than a day.
func (h *history) seeSome() error {
	standing, err := h.read().Alerts(inventory.AlertQuery{Limit: 200})
	if err != nil {
		return err
	}
	for _, a := range standing {
		if len(a.Seen) == 0 && h.clock.Sub(a.RaisedAt) >= 24*time.Hour {
			if _, err := h.ledger.SeeAlert(h.ctx, a.ID, h.withRole(inventory.Attendant)[0].Code); err != nil {
				return err
			}
		}
	}
	return nil
}

// send marks the messages as taken, but for one to the webhook.
func (h *history) send() error {
	for _, c := range []inventory.Channel{inventory.EmailChannel, inventory.WebhookChannel} {
		for {
			h.keys++
			d, ok, err := h.ledger.ClaimDelivery(h.ctx, c, fmt.Sprintf("demo-%d", h.keys), h.clock, h.clock.Add(time.Minute))
			if err != nil {
				return err
			}
			if !ok {
				break
			}
			if c == inventory.WebhookChannel && !h.gaveUp {
				h.gaveUp = true
				err = h.ledger.Undelivered(h.ctx, d, "it answered 403 Forbidden", h.clock, time.Time{})
			} else {
				err = h.ledger.Delivered(h.ctx, d, h.clock)
			}
			if err != nil {
				return errors.Join(fmt.Errorf("message %d", d.News[0].ID), err)
			}
		}
	}
	return nil
}
