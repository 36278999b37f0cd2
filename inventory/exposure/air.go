package exposure

import (
	"fmt"
	"math"

	"wirehold/inventory/unit"
)

// Air is air as a logger measures it. The humidity is relative to saturation
// over water at every temperature, below freezing too, as WMO No. 8 has it and
// most sensors report it.
type Air struct {
	Temperature unit.Celsius
	Humidity    unit.Humidity
}

// Formula names the formula that dew points are computed by, with its range
// (testdata/psychrometrics.csv, row P064 and, turned round, P068).
const Formula = "Magnus formula over water, WMO No. 8 / Sonntag 1990: ew = 6.112 exp(17.62 t / (243.12 + t)) hPa, -45 to 60 °C"

// FrostFormula names the one of frost points (row P065).
const FrostFormula = "Magnus formula over ice, WMO No. 8 / Sonntag 1990: ei = 6.112 exp(22.46 t / (272.62 + t)) hPa, -65 to 0 °C"

// magnus is a formula of that form: pressure0 x exp(a t / (b + t)), with t in
// degrees Celsius, between its two ends.
type magnus struct {
	pressure0    float64 // hPa
	a            float64
	b            float64 // °C
	lowest, most unit.Celsius
}

// Coefficients as WMO No. 8 prints them (rows P064 and P065).
func overWater() magnus { return magnus{6.112, 17.62, 243.12, -45 * unit.Degree, 60 * unit.Degree} }
func overIce() magnus   { return magnus{6.112, 22.46, 272.62, -65 * unit.Degree, 0} }

func (m magnus) pressure(t unit.Celsius) unit.Pascals {
	return unit.Pascals(100 * m.pressure0 * math.Exp(m.a*t.Degrees()/(m.b+t.Degrees())))
}

// saturatedAt returns the temperature at which p saturates the air.
func (m magnus) saturatedAt(p unit.Pascals) unit.Celsius {
	g := math.Log(float64(p) / 100 / m.pressure0)
	return unit.Celsius(math.Round(1000 * m.b * g / (m.a - g)))
}

// RangeError says that a formula does not hold for the air.
type RangeError struct {
	Field  string // "temperature" or "humidity"
	Detail string // may be shown
}

func (e *RangeError) Error() string { return e.Detail }

// SaturationPressure returns the pressure of the vapour in air that holds all
// the water it can, over water at every temperature, by [Formula]. Outside -45
// to 60 °C it is a [*RangeError].
func SaturationPressure(t unit.Celsius) (unit.Pascals, error) {
	m := overWater()
	if t < m.lowest || t > m.most {
		return 0, &RangeError{"temperature", fmt.Sprintf("the formula holds from %s to %s, not at %s", m.lowest, m.most, t)}
	}
	return m.pressure(t), nil
}

// VapourPressure returns the pressure of the water vapour in the air; see
// [SaturationPressure].
func (a Air) VapourPressure() (unit.Pascals, error) {
	saturated, err := SaturationPressure(a.Temperature)
	if a.Humidity < 0 || a.Humidity > unit.Saturated {
		return 0, &RangeError{"humidity", fmt.Sprintf("a relative humidity is between 0 and 100 %%, not %s", a.Humidity)}
	}
	return saturated * unit.Pascals(a.Humidity.Percents()/100), err
}

// DewPoint returns the temperature at which water begins to settle from the
// air, by [Formula]; below 0 °C it is over water still, and [Air.FrostPoint]
// is where rime begins. Air outside the range of the formula, or without any
// water, is a [*RangeError].
func (a Air) DewPoint() (unit.Celsius, error) {
	e, err := a.VapourPressure()
	if err != nil {
		return 0, err
	}
	if e == 0 {
		return 0, &RangeError{"humidity", "air without any water has no dew point"}
	}
	return overWater().saturatedAt(e), nil
}

// FrostPoint returns the temperature at which rime begins to settle from the
// air, by [FrostFormula]; frosty is false where the air is so damp that dew
// comes first, above 0 °C. Printed tables give frost points below 0 °C and dew
// points above (row P073).
func (a Air) FrostPoint() (point unit.Celsius, frosty bool, err error) {
	dew, err := a.DewPoint()
	if err != nil || dew >= 0 {
		return 0, false, err
	}
	e, err := a.VapourPressure()
	return overIce().saturatedAt(e), true, err
}

// vapourConstant is 1000 over the gas constant of water vapour, 461.52 J/kg K
// (row P069, memory: 216.679 g K/J x 0.01).
const vapourConstant = 2.16679

// AbsoluteHumidity returns how much water there is in a cubic metre of the air
// (row P069); the errors are those of [SaturationPressure].
func (a Air) AbsoluteHumidity() (unit.GramsPerCubicMetre, error) {
	e, err := a.VapourPressure()
	return unit.GramsPerCubicMetre(vapourConstant * float64(e) / (a.Temperature.Degrees() + 273.15)), err
}

// MixingRatio returns how much water there is for a kilogram of dry air under
// the pressure (row P070); the errors are those of [SaturationPressure].
func (a Air) MixingRatio(pressure unit.Pascals) (unit.GramsPerKilogram, error) {
	e, err := a.VapourPressure()
	return unit.GramsPerKilogram(622 * float64(e) / float64(pressure-e)), err
}
