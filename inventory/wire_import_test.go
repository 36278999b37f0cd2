package inventory

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// importRows makes rows of lines whose cells are set apart by "|", as they
// stand in a file from line 1.
func importRows(lines ...string) []ImportRow {
	var rows []ImportRow
	for i, line := range lines {
		row := ImportRow{Line: i + 1}
		for text := range strings.SplitSeq(line, "|") {
			row.Cells = append(row.Cells, ImportCell{Text: text})
		}
		rows = append(rows, row)
	}
	return rows
}

const importHead = "Maker|Trade name|Class|Size|Net|Tare"

const importWire = "Maker Amber|Amber Kestrel 71M|E71T-1M-H8|.045 in|15 kg|700 g"

func kestrel() Wire {
	return Wire{Maker: "Maker Amber", TradeName: "Amber Kestrel 71M", Classifications: []string{"E71T-1M-H8"},
		Diameter: 45 * unit.Inch / 1000, Marked: ".045 in", Net: 15_000, Tare: 700}
}

// changed returns the kestrel after f.
func changed(f func(*Wire)) Wire {
	w := kestrel()
	f(&w)
	return w
}

var ignorePlace = cmp.Options{cmpopts.IgnoreUnexported(ImportLine{}), cmpopts.EquateEmpty()}

func TestPlanImportReadsWires(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name string
		rows []ImportRow
		want []ImportLine
	}{
		{"a plain table", importRows(importHead, importWire), []ImportLine{{Line: 2, Wire: kestrel()}}},
		{"blank lines before and between", importRows("", " | ", importHead, "||", importWire), []ImportLine{{Line: 5, Wire: kestrel()}}},
		{"the shop's own words, in any case", importRows("MANUFACTURER|product|AWS Class|Wire dia|net wt|Empty Spool", importWire), []ImportLine{{Line: 2, Wire: kestrel()}}},
		{"columns in another order, and an empty one", importRows("Tare||Net|Size|Class|Trade name|Maker", "700 g||15 kg|.045 in|E71T-1M-H8|Amber Kestrel 71M|Maker Amber"), []ImportLine{{Line: 2, Wire: kestrel()}}},
		{"units in the header", importRows("Maker|Trade name|Class|Size [in]|Net (kg)|Tare, g", "Maker Amber|Amber Kestrel 71M|E71T-1M-H8|.045|15|700"), []ImportLine{{Line: 2, Wire: kestrel()}}},
		{"a unit in the cell is stronger than the header's", importRows("Maker|Trade name|Class|Size mm|Net (lb)|Tare kg", "Maker Amber|Amber Kestrel 71M|E71T-1M-H8|.045 in|15 kg|0.7"), []ImportLine{{Line: 2, Wire: kestrel()}}},
		{"a designation as the box prints it keeps what was typed", importRows(importHead, strings.Replace(importWire, "E71T-1M-H8", "AWS A5.20: e71t–1m h8", 1)), []ImportLine{{Line: 2, Wire: kestrel(), Typed: "AWS A5.20: e71t–1m h8"}}},
		{"several classifications in one cell", importRows(importHead, strings.Replace(importWire, "E71T-1M-H8", "E71T-1C; E71T-9C", 1)), []ImportLine{{Line: 2, Wire: changed(func(w *Wire) { w.Classifications = []string{"E71T-1C", "E71T-9C"} })}}},
		{"inch signs of every kind", importRows(importHead, strings.Replace(importWire, ".045 in", "1/16″", 1)), []ImportLine{{Line: 2, Wire: changed(func(w *Wire) { w.Diameter, w.Marked = unit.Inch/16, `1/16"` })}}},
		{"a marked size, a package, a minimum", importRows(importHead+"|Marked|Package|Min stock", importWire+"|.045 in (1.1 mm)|12 in spool|60 kg"),
			[]ImportLine{{Line: 2, Wire: changed(func(w *Wire) { w.Marked, w.Package, w.Minimum = ".045 in (1.1 mm)", "12 in spool", 60_000 })}}},
		{"facts of the sheet with the header's unit", importRows(importHead+"|Stick-out (mm)|Travel|Data sheet", importWire+"|13-19|drag|Kestrel sheet rev 4"),
			[]ImportLine{{Line: 2, Wire: changed(func(w *Wire) {
				w.Supplied = filler.Facts{
					{Name: "stick_out", Value: "13-19", Unit: "mm", Provenance: filler.DataSheet, Source: "Kestrel sheet rev 4"},
					{Name: "travel", Value: "drag only", Provenance: filler.DataSheet, Source: "Kestrel sheet rev 4"}}
			})}}},
		{"the shop's own word for a fact", importRows(importHead+"|Exposure limit|Sheet", importWire+"|72 h|Shop: E. Root, 2026"),
			[]ImportLine{{Line: 2, Wire: changed(func(w *Wire) {
				w.Supplied = filler.Facts{{Name: "exposure_limit", Value: "72", Unit: "h", Provenance: filler.Shop, Source: "Shop: E. Root, 2026"}}
			})}}},
		{"one wire in two packages", importRows(importHead+"|Package", importWire+"|12 in spool", importWire+"|drum"),
			[]ImportLine{{Line: 2, Wire: changed(func(w *Wire) { w.Package = "12 in spool" })}, {Line: 3, Wire: changed(func(w *Wire) { w.Package = "drum" })}}},
		{"what people call it, as the classification has it", with("", "", "Kind=gas-shielded flux-cored wire"), []ImportLine{{Line: 2, Wire: kestrel()}}},
		{"a name for two kinds that the classification answers", with("", "", "Kind=flux core"), []ImportLine{{Line: 2, Wire: kestrel()}}},
		{"one trade name in two sizes", importRows(importHead, importWire, strings.Replace(importWire, ".045 in", "1/16 in", 1)),
			[]ImportLine{{Line: 2, Wire: kestrel()}, {Line: 3, Wire: changed(func(w *Wire) { w.Diameter, w.Marked = unit.Inch/16, "1/16 in" })}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := PlanImport(tt.rows)
			if len(got.Faults) > 0 {
				t.Fatalf("PlanImport(%v): faults %v, want none", tt.rows, got.Faults)
			}
			if diff := cmp.Diff(tt.want, got.Lines, ignorePlace); diff != "" {
				t.Errorf("PlanImport(%v) (-want +got):\n%s", tt.rows, diff)
			}
		})
	}
}

