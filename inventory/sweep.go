package inventory

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/reorder"
)

// SweepExposure raises an alert for each open spool that has passed its limit
// at the instant at, and clears those whose cause is gone. It returns how many
// it raised and cleared. Running it twice raises nothing twice.
func (l *Ledger) SweepExposure(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		open, err := tx.OpenSpools()
		if err != nil {
			return err
		}
		limits, err := l.exposureLimits(tx, open)
		if err != nil {
			return err
		}
		due := map[string]string{}
		for _, s := range open {
			limit, known := limits[s.WireID]
			so := exposure.Since(s.OpenedAt, at)
			if known && so > limit.Time {
				due[string(s.Code)] = fmt.Sprintf("Spool %s (%s, lot %s) at %s has been open %s; the limit is %s (%s).",
					s.Code, s.TradeName, s.LotNumber, s.PlaceName, hours(so), hours(limit.Time), limit.Source)
			}
		}
		raised, cleared, err = settle(tx, ExposureAlert, due, at)
		return err
	})
	return raised, cleared, err
}

// ExposureLimit is how long a wire may be open, and who says so.
type ExposureLimit struct {
	Time       time.Duration
	Source     string
	Provenance filler.Provenance
}

// exposureLimits returns the limit of each wire that has one: the data sheet's
// or the shop's, else the general profile's.
func (l *Ledger) exposureLimits(r Reader, open []SpoolLine) (map[int64]ExposureLimit, error) {
	limits := map[int64]ExposureLimit{}
	seen := map[int64]bool{}
	for _, s := range open {
		if seen[s.WireID] {
			continue
		}
		seen[s.WireID] = true
		wire, err := r.Wire(s.WireID)
		if err != nil {
			return nil, err
		}
		if limit, ok := wire.ExposureLimit(l.profiles[GeneralProfile]); ok {
			limits[s.WireID] = limit
		}
	}
	return limits, nil
}

// GeneralProfile is the id of the rule profile that holds where a spool is not
// out on a job.
const GeneralProfile = "general-shop"

// ExposureLimit returns the limit for an open spool of w: its data sheet's or
// the shop's, else the profile's. ok is false where neither gives one.
func (w Wire) ExposureLimit(p fit.Profile) (limit ExposureLimit, ok bool) {
	for _, f := range w.Supplied.Named("exposure_limit") {
		if t, err := time.ParseDuration(f.Value + f.Unit); err == nil {
			return ExposureLimit{t, f.Source, f.Provenance}, true
		}
	}
	for _, x := range p.Limits {
		if x.Rule == fit.RuleExposure {
			if t, err := time.ParseDuration(compact(x.Value)); err == nil {
				return ExposureLimit{t, x.Source, x.Provenance}, true
			}
		}
	}
	return ExposureLimit{}, false
}

// compact turns "72 h" into "72h".
func compact(s string) string {
	out := make([]byte, 0, len(s))
	for i := range len(s) {
		if s[i] != ' ' {
			out = append(out, s[i])
		}
	}
	return string(out)
}

func hours(d time.Duration) string {
	return strconv.FormatFloat(d.Hours(), 'f', 1, 64) + " h"
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
				due[strconv.FormatInt(line.WireID, 10)] = fmt.Sprintf("%s %s %s: %s usable in stock, %s below the shop's minimum of %s. Order.",
					line.TradeName, line.Class, line.Diameter.Inches(), line.Usable, missing, line.Minimum)
			}
		}
		raised, cleared, err = settle(tx, ReorderAlert, due, at)
		return err
	})
	return raised, cleared, err
}

// settle makes the standing alerts of a kind those that are due, by subject.
func settle(tx Tx, kind AlertKind, due map[string]string, at time.Time) (raised, cleared int, err error) {
	standing, err := tx.OpenAlerts(kind)
	if err != nil {
		return 0, 0, err
	}
	for _, a := range standing {
		if _, still := due[a.Subject]; still {
			delete(due, a.Subject)
			continue
		}
		if err := tx.ClearAlert(a.ID, at); err != nil {
			return raised, cleared, err
		}
		cleared++
	}
	for subject, text := range due {
		if err := tx.RaiseAlert(Alert{Kind: kind, Subject: subject, Text: text, RaisedAt: at}); err != nil {
			return raised, cleared, err
		}
		raised++
	}
	return raised, cleared, nil
}
