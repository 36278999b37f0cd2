package labels

import (
	"testing"

	"wirehold/inventory"
)

// someSpool is the first good code from number 7 on.
func someSpool() inventory.Code {
	for n := 7; ; n++ {
		if code, ok := inventory.NewCode(inventory.SpoolCode, n); ok {
			return code
		}
	}
}

func TestReadScan(t *testing.T) {
	t.Parallel()
	code := someSpool()
	spool := string(code)
	tests := []struct {
		name, text string
		kind       ScanKind
		err        inventory.Kind
	}{
		{"a code", spool, CodeScan, ""},
		{"a code, small, as a keyboard reader ends it", "\t" + spool + "\r\n", CodeScan, ""},
		{"a code with its symbology", "]C0" + spool, CodeScan, ""},
		{"the link on a label", "https://store.example:8443/spools/" + spool, CodeScan, ""},
		{"the link under a path", "http://192.0.2.7/wire/spools/" + spool, CodeScan, ""},
		{"the facts on a label", spool + "\npolarity: DCEN\ngas: no gas", CodeScan, ""},
		{"the facts on a label in one line", spool + "; polarity: DCEN; gas: no gas", CodeScan, ""},
		{"a link with a wrong check character", "https://store.example/spools/W2222-2", CodeScan, inventory.Invalid},
		{"a link to elsewhere", "https://example.org/catalogue/7", TextScan, ""},
		{"a product number of 13 digits", "9521234543213", BoxScan, ""},
		{"a GS1-128 symbol", "]C1010952123454321310LOT7F31", BoxScan, ""},
		{"a GS1 DataMatrix symbol", "]d2010952123454321310LOT7F31", BoxScan, ""},
		{"the same without its symbology", "010952123454321310LOT7F31", BoxScan, ""},
		{"no symbology, a lot first, | for the separator", "10LOT|0109521234543213", BoxScan, ""},
		{"words with a bar", "kestrel|71", TextScan, ""},
		{"a damaged GS1-128 symbol", "]C10109521234543214", TextScan, inventory.Invalid},
		{"a bracketed string with a fault", "(01)09521234543214", TextScan, inventory.Invalid},
		{"a job's number", "2207", TextScan, ""},
		{"a lot number of digits", "0109521234", TextScan, ""},
		{"13 digits that are no product", "9521234543214", TextScan, ""},
		{"words", "71t-11 .045", TextScan, ""},
		{"nothing", "", TextScan, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ReadScan(tt.text, november)
			if inventory.KindOf(err) != tt.err {
				t.Fatalf("ReadScan(%q): error %v, want kind %q", tt.text, err, tt.err)
			}
			if err != nil {
				return
			}
			if got.Kind != tt.kind {
				t.Errorf("ReadScan(%q) = %+v, want kind %s", tt.text, got, tt.kind)
			}
			if got.Kind == CodeScan && got.Code != code {
				t.Errorf("ReadScan(%q): code %s, want %s", tt.text, got.Code, code)
			}
		})
	}
}

func TestReadCode(t *testing.T) {
	t.Parallel()
	code := someSpool()
	tests := []struct {
		name, text string
		kind       inventory.CodeKind
		err        inventory.Kind
	}{
		{"bare", " " + string(code) + "\r\n", inventory.SpoolCode, ""},
		{"in a link", "https://store.example/spools/" + string(code), inventory.SpoolCode, ""},
		{"of another kind", string(code), inventory.JobCode, inventory.Invalid},
		{"of another kind in a link", "https://store.example/spools/" + string(code), inventory.JobCode, inventory.Invalid},
		{"in a link with a wrong check character", "https://store.example/spools/W2222-2", inventory.SpoolCode, inventory.Invalid},
		{"a maker's box", "]C10109521234543213", inventory.SpoolCode, inventory.Invalid},
		{"words", "Kestrel", inventory.SpoolCode, inventory.Invalid},
		{"nothing", "", inventory.SpoolCode, inventory.Invalid},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ReadCode(tt.kind, tt.text)
			if inventory.KindOf(err) != tt.err {
				t.Fatalf("ReadCode(%s, %q): error %v, want kind %q", tt.kind, tt.text, err, tt.err)
			}
			if err == nil && got != code {
				t.Errorf("ReadCode(%s, %q) = %s, want %s", tt.kind, tt.text, got, code)
			}
		})
	}
}