// with returns the usual table with a cell of its wire exchanged, and further
// columns.
func with(from, to string, more ...string) []ImportRow {
	head, wire := importHead, strings.Replace(importWire, from, to, 1)
	for _, m := range more {
		name, cell, _ := strings.Cut(m, "=")
		head, wire = head+"|"+name, wire+"|"+cell
	}
	return importRows(head, wire)
}

func TestPlanImportNamesEveryFault(t *testing.T) {
	t.Parallel()
	broken := with("15 kg", "")
	broken[1].Cells[4] = ImportCell{Text: "#DIV/0!", Fault: "the formula gives #DIV/0!: mend it, or type the value"}
	unread := importRows(importHead, importWire)
	unread[1] = ImportRow{Line: 2, Fault: "a quotation mark is not closed"}
	wide := importRows(importHead, importWire)
	wide[0].Cells = make([]ImportCell, mostImportCells+1)
	wide[0].Cells[0].Text = "Maker"
	tests := []struct {
		name  string
		rows  []ImportRow
		place string // "line:column letter", of the first fault
		typed string
		says  string
	}{
		{"nothing at all", nil, "1:", "", "nothing in it"},
		{"blank lines alone", importRows("", "||"), "1:", "", "nothing in it"},
		{"a header and no wire", importRows(importHead, ""), "1:", "", "no wire below"},
		{"an unknown column names the nearest", with("", "", "Dimeter=x"), "1:G", "Dimeter", `did you mean "Diameter"?`},
		{"a column of the demo's own is unknown", with("", "", "Stik out=x"), "1:G", "Stik out", `did you mean "Stick-out"?`},
		{"a column twice, in other words", with("", "", "Product=x"), "1:G", "Product", `"Trade name" and "Product" are the same column`},
		{"a missing column", importRows("Maker|Trade name|Class|Size|Tare", "a|b|E71T-11|1 mm|1 g"), "1:", "", `the column "Net weight" is missing`},
		{"a unit that is none in the header", importRows("Maker|Trade name|Class|Size|Net (stone)|Tare", importWire), "1:E", "Net (stone)", `"stone" is no unit`},
		{"a unit where none is due", importRows("Maker (kg)|Trade name|Class|Size|Net|Tare", importWire), "1:A", "Maker (kg)", "takes no unit"},
		{"too many columns", wide, "1:", "", "more than 200 columns"},
		{"no maker", with("Maker Amber", " "), "2:A", "", "it is empty: give who makes it"},
		{"no trade name", with("Amber Kestrel 71M", ""), "2:B", "", "it is empty"},
		{"no classification", with("E71T-1M-H8", ""), "2:C", "", "it is empty"},
		{"only separators for a classification", with("E71T-1M-H8", ";"), "2:C", ";", "at least one classification"},
		{"a designation with a wrong character", with("E71T-1M-H8", "E71X-1M"), "2:C", "E71X-1M", `character 4 ("X")`},
		{"one designation twice", with("E71T-1M-H8", "E71T-1C, e71t-1c"), "2:C", "E71T-1C, e71t-1c", "stands twice"},
		{"a size without a unit", with(".045 in", ".045"), "2:D", ".045", `such as ".045 in"`},
		{"a size that is none", with(".045 in", "thin"), "2:D", "thin", "is not a length"},
		{"two sizes in one cell", with(".045 in", ".045 in (1.1 mm)"), "2:D", ".045 in (1.1 mm)", "is not a length"},
		{"a size of nothing", with(".045 in", "0 mm"), "2:D", "0 mm", "diameter"},
		{"a weight without a unit", with("15 kg", "15"), "2:E", "15", `into the header, such as "net weight (kg)"`},
		{"a weight with a decimal comma", with("15 kg", "12,5 kg"), "2:E", "12,5 kg", "write a point, not a comma"},
		{"a weight below nothing", with("15 kg", "-15 kg"), "2:E", "-15 kg", "is not a weight"},
		{"a weight of nothing", with("15 kg", "0 kg"), "2:E", "0 kg", "net weight"},
		{"no tare", with("700 g", ""), "2:F", "", "it is empty"},
		{"a minimum that is none", with("", "", "Minimum=some"), "2:G", "some", "is not a weight"},
		{"a formula that failed", broken, "2:E", "#DIV/0!", "the formula gives #DIV/0!"},
		{"a row that could not be read", unread, "2:", "", "a quotation mark is not closed"},
		{"more cells than the header", importRows(importHead, importWire+"|60 kg"), "2:G", "60 kg", "more cells than the header"},
		{"a cell under no name", importRows(importHead+"|", importWire+"|60 kg"), "2:G", "60 kg", "the column has no name"},
		{"a character that nobody sees", with("Amber Kestrel 71M", "Amber\u200bKestrel"), "2:B", "Amber\u200bKestrel", "cannot be seen"},
		{"a text without end", with("Amber Kestrel 71M", strings.Repeat("a", 201)), "2:B", strings.Repeat("a", 40) + "…", "longer than 200"},
		{"a fact that is not understood", with("", "", "Travel=sideways", "Sheet=rev 1"), "2:G", "sideways", `such as "drag only"`},
		{"a fact without its unit", with("", "", "Stick-out=13-19", "Sheet=rev 1"), "2:G", "13-19", "a range with its unit"},
		{"a fact nobody vouches for", with("", "", "Stick-out=13-19 mm", "Sheet="), "2:H", "", `say whose word "Stick-out" is`},
		{"a fact and no column for its sheet", with("", "", "Stick-out=13-19 mm"), "2:", "", `say whose word "Stick-out" is`},
		{"a kind that it is not", with("", "", "Kind=gasless"), "2:G", "gasless", `"gasless" is self-shielded flux cored wire, no gas, and the box says flux cored wire with shielding gas`},
		{"a kind nobody knows", with("", "", "Kind=shiny"), "2:G", "shiny", "nobody here calls a wire"},
		{"a name for two kinds, and a box that does not answer", with("E71T-1M-H8", "E71T-GS", "Kind=flux core"), "2:G", "flux core", "say which"},
		{"a kind, and a box that does not say", with("E71T-1M-H8", "E71T-GS", "Kind=gasless"), "2:G", "gasless", `give the column "Shielding"`},
		{"a shop that contradicts the box", with("", "", "Polarity=DCEN", "Sheet=shop: E. Root"), "2:G", "DCEN", "not contradict it"},
		{"the same wire twice", importRows(importHead, importWire, strings.ToUpper(strings.Replace(importWire, "Maker Amber", "maker  amber", 1))), "3:B", "AMBER KESTREL 71M", "the same wire stands on line 2"},
		{"the same wire in the same package", importRows(importHead+"|Package", importWire+"|drum", importWire+"|12 in spool", importWire+"|12 IN  spool"), "4:B", "Amber Kestrel 71M", "the same wire stands on line 3"},
		{"the same wire in a package that is not stated", importRows(importHead+"|Package", importWire+"|drum", importWire+"|"), "3:B", "Amber Kestrel 71M", "the same wire stands on line 2"},
		{"the same wire by one of its classifications", importRows(importHead, importWire, strings.Replace(importWire, "E71T-1M-H8", "E71T-9C; E71T-1M-H8", 1)), "3:B", "Amber Kestrel 71M", "the same wire stands on line 2"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := PlanImport(tt.rows)
			if len(got.Faults) == 0 || len(got.Lines) > 0 {
				t.Fatalf("PlanImport(%v) = %d wires, %d faults, want a fault and no wire", tt.rows, len(got.Lines), len(got.Faults))
			}
			f := got.Faults[0]
			if place := fmt.Sprintf("%d:%s", f.Line, f.Letter()); place != tt.place || f.Typed != tt.typed || !strings.Contains(strings.ToLower(f.Detail), strings.ToLower(tt.says)) {
				t.Errorf("PlanImport(%v): first fault %s %q (%s), want %s %q with %q", tt.rows, place, f.Typed, f.Detail, tt.place, tt.typed, tt.says)
			}
		})
	}
}

