package inventory

import (
	"context"
	"time"

	"wirehold/inventory/exposure"
)

// settle works out anew when the places of the readings that were kept were
// not dry.
func (e ReadingsEntry) settle(tx Tx, kept []int, states map[Code]ClimateState) error {
	touched := map[Code]exposure.Span{}
	for _, i := range kept {
		r := e.Readings[i]
		s, ok := touched[r.Place]
		if !ok || r.At.Before(s.From) {
			s.From = r.At
		}
		if r.At.After(s.To) {
			s.To = r.At
		}
		touched[r.Place] = s
	}
	for place, s := range touched {
		if err := settleReadings(tx, place, s, states[place].SettledAt); err != nil {
			return err
		}
	}
	return nil
}

// settleReadings works out when the place was not dry over what new readings
// of between s.From and s.To, both inclusive, can change: from the first of
// them to one gap after the last, and all that was not settled before.
func settleReadings(tx Tx, place Code, s exposure.Span, settled time.Time) error {
	end := settled
	if s.To.After(end) {
		end = s.To
	}
	p, err := tx.PlaceClimate(place)
	if err != nil {
		return err
	}
	from, to := s.From, s.To.Add(longestGap(p.Limits))
	switch {
	case settled.IsZero():
		if len(p.Limits) > 0 && p.Limits[0].From.Before(from) {
			from = p.Limits[0].From
		}
	case settled.Before(from):
		from = settled
	}
	if to.After(end) {
		to = end
	}
	return settleBetween(tx, p, from, to, end)
}

// resettle works out anew when the place was not dry from an instant on.
func resettle(tx Tx, place Code, from, settled time.Time) error {
	if settled.IsZero() || !from.Before(settled) {
		return nil // nothing is settled beyond
	}
	p, err := tx.PlaceClimate(place)
	if err != nil {
		return err
	}
	return settleBetween(tx, p, from, settled, settled)
}

// settledAtOnce is the stretch over which readings are reckoned with at once:
// with the longest gap before it, twenty loggers that measure every minute make
// 600,000 of it.
const settledAtOnce = 2 * LongestGap

// settleBetween works out when the place was not dry within [from, to), from
// the readings and what of them speaks from before, a stretch at a time, so that
// it needs no more memory for a year than for a fortnight.
func settleBetween(tx Tx, p PlaceClimate, from, to, settled time.Time) error {
	limits, gap := PureLimits(p.Limits), longestGap(p.Limits)
	for done := false; !done; {
		end := from.Add(settledAtOnce)
		if done = !end.Before(to); done {
			end = to
		}
		readings, err := tx.Readings(p.Code, from.Add(-gap), end)
		if err != nil {
			return err
		}
		if err := tx.SettleClimate(p.Code, from, end, exposure.NotDry(readings, limits, from, end), settled); err != nil {
			return err
		}
		from = end
	}
	return nil
}

func longestGap(limits []ClimateLimits) (longest time.Duration) {
	for _, l := range limits {
		longest = max(longest, l.MaxGap)
	}
	return longest
}

// DropReadings deletes the readings of the oldest day that is past
// [ReadingsKept]; by then they are summed up by the hour and the day, and what
// decided is kept. It returns how many it deleted: call it until that is none.
// The oldest reading that is still taken can reach back by the longest gap:
// readings are kept for that much longer than they are taken.
func (l *Ledger) DropReadings(ctx context.Context, at time.Time) (dropped int, err error) {
	taken := at.Add(-ReadingsKept).Truncate(ByDay)
	err = l.store.Write(ctx, func(tx Tx) (err error) {
		dropped, err = tx.DropReadings(taken.Add(-LongestGap), taken)
		return err
	})
	return dropped, err
}
