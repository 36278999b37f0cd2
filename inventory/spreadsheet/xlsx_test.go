package spreadsheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/xuri/excelize/v2"

	"wirehold/inventory"
)

// workbook returns a workbook made by fill.
func workbook(t testing.TB, fill func(*excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	fill(f)
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// set puts a value into a cell with a format: a built-in number, or a code.
func set(t testing.TB, f *excelize.File, cell string, value, format any) {
	t.Helper()
	if err := f.SetCellValue("Sheet1", cell, value); err != nil {
		t.Fatal(err)
	}
	style := &excelize.Style{}
	switch format := format.(type) {
	case nil:
		return
	case int:
		style.NumFmt = format
	case string:
		style.CustomNumFmt = &format
	}
	id, err := f.NewStyle(style)
	if err == nil {
		err = f.SetCellStyle("Sheet1", cell, cell, id)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func TestReadXLSXCells(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name   string
		value  any
		format any
		text   string
		fault  string
	}{
		{"text", "E71T-1C", nil, "E71T-1C", ""},
		{"text that looks like a number", "015", nil, "015", ""},
		{"a number", 15, nil, "15", ""},
		{"a binary fraction as it was typed", 0.045, nil, "0.045", ""},
		{"the noise of a sum", 0.1 + 0.2, nil, "0.3", ""},
		{"a large number without an exponent", 1e9, nil, "1000000000", ""},
		{"a percentage", 0.85, 9, "85 %", ""},
		{"a percentage by the shop's own format", 0.855, "0.0%", "85.5 %", ""},
		{"a unit that the format shows", 15.5, `0.0" kg"`, "15.5 kg", ""},
		{"a currency before the number is no unit", 15, `"x "0`, "15", ""},
		{"a size that became a date", 45992, 14, "45992", dateFault},
		{"a date by the shop's own format", 45992, "d-mmm", "45992", dateFault},
		{"a time", 0.5, 46, "0.5", dateFault},
		{"yes and no", true, nil, "TRUE", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			content := workbook(t, func(f *excelize.File) { set(t, f, "A1", tt.value, tt.format) })
			got, err := Read(content)
			want := []inventory.ImportRow{{Line: 1, Cells: []inventory.ImportCell{{Text: tt.text, Fault: tt.fault}}}}
			if diff := cmp.Diff(want, got.Rows); err != nil || diff != "" {
				t.Errorf("Read of %v as %v: %v (-want +got):\n%s", tt.value, tt.format, err, diff)
			}
		})
	}
}

// sheetXML exchanges the cells of a workbook's sheet by hand, for what the
// library would not write.
func sheetXML(t testing.TB, data string) []byte {
	t.Helper()
	return withSheet(t, workbook(t, func(*excelize.File) {}), data)
}

// withSheet returns the workbook with other cells on its first sheet.
func withSheet(t testing.TB, book []byte, data string) []byte {
	t.Helper()
	from, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	to := zip.NewWriter(&b)
	for _, part := range from.File {
		w, err := to.Create(part.Name)
		if err != nil {
			t.Fatal(err)
		}
		if part.Name == "xl/worksheets/sheet1.xml" {
			fmt.Fprintf(w, `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>%s</sheetData></worksheet>`, data)
			continue
		}
		r, err := part.Open()
		if err == nil {
			_, err = io.Copy(w, r)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := to.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestReadXLSXFormulas(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, cell string
		want       inventory.ImportCell
	}{
		{"a number", `<c r="A1"><f>7.5*2</f><v>15</v></c>`, inventory.ImportCell{Text: "15"}},
		{"a text", `<c r="A1" t="str"><f>"E71T"&amp;"-1C"</f><v>E71T-1C</v></c>`, inventory.ImportCell{Text: "E71T-1C"}},
		{"an error", `<c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c>`, inventory.ImportCell{Text: "#DIV/0!", Fault: "the formula gives #DIV/0!: mend it, or type the value"}},
		{"an error without a formula", `<c r="A1" t="e"><v>#N/A</v></c>`, inventory.ImportCell{Text: "#N/A", Fault: "the formula gives #N/A: mend it, or type the value"}},
		{"no value saved", `<c r="A1"><f>7.5*2</f></c>`, inventory.ImportCell{Text: "=7.5*2", Fault: "the formula was saved without its value: open the file in a spreadsheet and save it again, or type the value"}},
		{"an empty text", `<c r="A1" t="str"><f>""</f><v></v></c>`, inventory.ImportCell{}},
		{"a date in the newer way", `<c r="A1" t="d"><v>2026-01-16</v></c>`, inventory.ImportCell{Text: "2026-01-16", Fault: dateFault}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Read(sheetXML(t, `<row r="1">`+tt.cell+`</row>`))
			if err != nil || len(got.Rows) != 1 || len(got.Rows[0].Cells) != 1 {
				t.Fatalf("Read(%s) = %+v, %v", tt.cell, got.Rows, err)
			}
			if diff := cmp.Diff(tt.want, got.Rows[0].Cells[0]); diff != "" {
				t.Errorf("Read(%s) (-want +got):\n%s", tt.cell, diff)
			}
		})
	}
}

func TestReadXLSXKeepsLinesAndColumns(t *testing.T) {
	t.Parallel()
	got, err := Read(workbook(t, func(f *excelize.File) {
		set(t, f, "B3", "Maker", nil)
		set(t, f, "D3", "Size", nil)
		set(t, f, "D7", 1.2, nil)
		if _, err := f.NewSheet("Other"); err != nil {
			t.Fatal(err)
		}
	}))
	want := []inventory.ImportRow{row(3, "", "Maker", "", "Size"), row(7, "", "", "", "1.2")}
	if diff := cmp.Diff(want, got.Rows); err != nil || diff != "" || got.Format != `XLSX, sheet "Sheet1", the first of 2` {
		t.Errorf("Read: %q, %v (-want +got):\n%s", got.Format, err, diff)
	}
	got, err = Read(workbook(t, func(f *excelize.File) {
		set(t, f, "A1", "hidden", nil)
		if _, err := f.NewSheet("Wires"); err != nil {
			t.Fatal(err)
		}
		f.SetActiveSheet(1)
		if err := f.SetSheetVisible("Sheet1", false); err != nil {
			t.Fatal(err)
		}
	}))
	if err != nil || len(got.Rows) != 0 || got.Format != `XLSX, sheet "Wires"` {
		t.Errorf("Read of a workbook whose first sheet is hidden: %q, %d rows, %v, want the second", got.Format, len(got.Rows), err)
	}
}

// TestReadXLSXRefusesWhatUnpacksToTooMuch holds that a small file cannot take
// all the memory there is.
func TestReadXLSXRefusesWhatUnpacksToTooMuch(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, data, says string }{
		{"a row far below", `<row r="1048576"><c r="A1048576"><v>1</v></c></row>`, "more rows and columns"},
		{"many rows with a cell far to the right", strings.Repeat(`<row><c r="XFD1"/></row>`, 2000), "more rows and columns"},
		{"very many merged cells", `</sheetData><mergeCells>` + strings.Repeat(`<mergeCell ref="A1:B2"/>`, mostMerged+1) + `</mergeCells><sheetData>`, "merged cells"},
		{"a row number that is none", `<row r="99999999999999999999"/>`, "more rows and columns"},
		{"a text without end", `<row r="1"><c r="A1" t="str"><v>` + strings.Repeat("a", mostUnpacked) + `</v></c></row>`, "unpacks to more than 48 MB"},
	}
	for _, tt := range tests {
		_, err := Read(sheetXML(t, tt.data))
		if inventory.KindOf(err) != inventory.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: Read: %v, want invalid with %q", tt.name, err, tt.says)
		}
	}
}

// wireTable is a table of wires as text; numbers are written as numbers.
var wireTable = [][]any{
	{"Maker", "Product", "AWS class", "Size (in)", "Net (kg)", "Tare (g)", "Min stock", "Stick-out (mm)", "Travel", "Data sheet"},
	{"Maker Amber", "Amber Kestrel 71M", "e71t-1m h8", 0.045, 15, 700, "60 kg", "13-19", "either", "Kestrel sheet rev 4"},
	{"Maker Cobalt", "Cobalt Petrel 11", "E71T-11", 0.035, 4.5, 250, "", "", "", ""},
	{"Maker Ember", "Ember Bright 308", "E308LT1-1/4", "1/16 in", "12.5 kg", 700, "25 kg", "", "", ""},
}

func TestXLSXAndCSVOfOneTableGiveTheSameWires(t *testing.T) {
	t.Parallel()
	var texts [][]string
	book := workbook(t, func(f *excelize.File) {
		for i, values := range wireTable {
			var line []string
			for j, v := range values {
				name, err := excelize.CoordinatesToCellName(j+1, i+1)
				if err != nil {
					t.Fatal(err)
				}
				set(t, f, name, v, nil)
				line = append(line, fmt.Sprint(v))
			}
			texts = append(texts, line)
		}
	})
	plain, err := WriteCSV(texts)
	if err != nil {
		t.Fatal(err)
	}
	var plans []inventory.ImportPlan
	for _, content := range [][]byte{book, plain, bytes.ReplaceAll(plain, []byte(","), []byte(";"))} {
		file, err := Read(content)
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, inventory.PlanImport(file.Rows))
	}
	if len(plans[0].Lines) != 3 || len(plans[0].Faults) > 0 || plans[0].Lines[0].Typed != "e71t-1m h8" {
		t.Fatalf("the workbook plans %d wires, faults %v, want 3 and none", len(plans[0].Lines), plans[0].Faults)
	}
	for _, p := range plans[1:] {
		if diff := cmp.Diff(plans[0], p, cmpopts.IgnoreUnexported(inventory.ImportLine{})); diff != "" {
			t.Errorf("XLSX and CSV of one table differ (-XLSX +CSV):\n%s", diff)
		}
	}
}