// TestPlanImportGoesOn holds that one fault does not hide the next.
func TestPlanImportGoesOn(t *testing.T) {
	t.Parallel()
	got := PlanImport(importRows(importHead, "|Kestrel|E71X|.045|15|x", importWire, "a|b|c|d|e|f"))
	places := []string{}
	for _, f := range got.Faults {
		places = append(places, fmt.Sprintf("%d%s", f.Line, f.Letter()))
	}
	want := []string{"2A", "2C", "2D", "2E", "2F", "4C", "4D", "4E", "4F"}
	if !slices.Equal(places, want) || got.Rows != 3 || len(got.Lines) > 0 {
		t.Errorf("PlanImport: faults at %v in %d rows, %d wires, want %v in 3 and no wire", places, got.Rows, len(got.Lines), want)
	}
}

func TestPlanImportHasLimits(t *testing.T) {
	t.Parallel()
	rows := importRows(importHead)
	for i := range MostImportRows + 1 {
		rows = append(rows, importRows(strings.Replace(importWire, "71M", fmt.Sprint(i), 1))...)
		rows[i+1].Line = i + 2
	}
	if got := PlanImport(rows[:MostImportRows+1]); len(got.Lines) != MostImportRows {
		t.Errorf("PlanImport of %d rows: %d wires, faults %v", MostImportRows, len(got.Lines), got.Faults)
	}
	got := PlanImport(rows)
	if len(got.Lines) > 0 || len(got.Faults) != 1 || got.Faults[0].Line != MostImportRows+2 || !strings.Contains(got.Faults[0].Detail, "more than 5000 rows") {
		t.Errorf("PlanImport of %d rows: %d wires, faults %v, want the one that there are too many", MostImportRows+1, len(got.Lines), got.Faults)
	}
	for i := range rows[1:] {
		rows[i+1].Cells = make([]ImportCell, 6)
		rows[i+1].Cells[0].Text = "x"
	}
	got = PlanImport(rows)
	if len(got.Faults) != mostFaultsKept || got.FaultCount() < 5*MostImportRows {
		t.Errorf("PlanImport of faults alone lists %d and counts %d, want %d and all", len(got.Faults), got.FaultCount(), mostFaultsKept)
	}
}

