package labels

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"wirehold/inventory"
)

// barcodeRows are the rows of a kind of testdata/barcodes.csv, each with its
// source in column 6.
func barcodeRows(t *testing.T, kind string) [][]string {
	t.Helper()
	f, err := os.Open("../testdata/barcodes.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, r := range all {
		if r[1] == kind {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		t.Fatalf("testdata/barcodes.csv: no rows of kind %s", kind)
	}
	return rows
}

func TestCheckDigitOfThePublishedNumbers(t *testing.T) {
	t.Parallel()
	for _, r := range barcodeRows(t, "mod10_check") {
		if got := string(inventory.GS1CheckDigit(r[2])); got != r[3] {
			t.Errorf("%s: GS1CheckDigit(%q) = %s, want %s (%s)", r[0], r[2], got, r[3], r[6])
		}
	}
}

// TestElementsOfTheReferenceSymbols reads what independent decoders sent for
// symbols of the reference encoder: the note of each row.
func TestElementsOfTheReferenceSymbols(t *testing.T) {
	t.Parallel()
	n := 0
	for _, kind := range []string{"gs1_128_symbol", "gs1_datamatrix_symbol", "qr_gs1_symbol"} {
		for _, r := range barcodeRows(t, kind) {
			_, read, found := strings.Cut(r[7], "reads ")
			if !found {
				continue
			}
			n++
			read = strings.ReplaceAll(strings.Fields(read)[0], "<GS>", string(separator))
			got, err := ReadElements(read)
			if err != nil {
				t.Errorf("%s: ReadElements(%q): %v", r[0], read, err)
				continue
			}
			bracketed, err := ReadElements(r[2])
			if err != nil {
				t.Errorf("%s: ReadElements(%q): %v", r[0], r[2], err)
			}
			if diff := cmp.Diff(bracketed, got, cmpopts.IgnoreUnexported(Element{})); diff != "" {
				t.Errorf("%s: ReadElements(%q) (-as printed +as read):\n%s", r[0], read, diff)
			}
			if text := shown(got); text != r[2] {
				t.Errorf("%s: ReadElements(%q) = %s, want %s", r[0], read, text, r[2])
			}
		}
	}
	if n != 15 {
		t.Errorf("%d symbols of testdata/barcodes.csv were read, want 15", n)
	}
}

func shown(elements []Element) string {
	var b strings.Builder
	for _, e := range elements {
		b.WriteString(e.String())
	}
	return b.String()
}

// TestEveryIdentifierOfTheTableIsKnown holds the embedded table against the
// reference's rows.
func TestEveryIdentifierOfTheTableIsKnown(t *testing.T) {
	t.Parallel()
	for _, r := range barcodeRows(t, "gs1_ai") {
		ai := strings.NewReplacer("(", "", ")", "", "n", "2", "91-99", "95").Replace(r[2])
		row, ok := gs1RowOf(ai)
		if !ok || row.digits != len(ai) {
			t.Errorf("%s: gs1RowOf(%q) = %+v, %t", r[0], ai, row, ok)
			continue
		}
		if fixed := strings.HasPrefix(r[4], "predefined"); row.fixed != fixed {
			t.Errorf("%s: (%s) of predefined length %t, want %t", r[0], ai, row.fixed, fixed)
		}
		if strings.HasPrefix(r[3], "X") != (row.kind == "text") {
			t.Errorf("%s: (%s) is %s, want %s", r[0], ai, row.kind, r[3])
		}
	}
}

var november = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

func day(y, m, d int) time.Time { return time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC) }

func TestReadBox(t *testing.T) {
	t.Parallel()
	const product inventory.Product = "09521234543213"
	tests := []struct {
		name, scan string
		want       Box
	}{
		{"product, made and lot", "010952123454321311250117107F31", Box{Product: product, Made: day(2025, 1, 17), Lot: "7F31"}},
		{"a separator before the next", "010952123454321310LOT7F31\x1d21SP000123", Box{Product: product, Lot: "LOT7F31", Serial: "SP000123"}},
		{"a reader that sends | for it", "010952123454321310LOT7F31|21SP000123", Box{Product: product, Lot: "LOT7F31", Serial: "SP000123"}},
		{"net weight in kg (C-val1)", "(01)99521234543216(3102)001500", Box{Product: "99521234543216", Net: 15_000}},
		{"net weight in lb (C-val2)", "(01)99521234543216(3202)003307", Box{Product: "99521234543216", Net: 15_000}},
		{"the same by another identifier (C-val3)", "(01)99521234543216(3103)015000", Box{Product: "99521234543216", Net: 15_000}},
		{"both weights agree", "(01)99521234543216(3102)001500(3202)003307", Box{Product: "99521234543216", Net: 15_000}},
		{"a pallet", "(00)395212345678901236(02)09521234543213(37)48", Box{Unit: "395212345678901236", Content: product, Count: 48}},
		{"the country of origin", "(01)09521234543213(422)276", Box{Product: product, Country: "DE"}},
		{"a bracket in a lot number", "(01)09521234543213(10)A(2)B", Box{Product: product, Lot: "A(2)B"}},
		{"the last century", "(01)09521234543213(11)991231", Box{Product: product, Made: day(1999, 12, 31)}},
		{"fifty years on", "(01)09521234543213(17)761231", Box{Product: product, Expires: day(2076, 12, 31)}},
		{"fifty-one years on is forty-nine ago", "(01)09521234543213(17)771231", Box{Product: product, Expires: day(1977, 12, 31)}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ReadScan(tt.scan, november)
			if err != nil || got.Kind != BoxScan {
				t.Fatalf("ReadScan(%q) = %+v, %v, want a box", tt.scan, got, err)
			}
			if diff := cmp.Diff(tt.want, got.Box, cmpopts.IgnoreFields(Box{}, "Elements")); diff != "" {
				t.Errorf("ReadScan(%q) (-want +got):\n%s", tt.scan, diff)
			}
		})
	}
}

