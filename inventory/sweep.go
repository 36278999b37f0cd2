package inventory

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"wirehold/inventory/reorder"
	"wirehold/inventory/unit"
)

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
