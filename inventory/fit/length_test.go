package fit

import (
	"testing"

	"pgregory.net/rapid"

	"wirehold/inventory/unit"
)

func TestParseLengthReadsAsTheUnitDoes(t *testing.T) {
	for _, text := range []string{"19 mm", "4.8 mm", ".5 mm", "5. mm", ". mm", " mm", "1.2.3 mm", "-3 mm", "3/16 in", "1 1/2 in", "5", "0.1234567 mm", "12345678 mm", "thin mm"} {
		same(t, text)
	}
	rapid.Check(t, func(t *rapid.T) {
		same(t, rapid.StringMatching(`[0-9./ -]{0,9} ?(mm|in|m)`).Draw(t, "text"))
	})
}

func same(t rapid.TB, text string) {
	got, gotErr := parseLength(text)
	want, wantErr := unit.ParseLength(text)
	if got != want || (gotErr == nil) != (wantErr == nil) {
		t.Fatalf("parseLength(%q): got %d, %v; want %d, %v", text, got, gotErr, want, wantErr)
	}
}
