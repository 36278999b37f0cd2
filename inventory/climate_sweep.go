package inventory

import (
	"context"
	"fmt"
	"maps"
	"time"

	"wirehold/inventory/exposure"
)

// SweepClimate raises an alert for each dry-kept place that is out of its
// limits at the instant at, another for each that has been silent for longer
// than its allowed gap, and one for each logger that is silent while others
// speak for its place; it clears those whose cause is gone.
func (l *Ledger) SweepClimate(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		due, err := climateDue(tx, at)
		if err != nil {
			return err
		}
		for _, kind := range []AlertKind{ClimateAlert, SilentAlert, LoggerAlert} {
			more, gone, err := settle(tx, kind, due[kind], at)
			if raised, cleared = raised+more, cleared+gone; err != nil {
				return err
			}
		}
		return nil
	})
	return raised, cleared, err
}

// climateDue says which dry-kept places are out of their limits, which are
// silent and which have a silent logger, by kind and code, with the reason.
func climateDue(r Reader, at time.Time) (map[AlertKind]map[string]string, error) {
	places, err := r.PlaceClimates()
	due := map[AlertKind]map[string]string{ClimateAlert: {}, SilentAlert: {}, LoggerAlert: {}}
	for _, p := range places {
		when, code := at, string(p.Code)
		if last, _ := p.LastReading(); when.Before(last.At) {
			when = last.At // this place's logger's clock is a little ahead
		}
		cause := p.CauseAt(when)
		if cause&exposure.Silent != 0 {
			due[SilentAlert][code] = p.silence(when)
			continue // whoever looks at it finds every logger
		}
		if cause != 0 {
			due[ClimateAlert][code] = fmt.Sprintf("%s is not dry: %s. %s Opened wire in it counts as exposed until it is back inside.", p.Name, cause, p.worst(when))
		}
		maps.Copy(due[LoggerAlert], p.mute(when))
	}
	return due, err
}

// loggerForgotten is after how long without a reading a logger counts as taken
// away, where others speak for its place.
const loggerForgotten = 7 * 24 * time.Hour

// Mute reports whether the logger of a dry-kept place's i-th latest reading has
// said nothing for longer than the limits allow. What a person read off a gauge
// is not missed.
func (p PlaceClimate) Mute(i int, at time.Time) bool {
	limits := p.InForce(at)
	return p.DryKept && !limits.Declared() && !p.ByHand[i] && at.Sub(p.Latest[i].At) >= limits.MaxGap
}

// mute says which loggers of the place are silent, by the subject of the alert
// about each. One that has been for a week was taken away.
func (p PlaceClimate) mute(at time.Time) map[string]string {
	gap, silent := p.InForce(at).MaxGap, map[string]string{}
	for i, r := range p.Latest {
		if p.Mute(i, at) && at.Sub(r.At) < max(loggerForgotten, 2*gap) {
			silent[string(p.Code)+" "+r.Logger] = fmt.Sprintf("In %s a logger has fallen silent: %s since %s; %s is allowed. Others speak for the place meanwhile.", p.Name, r.Logger, Stamp(r.At), lengthText(gap))
		}
	}
	return silent
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