func TestImportExampleCanBeImported(t *testing.T) {
	t.Parallel()
	example := ImportExample()
	got := PlanImport(importRows(strings.Join(example[0], "|"), strings.Join(example[1], "|")))
	if len(got.Faults) > 0 || len(got.Lines) != 1 || len(got.Lines[0].Wire.Supplied) < 4 {
		t.Errorf("PlanImport(ImportExample()): %v, faults %v, want one wire with facts", got.Lines, got.Faults)
	}
	if len(example[0]) != len(ImportColumns()) || len(SheetFacts()) == 0 || len(example[0]) < len(SheetFacts()) {
		t.Errorf("ImportExample() has %d columns, want all %d", len(example[0]), len(ImportColumns()))
	}
}

// TestColumnWordsAreNotShared holds that no word names two columns, which
// would leave the second without it.
func TestColumnWordsAreNotShared(t *testing.T) {
	t.Parallel()
	for i, c := range ImportColumns() {
		for _, word := range append(c.Words, c.Name, c.Label) {
			if at, ok := importColumns().byWord[headerKey(word)]; ok && at != i {
				t.Errorf("%q names both %s and %s", word, ImportColumns()[at].Name, c.Name)
			}
		}
	}
	facts := map[string]bool{}
	for _, f := range SheetFacts() {
		facts[f.Name] = true
	}
	for line := range strings.Lines(importColumnFile) {
		if name, rest, _ := strings.Cut(line, ","); strings.HasPrefix(rest, ",fact,") && !facts[name] {
			t.Errorf("import_columns.csv has words for %q, which is no fact", name)
		}
	}
}

