package inventory

import (
	"context"
	"errors"
	"fmt"
	"time"

	"wirehold/inventory/unit"
)

// Bounds of one batch, and of a reading.
const (
	MostReadings = 10_000 // in one batch
	// MostTableReadings is how many are taken of a table at once: a card holds
	// 26,208 ten-minute readings of half a year.
	MostTableReadings = 30_000
	mostLoggerName    = 60 // characters
	clockAhead        = 5 * time.Minute
	coldestReading    = -100 * unit.Degree
	hottestReading    = 600 * unit.Degree // an oven's
	mostReadingFaults = 100
	// ReadingsKept is how long readings are kept as they came. Later they are
	// kept by the hour and the day, with every stretch in which a place was not
	// dry; no reading of before is taken any more. It is a year and a month: a
	// logger whose card nobody collects all winter is read out when it is
	// calibrated, once a year, at the latest (practice).
	ReadingsKept = 400 * 24 * time.Hour
)

// ReadingsEntry is readings as somebody, or somebody's logger, sends them. It
// needs no request key: a reading is known by its place, logger and instant.
type ReadingsEntry struct {
	Person       Code
	Way          ReadingWay
	File, SHA256 string
	Readings     []PlacedReading
}

// ReadingsTaken is what became of a batch.
type ReadingsTaken struct {
	Kept  int // new
	Known int // there already, with the same values
}

// TakeReadings keeps readings, in any order and however late, and works out
// anew when the places they are of were not dry. All are kept, or none: the
// error names each faulty one. A reading that is there already is passed over;
// with other values it is a [Conflict].
func (l *Ledger) TakeReadings(ctx context.Context, e ReadingsEntry) (ReadingsTaken, error) {
	now := l.at()
	if err := e.ready(now); err != nil {
		return ReadingsTaken{}, err
	}
	var taken ReadingsTaken
	err := l.store.Write(ctx, func(tx Tx) error {
		by, err := badge(tx, e.Person)
		if err != nil {
			return err
		}
		if !by.Role.MayIssue() {
			return Forbiddenf("may-not-enter", "%s is a %s: a store attendant or the welding engineer enters readings", by.Name, by.Role)
		}
		states, err := e.states(tx)
		if err != nil {
			return err
		}
		kept, err := tx.AddReadings(ReadingBatch{Person: by.Code, At: now, Way: e.Way, File: e.File, SHA256: e.SHA256, Readings: len(e.Readings)}, e.Readings)
		if err != nil {
			return err
		}
		taken = ReadingsTaken{len(kept), len(e.Readings) - len(kept)}
		return e.settle(tx, kept, states)
	})
	return taken, err
}

// ready tidies the readings and says what is wrong.
func (e *ReadingsEntry) ready(now time.Time) error {
	most := MostReadings
	if e.Way == ByFile {
		most = MostTableReadings
	}
	switch {
	case e.Person.Kind() != PersonCode:
		return Invalidf("person", "scan a badge: %q is not one", e.Person)
	case len(e.Readings) == 0:
		return Invalidf("readings", "there is no reading in it")
	case len(e.Readings) > most:
		return Invalidf("readings", "%d readings are too many at once: send at most %d", len(e.Readings), most)
	}
	var faults []FieldFault
	for i := range e.Readings {
		if faults = append(faults, e.Readings[i].ready(now)...); len(faults) > mostReadingFaults {
			break
		}
	}
	return faultsError(faults)
}

func (r *PlacedReading) ready(now time.Time) (faults []FieldFault) {
	fault := func(field, format string, args ...any) {
		faults = append(faults, r.fault(field, format, args...))
	}
	if k := r.Place.Kind(); k != PlaceCode && k != FeederCode {
		fault("place", "give the code of a place or feeder, not %q", r.Place)
	}
	name, err := tidy("logger", r.Logger, mostLoggerName)
	if r.Logger = name; err != nil {
		fault("logger", "%s", detail(err))
	} else if name == "" {
		fault("logger", "say which logger or gauge measured it")
	}
	r.At = r.At.UTC().Truncate(time.Second)
	switch {
	case r.At.Unix() <= 0:
		fault("at", "say when it was measured")
	case r.At.After(now.Add(clockAhead)):
		fault("at", "%s is in the future: set the logger's clock", Stamp(r.At))
	}
	if t := r.Air.Temperature; t < coldestReading || t > hottestReading {
		fault("temperature_c", "no place that keeps wire has %s", t)
	}
	if h := r.Air.Humidity; h < 0 || h > unit.Saturated {
		fault("rh_pct", "a relative humidity is between 0 and 100 %%")
	}
	return faults
}

// fault names a field of the reading by where it stands.
func (r PlacedReading) fault(field, format string, args ...any) FieldFault {
	return FieldFault{r.Where + "/" + field, fmt.Sprintf(format, args...)}
}

// states returns how far each place of the batch is settled, and refuses
// readings that come too late to be reckoned with.
func (e ReadingsEntry) states(tx Tx) (map[Code]ClimateState, error) {
	states := map[Code]ClimateState{}
	var faults []FieldFault
	for _, r := range e.Readings { // a batch is of few places, each looked up once
		state, seen := states[r.Place]
		if !seen {
			_, errPlace := tx.Place(r.Place)
			var err error
			state, err = tx.ClimateState(r.Place)
			if KindOf(errPlace) == NotFound {
				faults = append(faults, r.fault("place", "%s", detail(errPlace)))
			} else if err := errors.Join(errPlace, err); err != nil {
				return nil, err
			}
			states[r.Place] = state
		}
		if r.At.Before(state.TakenFrom) {
			faults = append(faults, r.fault("at", "readings of before %s are summed up and not taken any more", Stamp(state.TakenFrom)))
		}
	}
	return states, faultsError(faults[:min(len(faults), mostReadingFaults)])
}
