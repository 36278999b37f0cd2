package spreadsheet

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
)

func row(line int, texts ...string) inventory.ImportRow {
	r := inventory.ImportRow{Line: line}
	for _, text := range texts {
		r.Cells = append(r.Cells, inventory.ImportCell{Text: text})
	}
	return r
}

func TestReadCSV(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, content string
		format        string
		want          []inventory.ImportRow
	}{
		{"commas", "Maker,Size\nAmber,1 mm\n", "CSV, separated by commas", []inventory.ImportRow{row(1, "Maker", "Size"), row(2, "Amber", "1 mm")}},
		{"semicolons, a comma in a cell", "Maker;Size\r\nAmber;\"1,2 mm\"\r\n", "CSV, separated by semicolons", []inventory.ImportRow{row(1, "Maker", "Size"), row(2, "Amber", "1,2 mm")}},
		{"tabs", "Maker\tSize\nAmber\t1 mm", "CSV, separated by tabs", []inventory.ImportRow{row(1, "Maker", "Size"), row(2, "Amber", "1 mm")}},
		{"commas within quotation marks do not count", "\"a,b,c\";Size\n1;2", "CSV, separated by semicolons", []inventory.ImportRow{row(1, "a,b,c", "Size"), row(2, "1", "2")}},
		{"a byte order mark", byteOrderMark + "Maker,Size\n", "CSV, separated by commas", []inventory.ImportRow{row(1, "Maker", "Size")}},
		{"lines are counted as in the file", "\n\nMaker,Size\n\n\"A\nB\",1 mm\nC,2 mm\n", "CSV, separated by commas", []inventory.ImportRow{row(3, "Maker", "Size"), row(5, "A\nB", "1 mm"), row(7, "C", "2 mm")}},
		{"rows of different length", "a,b\n1\n1,2,3\n", "CSV, separated by commas", []inventory.ImportRow{row(1, "a", "b"), row(2, "1"), row(3, "1", "2", "3")}},
		{"one column", "a\n1\n", "CSV, separated by commas", []inventory.ImportRow{row(1, "a"), row(2, "1")}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Read([]byte(tt.content))
			if err != nil || got.Format != tt.format {
				t.Fatalf("Read(%q): %q, %v, want %q", tt.content, got.Format, err, tt.format)
			}
			if diff := cmp.Diff(tt.want, got.Rows); diff != "" {
				t.Errorf("Read(%q) (-want +got):\n%s", tt.content, diff)
			}
		})
	}
}

func TestReadCSVNamesTheLineOfAQuotationMark(t *testing.T) {
	t.Parallel()
	got, err := Read([]byte("a,b\n5/64\",x\n1,2\n3,\"open\n4,5\n"))
	if err != nil {
		t.Fatal(err)
	}
	faults := map[int]string{}
	for _, r := range got.Rows {
		if r.Fault != "" {
			faults[r.Line] = r.Fault
		}
	}
	if len(got.Rows) != 4 || len(faults) != 2 || !strings.Contains(faults[2], "write in for inch") || !strings.Contains(faults[4], "opened and not closed") {
		t.Errorf("Read: %d rows, faults %v, want them on lines 2 and 4", len(got.Rows), faults)
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, content, says string }{
		{"nothing", "", "empty"},
		{"blanks", " \r\n\t\n", "empty"},
		{"more than 5 MB", strings.Repeat("a", inventory.MostImportBytes+1), "larger than 5 MB"},
		{"text in UTF-16", "\xff\xfeM\x00", "UTF-16"},
		{"text in another code", "Maker\nM\xfcller", "not in UTF-8"},
		{"an old workbook", compoundMagic + "rest", ".xls"},
		{"a picture", "\x89PNG\r\n\x1a\n\x00\x00", "neither CSV nor XLSX"},
		{"a ZIP that ends early", zipMagic + "rest", "no XLSX workbook"},
	}
	for _, tt := range tests {
		_, err := Read([]byte(tt.content))
		if inventory.KindOf(err) != inventory.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: Read: %v, want invalid with %q", tt.name, err, tt.says)
		}
	}
}

func TestWriteCSVIsReadBack(t *testing.T) {
	t.Parallel()
	content, err := WriteCSV(inventory.ImportExample())
	if err != nil {
		t.Fatal(err)
	}
	got, err := Read(content)
	if err != nil {
		t.Fatal(err)
	}
	if plan := inventory.PlanImport(got.Rows); len(plan.Lines) != 1 {
		t.Errorf("the example file plans %d wires, faults %v", len(plan.Lines), plan.Faults)
	}
}

// FuzzReadCSV holds that any text is read, refused or at fault, and that
// what is written is read back.
func FuzzReadCSV(f *testing.F) {
	f.Add("Maker;Trade name;Class;Size;Net;Tare\nA;B;E71T-1C;.045 in;15 kg;1 g\n")
	f.Add("\ufeffMaker\tSize (mm)\n\"a\"\"b\"\t1\n")
	f.Add("a,\"b\nc\"\n5/64\"\n\"")
	f.Fuzz(func(t *testing.T, content string) {
		got, err := Read([]byte(content))
		if err != nil {
			if inventory.KindOf(err) != inventory.Invalid {
				t.Fatalf("Read(%q): %v", content, err)
			}
			return
		}
		plan := inventory.PlanImport(got.Rows)
		if (len(plan.Lines) > 0) == (plan.FaultCount() > 0) {
			t.Fatalf("Read(%q) plans %d wires and %d faults", content, len(plan.Lines), plan.FaultCount())
		}
		last := 0
		for _, r := range got.Rows {
			if r.Line <= last {
				t.Fatalf("Read(%q): line %d after line %d", content, r.Line, last)
			}
			last = r.Line
		}
	})
}