// TestPlanImportOfAnythingAnswers throws rows of odd cells at it: it answers
// with wires or faults, never both and never neither, and always the same.
func TestPlanImportOfAnythingAnswers(t *testing.T) {
	t.Parallel()
	cell := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"Maker", "Trade name", "Class", "Size (mm)", "Net (kg)", "Tare", "Sheet", "Travel",
		"15 kg", "15", ".045 in", "E71T-1C", "E71T-11; E71T-8", "", " ", "13-19 mm", "drag only", "1 1/2 \"", "-1 kg", "1/0 in"}))
	rapid.Check(t, func(t *rapid.T) {
		var rows []ImportRow
		for i, texts := range rapid.SliceOfN(rapid.SliceOfN(cell, 0, 9), 0, 5).Draw(t, "cells") {
			row := ImportRow{Line: i + 1}
			for _, text := range texts {
				row.Cells = append(row.Cells, ImportCell{Text: text})
			}
			rows = append(rows, row)
		}
		got := PlanImport(rows)
		if (len(got.Lines) > 0) == (got.FaultCount() > 0) {
			t.Fatalf("PlanImport(%v): %d wires and %d faults", rows, len(got.Lines), got.FaultCount())
		}
		for _, l := range got.Lines {
			if _, err := l.Wire.ready(); err != nil {
				t.Fatalf("PlanImport(%v) has a wire that cannot be: %v", rows, err)
			}
		}
		if diff := cmp.Diff(got, PlanImport(rows), ignorePlace); diff != "" {
			t.Fatalf("PlanImport(%v) twice differs:\n%s", rows, diff)
		}
	})
}
