package fit

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// metalRow is a row of testdata/weld_metal.csv with its inputs by name.
type metalRow struct {
	id, kind, unit, value string
	inputs                map[string]string
}

func metalRows(t *testing.T) []metalRow {
	t.Helper()
	file, err := os.Open(testdata + "weld_metal.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []metalRow
	for _, l := range lines[1:] {
		r := metalRow{id: l[0], kind: l[1], value: l[3], unit: l[4], inputs: map[string]string{}}
		for _, one := range strings.Split(strings.ReplaceAll(l[2], " (", "; "), "; ") {
			name, value, ok := strings.Cut(strings.TrimSuffix(one, ")"), "=")
			if !ok {
				name, value, _ = strings.Cut(one, " ") // "density 7.85"
			}
			r.inputs[name] = value
		}
		out = append(out, r)
	}
	return out
}

// length reads an input; one without a unit is in the unit of the row's first.
func (r metalRow) length(t *testing.T, name string) unit.Length {
	t.Helper()
	text, ok := r.inputs[name]
	if !ok {
		return 0
	}
	if !strings.ContainsAny(text, "mi") {
		text += " mm"
	}
	l, err := unit.ParseLength(text)
	if err != nil {
		t.Fatalf("%s: %s=%q: %v", r.id, name, r.inputs[name], err)
	}
	return l
}

func (r metalRow) number(t *testing.T, name string) float64 {
	t.Helper()
	text, _, _ := strings.Cut(r.inputs[name], " ")
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s: %s=%q: %v", r.id, name, r.inputs[name], err)
	}
	return n
}

// The density of the US tables, 0.283 lb/in3 (D-1), in g/cm3.
const usDensity = 0.283 * 453.59237 / 16.387064

// printed is the row's figure, and half of its last printed digit.
func (r metalRow) printed(t *testing.T) (value, half float64) {
	t.Helper()
	value, err := strconv.ParseFloat(r.value, 64)
	if err != nil {
		t.Fatalf("%s: value %q: %v", r.id, r.value, err)
	}
	_, decimals, _ := strings.Cut(r.value, ".")
	half = 0.5 * math.Pow10(-len(decimals))
	if r.unit == "cm3/m" { // printed to 0.5 below 100 and to 1 above
		half = 0.25
		if value >= 100 {
			half = 0.5
		}
	}
	return value, half
}

// weld is the row's weld over the length that its unit is for; ok is false for
// a kind that is no weld.
func (r metalRow) weld(t *testing.T) (w Weld, ok bool) {
	t.Helper()
	in := func(name string) unit.Length { return r.length(t, name) }
	w.Length = map[string]unit.Length{"lb/ft": 12 * unit.Inch, "kg/m": 1000 * unit.Millimetre, "cm3/m": 1000 * unit.Millimetre, "g/mm": unit.Millimetre}[r.unit]
	angle := func(name string) Angle { return Angle(10 * r.number(t, name)) }
	switch {
	case r.kind == "equal-leg fillet, flat face" || strings.HasPrefix(r.kind, "fillet worked example") || r.kind == "fillet steel deposited" || strings.HasPrefix(r.kind, "fillet with convexity"):
		w.Shape, w.Leg = FilletWeld, in("leg")
		for _, name := range []string{"length", "L"} {
			if _, given := r.inputs[name]; given {
				w.Length = in(name)
			}
		}
		if strings.HasPrefix(r.kind, "fillet with convexity") {
			w.Convexity = 20
		}
		if _, given := r.inputs["convexity"]; given {
			w.Convexity = int(r.number(t, "convexity"))
		}
	case r.kind == "groove triangle (one bevel face)":
		w.Shape, w.Depth, w.Angle = BevelGroove, in("depth"), angle("bevel")
	case r.kind == "groove rectangle (root opening)":
		w.Shape, w.Depth, w.Gap = SquareGroove, in("thickness"), in("gap")
	case r.kind == "reinforcement cap":
		w.Shape, w.Depth, w.Cap, w.CapWidth = SquareGroove, unit.Millimetre, in("height"), in("width")
	case strings.HasPrefix(r.kind, "single-V "):
		w.Shape, w.Depth, w.Gap, w.Angle = VGroove, in("thickness"), in("gap"), angle("included angle")
	case r.kind == "single V with root face and parabolic cap":
		w.Shape, w.Depth, w.Gap, w.Angle, w.RootFace, w.Cap = VGroove, in("t"), in("gap"), angle("included"), in("root face"), in("cap height")
	default:
		return w, false
	}
	return w, true
}

