package labels

import (
	"encoding/csv"
	"fmt"
	"image"
	"os"
	"strconv"
	"strings"
	"testing"
)

// reference reads the rows of one kind from testdata/barcodes.csv.
func reference(t *testing.T, kind string) []map[string]string {
	t.Helper()
	file, err := os.Open("../testdata/barcodes.csv")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatalf("read testdata/barcodes.csv: %v", err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		if row["kind"] == kind {
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		t.Fatalf("testdata/barcodes.csv has no row of kind %q", kind)
	}
	return rows
}

// widths is the run of bar and space widths of a linear symbol, from a bar on.
func widths(t *testing.T, content string) string {
	t.Helper()
	m, err := code128Matrix(content)
	if err != nil {
		t.Fatalf("code128Matrix(%q): %v", content, err)
	}
	var b strings.Builder
	for from := 0; from < len(m[0]); {
		to := from
		for to < len(m[0]) && m[0][to] == m[0][from] {
			to++
		}
		fmt.Fprint(&b, to-from)
		from = to
	}
	return b.String()
}

// patternAt cuts the nth character out of a run of widths; the stop has one
// element more than the others.
func patternAt(run string, n int) string {
	if 6*(n+1)+1 == len(run) {
		return run[6*n:]
	}
	return run[6*n : 6*(n+1)]
}

// showing returns a text in whose symbol character value stands at index n, or
// false where no text can be made to have it (A: no code set A text needs 97,
// B: the encoder never shifts).
func showing(value int) (content string, n int, ok bool) {
	switch {
	case value < 95:
		return "a" + string(rune(' '+value)) + "a", 2, true
	case value == 96:
		return "a\u00f3a", 2, true // FNC3
	case value == 97:
		return "a\u00f2a", 2, true // FNC2
	case value == 99:
		return "a1234", 2, true // to code set C
	case value == 100:
		return "1234a", 3, true // to code set B
	case value == 101:
		return "a\u0001\u0002", 2, true // to code set A
	case value == 102:
		return "a\u00f1a", 2, true // FNC1
	case value == 103:
		return "\u0001\u0002", 0, true // start A
	case value == 104:
		return "a", 0, true // start B
	case value == 105:
		return "1234", 0, true // start C
	case value == 106:
		return "a", 3, true // stop
	}
	return "", 0, false // 95 is DEL, 98 is shift: the encoder sets neither
}

func TestCode128Patterns(t *testing.T) {
	t.Parallel()
	compared := 0
	for _, row := range reference(t, "code128_pattern") {
		value, err := strconv.Atoi(row["input"])
		if err != nil {
			t.Fatalf("row %s: %v", row["id"], err)
		}
		content, n, ok := showing(value)
		if !ok {
			continue
		}
		compared++
		if got := patternAt(widths(t, content), n); got != row["expected"] {
			t.Errorf("row %s: character %d of %q, value %d, has widths %s, want %s", row["id"], n, content, value, got, row["expected"])
		}
	}
	if compared < 85 {
		t.Errorf("compared %d patterns, want 85 or more", compared)
	}
}

// checkOf computes the check value from the values drawn, by the rule of row
// A-07, with the patterns of the table.
func checkOf(run string, values map[string]int) (got, want int, err error) {
	characters := (len(run) - 1) / 6
	sum := 0
	for n := range characters - 1 {
		v, ok := values[patternAt(run, n)]
		if !ok {
			return 0, 0, fmt.Errorf("character %d: pattern %s is not in the table", n, patternAt(run, n))
		}
		if n == characters-2 {
			return v, sum % 103, nil
		}
		sum += max(1, n) * v
	}
	return 0, 0, fmt.Errorf("no check character in %q", run)
}

func TestCode128Check(t *testing.T) {
	t.Parallel()
	values := map[string]int{}
	for _, row := range reference(t, "code128_pattern") {
		values[row["expected"]], _ = strconv.Atoi(row["input"])
	}
	starts := map[string]string{"StartA": "103", "StartB": "104", "StartC": "105"}
	compared := 0
	for _, row := range reference(t, "code128_check") {
		run := widths(t, row["input"])
		got, computed, err := checkOf(run, values)
		if err != nil {
			t.Logf("row %s: %v", row["id"], err)
			continue
		}
		if got != computed {
			t.Errorf("row %s: %q is drawn with check %d, its characters give %d", row["id"], row["input"], got, computed)
		}
		start, _, _ := strings.Cut(row["detail"], " ")
		if strconv.Itoa(values[patternAt(run, 0)]) != starts[strings.TrimSuffix(start, ";")] {
			continue // another start set: another check, as the row's note says
		}
		compared++
		if want := "check=" + strconv.Itoa(got); row["expected"] != want {
			t.Errorf("row %s: %q is drawn with %s, want %s", row["id"], row["input"], want, row["expected"])
		}
	}
	if compared == 0 {
		t.Error("no row with a start set that the encoder uses")
	}
}

// Where the encoder chose the same code sets, the whole symbol must be equal.
func TestCode128Symbols(t *testing.T) {
	t.Parallel()
	equal := 0
	for _, row := range reference(t, "code128_symbol") {
		_, want, _ := strings.Cut(row["detail"], "widths=")
		got := widths(t, row["input"])
		if len(got) != len(want) {
			t.Logf("row %s: %q takes %d characters here, %d there", row["id"], row["input"], len(got)/6, len(want)/6)
			continue
		}
		equal++
		if got != want {
			t.Errorf("row %s: %q has widths %s, want %s", row["id"], row["input"], got, want)
		}
	}
	if equal < 12 {
		t.Errorf("compared %d symbols, want 12 or more", equal)
	}
}

// symbols returns the Code 128 and the QR symbol of a sheet.
func symbols(t *testing.T, s sheet) (linear, square symbol) {
	t.Helper()
	for _, i := range s.items {
		if symbol, ok := i.(symbol); ok {
			if symbol.field == "code" {
				linear = symbol
			} else {
				square = symbol
			}
		}
	}
	if linear.matrix == nil || square.matrix == nil {
		t.Fatal("the sheet lacks a symbol")
	}
	return linear, square
}

// grey is what the checks of a raster need of it: true for a dark dot.
type dark func(x, y int) bool

func darkOf(img image.Image) dark {
	return func(x, y int) bool {
		r, g, b, _ := img.At(img.Bounds().Min.X+x, img.Bounds().Min.Y+y).RGBA()
		return r+g+b < 3*0x8000
	}
}

// checkRaster measures a symbol in a raster, dot by dot: each module is a
// square or bar of exactly x whole dots, and the quiet zone is white for the
// modules it must have.
func checkRaster(t *testing.T, name string, is dark, s symbol, quiet int) {
	t.Helper()
	rows, columns := len(s.matrix), len(s.matrix[0])
	above := quiet
	if rows == 1 {
		above = 0 // bars need white at their ends only
	}
	wrong := 0
	for y := s.origin.Y - above*s.x; y < s.origin.Y+rows*s.tall+above*s.x; y++ {
		for x := s.origin.X - quiet*s.x; x < s.origin.X+(columns+quiet)*s.x; x++ {
			column, row := x-s.origin.X, y-s.origin.Y
			inside := column >= 0 && row >= 0 && column < columns*s.x && row < rows*s.tall
			want := inside && s.matrix[row/s.tall][column/s.x]
			if is(x, y) != want {
				wrong++
			}
		}
	}
	if wrong > 0 {
		t.Errorf("%s: %d dots of the symbol of %q differ from whole modules of %d dots with a quiet zone of %d modules", name, wrong, s.field, s.x, quiet)
	}
}

// runs measures the dark and light runs of one raster line without knowing the
// symbol: an independent look at what a scanner's beam sees.
func runs(is dark, y, from, to int) (lengths []int) {
	for from < to && !is(from, y) {
		from++
	}
	for x := from; x < to; {
		end := x
		for end < to && is(end, y) == is(x, y) {
			end++
		}
		lengths = append(lengths, end-x)
		x = end
	}
	return lengths
}

func TestModulesAreWholeDots(t *testing.T) {
	t.Parallel()
	for name, l := range hard() {
		for _, dpi := range resolutions() {
			s := layOut(t, l, dpi)
			linear, square := symbols(t, s)
			is := darkOf(renderPNG(t, l, dpi))
			checkRaster(t, fmt.Sprintf("%s, %d dpi", name, dpi), is, linear, 10)
			checkRaster(t, fmt.Sprintf("%s, %d dpi", name, dpi), is, square, 4)
			checkRuns(t, fmt.Sprintf("%s, %d dpi", name, dpi), is, linear, l.Code)
			if mm := float64(linear.x) * 25.4 / float64(dpi); mm < 0.25 || mm > 0.51 {
				t.Errorf("%s, %d dpi: bars of %.3f mm, want 0.25 to 0.5 mm", name, dpi, mm)
			}
			if mm := float64(square.x) * 25.4 / float64(dpi); mm < 0.33 || mm > 0.76 {
				t.Errorf("%s, %d dpi: QR modules of %.3f mm, want 0.33 to 0.75 mm", name, dpi, mm)
			}
		}
	}
}

// checkRuns compares the line through the middle of the bars with the widths
// of the code times one whole number of dots.
func checkRuns(t *testing.T, name string, is dark, s symbol, code string) {
	t.Helper()
	box := s.box()
	got := runs(is, s.origin.Y+s.tall/2, box.Min.X, box.Max.X)
	want := widths(t, code)
	if len(got) != len(want)+1 {
		t.Fatalf("%s: %d runs across the bars, want %d and the quiet zone", name, len(got), len(want))
	}
	for i, w := range want {
		if got[i] != int(w-'0')*s.x {
			t.Errorf("%s: run %d is %d dots, want %c modules of %d dots", name, i, got[i], w, s.x)
		}
	}
	if last := got[len(got)-1]; last < 10*s.x {
		t.Errorf("%s: %d dots of white after the bars, want %d", name, last, 10*s.x)
	}
}
