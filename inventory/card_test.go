package inventory

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// wireOf is a spooled wire of .045 in with a classification and what its sheet
// says.
func wireOf(class string, supplied ...filler.Fact) Wire {
	for i := range supplied {
		supplied[i].Provenance, supplied[i].Source = filler.DataSheet, "sheet 1 rev 2"
	}
	return Wire{TradeName: "Test", Classifications: []string{class}, Diameter: 45 * unit.Inch / 1000, Package: "12 in spool", Supplied: supplied}
}

func sheet(name, value, unit, condition string) filler.Fact {
	return filler.Fact{Name: name, Value: value, Unit: unit, Condition: condition}
}

func TestCardLines(t *testing.T) {
	t.Parallel()
	gs := wireOf("E71T-GS")
	tests := []struct {
		name  string
		wire  Wire
		key   string
		value string // empty: not known
		words string
		sure  bool
	}{
		{"polarity is what the class fixes", wireOf("E71T-11"), "polarity", "DCEN", "electrode negative", true},
		{"self-shielded is not the same as negative", wireOf("E70T-4"), "polarity", "DCEP", "electrode positive", true},
		{"GS fixes no polarity", gs, "polarity", "", "", false},
		{"GS fixes no gas", gs, "gas", "", "", false},
		{"GS is for a single pass", gs, "passes", "single only", "never a second pass", true},
		{"what rests on memory is not sure", wireOf("E309LT1-1"), "polarity", "DCEP", "electrode positive", false},
		{"a label of 1995 says so", wireOf("E71T-1"), "gas", "CO2 100 %", "label made to the 1995 edition", false},
		{"the sheet narrows -5 in position 1", wireOf("E71T-5M", sheet("polarity", "DCEN", "", "")), "polarity", "DCEN", "electrode negative", true},
		{"self-shielded with gas permitted says which", wireOf("E71T-8", sheet("self_shielded_gas_permitted", "CO2 100 %", "", "")), "gas", "none", "self-shielded: run no gas; the sheet permits CO2 100 %, and polarity stays as above", true},
		{"and its polarity stays", wireOf("E71T-8", sheet("self_shielded_gas_permitted", "CO2 100 %", "", "")), "polarity", "DCEN", "electrode negative", true},
		{"permitted no is no gas", wireOf("E71T-8", sheet("self_shielded_gas_permitted", "no", "", "")), "gas", "none", "self-shielded: run no gas", true},
		{"at most N passes", wireOf("E71T-11", sheet("passes", "at most 3 passes", "", "")), "passes", "at most 3 passes", "", true},
		{"a single-pass limit of this size", wireOf("E71T-GS", sheet("max_thickness_single_pass", "5", "mm", "diameter .035 in"), sheet("max_thickness_single_pass", "8", "mm", "diameter .045 in")), "thickness_single_pass", "8 mm", "about 5/16 in", true},
		{"a multi-pass limit", wireOf("E71T-11", sheet("max_thickness_multi_pass", "12", "mm", "")), "thickness_multi_pass", "12 mm", "about 7/16 in", true},
		{"stick-out in both units", wireOf("E71T-1C", sheet("stick_out", "13-19", "mm", "")), "stick_out", "13-19 mm", "about 1/2 to 3/4 in", true},
		{"an approved gas with flow and transfer", wireOf("E71T-1C", filler.Fact{Name: "approved_gas", Value: "CO2", Note: "17-21 L/min, globular"}), "approved", "CO2: 17-21 L/min, globular", "", true},
		{"a solid wire's gas is that of its process", wireOf("ER70S-6"), "gas", "CO2 100 % or Ar + CO2", "", true},
		{"a covered electrode's hours are from memory", wireOf("E7018-H4R"), "open", "9 h", "out of sealed can or oven", false},
		{"hours it may be open", wireOf("E71T-1C", sheet("exposure_limit", "72", "h", "")), "open", "72 h", "", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			card, err := tt.wire.Card()
			if err != nil {
				t.Fatal(err)
			}
			got, ok := card.Line(tt.key)
			if !ok || got.Value != tt.value || got.Words != tt.words || got.Sure != tt.sure {
				t.Errorf("Card() of %s: %s = %q, %q, sure %t (there %t), want %q, %q, sure %t", tt.wire.Classifications[0], tt.key, got.Value, got.Words, got.Sure, ok, tt.value, tt.words, tt.sure)
			}
			if got.Value != "" && got.Source == "" {
				t.Errorf("Card(): %s = %q without a source", tt.key, got.Value)
			}
		})
	}
}

func TestSpoken(t *testing.T) {
	t.Parallel()
	for value, want := range map[string]string{"none": "no gas", "self": "self-shielded", "external": "external gas", "single only": "single pass only",
		"single and multiple": "any number of passes", "at most 3 passes": "at most 3 passes", "CO2 100 %": "CO2 100 %", "": ""} {
		if got := Spoken(value); got != want {
			t.Errorf("Spoken(%q) = %q, want %q", value, got, want)
		}
	}
}

