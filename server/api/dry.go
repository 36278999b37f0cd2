package api

import (
	"context"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

type dryBody struct {
	Entry
	DryingFields
	Place string `json:"place,omitempty" doc:"Where it was put then; left out, it is in the oven."`
}

// DryingFields are how a spool was dried.
type DryingFields struct {
	From      time.Time `json:"dried_from" doc:"When it went into the oven; effective_at is when it came out."`
	Oven      string    `json:"oven" doc:"The code of the place."`
	HeatDegC  float64   `json:"heat_degc" doc:"The temperature that the oven held."`
	HeldH     float64   `json:"held_h" doc:"For how many hours it held that."`
	Material  string    `json:"material,omitempty" enum:"metal,plastic,fibre or cardboard" doc:"What the spool itself is made of. It may be left out where the wire's package or sheet says so."`
	Confirmed string    `json:"confirmed,omitempty" maxLength:"500" doc:"Who says that it may be dried, where the rule of the wire leaves it open."`
}

// dryingBody is how a drying that is corrected really was.
type dryingBody struct {
	DryingFields
	Until time.Time `json:"dried_until" doc:"When it came out of the oven."`
}

// dry reads the fields; its Entry and Place are left empty.
func (f DryingFields) dry() (inventory.Dry, error) {
	oven, err := codeOf(inventory.PlaceCode, "oven", f.Oven)
	if err != nil {
		return inventory.Dry{}, err
	}
	heat, ok := unit.CelsiusOf(f.HeatDegC)
	if !ok {
		return inventory.Dry{}, inventory.Invalidf("heat_degc", "give the temperature in degrees Celsius")
	}
	if f.HeldH < 0 || f.HeldH > 1000 {
		return inventory.Dry{}, inventory.Invalidf("held_h", "give the hours that the oven held its temperature, such as 6 or 6.5")
	}
	return inventory.Dry{From: f.From, Oven: oven, Heat: heat, Held: time.Duration(f.HeldH * float64(time.Hour)).Truncate(time.Second),
		Material: inventory.SpoolMaterial(f.Material), Confirmed: f.Confirmed}, nil
}

func (h *handlers) dry(ctx context.Context, spool string, in dryBody) (inventory.Spool, error) {
	e, err := in.of(spool)
	if err != nil {
		return inventory.Spool{}, err
	}
	d, err := in.DryingFields.dry()
	if err != nil {
		return inventory.Spool{}, err
	}
	if d.Place, err = optionalCode(inventory.PlaceCode, "place", in.Place); err != nil {
		return inventory.Spool{}, err
	}
	d.Entry = e
	return h.Ledger.Dry(ctx, d)
}

func (h *handlers) damaged(ctx context.Context, spool string, in reasonBody) (inventory.Spool, error) {
	return withReason(ctx, spool, in, h.Ledger.FoundDamaged)
}
