package inventory

import "testing"

func TestParseProduct(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, text string
		want       Product
		kind       Kind
	}{ // numbers of testdata/barcodes.csv, rows B-01 to B-10
		{"13 digits", "6291041500213", "06291041500213", ""},
		{"13 digits of the examples", "9521234543213", "09521234543213", ""},
		{"14 digits", "99521234543216", "99521234543216", ""},
		{"12 digits", "614141000418", "00614141000418", ""},
		{"8 digits, spaced", " 9521 2340 ", "00000095212340", ""},
		{"a wrong check digit", "6291041500214", "", Invalid},
		{"10 digits", "6291041500", "", Invalid},
		{"letters", "629104150021X", "", Invalid},
		{"nothing", "", "", Invalid},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ParseProduct(tt.text)
			if got != tt.want || KindOf(err) != tt.kind {
				t.Errorf("ParseProduct(%q) = %q, %v; want %q, kind %q", tt.text, got, err, tt.want, tt.kind)
			}
		})
	}
}
