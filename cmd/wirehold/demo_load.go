package main

import (
	"fmt"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// onFeeders is how many spools are on a feeder when the demo opens.
const onFeeders = 2

// freeFeeder is left empty, so that there is one to load.
const freeFeeder = "Feeder 3 mast bay"

// loadFeeders puts two of the spools that are out on feeders they fit, as their
// welders do it: with all confirmed that is to be set.
func (h *history) loadFeeders() error {
	loaded := map[inventory.Code]bool{}
	for _, s := range h.outNow {
		for _, f := range h.feeders {
			if loaded[f.Code] || f.Name == freeFeeder {
				continue
			}
			on, err := h.load(s, f)
			if err != nil {
				return fmt.Errorf("load spool %s on %s: %w", s.Code, f.Name, err)
			}
			if on {
				loaded[f.Code] = true
				break
			}
		}
		if len(loaded) == onFeeders {
			return nil
		}
	}
	return fmt.Errorf("only %d spools went on feeders", len(loaded))
}

// load loads the spool if the load check lets it on the feeder.
func (h *history) load(s inventory.Spool, f inventory.Feeder) (bool, error) {
	check, err := h.ledger.LoadCheck(h.ctx, f.Code, s.Code, "")
	if err != nil || !check.May() {
		return false, err
	}
	o := inventory.Load{Entry: h.entry(s.Code, inventory.Person{Code: s.Holder}), Feeder: f.Code}
	for _, setting := range check.Settings {
		if setting.Change && setting.Part == fit.SetGas {
			return false, nil // the yard leaves its feeders on the gas they have
		}
		o.Confirmed = append(o.Confirmed, inventory.Confirmation{Part: setting.Part, Says: setting.Says})
	}
	_, err = h.ledger.Load(h.ctx, o)
	return err == nil, err
}
