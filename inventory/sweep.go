package inventory

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"wirehold/inventory/fit"
	"wirehold/inventory/reorder"
	"wirehold/inventory/unit"
)

// SweepExposure raises an alert for each open spool that the exposure rule
// stops at the instant at, and clears those whose cause is gone. A spool that
// is out is held against its job's profile, any other against the general one.
// It returns how many it raised and cleared; a second run raises nothing twice.
func (l *Ledger) SweepExposure(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		open, err := tx.OpenSpools()
		if err != nil {
			return err
		}
		due := map[string]string{}
		wires, profiles := map[int64]Wire{}, map[string]fit.Profile{}
		for _, s := range open {
			if _, seen := wires[s.WireID]; !seen {
				if wires[s.WireID], err = tx.Wire(s.WireID); err != nil {
					return err
				}
			}
			if _, seen := profiles[s.ProfileID]; !seen {
				if profiles[s.ProfileID], err = l.profileOr(tx, s.ProfileID); err != nil {
					return err
				}
			}
			says, err := overexposed(s, wires[s.WireID], profiles[s.ProfileID], at)
			if err != nil {
				return err
			}
			if says != "" {
				due[string(s.Code)] = fmt.Sprintf("Spool %s (%s, lot %s), at %s, is open since %s. %s", s.Code, s.TradeName, s.LotNumber, s.PlaceName, Stamp(s.OpenedAt), says)
			}
		}
		raised, cleared, err = settle(tx, ExposureAlert, due, at)
		return err
	})
	return raised, cleared, err
}

// GeneralProfile is the id of the rule profile that holds where a spool is not
// out on a job.
const GeneralProfile = "general-shop"

// overexposed returns what the exposure rule says of a spool that it stops;
// empty if it does not.
func overexposed(s SpoolLine, w Wire, profile fit.Profile, at time.Time) (string, error) {
	o, err := offer(s.Spool, Lot{Number: s.LotNumber, Status: fit.LotAccepted}, w, at)
	if err != nil {
		return "", err
	}
	if f, ok := fit.Check(o, fit.Demand{}, nil, profile).Find(fit.RuleExposure); ok && f.Outcome == fit.Stops {
		return f.Says + " (" + f.Demanded.Source + ")", nil
	}
	return "", nil
}

// SweepReorder raises an alert for each wire whose usable stock is below the
// shop's minimum, and clears those that are stocked again.
func (l *Ledger) SweepReorder(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		stock, err := tx.Stock()
		if err != nil {
			return err
		}
		due := map[string]string{}
		for _, line := range stock {
			if missing, short := reorder.Short(line.Usable, line.Minimum); short {
				due[strconv.FormatInt(line.WireID, 10)] = line.below(missing)
			}
		}
		raised, cleared, err = settle(tx, ReorderAlert, due, at)
		return err
	})
	return raised, cleared, err
}

// below says how far a wire is below the shop's minimum, and what to do.
func (s StockLine) below(missing unit.Grams) string {
	text := fmt.Sprintf("%s %s %s: %s usable in stock, %s below the shop's minimum of %s.", s.TradeName, s.Class, s.Diameter.Inches(), s.Usable, missing, s.Minimum)
	if s.Waits > 0 {
		return text + fmt.Sprintf(" %s more waits, for box and sheet disagree: let the welding engineer settle it, or order.", s.Waits)
	}
	return text + " Order."
}
