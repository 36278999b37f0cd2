package unit

import (
	"fmt"
	"math/big"
	"strings"
)

// Stress is a strength as a standard prints it: a whole number of ksi or MPa.
// The unit is kept, because a specification rounds its two columns apart and a
// strength is compared in the unit the requirement is written in.
type Stress struct {
	Value int
	Unit  StressUnit
}

// StressUnit is the unit a strength is written in.
type StressUnit string

// The units of strength.
const (
	KSI StressUnit = "ksi"
	MPa StressUnit = "MPa"
)

// 1 ksi = 1000 lbf/in2 = 6.894757... MPa: exactly 4.4482216152605 kN over
// 645.16 mm2 (testdata/units.csv, NIST SP 811).
var mpaPerKSI = new(big.Rat).Quo(big.NewRat(44482216152605, 10000000000), big.NewRat(64516, 100))

// ParseStress reads "70 ksi" or "490 MPa". Anything but a whole number above
// zero with its unit is a [*ParseError].
func ParseStress(text string) (Stress, error) {
	bad := &ParseError{text, `strength: give a whole number with its unit, such as "70 ksi" or "490 MPa"`}
	number, unit, ok := split(text)
	if !ok || !number.IsInt() || number.Sign() <= 0 || number.Num().BitLen() > 20 {
		return Stress{}, bad
	}
	n := int(number.Num().Int64())
	switch strings.ToLower(unit) {
	case "ksi":
		return Stress{n, KSI}, nil
	case "mpa":
		return Stress{n, MPa}, nil
	}
	return Stress{}, bad
}

// IsZero reports whether no strength was given.
func (s Stress) IsZero() bool { return s.Value == 0 }

func (s Stress) String() string { return fmt.Sprintf("%d %s", s.Value, s.Unit) }

// AtLeast reports whether s is want or more, reckoned in want's unit and
// rounded to a whole one. 70 ksi is 483 MPa: it does not meet 490 MPa.
func (s Stress) AtLeast(want Stress) bool {
	return s.in(want.Unit) >= want.Value
}

func (s Stress) in(u StressUnit) int {
	if s.Unit == u {
		return s.Value
	}
	r := big.NewRat(int64(s.Value), 1)
	if u == MPa {
		r.Mul(r, mpaPerKSI)
	} else {
		r.Quo(r, mpaPerKSI)
	}
	return round(r)
}

// round returns the whole number nearest to r, halves away from zero.
func round(r *big.Rat) int {
	n, _ := new(big.Int).SetString(r.FloatString(0), 10)
	return int(n.Int64())
}
