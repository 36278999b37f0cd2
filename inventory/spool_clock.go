package inventory

import (
	"context"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
)

// DryKeeping is a span in which a place was dry-kept by the shop's word.
type DryKeeping struct {
	Place Code
	exposure.Span
}

// ExposureReader looks up what decides whether the exposure clock runs.
type ExposureReader interface {
	// DryKeeping returns when each place was dry-kept by the shop's word.
	DryKeeping() ([]DryKeeping, error)
	// Undry returns when and why a place that is or was dry-kept was not dry by
	// its readings, within [from, to); see [ClimateReader].
	Undry(place Code, from, to time.Time) ([]exposure.Undry, error)
}

// ExposureTx changes what decides whether the exposure clock runs.
type ExposureTx interface {
	// KeepDry begins or ends the dry-keeping of a place at an instant.
	KeepDry(place Code, dry bool, at time.Time) error
}

// airs is the dryness of the places in a transaction, from an instant on. It
// reads each place once, when it is first asked for.
type airs struct {
	r    ExposureReader
	from time.Time // nothing before it is asked for
	now  time.Time // readings end here: what holds then is taken to go on
	kept map[Code][]exposure.Span
	air  exposure.Places
}

// airSince returns the air from an instant on, as it is known now.
func airSince(r ExposureReader, from, now time.Time) (*airs, error) {
	keeping, err := r.DryKeeping()
	if err != nil {
		return nil, err
	}
	a := &airs{r: r, from: from, now: now, kept: map[Code][]exposure.Span{}, air: exposure.Places{}}
	for _, k := range keeping {
		a.kept[k.Place] = append(a.kept[k.Place], k.Span)
	}
	return a, nil
}

// of returns the air of the places that the track names.
func (a *airs) of(t exposure.Track) (exposure.Places, error) {
	if len(a.kept) == 0 {
		return a.air, nil
	}
	var failed error
	t.Places(func(place string) {
		kept := a.kept[Code(place)]
		if _, known := a.air[place]; known || kept == nil || failed != nil {
			return
		}
		undry, err := a.r.Undry(Code(place), a.from, a.now)
		failed = err
		a.air[place] = exposure.NewDryness(kept, goingOn(exposure.Spans(undry), a.now))
	})
	return a.air, failed
}

// goingOn returns the spans with one that lasts until now made endless: a place
// that is out of its limits now is taken to stay so.
func goingOn(spans []exposure.Span, now time.Time) []exposure.Span {
	spans = exposure.Union(spans...)
	if last := len(spans) - 1; last >= 0 && !spans[last].Endless() && !spans[last].To.Before(now) {
		spans[last].To = time.Time{}
	}
	return spans
}

// clockOf returns the exposure of s at the instant at, as far as is known now.
// It reads nothing of a sealed spool.
func clockOf(r ExposureReader, s Spool, at, now time.Time) (exposure.Clock, error) {
	if !s.Opened() {
		return s.Track.Clock(nil, at), nil
	}
	a, err := airSince(r, s.ReceivedAt, now)
	if err != nil {
		return exposure.Clock{}, err
	}
	air, err := a.of(s.Track)
	return s.Track.Clock(air, at), err
}

// Exposure is the exposure clock of one spool with what it is held against.
type Exposure struct {
	exposure.Clock
	Spool   SpoolLine
	Profile string // the name of the rule profile: of the job it is out on, or the general one
	Limits  []ExposureLimit
	Remedy  string        // what can be done where the exposure is not known; empty where it is
	Near    time.Duration // how long before a limit the shop is told of it
}

// ExposureLimit is an exposure past which the rule judges otherwise.
type ExposureLimit struct {
	fit.ExposureTurn
	Left    time.Duration // less than zero once it is passed; means nothing where the exposure is not known
	RunsOut time.Time     // when it is reached if nothing moves, or was; zero is never, or not known
}

// Exposure returns the exposure clock of a spool at an instant, past or yet to
// come; the zero time is now. What was corrected or entered since counts. For
// an instant to come nothing moves and the air stays as it is.
func (l *Ledger) Exposure(ctx context.Context, spool Code, at time.Time) (e Exposure, err error) {
	now := l.at()
	if at.IsZero() {
		at = now
	}
	at = at.UTC().Truncate(time.Second)
	err = l.store.Snapshot(ctx, func(r Reader) error {
		e, err = l.exposure(r, spool, at, now)
		return err
	})
	return e, err
}

func (l *Ledger) exposure(r Reader, spool Code, at, now time.Time) (e Exposure, err error) {
	if _, err := r.Spool(spool); err != nil {
		return e, err
	}
	lines, err := r.SpoolLines([]Code{spool})
	if err != nil {
		return e, err
	}
	e.Spool = lines[0]
	a, err := airSince(r, e.Spool.ReceivedAt, now)
	if err != nil {
		return e, err
	}
	air, err := a.of(e.Spool.Track)
	if err != nil {
		return e, err
	}
	e.Clock = exposure.Reckon(e.Spool.Track.Events(), air, at)
	err = l.judge(r, &e, air)
	return e, err
}

// judge holds the clock against the limits of the spool's wire under its profile.
func (l *Ledger) judge(r Reader, e *Exposure, air exposure.Places) error {
	lot, err := r.Lot(e.Spool.LotID)
	if err != nil {
		return err
	}
	wire, err := r.Wire(lot.WireID)
	if err != nil {
		return err
	}
	profile, err := l.profileOr(r, e.Spool.ProfileID)
	if err != nil {
		return err
	}
	e.Profile = profile.Name
	if e.Unknown {
		e.Remedy = wire.dryingRemedy()
	}
	shop, err := r.Shop()
	if err != nil {
		return err
	}
	e.Near = shop.NearBefore
	turns, err := exposureTurns(wire, lot, profile)
	for _, t := range turns {
		left, _ := e.Clock.Left(t.After)
		e.Limits = append(e.Limits, ExposureLimit{t, left, e.Spool.Track.RunsOut(air, e.At, t.After)})
	}
	return err
}