func TestReadBoxSaysWhatToCompare(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, scan, doubt string }{
		{"a month without a day (C-val4)", "(01)09521234543213(17)270100", "2027-01-31"},
		{"a lot that may have swallowed a serial", "010952123454321310LOT7F3121SP000123", "separators"},
		{"a number that is no country", "(01)09521234543213(422)999", "no country"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ReadScan(tt.scan, november)
			if err != nil {
				t.Fatalf("ReadScan(%q): %v", tt.scan, err)
			}
			if text := strings.Join(got.Box.Doubts, "\n"); !strings.Contains(text, tt.doubt) {
				t.Errorf("ReadScan(%q) doubts %q, want %q among them", tt.scan, text, tt.doubt)
			}
		})
	}
}

func TestReadElementsRefuses(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, scan, says string }{
		{"a wrong check digit", "0109521234543214", "check digit"},
		{"a product number cut short", "010952123454321", "must have 14"},
		{"a lot of 21 characters", "010952123454321310ABCDEFGHIJKLMNOPQRSTU", "1 to 20"},
		{"a month that is none", "(01)09521234543213(17)271301", "no month 13"},
		{"a day that is none", "(01)09521234543213(11)250230", "no day 30"},
		{"29 February of a common year", "(01)09521234543213(11)250229", "no day 29"},
		{"letters for digits", "(3102)00150O", "must be digits"},
		{"a letter outside the set", "(10)LÖT", "cannot stand in it"},
		{"two lots", "(10)A(10)B", "stands twice"},
		{"no identifier", "XY", "no application identifier"},
		{"a bracket left open", "(10", "stands in brackets"},
		{"nothing", "", "nothing in it"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ReadElements(tt.scan)
			if inventory.KindOf(err) != inventory.Invalid || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("ReadElements(%q) = %v, %v, want an error that says %q", tt.scan, got, err, tt.says)
			}
		})
	}
}

func TestBoxesThatContradictThemselves(t *testing.T) {
	t.Parallel()
	for _, scan := range []string{"(01)09521234543213(11)260101(17)250101", "(01)99521234543216(3102)001500(3202)004400", "(01)99521234543216(3109)001500"} {
		if got, err := ReadScan(scan, november); inventory.KindOf(err) != inventory.Invalid {
			t.Errorf("ReadScan(%q) = %+v, %v, want Invalid", scan, got, err)
		}
	}
}

func TestSymbolsOfOneBoxAreJoined(t *testing.T) {
	t.Parallel()
	read := func(scan string) Box {
		t.Helper()
		s, err := ReadScan("]C1"+scan, november)
		if err != nil {
			t.Fatal(err)
		}
		return s.Box
	}
	first, second := read("0109521234543213"), read("107F31")
	both, err := first.With(second)
	if err != nil || both.Product != "09521234543213" || both.Lot != "7F31" || len(both.Elements) != 2 {
		t.Errorf("With: %+v, %v, want product and lot", both, err)
	}
	if len(first.Elements) != 1 {
		t.Errorf("With changed its receiver: %+v", first)
	}
	if _, err := both.With(read("107F32")); inventory.CodeOf(err) != "another-box" {
		t.Errorf("With another lot: %v, want another-box", err)
	}
}

// FuzzReadElements holds that what is read, and written as it stands beneath a
// symbol, reads the same.
func FuzzReadElements(f *testing.F) {
	for _, text := range []string{"010952123454321310LOT7F31\x1d21SP000123", "(00)395212345678901236", "(01)99521234543216(3202)003307(21)12345", "]C110A(2)B"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		elements, err := ReadElements(text)
		if err != nil {
			return
		}
		if strings.Contains(shown(elements), "((") || nested(elements) {
			return // a value that itself looks like an identifier in brackets
		}
		again, err := ReadElements(shown(elements))
		if err != nil {
			t.Fatalf("ReadElements(%q) = %s, which is refused: %v", text, shown(elements), err)
		}
		if diff := cmp.Diff(elements, again, cmp.AllowUnexported(Element{})); diff != "" {
			t.Errorf("ReadElements(%q), again (-first +again):\n%s", text, diff)
		}
	})
}

// nested reports whether a value holds what looks like the next identifier.
func nested(elements []Element) bool {
	for _, e := range elements {
		if nextBracket(e.Value) >= 0 {
			return true
		}
	}
	return false
}
