package exposure

import "wirehold/inventory/unit"

// Condensation is what the air does to a surface that it meets.
type Condensation string

// What it does.
const (
	StaysDry     Condensation = "stays dry"
	NearDewPoint Condensation = "near the dew point" // above it by less than the margin
	Sweats       Condensation = "sweats"             // at or below it: water settles
)

// DewMargin is how far above the dew point a wire is kept.
//
// Source: testdata/exposure_rules.csv E066, practice: borrowed from coating
// work. It is a caution, never a stop.
const DewMargin = 3 * unit.Degree

// DewSource and MarginSource say where the two cautions come from.
const (
	DewSource    = "E069: filler metal maker's storage guide: bring an unopened package to room temperature before opening (published)"
	MarginSource = "E066: 3 °C above the dew point, a margin borrowed from coating work (practice)"
)

// Meets returns what air with the dew point does to a surface.
func Meets(surface, dewPoint unit.Celsius) Condensation {
	switch {
	case surface <= dewPoint:
		return Sweats
	case surface < dewPoint+DewMargin:
		return NearDewPoint
	}
	return StaysDry
}
