package inventory

import (
	"context"
	"fmt"
	"time"
)

// SweepReturns raises an alert for each spool that went out before the last
// shift ended and is not back once the shop's grace is over, and clears those
// that came back. While the shop has no shift ends nobody is told. It returns
// how many it raised and cleared; a second run raises nothing twice.
func (l *Ledger) SweepReturns(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		shop, err := tx.Shop()
		if err != nil {
			return err
		}
		due := map[string]string{}
		if end, ok := shop.LastShiftEnd(at.Add(-shop.Grace).In(l.zone)); ok {
			late, err := tx.OutSince(end)
			if err != nil {
				return err
			}
			for _, s := range late {
				where := ""
				if s.Loaded() {
					where = ", on " + s.PlaceName + ","
				}
				due[string(s.Code)] = fmt.Sprintf("Spool %s (%s, lot %s)%s is out for job %s since %s: %s has it. The shift ended at %s.",
					s.Code, s.TradeName, s.LotNumber, where, s.JobNumber, Stamp(s.OutSince), s.HolderName, end.Format("2006-01-02 15:04 MST"))
			}
		}
		raised, cleared, err = settle(tx, NotReturnedAlert, due, at)
		return err
	})
	return raised, cleared, err
}