func TestReadXLSXNamesARowThatIsTooWide(t *testing.T) {
	t.Parallel()
	got, err := Read(workbook(t, func(f *excelize.File) {
		set(t, f, "A1", "Maker", nil)
		set(t, f, "GS2", "x", nil) // column 201
	}))
	if err != nil || len(got.Rows) != 2 || got.Rows[1].Line != 2 || !strings.Contains(got.Rows[1].Fault, "beyond column 200") {
		t.Errorf("Read: %+v, %v, want a fault on line 2", got.Rows, err)
	}
}

func TestReadXLSXOfTheMostRows(t *testing.T) {
	t.Parallel()
	content := workbook(t, func(f *excelize.File) {
		for line := 1; line <= inventory.MostImportRows+3; line++ {
			values := []any{"Maker", fmt.Sprint("Wire ", line), "E71T-1C", 0.045, 15, 700, "=1+1"}
			if err := f.SetSheetRow("Sheet1", fmt.Sprint("A", line), &values); err != nil {
				t.Fatal(err)
			}
		}
	})
	got, err := Read(content)
	if err != nil || len(got.Rows) != inventory.MostImportRows+2 {
		t.Errorf("Read of %d lines: %d rows, %v, want one more than may be imported", inventory.MostImportRows+3, len(got.Rows), err)
	}
}

// FuzzReadXLSX holds that any bytes, and any sheet in a sound workbook, are
// read or refused.
func FuzzReadXLSX(f *testing.F) {
	empty := workbook(f, func(*excelize.File) {})
	f.Add([]byte(zipMagic))
	f.Add(workbook(f, func(b *excelize.File) { set(f, b, "A1", "Maker", nil) }))
	f.Add([]byte(`<row r="1"><c r="A1" t="s"><v>99</v></c><c r="C1" s="7"><f t="shared" si="0"/><v>1e400</v></c></row>`))
	f.Add([]byte(`<row r="2"><c r="B2" t="inlineStr"><is><t>x</t></is></c></row><row r="1"><c r="A0"/><c t="e"><v/></c></row>`))
	f.Fuzz(func(t *testing.T, content []byte) {
		for _, c := range [][]byte{content, append([]byte(zipMagic), content...), withSheet(t, empty, string(content))} {
			got, err := Read(c)
			if err != nil {
				if inventory.KindOf(err) != inventory.Invalid {
					t.Fatalf("Read(%q): %v", c, err)
				}
				continue
			}
			inventory.PlanImport(got.Rows)
		}
	})
}
