package inventory

import (
	"context"
	"fmt"
	"strings"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
)

// ExposureClock is who enters the hold of a spool that passed its limit: the
// program itself. It is in the database from the start, nobody is given its
// code, and no deed of a person is taken under it.
const ExposureClock Code = "PTRACK-2"

// GeneralProfile is the id of the rule profile that holds where a spool is not
// out on a job.
const GeneralProfile = "general-shop"

// SweepExposure raises an alert for each open spool that the exposure rule
// stops at the instant at, and one for each that it would stop soon, and clears
// those whose cause is gone. A spool is put on hold with the alert that it is
// past its limit: once, so that one which the engineer releases stays released.
// A spool that is out is held against its job's profile, any other against the
// general one. It returns how many it raised and cleared; a second run raises
// nothing twice.
func (l *Ledger) SweepExposure(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	at = at.UTC().Truncate(time.Second)
	err = l.store.Write(ctx, func(tx Tx) error {
		s := exposureSweep{ledger: l, tx: tx, at: at, over: map[string]string{}, near: map[string]string{}, known: map[turnKey][]fit.ExposureTurn{}, stands: map[string]bool{}}
		if err := s.run(); err != nil {
			return err
		}
		over, gone, err := settle(tx, ExposureAlert, s.over, at)
		if err != nil {
			return err
		}
		near, past, err := settle(tx, ExposureNearAlert, s.near, at)
		raised, cleared = over+near, gone+past
		return err
	})
	return raised, cleared, err
}

// exposureSweep is one look at every open spool.
type exposureSweep struct {
	ledger     *Ledger
	tx         Tx
	at         time.Time
	over, near map[string]string // what the alerts say, by spool
	known      map[turnKey][]fit.ExposureTurn
	stands     map[string]bool // spools whose alert stood before
	shop       Shop
	shiftEnds  time.Time // the zero time if the shop has no shifts
}

// turnKey is what the limits of a spool depend on.
type turnKey struct {
	wire    int64
	profile string
	tested  int64 // the lot, if it has an exposure test of its own
}

func turnKeyOf(s SpoolLine) turnKey {
	key := turnKey{wire: s.WireID, profile: s.ProfileID}
	if s.LotTested != "" {
		key.tested = s.LotID
	}
	return key
}

// testedLot is what the exposure rule asks of the spool's lot.
func (s SpoolLine) testedLot() Lot {
	return Lot{Number: s.LotNumber, Papers: LotPapers{Exposure: s.LotTested}}
}

func (s *exposureSweep) run() error {
	open, err := s.tx.OpenSpools()
	if err != nil || len(open) == 0 {
		return err
	}
	standing, err := s.tx.OpenAlerts(ExposureAlert)
	if err != nil {
		return err
	}
	for _, a := range standing {
		s.stands[a.Subject] = true
	}
	if s.shop, err = s.tx.Shop(); err != nil {
		return err
	}
	s.shiftEnds, _ = s.shop.NextShiftEnd(s.at.In(s.ledger.zone))
	a, err := airSince(s.tx, open[0].OpenedAt, s.at)
	if err != nil {
		return err
	}
	for _, spool := range open {
		air, err := a.of(spool.Track)
		if err != nil {
			return err
		}
		if err := s.look(spool, spool.Track.Clock(air, s.at)); err != nil {
			return err
		}
	}
	return nil
}

