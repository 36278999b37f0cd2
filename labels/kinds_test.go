package labels

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// pieces are what hard labels are put together from: long and short, with
// accents, in both units, plain and unknown.
var pieces = map[string][]string{
	"polarity":  {"DCEN", "DCEP", "AC", "DCEP or DCEN", ""},
	"gas":       {"no gas", "75-80 % Ar + balance CO2", "M21-ArC-18: 15-25 % CO2, balance argon", "CO2 100 %", "90 % He + 7.5 % Ar + 2.5 % CO2", ""},
	"passes":    {"single pass only", "any number of passes", "multiple passes in flat and horizontal, single pass elsewhere", ""},
	"class":     {"E71T-14", "E71T-1C/-9C/-12M-J H8", "T 46 4 P C 1 H5", "E309LT1-1/4", ""},
	"wire":      {"Cobaltine Wren 14", "Łužnička Überlänge ÅÉÎŐÑ þß", "Cobaltine Extra All Position Low Fume Special Plus Seventy-One", ""},
	"lot":       {"7F31-0042", "LOT-NIÑO-7", "ÄÖÜ-ÉÈ-ČŠŽ", "0000123456789", "A/B 17.4_x", "W"},
	"thickness": {"up to 5 mm", "from 3 mm up to 19 mm (3/4 in)", ""},
	"name":      {"Shelf A1", "Séchoir n° 3 à côté du portail", "Cabinet", "Ofen Übergröße 12"},
	"person":    {"Ana", "Þórunn Åström-Ünlü", "Maximiliane Featherstonehaugh-Oyelaran", "Bo Ek"},
	"reason":    {"certificate missing", "Wet: box found open in the yard, gone rusty — ask before anything else is done with it", "rejeté à l’entrée"},
	"caution":   {"Keep dry: back to the cabinet when the feeder stops.", "−5 °C ≤ t ≤ 40 °C; ½ ± 0,1", "Confirm passes on the box"},
}

// dice picks from the pieces, the same each time for one seed.
type dice struct{ *rand.Rand }

func roll(seed uint64) dice { return dice{rand.New(rand.NewPCG(seed, 7))} }

func (d dice) piece(name string) string { return pieces[name][d.IntN(len(pieces[name]))] }

func (d dice) code(k inventory.CodeKind) inventory.Code {
	for {
		if c, ok := inventory.NewCode(k, d.IntN(4_000_000)); ok {
			return c
		}
	}
}

func (d dice) spool() Spool {
	l := Spool{Code: string(d.code(inventory.SpoolCode)), Polarity: d.piece("polarity"), Gas: d.piece("gas"), Passes: d.piece("passes"), Classification: d.piece("class"),
		Wire: d.piece("wire"), Lot: d.piece("lot"), Thickness: d.piece("thickness"), Diameter: []unit.Length{0, inch45, 1200 * unit.Micrometre, unit.Inch / 16}[d.IntN(4)]}
	if d.IntN(2) == 0 {
		l.Opened = "2026-11-25 07:10"
	}
	if d.IntN(2) == 0 {
		l.URL = "https://wire.example/spools/" + l.Code
	}
	for range d.IntN(3) {
		l.Cautions = append(l.Cautions, d.piece("caution"))
	}
	return l
}