// reckoned is the row's figure as this package reckons it.
func (r metalRow) reckoned(t *testing.T, w Weld) float64 {
	t.Helper()
	density := map[string]float64{"lb/ft": usDensity, "lb": usDensity, "cm3/m": 1, "g/mm": 7.85, "kg": 7.85}[r.unit]
	if r.unit == "kg/m" {
		density = 7.834 // D-3, of the table that converts the US one
		if _, given := r.inputs["density"]; given || r.kind == "single V with root face and parabolic cap" || strings.HasPrefix(r.id, "SK-") {
			density = 7.85
		}
	}
	got := w.metal(density) / map[string]float64{"lb/ft": 453.59237, "lb": 453.59237, "kg/m": 1000, "kg": 1000, "cm3/m": 1, "g/mm": 1}[r.unit]
	if _, given := r.inputs["eff"]; given {
		got = consumed(got, 100*r.number(t, "eff"))
	}
	return got
}

var efficiencyIn = regexp.MustCompile(`eff (0\.\d+)`)

// division is the row's figure where it is weld metal over efficiency.
func (r metalRow) division(t *testing.T) (float64, bool) {
	t.Helper()
	if m := efficiencyIn.FindStringSubmatch(r.kind); m != nil {
		eff, _ := strconv.ParseFloat(m[1], 64)
		return consumed(r.number(t, "deposited"), 100*eff), true
	}
	if r.kind == "wire needed = W*L/E" {
		return consumed(r.number(t, "W")*r.number(t, "L"), 100*r.number(t, "E")), true
	}
	return 0, false
}

// TestWeldMetalAgreesWithTheHandbooks holds every row of weld_metal.csv that is
// a weld, or the wire for one, against its printed figure: within half of the
// last printed digit, or 0.5 % (calculations.md, on tables of three decimals).
func TestWeldMetalAgreesWithTheHandbooks(t *testing.T) {
	misprints := map[string]string{
		"WP-D-3/16": "3/16 in printed as 0.063, should be 0.060",
		"FM-14.29":  "printed 0.671 kg/m, should be 0.800",
		"CV-1/4":    "labelled 6.0 mm but made with 1/4 in, and 1.1 % above what fits its neighbour",
	}
	noWeld := regexp.MustCompile(`^(density|deposition efficiency|cost per lb|deposition rate|solid (steel )?wire length|tubular wire effective)`)
	counts := map[string]int{}
	for _, r := range metalRows(t) {
		if _, wrong := misprints[r.id]; wrong {
			counts["misprint"]++
			continue
		}
		w, isWeld := r.weld(t)
		got, isDivision := r.division(t)
		switch {
		case isWeld:
			if err := w.Validate(); err != nil {
				t.Errorf("%s: %+v: %v", r.id, w, err)
			}
			got = r.reckoned(t, w)
		case !isDivision && noWeld.MatchString(r.kind):
			counts["no weld"]++
			continue
		case !isDivision:
			t.Errorf("%s: nobody checks kind %q", r.id, r.kind)
			continue
		}
		want, half := r.printed(t)
		if strings.HasPrefix(r.id, "SK-") { // that sheet subtracts transverse shrinkage, 5 to 13 %
			counts["less shrinkage"]++
			if below := 1 - want/got; below < 0.045 || below > 0.135 {
				t.Errorf("%s (%s): printed %v is %.3f below the plain %v", r.id, r.kind, want, below, got)
			}
			continue
		}
		counts["agrees"]++
		if off := math.Abs(got - want); off > half+1e-9 && off > 0.005*want {
			t.Errorf("%s (%s %v): got %.5f %s, want %s", r.id, r.kind, r.inputs, got, r.unit, r.value)
		}
	}
	for what, want := range map[string]int{"agrees": 172, "misprint": 3, "less shrinkage": 10, "no weld": 82} {
		if counts[what] != want {
			t.Errorf("%d rows %s, want %d (all: %v)", counts[what], what, want, counts)
		}
	}
}

