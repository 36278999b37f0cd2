package inventory

import (
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

// speaksFor is how long a reading tells how warm a place is where the place
// has no gap of its own.
//
// Source: testdata/exposure_rules.csv E100 (published): at least one reading a
// day.
const speaksFor = 24 * time.Hour

// Opening is what the air would do to a spool whose package is opened in it.
// It is a caution, never a stop.
type Opening struct {
	Does    exposure.Condensation
	Surface unit.Celsius // how warm the spool is taken to be: as its place
	Dew     unit.Celsius // the dew point of the air it would be opened in
	From    PlaceClimate // where the spool lies
	Into    PlaceClimate // whose air it meets
	At      time.Time    // of the older of the two readings
}

// Caution reports whether there is something to say.
func (o Opening) Caution() bool { return o.Does != exposure.StaysDry }

// Source says where the caution comes from.
func (o Opening) Source() string {
	if o.Does == exposure.Sweats {
		return exposure.DewSource
	}
	return exposure.MarginSource
}

// OpeningIn says what the air of the place into does to a spool that lies in
// the place from and is opened at the instant at. known is false where either
// place has no reading that still speaks, or the air has no dew point by the
// formula: then nothing can be said. OpeningIn is pure.
func OpeningIn(from, into PlaceClimate, at time.Time) (o Opening, known bool) {
	lies, okFrom := from.speaks(at)
	meets, okInto := into.speaks(at)
	dew, err := meets.Air.DewPoint()
	if !okFrom || !okInto || err != nil {
		return Opening{}, false
	}
	o = Opening{Does: exposure.Meets(lies.Air.Temperature, dew), Surface: lies.Air.Temperature, Dew: dew, From: from, Into: into, At: lies.At}
	if meets.At.Before(o.At) {
		o.At = meets.At
	}
	return o, true
}

// speaks returns the latest reading, if it still speaks for the place.
func (p PlaceClimate) speaks(at time.Time) (exposure.Reading, bool) {
	r, ok := p.LastReading()
	gap := speaksFor
	if l := p.InForce(at); !l.Declared() {
		gap = l.MaxGap
	}
	return r, ok && at.Sub(r.At) < gap
}

// OpeningSomewhere is [OpeningIn] where nobody says at which feeder the spool
// will be opened: in the air with the highest dew point of all places that are
// not dry-kept and have a reading that still speaks.
func OpeningSomewhere(from PlaceClimate, places []PlaceClimate, at time.Time) (worst Opening, known bool) {
	for _, into := range places {
		if into.DryKept || into.Code == from.Code {
			continue
		}
		if o, ok := OpeningIn(from, into, at); ok && (!known || o.Dew > worst.Dew) {
			worst, known = o, true
		}
	}
	return worst, known
}
