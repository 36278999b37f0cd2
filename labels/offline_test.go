package labels

import (
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
)

// TestFactsInASymbolAreOneScan reads what each kind's symbols hold without an
// address, as a hand scanner types it: an end of line within would be a second
// scan.
func TestFactsInASymbolAreOneScan(t *testing.T) {
	t.Parallel()
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	squares, codes := 0, 0
	for _, kind := range Kinds() {
		for _, size := range Sizes() {
			l := usualOf(t, kind)
			l.Link = ""
			s, err := f.layOut(&l, size, 203)
			if err != nil {
				continue // a usual slip that rests on a waiver wants larger stock
			}
			for _, item := range s.items {
				sym, ok := item.(symbol)
				if !ok {
					continue
				}
				text := contentOf(&l, sym)
				if sym.field != "code" {
					squares++
				}
				scan, err := ReadScan(text+"\r\n", time.Date(2026, 11, 25, 7, 0, 0, 0, time.UTC))
				if strings.ContainsAny(text, "\r\n") || err != nil {
					t.Errorf("%s on %s: a symbol holds %q (%v), want one line", kind, size, text, err)
				}
				if code, err := inventory.ParseCode(l.Code); err == nil {
					codes++
					if scan.Code != code {
						t.Errorf("%s on %s: ReadScan(%q) = %+v, want code %s", kind, size, text, scan, code)
					}
				}
			}
		}
	}
	if squares < 20 || codes < 50 {
		t.Errorf("%d QR symbols and %d codes were read, want more: the test looks at nothing", squares, codes)
	}
}

// TestFitsSaysWhatStockWouldDo tries labels on what is in a printer.
func TestFitsSaysWhatStockWouldDo(t *testing.T) {
	t.Parallel()
	place := usualOf(t, KindPlace)
	long := usualOf(t, KindSlip)
	long.Link = ""
	tests := []struct {
		name  string
		label Label
		on    inventory.Printer
		says  []string // of the error; nil if it fits
	}{
		{"a place on the smallest", place, inventory.Printer{Name: "Hub", DPI: 203, Size: "50x25"}, nil},
		{"a slip with a waiver on small stock", long, inventory.Printer{Name: "Hub", DPI: 203, Size: "75x50"}, []string{"Hub holds labels", "waiver", "100 x 75 mm would do"}},
		{"stock that there is none of", place, inventory.Printer{Name: "Hub", DPI: 203, Size: "15x15"}, []string{"none of the sizes"}},
	}
	for _, tt := range tests {
		err := press().Fits([]Label{place, tt.label}, tt.on, "printer")
		if tt.says == nil && err != nil {
			t.Errorf("%s: Fits: %v, want no error", tt.name, err)
		}
		for _, want := range tt.says {
			e, ok := err.(*inventory.Error)
			if !ok || e.Kind != inventory.Invalid || e.Fields[0].Field != "printer" || !strings.Contains(e.Detail, want) {
				t.Errorf("%s: Fits: %v, want Invalid at printer with %q", tt.name, err, want)
			}
		}
	}
}