func TestWeldValidate(t *testing.T) {
	v := Weld{Shape: VGroove, Length: mm(1000), Depth: mm(12), Gap: mm(3), Angle: 600}
	tests := []struct {
		name   string
		change func(*Weld)
		want   string // in the error; empty if it must be accepted
	}{
		{"a V groove", func(*Weld) {}, ""},
		{"no length", func(w *Weld) { w.Length = 0 }, "no length"},
		{"a fillet without a leg", func(w *Weld) { w.Shape = FilletWeld }, "no leg"},
		{"a fillet", func(w *Weld) { w.Shape, w.Leg = FilletWeld, mm(8) }, ""},
		{"a fillet twice as convex as flat", func(w *Weld) { w.Shape, w.Leg, w.Convexity = FilletWeld, mm(8), 120 }, "convexity"},
		{"a fillet as convex again as flat", func(w *Weld) { w.Shape, w.Leg, w.Convexity = FilletWeld, mm(8), 100 }, ""},
		{"a hollow fillet", func(w *Weld) { w.Shape, w.Leg, w.Convexity = FilletWeld, mm(8), -1 }, "convexity"},
		{"a V of 160 deg", func(w *Weld) { w.Angle = 1600 }, ""},
		{"a shape that does not exist", func(w *Weld) { w.Shape = "U groove" }, "no weld shape"},
		{"a groove without depth", func(w *Weld) { w.Depth = 0 }, "no depth"},
		{"a gap below zero", func(w *Weld) { w.Gap = -1 }, "below zero"},
		{"a square groove wants no angle", func(w *Weld) { w.Shape, w.Angle = SquareGroove, 0 }, ""},
		{"a root face of the whole depth", func(w *Weld) { w.RootFace = mm(12) }, "root face"},
		{"no angle", func(w *Weld) { w.Angle = 0 }, "angle"},
		{"a V of 170 deg", func(w *Weld) { w.Angle = 1700 }, "170 deg"},
		{"a bevel of 85 deg", func(w *Weld) { w.Shape, w.Angle = BevelGroove, 850 }, "85 deg"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := v
			tt.change(&w)
			if err := w.Validate(); (err == nil) != (tt.want == "") || err != nil && !strings.Contains(err.Error(), tt.want) {
				t.Errorf("Validate(%+v): %v, want %q", w, err, tt.want)
			}
		})
	}
}

