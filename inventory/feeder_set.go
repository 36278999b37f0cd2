package inventory

import "time"

// setFeeder makes what the welder set and confirmed how the feeder stands, and
// keeps that as a change of the feeder. Nothing is written where it stands so
// already. The error is [Conflict] where the request key was used for another
// record.
func (c LoadCheck) setFeeder(tx Tx, o Load, at time.Time) error {
	before, after := *c.Feeder, *c.Feeder
	machine := *c.Feeder.forFit()
	for _, s := range c.Settings {
		machine = s.Done(machine)
	}
	after.Polarity, after.Gas, after.Rolls, after.RollSize = machine.Polarity, machine.Gas, machine.Rolls, machine.RollSize
	what := toldDifferences(before.differences(after))
	if len(what) == 0 {
		return nil
	}
	switch done, err := tx.RecordRequested(o.RequestKey); {
	case err == nil:
		return Conflictf("request-key-used", "request key %q was used already, for something else (%s %s was %s): look at it, and use a new key", done.RequestKey, done.Kind, done.Subject, done.Deed)
	case KindOf(err) != NotFound:
		return err
	}
	after.Version++
	if err := tx.UpdateFeeder(after); err != nil {
		return err
	}
	return tx.AddRecordChange(RecordChange{Kind: FeederRecord, Subject: string(after.Code), Deed: RecordEdited,
		Change: Change{Version: after.Version, Person: o.Person, At: at, RequestKey: o.RequestKey, Request: o.wish(), What: append(what, "set as spool "+string(o.Spool)+" was loaded")}})
}