// label is a label of the kind with hard contents.
func (d dice) label(t testing.TB, k Kind) Label {
	t.Helper()
	shop := Shop{}
	if d.IntN(2) == 0 {
		shop.Base = "https://wire.example"
	}
	var l Label
	var err error
	switch s := d.spool(); k {
	case KindSpool:
		l, err = s.Label()
	case KindHub:
		l, err = s.HubLabel()
	case KindHold:
		l, err = s.Hold(d.piece("reason"), "2026-11-25 07:10")
	case KindSlip:
		slip := Slip{Spool: s, Job: "J-26/114", Taker: d.piece("person"), Net: unit.Grams(d.IntN(20_000)), Package: "open since 2026-11-25 07:10", Verdict: "fits with cautions: exposure", Checked: "WPS-14 rev C; structural steel, version 3", Entered: "2026-11-25 07:12 by " + d.piece("person")}
		if d.IntN(3) == 0 {
			slip.Waivers = []string{"waiver 12: certificate, until 2026-12-01"}
		}
		l, err = slip.Label()
	case KindLot:
		l, err = s.lotLabel(inventory.Lot{ID: 7, Number: s.Lot, Certificate: "C-9"}, shop.link("/lots/7"), 48, 720_000, "2026-11-02 09:00")
	case KindPlace:
		l = shop.Place(inventory.Place{Code: d.code(inventory.PlaceCode), Name: d.piece("name"), Kind: inventory.DryCabinet, DryKept: d.IntN(2) == 0})
	case KindFeeder:
		l = shop.Feeder(inventory.Feeder{Place: inventory.Place{Code: d.code(inventory.FeederCode), Name: d.piece("name")}, Polarities: []fit.Polarity{fit.DCEP, fit.DCEN}})
	case KindBadge:
		l = shop.Badge(inventory.Person{Code: d.code(inventory.PersonCode), Name: d.piece("person"), Role: inventory.Engineer})
	case KindJob:
		l = shop.Job(inventory.Job{Code: d.code(inventory.JobCode), Number: "26-114", Name: d.piece("name")},
			inventory.Procedure{Number: "WPS-14", Revision: "C", Polarity: fit.DCEP, Gas: &fit.Gas{}, Passes: fit.MultiPass, Classifications: []string{"E71T-1C", "E71T-9C"}, Diameters: []unit.Length{inch45}, Positions: []fit.Position{fit.Flat, fit.VerticalUp}})
	}
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// usualOf is a label of the kind with nothing missing and nothing long.
func usualOf(t testing.TB, k Kind) Label {
	t.Helper()
	s := usual()
	shop := Shop{Base: "https://wirehold.example", Zone: time.UTC}
	at := time.Date(2026, 11, 25, 7, 10, 0, 0, time.UTC)
	var l Label
	var err error
	switch k {
	case KindSpool:
		l, err = s.Label()
	case KindHub:
		l, err = s.HubLabel()
	case KindHold:
		l, err = s.Hold("certificate missing: asked the maker", "2026-11-25 07:10")
	case KindSlip:
		l, err = Slip{Spool: s, Job: "26-114", Taker: "Jun Ashlock", Net: 13_029, Package: "open since 2026-11-25 07:10", Verdict: "fits", Checked: "WPS-14 rev C; structural steel", Entered: "2026-11-25 07:12 by Otto Brackwater",
			Waivers: []string{"waiver 12: certificate, until 2026-12-01"}}.Label()
	case KindLot:
		l, err = s.lotLabel(inventory.Lot{ID: 7, Number: s.Lot, Certificate: "MTC-40977"}, shop.link("/lots/7"), 48, 720_000, "2026-11-02 09:00")
	case KindPlace:
		l = shop.Place(inventory.Place{Code: "KNR7J-Y", Name: "Dry cabinet 1", Kind: inventory.DryCabinet, DryKept: true})
	case KindFeeder:
		l = shop.Feeder(inventory.Feeder{Place: inventory.Place{Code: "FA9DY-Y", Name: "Feeder 1 girder bay"}, Polarities: []fit.Polarity{fit.DCEP, fit.DCEN}})
	case KindBadge:
		l = shop.Badge(inventory.Person{Code: "P5927-H", Name: "Ilse Quarrymoor", Role: inventory.Engineer})
	case KindJob:
		l = shop.Job(inventory.Job{Code: "JJJ4E-2", Number: "26-114", Name: "Gull Lane footbridge"},
			inventory.Procedure{Number: "WPS-14", Revision: "C", Polarity: fit.DCEP, Gas: &fit.Gas{}, Passes: fit.MultiPass, Classifications: []string{"E71T-8"}, Diameters: []unit.Length{inch45}, Positions: []fit.Position{fit.Flat, fit.VerticalUp}})
	}
	if err != nil {
		t.Fatal(err, at)
	}
	return l
}

// sheetOf lays a label out; nil if the stock is refused for it, which must say
// what stock would do.
func sheetOf(t testing.TB, f fonts, l *Label, size Size, dpi int) *sheet {
	t.Helper()
	s, err := f.layOut(l, size, dpi)
	if err != nil {
		return nil
	}
	return &s
}

// Nothing overlaps, nothing leaves the label, and what never goes is there:
// every kind on every size for every printer, a thousand hard contents.
func TestHardLabelsAreLaidOutWhole(t *testing.T) {
	t.Parallel()
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	laid, refused := 0, map[string]int{}
	for seed := range uint64(1000) {
		for i, k := range Kinds() {
			l := roll(seed).label(t, k)
			size, dpi := Sizes()[(int(seed)+i)%len(Sizes())], Resolutions()[seed%3]
			s := sheetOf(t, f, &l, size, dpi)
			if s == nil {
				refused[fmt.Sprintf("%s on %s", k, size)]++
				continue
			}
			laid++
			checkLaidOut(t, fmt.Sprintf("%s %d on %s at %d dpi", k, seed, size, dpi), &l, s)
		}
	}
	t.Logf("%d labels laid out; refused for want of room, naming stock that would do: %v", laid, refused)
	if laid < 8850 { // the others are slips with more to say than small stock holds, refused
		t.Errorf("%d of 9000 hard labels are laid out, want 8850", laid)
	}
}

func checkLaidOut(t *testing.T, name string, l *Label, s *sheet) {
	t.Helper()
	safe := s.bounds.Inset(dots(unit.Millimetre, s.dpi))
	for i, a := range s.items {
		if a.box().Empty() || !a.box().In(safe) {
			t.Fatalf("%s: %+v at %v is not inside %v", name, a, a.box(), safe)
		}
		for _, b := range s.items[i+1:] {
			if a.box().Overlaps(b.box()) {
				t.Fatalf("%s: %+v at %v meets %+v at %v", name, a, a.box(), b, b.box())
			}
		}
	}
	said := texts(*s)
	all := strings.Join(strings.Fields(fmt.Sprint(said)), "")
	for _, f := range l.Facts {
		if never := []string{"polarity", "gas", "passes", "waiver", "order", "reason"}; !slices.Contains(never, f.Field) || l.Kind == KindJob {
			continue
		}
		words := clean(f.Words)
		if f.Short != "" {
			words = strings.Fields(f.Short)[0]
		}
		if want := strings.Join(strings.Fields(words), ""); !strings.Contains(strings.ReplaceAll(all, " ", ""), want) {
			t.Fatalf("%s: %s %q is not printed whole: %v", name, f.Field, f.Words, said)
		}
	}
	if got := strings.ReplaceAll(said["code"], " ", ""); got != strings.ReplaceAll(l.Code, " ", "") {
		t.Fatalf("%s: the code reads %q, want %q", name, got, l.Code)
	}
}

// A symbol that cannot be read is refused, and the refusal names stock that
// holds it.
func TestARefusalNamesStockThatWouldDo(t *testing.T) {
	t.Parallel()
	l := Shop{}.Place(inventory.Place{Code: "KACDEFGHJKMNPRTVWX-Y", Name: "Shelf"})
	err := press().PNG(io.Discard, []Label{l}, on("50x25", 203))
	fault, ok := errors.AsType[*FieldError](err)
	if !ok || fault.Field != "code" || !strings.Contains(fault.Reason, "50 x 25 mm; ") || !strings.Contains(fault.Reason, " would do") {
		t.Fatalf("a code of 20 characters on 50 x 25 mm: error %v, want one of field code that names stock that would do", err)
	}
	_, named, _ := strings.Cut(strings.TrimSuffix(fault.Reason, " would do"), "; ")
	for _, s := range Sizes() {
		if s.String() == named {
			if err := press().PNG(io.Discard, []Label{l}, Print{Size: s, DPI: 203}); err != nil {
				t.Errorf("%s was named, and does not do: %v", named, err)
			}
			return
		}
	}
	t.Errorf("%q is no size", named)
}
