package fit

import (
	"strings"
	"testing"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// yielding is a wire whose sheet gives a deposition efficiency.
func yielding(efficiency string) filler.Facts {
	return with(wire1C(), sheet("deposition_efficiency", efficiency, ""))
}

// The welds and their weld metal are worked by hand: a flat 8 mm fillet has an
// area of 32 mm2, so 10 m of it is 320 cm3, which at 7.85 g/cm3 is 2512 g
// (density: testdata/weld_metal.csv D-2).
func TestWhatOfTheWeldIsStillToLay(t *testing.T) {
	fillet := []Weld{{Shape: FilletWeld, Leg: mm(8), Length: mm(10_000)}}
	used := func(g unit.Grams, facts filler.Facts) Laid {
		return Laid{Spool: "W1", Wire: "Birch Reed 5", Shielding: GasShielded, Used: g, Facts: facts}
	}
	tests := []struct {
		name    string
		offer   Offer
		laid    []Laid
		used    unit.Grams
		left    unit.Grams
		others  int
		unknown int
	}{
		// 2512 / 0.80 = 3140
		{"nothing is laid", spool(yielding("80 %")), nil, 0, 3140, 0, 0},
		// 3140 - 1000, for the used wire is of the same efficiency
		{"wire of the same efficiency counts by its weight", spool(yielding("80 %")), []Laid{used(1000, yielding("80 %"))}, 1000, 2140, 0, 0},
		// 2512 - 1000 x 0.90 = 1612; / 0.80 = 2015
		{"wire of another counts by the weld it became", spool(yielding("80 %")), []Laid{used(1000, yielding("90 %"))}, 1000, 2015, 1, 0},
		// 2512 - 1600 x 0.80 - 800 x 0.90 = 512; / 0.80 = 640
		{"two wires add up", spool(yielding("80 %")), []Laid{used(1600, yielding("80 %")), used(800, yielding("90 %"))}, 2400, 640, 1, 0},
		{"more than enough leaves nothing", spool(yielding("80 %")), []Laid{used(3200, yielding("80 %"))}, 3200, 0, 0, 0},
		{"a wire nobody knows counts for nothing", spool(yielding("80 %")), []Laid{used(1000, nil)}, 0, 3140, 0, 1},
		{"wire that nobody weighed counts for nothing", spool(yielding("80 %")), []Laid{used(0, yielding("80 %"))}, 0, 3140, 0, 0},
	}
	for _, tt := range tests {
		got, err := tt.offer.Left(fillet, tt.laid)
		if err != nil || got.Metal != 2512 || got.Wire != 3140 || got.Used != tt.used || got.Left != tt.left || len(got.Others) != tt.others || len(got.Unknown) != tt.unknown {
			t.Errorf("%s: Left(10 m of 8 mm fillet, %v) = %+v, %v\nwant 2512 g of weld, 3140 g of wire, %d g used, %d g left, %d others, %d unknown", tt.name, tt.laid, got, err, tt.used, tt.left, tt.others, tt.unknown)
		}
	}
}

func TestRemainingSaysWhatIsUsedAndToGo(t *testing.T) {
	job := Demand{JobSource: "job 2207", Welds: []Weld{{Shape: FilletWeld, Leg: mm(8), Length: mm(10_000)}}}
	laid := func(d Demand, l ...Laid) Demand { d.Laid = l; return d }
	same := Laid{Spool: "W1", Wire: "Birch Reed 5", Shielding: GasShielded, Used: 2000, Facts: yielding("80 %")}
	other := same
	other.Facts = yielding("90 %")
	out, scrapped := laid(job, same), laid(job, same)
	out.Out, scrapped.Scrapped = Away{Net: 9000, Spools: 1}, Away{Net: 4500, Spools: 2}
	const whole = "The weld needs 3.14 kg of wire: 2.512 kg of weld metal (10 m of 8 mm fillet) at 80 % deposition efficiency. "
	tests := []struct {
		name    string
		net     unit.Grams
		demand  Demand
		outcome Outcome
		demands string
		says    string
	}{
		{"nothing used is said as before", 3000, job, Caution, "3.14 kg of wire", whole + "The spool has 3 kg: 0.14 kg short."},
		{"what is to go is enough for what is left", 1200, laid(job, same), Passed, "1.14 kg of wire", whole + "The job needs 3.14 kg of wire in all; 2 kg used; 1.14 kg to go. The spool has 1.2 kg."},
		{"and is a caution where it is not", 1000, laid(job, same), Caution, "1.14 kg of wire", whole + "The job needs 3.14 kg of wire in all; 2 kg used; 1.14 kg to go. The spool has 1 kg: 0.14 kg short."},
		{"other wire is named with its efficiency", 1000, laid(job, other), Passed, "0.89 kg of wire", whole + "The job needs 3.14 kg of wire in all; 2 kg used; 0.89 kg to go. Of other wire was used 2 kg of Birch Reed 5 at 90 % deposition efficiency. The spool has 1 kg."},
		{"wire that is out is said and not counted", 1200, out, Passed, "1.14 kg of wire", whole + "The job needs 3.14 kg of wire in all; 2 kg used; 1.14 kg to go. 9 kg more is out with 1 other spool. The spool has 1.2 kg."},
		{"wire that was scrapped too", 1200, scrapped, Passed, "1.14 kg of wire", whole + "The job needs 3.14 kg of wire in all; 2 kg used; 1.14 kg to go. 4.5 kg more went out on 2 other spools and was scrapped unweighed. The spool has 1.2 kg."},
		{"all is laid", 1200, laid(job, same, same), Passed, "0 kg of wire", whole + "The job needs 3.14 kg of wire in all; 4 kg used; nothing to go. The spool has 1.2 kg."},
	}
	for _, tt := range tests {
		o := spool(yielding("80 %"))
		o.Net = tt.net
		got, _ := Check(o, tt.demand, nil, Profile{}).Find(RuleRemaining)
		if got.Outcome != tt.outcome || got.Says != tt.says || !strings.HasPrefix(got.Demanded.Text, tt.demands) {
			t.Errorf("%s: Check: %s, demanded %q\n got %s\nwant %s, %q\n     %s", tt.name, got.Outcome, got.Demanded.Text, got.Says, tt.outcome, tt.demands, tt.says)
		}
	}
}
