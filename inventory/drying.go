package inventory

import (
	"time"

	"wirehold/inventory/unit"
)

// Drying is one stay of a spool in a drying oven.
type Drying struct {
	From, Until time.Time     // in the oven
	Oven        Code          // the place
	At          unit.Celsius  // that the oven held
	Held        time.Duration // how long it held that temperature
	Takes       time.Duration // what it takes off the exposure; [exposure.All] is all of it
	Rule        string        // what it was held against, with its source
}

// longestHeat is the hottest that anybody could mean: a covered electrode is
// baked at up to 430 degC (AWS D1.1:2015 5.3.2.4, testdata/exposure_rules.csv
// E028), and no oven for wire goes near a thousand. It catches a slip of the
// finger; the rule of the wire is what limits.
const longestHeat = 1000 * unit.Degree