// TestNeed reckons by hand: 12 m of 8 mm fillet is 32 mm2 x 12 m x 7.85 g/cm3 =
// 3014.4 g of weld metal.
func TestNeed(t *testing.T) {
	eight := []Weld{fillet(8, 12)}
	tests := []struct {
		name       string
		offer      Offer
		welds      []Weld
		metal      unit.Grams
		wire       unit.Grams
		efficiency string
		source     string // part of it
		fails      string // part of the error; empty if there must be none
	}{
		{"gas-shielded wire at the least published", spool(wire1C()), eight, 3015, 3677, "82 %", "least published for FCAW-G", ""},
		{"self-shielded wire at the least published", spool(wire8()), eight, 3015, 3865, "78 %", "least published for FCAW-S", ""},
		{"solid wire", spool(solidWire()), eight, 3015, 3350, "90 %", "GMAW", ""},
		{"metal cored wire", spool(metalCoredWire()), eight, 3015, 3242, "93 %", "metal cored", ""},
		{"the data sheet's own figure", spool(with(wire8(), sheet("deposition_efficiency", "85", "%"))), eight, 3015, 3547, "85 %", "data sheet rev 3", ""},
		{"stainless is heavier", spool(stainless("1", onlyCO2, external)), eight, 3072, 3747, "82 %", "FCAW-G", ""},
		{"several welds together", spool(wire8()), []Weld{fillet(8, 12), fillet(6, 10)}, 4428, 5677, "78 %", "", ""},
		{"a sheet nobody can read", spool(with(wire8(), sheet("deposition_efficiency", "good", ""))), eight, 0, 0, "", "", "cannot be read"},
		{"a sheet of no efficiency", spool(with(wire8(), sheet("deposition_efficiency", "0", "%"))), eight, 0, 0, "", "", "cannot be read"},
		{"a sheet of more than there is", spool(with(wire8(), sheet("deposition_efficiency", "101", "%"))), eight, 0, 0, "", "", "cannot be read"},
		{"a sheet without per cent", spool(with(wire8(), sheet("deposition_efficiency", "0.85", ""))), eight, 0, 0, "", "", "cannot be read"},
		{"a sheet of no loss", spool(with(wire8(), sheet("deposition_efficiency", "100", "%"))), eight, 3015, 3015, "100 %", "", ""},
		{"practice is no figure", spool(with(wire8(), custom("deposition_efficiency", "99 %"))), eight, 3015, 3865, "78 %", "", ""},
		{"a wire nobody knows", spool(nil), eight, 0, 0, "", "", "what kind of wire"},
		{"a weld that makes no sense", spool(wire8()), []Weld{{}}, 0, 0, "", "", "no length"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.offer.Need(tt.welds)
			if (err == nil) != (tt.fails == "") || err != nil && !strings.Contains(err.Error(), tt.fails) {
				t.Fatalf("Need(%v): error %v, want %q", tt.welds, err, tt.fails)
			}
			if got.Metal != tt.metal || got.Wire != tt.wire || got.Efficiency != tt.efficiency || !strings.Contains(got.Source, tt.source) {
				t.Errorf("Need(%v): got %+v, want %d g of metal, %d g of wire at %s by %q", tt.welds, got, tt.metal, tt.wire, tt.efficiency, tt.source)
			}
		})
	}
}

func TestNeedIsSteelWhereTheDepositIsNotKnown(t *testing.T) {
	o := spool(without(wire8(), "deposit"))
	n, err := o.Need([]Weld{fillet(8, 12)})
	if err != nil || n.Metal != 3015 {
		t.Errorf("Need: %+v, %v; want 3015 g of metal", n, err)
	}
	o.Facts = filler.Facts{published("form", solid, "", "S"), published("deposit", aluminiumAlloy, "", "")}
	if n, err := o.Need([]Weld{fillet(8, 12)}); err != nil || n.Metal != 1037 {
		t.Errorf("Need of aluminium: %+v, %v; want 1037 g of metal", n, err)
	}
}

func TestWeldString(t *testing.T) {
	for want, w := range map[string]Weld{
		"12 m of 8 mm fillet":                                           fillet(8, 12),
		"0.5 m of 6 mm fillet, 10 % convex":                             {Shape: FilletWeld, Length: mm(500), Leg: mm(6), Convexity: 10},
		"3 m of square groove 6 mm deep, gap 2 mm":                      {Shape: SquareGroove, Length: mm(3000), Depth: mm(6), Gap: mm(2)},
		"3 m of bevel groove 6 mm deep, gap 2 mm, 22.5 deg, cap 1.5 mm": {Shape: BevelGroove, Length: mm(3000), Depth: mm(6), Gap: mm(2), Angle: 225, Cap: mm(3) / 2},
		"3 m of V groove 6 mm deep, gap 0 mm, 60 deg":                   {Shape: VGroove, Length: mm(3000), Depth: mm(6), Angle: 600},
	} {
		if got := w.String(); got != want {
			t.Errorf("%#v.String(): got %q, want %q", w, got, want)
		}
	}
}