func TestALimitOfAnotherSizeIsNotOnTheCard(t *testing.T) {
	t.Parallel()
	card, err := wireOf("E71T-GS", sheet("max_thickness_single_pass", "5", "mm", "diameter .035 in")).Card()
	if err != nil {
		t.Fatal(err)
	}
	if line, ok := card.Line("thickness_single_pass"); ok {
		t.Errorf("Card() of .045 in wire has the limit of .035 in: %+v", line)
	}
	if line, ok := card.Line("thickness"); !ok || line.Value != "" {
		t.Errorf("Card(): thickness %+v, %t, want it there and not known", line, ok)
	}
}

func TestACoveredElectrodeAsksNothingAboutGasAndFeed(t *testing.T) {
	t.Parallel()
	card, err := wireOf("E7018-H4R").Card()
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"gas", "shielding", "gas_flow", "stick_out", "wire_feed"} {
		if line, ok := card.Line(key); ok {
			t.Errorf("Card() of E7018-H4R has the line %+v", line)
		}
	}
	if line, ok := card.Line("polarity"); !ok || line.Value != "AC or DCEP" {
		t.Errorf("Card() of E7018-H4R: polarity %+v, %t", line, ok)
	}
}

func TestBoxAndSheetThatDisagreeAreOnTheCard(t *testing.T) {
	t.Parallel()
	card, err := wireOf("E71T-11", sheet("polarity", "DCEP", "", "")).Card()
	if err != nil {
		t.Fatal(err)
	}
	line, _ := card.Line("polarity")
	if !strings.Contains(line.Conflict, "DCEN") || !strings.Contains(line.Conflict, "DCEP") || line.Value != "" {
		t.Errorf("Card(): polarity %q, conflict %q, want no value and both sides", line.Value, line.Conflict)
	}
}

func TestTheThreeLargestComeFirst(t *testing.T) {
	t.Parallel()
	for _, class := range []string{"E71T-11", "E71T-GS", "ER70S-6", "E309LT1-1"} {
		card, err := wireOf(class).Card()
		if err != nil {
			t.Fatal(err)
		}
		var keys []string
		for _, l := range card.Lines {
			if l.Large {
				keys = append(keys, l.Key)
			}
		}
		if diff := cmp.Diff([]string{"polarity", "gas", "passes"}, keys); diff != "" {
			t.Errorf("Card() of %s: large lines (-want +got):\n%s", class, diff)
		}
	}
}

func TestAdvice(t *testing.T) {
	t.Parallel()
	thin := wireOf("E71T-11")
	thin.Diameter = 9 * unit.Millimetre / 10
	thick := wireOf("E71T-11")
	thick.Diameter = 3 * unit.Inch / 32
	tests := []struct {
		name string
		wire Wire
		key  string
		rows []string // of trade_practice.csv; empty for what a class table calls usual
	}{
		{"the row that names class and size comes nearest", wireOf("E71T-11"), "stick_out", []string{"T005"}},
		{"a metric size is the inch size it is sold as", thin, "stick_out", []string{"T005"}},
		{"another size has the row of its process", thick, "stick_out", []string{"T004"}},
		{"gas-shielded wire by its size", wireOf("E71T-1C"), "stick_out", []string{"T012"}},
		{"slag is dragged", wireOf("E71T-1C"), "travel", []string{"T020"}},
		{"solid is pushed", wireOf("ER70S-6"), "travel", []string{"T021"}},
		{"stainless flow", wireOf("E309LT1-1"), "gas_flow", []string{"T019"}},
		{"CO2 wire's transfer", wireOf("E71T-1C"), "transfer", []string{"T041"}},
		{"T-1 is not T-11", wireOf("E71T-11"), "transfer", nil},
		{"what the class table calls usual", wireOf("ER70S-6"), "polarity", []string{""}},
		{"nothing is advised of a wire nobody knows", wireOf("E71T-GS"), "stick_out", nil},
		{"nothing where the sheet speaks", wireOf("E71T-11", sheet("stick_out", "13-16", "mm", "")), "stick_out", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			card, err := tt.wire.Card()
			if err != nil {
				t.Fatal(err)
			}
			line, _ := card.Line(tt.key)
			var rows []string
			for _, a := range line.Advice {
				rows = append(rows, a.Row)
			}
			if diff := cmp.Diff(tt.rows, rows); diff != "" {
				t.Errorf("Card() of %s: advice on %s (-want +got):\n%s", tt.wire.Classifications[0], tt.key, diff)
			}
			if line.Value != "" && len(line.Advice) > 0 {
				t.Errorf("Card(): %s = %q has advice %v beside it", tt.key, line.Value, line.Advice)
			}
		})
	}
}

