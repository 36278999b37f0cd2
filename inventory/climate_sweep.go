package inventory

import (
	"context"
	"fmt"
	"time"

	"wirehold/inventory/exposure"
)

// SweepClimate raises an alert for each dry-kept place that is out of its
// limits at the instant at, and another for each that has been silent for
// longer than its allowed gap; it clears those whose cause is gone.
func (l *Ledger) SweepClimate(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		outside, silent, err := climateDue(tx, at)
		if err != nil {
			return err
		}
		if raised, cleared, err = settle(tx, ClimateAlert, outside, at); err != nil {
			return err
		}
		more, gone, err := settle(tx, SilentAlert, silent, at)
		raised, cleared = raised+more, cleared+gone
		return err
	})
	return raised, cleared, err
}

// climateDue says which dry-kept places are out of their limits and which are
// silent, by code, with the reason.
func climateDue(r Reader, at time.Time) (outside, silent map[string]string, err error) {
	places, err := r.PlaceClimates()
	outside, silent = map[string]string{}, map[string]string{}
	for _, p := range places {
		last, _ := p.LastReading()
		if at.Before(last.At) {
			at = last.At // a logger's clock is a little ahead
		}
		switch cause := p.CauseAt(at); {
		case cause&exposure.Silent != 0:
			silent[string(p.Code)] = p.silence(at)
		case cause != 0:
			outside[string(p.Code)] = fmt.Sprintf("%s is not dry: %s. %s Opened wire in it counts as exposed until it is back inside.", p.Name, cause, p.worst(at))
		}
	}
	return outside, silent, err
}

// silence says since when nobody has spoken for the place.
func (p PlaceClimate) silence(at time.Time) string {
	limits := p.InForce(at)
	last, ok := p.LastReading()
	if !ok {
		return fmt.Sprintf("%s has limits since %s and never sent a reading. Opened wire in it counts as exposed: see to its logger.", p.Name, Stamp(limits.From))
	}
	return fmt.Sprintf("%s has sent no reading since %s (%s); %s is allowed. Opened wire in it counts as exposed since %s: see to its logger.",
		p.Name, Stamp(last.At), last.Logger, lengthText(limits.MaxGap), Stamp(last.At.Add(limits.MaxGap)))
}

// worst says what the loggers that break the limits measured.
func (p PlaceClimate) worst(at time.Time) string {
	limits, text := p.InForce(at), ""
	for _, r := range p.Latest {
		if c := limits.Breaks(r.Air); c != 0 && at.Sub(r.At) < limits.MaxGap {
			text += fmt.Sprintf("%s measured %s and %s at %s; it has to keep %s. ", r.Logger, r.Air.Temperature.Tenth(), r.Air.Humidity.Tenth(), Stamp(r.At), limits)
		}
	}
	if text == "" {
		return ""
	}
	return text[:len(text)-1]
}