// look judges one spool.
func (s *exposureSweep) look(spool SpoolLine, c exposure.Clock) error {
	turns, err := s.turns(spool)
	if err != nil || c.Unknown { // what is not known is no alert: the rule stops it at the counter
		return err
	}
	for _, t := range turns {
		left := t.After - c.Exposed
		switch {
		case t.Outcome != fit.Stops:
		case left < 0:
			s.over[string(spool.Code)] = fmt.Sprintf("%s It is past its limit of %s (%s: %s): it was exposed for %s. %s", about(spool), t.Demanded.Text, t.Demanded.Provenance, t.Demanded.Source, HoursText(c.Exposed), s.heldText(spool))
			return s.hold(spool, c, t)
		case c.Runs && s.isNear(spool, left):
			s.near[string(spool.Code)] = fmt.Sprintf("%s It passes its limit of %s (%s: %s) at %s if it stays out.", about(spool), t.Demanded.Text, t.Demanded.Provenance, t.Demanded.Source, Stamp(s.at.Add(left)))
			return nil
		default:
			return nil
		}
	}
	return nil
}

// isNear reports whether somebody is to be told of a spool that passes its
// limit after so long: soon, as the shop says, or, of one that is out, before
// the shift ends.
func (s *exposureSweep) isNear(spool SpoolLine, left time.Duration) bool {
	return left <= s.shop.NearBefore || spool.Out() && !s.shiftEnds.IsZero() && s.at.Add(left).Before(s.shiftEnds)
}

func about(s SpoolLine) string {
	where := s.PlaceName
	if s.HolderName != "" {
		where = "with " + s.HolderName + " for job " + s.JobNumber
	}
	return fmt.Sprintf("Spool %s (%s, lot %s), %s, is open since %s.", s.Code, s.TradeName, s.LotNumber, where, Stamp(s.OpenedAt))
}

// turns returns the limits of the spool's wire under its profile.
func (s *exposureSweep) turns(spool SpoolLine) ([]fit.ExposureTurn, error) {
	key := turnKeyOf(spool)
	if turns, known := s.known[key]; known {
		return turns, nil
	}
	w, err := s.tx.Wire(spool.WireID)
	if err != nil {
		return nil, err
	}
	profile, err := s.ledger.profileOr(s.tx, spool.ProfileID)
	if err != nil {
		return nil, err
	}
	turns, err := exposureTurns(w, spool.testedLot(), profile)
	s.known[key] = turns
	return turns, err
}

// exposureTurns returns the exposures past which the rule judges a spool of the
// lot otherwise.
func exposureTurns(w Wire, lot Lot, p fit.Profile) ([]fit.ExposureTurn, error) {
	o, err := offer(Spool{Full: w.Net, Net: w.Net}, lot, w, exposure.Clock{})
	if err != nil {
		return nil, err
	}
	return fit.ExposureTurns(o, p), nil
}

// heldText says how it stands with the hold of a spool that passed its limit.
func (s *exposureSweep) heldText(spool SpoolLine) string {
	switch {
	case spool.Held != "":
		return "It is on hold."
	case s.stands[string(spool.Code)]:
		return "Its hold was released."
	}
	return "It goes on hold."
}

// hold puts the spool on hold, unless it is or its alert stood before.
func (s *exposureSweep) hold(spool SpoolLine, c exposure.Clock, t fit.ExposureTurn) error {
	if s.stands[string(spool.Code)] || spool.Held != "" || s.at.Before(spool.MovedAt) {
		return nil
	}
	e := Entry{Spool: spool.Code, Person: ExposureClock, RequestKey: fmt.Sprintf("exposure %s %d", spool.Code, spool.Version), At: s.at}
	m := Movement{Type: Held, Reason: fmt.Sprintf("held by rule: exposed for %s, past its limit of %s (%s: %s)", HoursText(c.Exposed), t.Demanded.Text, t.Demanded.Provenance, t.Demanded.Source)}
	_, err := appendAll(s.tx, spool.Spool, []Movement{m}, e, wish(Held, spool.Code, spool.Version), s.at)
	return err
}

// HoursText writes a length of time to the minute: "62 h 5 min", with a minus
// before one that is less than zero.
func HoursText(d time.Duration) string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	out := fmt.Sprintf("%s%d h %d min", sign, d/time.Hour, d%time.Hour/time.Minute)
	return strings.TrimSuffix(out, " 0 min")
}