func TestAdviceIsNeverEvidence(t *testing.T) {
	t.Parallel()
	w := wireOf("ER70S-6")
	facts, err := w.Facts()
	if err != nil {
		t.Fatal(err)
	}
	v := fit.Check(fit.Offer{Classifications: w.Classifications, Facts: facts, Diameter: w.Diameter, LotStatus: fit.LotAccepted}, fit.Demand{Polarity: fit.DCEP}, nil, fit.Profile{})
	if f, _ := v.Find(fit.RulePolarity); f.Outcome != fit.Stops {
		t.Errorf("the card advises DCEP, and the fit check says %q of it: %s", f.Outcome, f.Says)
	}
}

func TestCautions(t *testing.T) {
	t.Parallel()
	const certain, may, absent = "applies", "may apply", "absent"
	known := wireOf("E71T-GS", sheet("shielding", "self", "", ""), sheet("gas", "none", "", ""))
	tests := []struct {
		name  string
		wire  Wire
		topic string
		want  string
	}{
		{"stainless holds chromium", wireOf("E309LT1-1"), "Chromium VI", certain},
		{"solid stainless too", wireOf("ER308L"), "Chromium VI", certain},
		{"chromium-molybdenum steel too", wireOf("E81T1-B2C"), "Chromium VI", certain},
		{"carbon steel does not", wireOf("E71T-1C"), "Chromium VI", absent},
		{"nickel steel holds nickel", wireOf("E81T1-Ni1C"), "Nickel", certain},
		{"carbon steel does not hold nickel", wireOf("E71T-1C"), "Nickel", absent},
		{"steel holds manganese", wireOf("E71T-11"), "Manganese", certain},
		{"self-shielded fume holds fluorides", wireOf("E71T-8"), "Fluoride", certain},
		{"a basic core with gas too", wireOf("E71T-5M"), "Fluoride", certain},
		{"a rutile core with gas is not named", wireOf("E71T-1C"), "Fluoride", absent},
		{"barium is never certain from the class", wireOf("E71T-8"), "Barium", may},
		{"gas-shielded wire has none", wireOf("E71T-1C"), "Barium", absent},
		{"GS is self-shielded or not", wireOf("E71T-GS"), "Fluoride", may},
		{"unless the sheet says", known, "Fluoride", certain},
		{"shielding gas gathers in small spaces", wireOf("E71T-1C"), "Gas in a small space", certain},
		{"a covered electrode's fume holds fluorides", wireOf("E7018-H4R"), "Fluoride", certain},
		{"and no barium is named of it", wireOf("E7018-H4R"), "Barium", absent},
		{"no gas does not", wireOf("E71T-11"), "Gas in a small space", absent},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			card, err := tt.wire.Card()
			if err != nil {
				t.Fatal(err)
			}
			got := absent
			if i := slices.IndexFunc(card.Cautions, func(c Caution) bool { return c.Topic == tt.topic }); i >= 0 {
				if got = certain; card.Cautions[i].May != "" {
					got = may
				}
			}
			if got != tt.want {
				t.Errorf("Card() of %s: %s %s, want %s", tt.wire.Classifications[0], tt.topic, got, tt.want)
			}
			for _, c := range card.Cautions {
				for _, n := range c.Notes {
					if n.Citation == "" || n.Provenance == "" {
						t.Errorf("note %s stands without citation or provenance", n.ID)
					}
				}
			}
		})
	}
}

// TestEverySafetyNoteIsUsedOrLeftOutWithAReason holds cautions.csv against
// safety_notes.csv.
func TestEverySafetyNoteIsUsedOrLeftOutWithAReason(t *testing.T) {
	t.Parallel()
	used, left := map[string]bool{}, map[string]bool{}
	for _, row := range cautionRows() {
		if row.leftOut != "" {
			left[row.note.ID] = true
			continue
		}
		used[row.note.ID] = true
		if saysOf(row.topic) == "" {
			t.Errorf("note %s: topic %q says nothing", row.note.ID, row.topic)
		}
	}
	for _, n := range readTable("safety_notes.csv") {
		if used[n["id"]] == left[n["id"]] {
			t.Errorf("safety note %s: used %t, left out %t; want one of them", n["id"], used[n["id"]], left[n["id"]])
		}
	}
	t.Logf("%d safety notes are used, %d left out", len(used), len(left))
}

func TestTablesAreThoseOfTestdata(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"safety_notes.csv", "trade_practice.csv"} {
		want, err := os.ReadFile("../testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		got, err := cardFiles.ReadFile("tables/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got, want) {
			t.Errorf("tables/%s differs from testdata/%s", name, name)
		}
	}
}

func TestEveryLineOfAdviceIsOnTheCard(t *testing.T) {
	t.Parallel()
	for _, a := range adviceRows() {
		if !slices.ContainsFunc(cardRows(), func(r cardRow) bool { return r.key == a.line }) {
			t.Errorf("card_advice.csv: row %s is for line %q, which card.csv lacks", a.Row, a.line)
		}
		if a.Says == "" {
			t.Errorf("card_advice.csv: row %s says nothing", a.Row)
		}
	}
}
