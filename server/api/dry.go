package api

import (
	"context"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

type dryBody struct {
	Entry
	From      time.Time `json:"dried_from" doc:"When it went into the oven; effective_at is when it came out."`
	Oven      string    `json:"oven" doc:"The code of the place."`
	HeatDegC  float64   `json:"heat_degc" doc:"The temperature that the oven held."`
	HeldH     float64   `json:"held_h" doc:"For how many hours it held that."`
	Place     string    `json:"place,omitempty" doc:"Where it was put then; left out, it is in the oven."`
	Material  string    `json:"material" enum:"metal,plastic,fibre or cardboard" doc:"What the spool itself is made of."`
	Confirmed string    `json:"confirmed,omitempty" maxLength:"500" doc:"Who says that it may be dried, where the rule of the wire leaves it open."`
}

func (h *handlers) dry(ctx context.Context, spool string, in dryBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	oven, err := codeOf(inventory.PlaceCode, "oven", in.Oven)
	if err != nil {
		return inventory.Spool{}, err
	}
	place, err := optionalCode(inventory.PlaceCode, "place", in.Place)
	if err != nil {
		return inventory.Spool{}, err
	}
	heat, ok := unit.CelsiusOf(in.HeatDegC)
	if !ok || in.HeldH < 0 || in.HeldH > 1000 {
		return inventory.Spool{}, inventory.Invalidf("heat_degc", "give the temperature in degrees Celsius, and the hours")
	}
	held := time.Duration(in.HeldH * float64(time.Hour)).Truncate(time.Second)
	return h.Ledger.Dry(ctx, inventory.Dry{Entry: e, From: in.From, Oven: oven, Heat: heat, Held: held, Place: place,
		Material: inventory.SpoolMaterial(in.Material), Confirmed: in.Confirmed})
}

func (h *handlers) damaged(ctx context.Context, spool string, in reasonBody) (inventory.Spool, error) {
	return withReason(ctx, spool, in, h.Ledger.FoundDamaged)
}
