package inventory

import (
	"strings"
	"testing"
)

func TestAPrintersAnswerIsComparedWithWhatIsEntered(t *testing.T) {
	t.Parallel()
	good := PrinterAnswer{State: "idle", Accepting: true, Formats: []string{"application/pdf"}, Resolutions: []int{203}}
	tests := []struct {
		name   string
		change func(*PrinterAnswer, *Printer)
		doubts []string // a part of each, in order
	}{
		{"all as entered", func(*PrinterAnswer, *Printer) {}, nil},
		{"one resolution of several", func(a *PrinterAnswer, _ *Printer) { a.Resolutions = []int{203, 300} }, nil},
		{"another resolution", func(_ *PrinterAnswer, p *Printer) { p.DPI = 300 }, []string{"It prints at 203 dpi, and 300 dpi is entered"}},
		{"nearly the resolution", func(a *PrinterAnswer, _ *Printer) { a.Resolutions = []int{200, 600} }, []string{"It prints at 200, 600 dpi"}},
		{"no word of its resolution", func(a *PrinterAnswer, _ *Printer) { a.Resolutions = nil }, []string{"does not say at how many dots"}},
		{"another format", func(_ *PrinterAnswer, p *Printer) { p.Format = "png" }, []string{"takes no PNG"}},
		{"no word of formats", func(a *PrinterAnswer, _ *Printer) { a.Formats = nil }, nil},
		{"stopped and closed", func(a *PrinterAnswer, _ *Printer) { a.State, a.Accepting = "stopped", false }, []string{"has stopped", "accepts no jobs"}},
	}
	for _, tt := range tests {
		a, p := good, Printer{DPI: 203, Format: "pdf"}
		tt.change(&a, &p)
		got := a.Doubts(p)
		ok := len(got) == len(tt.doubts)
		for i := range min(len(got), len(tt.doubts)) {
			ok = ok && strings.Contains(got[i], tt.doubts[i])
		}
		if !ok {
			t.Errorf("%s: Doubts(%+v) of %+v = %q, want %q", tt.name, p, a, got, tt.doubts)
		}
	}
}
