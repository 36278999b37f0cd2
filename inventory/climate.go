package inventory

import (
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// ClimateLimits are what a place keeps from an instant on, with who says so.
type ClimateLimits struct {
	exposure.Limits
	Version    int // of the place, as the change left it
	Provenance filler.Provenance
	Source     string
}

// PlacedReading is a reading of a place.
type PlacedReading struct {
	Place Code // a place or feeder
	exposure.Reading
	Where string // it stands in what was sent: "readings/3", "line 4"
}

// ReadingWay is how readings came in.
type ReadingWay string

// The ways.
const (
	ByAPI  ReadingWay = "api"
	ByFile ReadingWay = "file"
	ByHand ReadingWay = "hand"
)

// ReadingBatch is who sent readings, and how.
type ReadingBatch struct {
	Person       Code
	At           time.Time
	Way          ReadingWay
	File, SHA256 string // of a file
	Readings     int
}

// ClimateState is how far a place's readings are settled.
type ClimateState struct {
	SettledAt time.Time // its latest reading; zero if there is none
	TakenFrom time.Time // readings of before are not taken any more; zero if all are
}

// ClimateMean is what one logger measured in one hour or day.
type ClimateMean struct {
	Logger   string
	From     time.Time
	Readings int

	Lowest, Highest, Mean    unit.Celsius
	Driest, Dampest, MeanHum unit.Humidity
}

// Air returns the mean as air.
func (m ClimateMean) Air() exposure.Air {
	return exposure.Air{Temperature: m.Mean, Humidity: m.MeanHum}
}

// The lengths that readings are summed up by.
const (
	ByHour = time.Hour
	ByDay  = 24 * time.Hour
)

// PlaceClimate is a place with the limits in force and the latest that each of
// its loggers said.
type PlaceClimate struct {
	Place
	Limits []ClimateLimits // oldest first; empty if it never had any
	Latest []exposure.Reading
	ByHand []bool // of each of the latest: somebody read it off, and is not missed as a logger is
}

// InForce returns the limits of the instant; declared dry if there are none.
func (p PlaceClimate) InForce(at time.Time) (l ClimateLimits) {
	for _, next := range p.Limits {
		if !next.From.After(at) {
			l = next
		}
	}
	return l
}

// LastReading returns the latest of all loggers; false if there is none.
func (p PlaceClimate) LastReading() (last exposure.Reading, ok bool) {
	for _, r := range p.Latest {
		if !ok || r.At.After(last.At) {
			last, ok = r, true
		}
	}
	return last, ok
}

// CauseAt returns why the place is not dry at an instant that is not before
// its latest reading; zero if it is dry, or not dry-kept at all.
func (p PlaceClimate) CauseAt(at time.Time) exposure.Cause {
	if !p.DryKept {
		return 0
	}
	for _, u := range exposure.NotDry(p.Latest, PureLimits(p.Limits), at, at.Add(time.Second)) {
		return u.Cause
	}
	return 0
}

// PureLimits returns the limits as the reckoning takes them.
func PureLimits(limits []ClimateLimits) []exposure.Limits {
	out := make([]exposure.Limits, len(limits))
	for i, l := range limits {
		out[i] = l.Limits
	}
	return out
}

// ClimateReader looks up what is known of the air of places.
type ClimateReader interface {
	// Outside returns the spans of [from, to) in which the place was not dry,
	// in order and apart; to must have an end. A place that is not dry-kept
	// never was; a dry-kept one is as [exposure.NotDry] says: dry by
	// declaration while it has no limits, not dry before its first reading,
	// while a reading is out of its limits, and from the instant at which the
	// allowed gap after the last reading ran out. Beyond the present that is
	// what follows if no more readings come.
	Outside(place Code, from, to time.Time) ([]exposure.Span, error)
	// Undry returns the same with causes, of a dry-kept place.
	Undry(place Code, from, to time.Time) ([]exposure.Undry, error)
	// PlaceClimate returns one place with its limits and latest readings.
	PlaceClimate(Code) (PlaceClimate, error)
	// PlaceClimates returns every place that is dry-kept or has a logger, by
	// name.
	PlaceClimates() ([]PlaceClimate, error)
	// ClimateMeans returns what the loggers of a place measured in [from, to),
	// summed up by the hour, the day or a number of days, in order; [Invalid]
	// where that is more than 20,000.
	ClimateMeans(place Code, length time.Duration, from, to time.Time) ([]ClimateMean, error)
	// ClimateState returns how far a place's readings are settled; zero if it
	// never had any.
	ClimateState(place Code) (ClimateState, error)
}

// ClimateTx keeps readings and limits.
type ClimateTx interface {
	// AddClimateLimits adds limits to those of a place.
	AddClimateLimits(place Code, l ClimateLimits) error
	// AddReadings keeps the readings that are not there yet and sums them up.
	// It returns the indices of those it kept. [Conflict] if one is there with
	// other values.
	AddReadings(b ReadingBatch, readings []PlacedReading) (kept []int, err error)
	// Readings returns a place's readings of [from, to), in order of time.
	Readings(place Code, from, to time.Time) ([]exposure.Reading, error)
	// SettleClimate replaces what is kept of when the place was not dry within
	// [from, to) and says up to where it is whole.
	SettleClimate(place Code, from, to time.Time, undry []exposure.Undry, settledAt time.Time) error
	// DropReadings deletes the readings of the oldest day of which there are
	// any, if it ends at before or sooner, and notes that none of before
	// takenFrom is taken any more. It returns how many it deleted.
	DropReadings(before, takenFrom time.Time) (int, error)
}
