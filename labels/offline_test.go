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
