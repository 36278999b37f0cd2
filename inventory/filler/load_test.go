package filler

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// testRow is one row of a reference table in testdata/.
type testRow struct {
	spec, kind, designator, attribute, value, unit, condition string
	provenance                                                Provenance
	source                                                    string
}

func (r testRow) String() string {
	return strings.Join([]string{r.spec, r.kind, r.designator, r.attribute, r.value, r.unit, "[" + r.condition + "]"}, " ")
}

// readRecords reads any table of testdata/ by its header.
func readRecords(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var rows []map[string]string
	for _, r := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = r[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func readTestRows(t testing.TB, name string) []testRow {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var rows []testRow
	for _, r := range records[1:] {
		rows = append(rows, testRow{r[0], r[2], r[3], r[4], r[5], r[6], r[7], Provenance(r[8]), r[9]})
	}
	if len(rows) == 0 {
		t.Fatalf("%s holds no rows", name)
	}
	return rows
}

// referenceTables are those of testdata/ that are embedded.
var referenceTables = []string{
	"a5_20_usability.csv", "a5_22.csv", "a5_29_usability.csv", "a5_36.csv", "diameters.csv", "gases.csv",
	"iso_17632.csv", "not_fixed_by_class.csv", "solid_and_metal_cored.csv",
}

func TestEmbeddedTablesAreTheReferenceTables(t *testing.T) {
	t.Parallel()
	for _, name := range referenceTables {
		got, err := tableFiles.ReadFile("tables/" + name)
		if err != nil {
			t.Fatal(err)
		}
		want, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("tables/%s differs from testdata/%s", name, name)
		}
	}
}

func TestEveryEmbeddedRowHasAKnownProvenance(t *testing.T) {
	t.Parallel()
	for short, table := range readBook() {
		for kind, section := range table.kinds {
			for designator, facts := range section.rows {
				for _, f := range facts {
					switch f.Provenance {
					case Published:
						if f.Source == "" {
							t.Errorf("%s %s %s %s: published without a source", short, kind, designator, f.Name)
						}
					case Memory, Practice:
					default:
						t.Errorf("%s %s %s %s: provenance %q", short, kind, designator, f.Name, f.Provenance)
					}
				}
			}
		}
	}
}

func TestANewRowNeedsNoCode(t *testing.T) {
	t.Parallel()
	b := readBook()
	for _, r := range [][]string{
		{"AWS A5.20/A5.20M", "", "usability", "16C", "shielding", "external", "", "", "memory", "", ""},
		{"AWS A5.20/A5.20M", "", "strength", "8", "tensile_min", "80", "ksi", "E8xT-", "memory", "", ""},
		{"AWS A5.20/A5.20M", "", "supplementary", "H2", "diffusible_hydrogen_max", "2", "mL/100 g deposited", "", "memory", "", ""},
		{"AWS A5.18/A5.18M", "", "solid", "ER80S-8", "tensile_min", "80", "ksi", "", "memory", "", ""},
		{"AWS A5.18/A5.18M", "", "metal_cored", "E70C-8(C|M)", "passes", "single only", "", "", "memory", "", ""},
		{"AWS A5.22/A5.22M", "", "type", "385L", "Cr", "19.5-21.5", "wt %", "-1 and -4 wires", "memory", "", ""},
		{"AWS A5.22/A5.22M", "", "suffix", "6", "gas", "Ar 100 %", "", "", "memory", "", ""},
		{"AWS A5.22/A5.22M", "", "metal_cored", "EC385", "exists", "yes", "", "", "memory", "", ""},
	} {
		b.add(r)
	}
	for _, r := range [][]string{
		{"AWS A5.29/A5.29M", "", "composition", "K10", "weld_metal_ranges", "Ni 1.00 max", "wt %", "", "memory", "", ""},
		{"AWS A5.36/A5.36M", "", "composition", "CS4", "use", "carbon steel", "", "", "memory", "", ""},
		{"AWS A5.28/A5.28M", "", "solid", "ER80S-K9", "tensile_min", "80", "ksi", "", "memory", "", ""},
		{"AWS A5.9/A5.9M", "", "solid", "ER2610", "C", "0.03 max", "wt %", "wire", "memory", "", ""},
		{"AWS A5.10/A5.10M", "", "solid", "ER5999", "wire_composition", "Mg 9", "wt %", "", "memory", "", ""},
		{"ISO 17632", "", "composition_A", "4Ni", "weld_metal_ranges", "Ni 4", "wt %", "", "memory", "", ""},
		{"ISO 17633", "", "alloy", "26 10 L", "Cr", "26", "wt %", "", "memory", "", ""},
		{"ISO 14341", "", "composition", "9Si", "wire_composition", "Si 9", "wt %", "", "memory", "", ""},
	} {
		b.add(r)
	}
	grammars := map[string]grammar{"A5.20": newA520(b.of("A5.20")), "A5.18": newA518(b.of("A5.18")), "A5.22": newA522(b.of("A5.22")),
		"A5.29": newA529(b.of("A5.29")), "A5.36": newA536(b), "A5.28": newA528(b.of("A5.28")), "A5.9": newA59(b.of("A5.9")),
		"A5.10": newA510(b.of("A5.10")), "ISO 17632-A": newISO17632A(b), "ISO 17633-A": newISO17633A(b), "ISO 14341-A": newISO14341A(b)}
	for text, spec := range map[string]string{
		"E81T-16C-H2": "A5.20", "ER80S-8": "A5.18", "E70C-8M": "A5.18", "E385LT1-1": "A5.22", "E308LT0-6": "A5.22", "EC385": "A5.22",
		"E81T1-K10C": "A5.29", "E71T8-A2-CS4": "A5.36", "E81T8-A2-K10": "A5.36", "ER80S-K9": "A5.28", "E90C-K9": "A5.28", "ER2610": "A5.9",
		"ER5999": "A5.10", "T 46 3 4Ni B M21 1": "ISO 17632-A", "T 26 10 L P M21 1": "ISO 17633-A", "G 46 5 M21 9Si": "ISO 14341-A",
	} {
		s, bad := scan(text)
		if bad != nil {
			t.Fatal(bad)
		}
		if d, bad := grammars[spec].read(s); bad != nil || d.Designation != text {
			t.Errorf("reading %q by the rows added to %s: got %q, %v", text, spec, d, bad)
		}
		if d, err := Decode(text); err == nil {
			t.Errorf("Decode(%q) without those rows: got %v, want it refused", text, d)
		}
	}
}

// A row whose edition is misspelt would be put aside and never read.
func TestOnlyRowsOfOlderEditionsAreSetApart(t *testing.T) {
	t.Parallel()
	var got []string
	for short, table := range readBook() {
		for kind := range table.kinds {
			if strings.Contains(kind, "@") {
				got = append(got, short+" "+kind)
			}
		}
	}
	slices.Sort(got)
	want := []string{"ISO 17632 gas@2004", "ISO 17633 alloy@ISO 3581 guide"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("kinds set apart by edition (-want +got):\n%s", diff)
	}
}

// What no table holds is written down from memory, or has its source.
func TestSupplementaryRowsClaimNoMoreThanTheyHave(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"tables/forms.csv", "tables/covered_electrodes.csv"} {
		rows, err := readRows(name)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, r := range rows {
			f := rowFact(r)
			if f.Provenance != Memory && (f.Provenance != Published || f.Source == "") || f.Provenance == Memory && f.Source != "" {
				if r[2] != "exposure" { // copied as they are
					t.Errorf("%s: %v: provenance %q with source %q", name, r[:5], f.Provenance, f.Source)
				}
			}
			key := strings.Join([]string{r[0], r[2], r[3], r[4], r[7]}, "|")
			if seen[key] {
				t.Errorf("%s: %s stands there twice", name, key)
			}
			seen[key] = true
		}
	}
}
