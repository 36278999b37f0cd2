package unit

import (
	"encoding/csv"
	"math/big"
	"os"
	"strings"
	"testing"
)

// unitRow is one line of testdata/units.csv.
type unitRow struct{ id, from, to, ratio, value string }

func unitRows(t *testing.T) []unitRow {
	t.Helper()
	file, err := os.Open("../../testdata/units.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []unitRow
	for _, l := range lines[1:] {
		out = append(out, unitRow{l[0], l[1], l[2], l[3], l[4]})
	}
	return out
}

// exact is the row's value: its ratio if it has one; nil if it is no number.
func (r unitRow) exact() *big.Rat {
	v, ok := new(big.Rat).SetString(r.ratio)
	if !ok {
		v, ok = new(big.Rat).SetString(r.value)
	}
	if !ok {
		return nil
	}
	return v
}

// TestTable holds every row whose units this package has against its source.
func TestTable(t *testing.T) {
	checked := map[string]int{}
	for _, r := range unitRows(t) {
		number, from, _ := strings.Cut(strings.ReplaceAll(r.from, "mile/h", "mph"), " ")
		kind := from + " to " + strings.ReplaceAll(r.to, "mile/h", "mph")
		text, want := number+" "+from, r.exact()
		switch kind {
		case "in to mm":
			l, err := ParseLength(text)
			same(t, r.id, text, float(int64(l)), new(big.Rat).Mul(want, big.NewRat(1_000_000, 1)), err)
		case "mm to in":
			l, err := ParseLength(text)
			same(t, r.id, text, float(int64(l)), new(big.Rat).Mul(want, big.NewRat(25_400_000, 1)), err)
		case "lb to kg":
			g, err := ParseGrams(text)
			near(t, r.id, text, float(int64(g)), new(big.Rat).Mul(want, big.NewRat(1000, 1)), err)
		case "kg to lb":
			g, err := ParseGrams(text)
			near(t, r.id, text, new(big.Rat).Quo(float(int64(g)), gramsPerPound), want, err)
		case "mph to km/h":
			s, err := ParseSpeed(text)
			near(t, r.id, text, float(int64(s)), new(big.Rat).Mul(want, big.NewRat(1_000_000, 3600)), err)
		case "km/h to mph":
			s, err := ParseSpeed(text)
			near(t, r.id, text, float(int64(s)), new(big.Rat).Mul(want, mmPerSecondPerMPH), err)
		case "mph to m/s":
			s, err := ParseSpeed(text)
			near(t, r.id, text, float(int64(s)), new(big.Rat).Mul(want, big.NewRat(1000, 1)), err)
		case "ksi to MPa", "MPa to ksi":
			s, err := ParseStress(text)
			near(t, r.id, text, big.NewRat(int64(s.in(StressUnit(r.to))), 1), want, err)
		case "ft-lbf to J", "J to ft-lbf":
			to, err := ParseToughness(text + " at 0 degC")
			near(t, r.id, text, big.NewRat(int64(to.Energy.in(EnergyUnit(r.to))), 1), want, err)
		case "degF to degC", "degC to degF":
			to, err := ParseToughness("1 J at " + text)
			near(t, r.id, text, big.NewRat(int64(to.At.in(TemperatureUnit(r.to))), 1), want, err)
		default:
			continue
		}
		checked[kind]++
	}
	for kind, least := range map[string]int{
		"in to mm": 7, "mm to in": 2, "lb to kg": 4, "kg to lb": 3, "mph to km/h": 2, "km/h to mph": 1, "mph to m/s": 1,
		"ksi to MPa": 3, "MPa to ksi": 1, "ft-lbf to J": 2, "J to ft-lbf": 2, "degF to degC": 14, "degC to degF": 13,
	} {
		if checked[kind] < least {
			t.Errorf("testdata/units.csv: %d rows of %s were held against the package, want %d or more", checked[kind], kind, least)
		}
	}
}

func float(n int64) *big.Rat { return big.NewRat(n, 1) }

// near fails the test unless got is want rounded to a whole small unit.
func near(t *testing.T, id, text string, got, want *big.Rat, err error) {
	t.Helper()
	off := new(big.Rat).Sub(got, want)
	if err != nil || off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
		t.Errorf("%s: %q is %s, want %s (%v)", id, text, got.FloatString(3), want.FloatString(3), err)
	}
}

// same is near for units that are exact in the small one, to the last digit
// that the table prints.
func same(t *testing.T, id, text string, got, want *big.Rat, err error) {
	t.Helper()
	off := new(big.Rat).Sub(got, want)
	if err != nil || off.Abs(off).Cmp(big.NewRat(1, 1000)) > 0 {
		t.Errorf("%s: %q is %s nm, want %s (%v)", id, text, got.FloatString(3), want.FloatString(3), err)
	}
}
