package unit

import (
	"fmt"
	"math/big"
	"strings"
)

// Energy is an impact energy as a standard prints it, in whole ft-lbf or J.
type Energy struct {
	Value int
	Unit  EnergyUnit
}

// EnergyUnit is the unit an impact energy is written in.
type EnergyUnit string

// The units of impact energy.
const (
	FootPound EnergyUnit = "ft-lbf"
	Joule     EnergyUnit = "J"
)

// Temperature is a test temperature as a standard prints it, in whole degrees.
type Temperature struct {
	Value int
	Unit  TemperatureUnit
}

// TemperatureUnit is the scale a temperature is written in.
type TemperatureUnit string

// The scales of temperature, spelt as in the reference tables.
const (
	Fahrenheit TemperatureUnit = "degF"
	CelsiusDeg TemperatureUnit = "degC"
)

// Toughness is an impact energy held down to a temperature: "20 ft-lbf at
// -20 degF".
type Toughness struct {
	Energy Energy
	At     Temperature
}

// 1 ft-lbf = 0.3048 m x 4.4482216152605 N, exactly (NIST SP 811).
var joulePerFootPound = new(big.Rat).Mul(big.NewRat(3048, 10000), big.NewRat(44482216152605, 10000000000000))

// ParseToughness reads "20 ft-lbf at -20 degF" or "27 J at -30 degC". Anything
// else is a [*ParseError].
func ParseToughness(text string) (Toughness, error) {
	bad := &ParseError{text, `toughness: give an energy at a temperature, such as "20 ft-lbf at -20 degF" or "27 J at -30 degC"`}
	energy, at, found := strings.Cut(text, " at ")
	e, okE := wholeOf(energy, map[string]string{"ft-lbf": string(FootPound), "ft-lb": string(FootPound), "j": string(Joule)})
	t, okT := wholeOf(at, map[string]string{"degf": string(Fahrenheit), "°f": string(Fahrenheit), "degc": string(CelsiusDeg), "°c": string(CelsiusDeg)})
	if !found || !okE || !okT || e.value <= 0 {
		return Toughness{}, bad
	}
	return Toughness{Energy{e.value, EnergyUnit(e.unit)}, Temperature{t.value, TemperatureUnit(t.unit)}}, nil
}

type wholeUnit struct {
	value int
	unit  string
}

func wholeOf(text string, units map[string]string) (wholeUnit, bool) {
	number, unit, ok := split(text)
	known, okUnit := units[strings.ToLower(unit)]
	if !ok || !okUnit || !number.IsInt() || number.Num().BitLen() > 20 {
		return wholeUnit{}, false
	}
	return wholeUnit{int(number.Num().Int64()), known}, true
}

// IsZero reports whether no toughness was given.
func (t Toughness) IsZero() bool { return t.Energy.Value == 0 }

func (t Toughness) String() string {
	return fmt.Sprintf("%d %s at %d %s", t.Energy.Value, t.Energy.Unit, t.At.Value, t.At.Unit)
}

// Meets reports whether t has at least the energy of want at a temperature
// that is as low or lower, each reckoned in want's unit and rounded to a whole
// one: 20 ft-lbf at -20 degF meets 27 J at -29 degC.
func (t Toughness) Meets(want Toughness) bool {
	return t.Energy.in(want.Energy.Unit) >= want.Energy.Value && t.At.in(want.At.Unit) <= want.At.Value
}

func (e Energy) in(u EnergyUnit) int {
	r := big.NewRat(int64(e.Value), 1)
	switch {
	case e.Unit == u:
	case u == Joule:
		r.Mul(r, joulePerFootPound)
	default:
		r.Quo(r, joulePerFootPound)
	}
	return round(r)
}

func (t Temperature) in(u TemperatureUnit) int {
	r := big.NewRat(int64(t.Value), 1)
	switch {
	case t.Unit == u:
	case u == CelsiusDeg:
		r.Sub(r, big.NewRat(32, 1)).Mul(r, big.NewRat(5, 9))
	default:
		r.Mul(r, big.NewRat(9, 5)).Add(r, big.NewRat(32, 1))
	}
	return round(r)
}
