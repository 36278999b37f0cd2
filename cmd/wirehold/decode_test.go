package main

import (
	"strings"
	"testing"
)

func TestDecodeReadsGasesSizesAndPackages(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, text string
		holds      []string
	}{
		{"a gas", "M21-ArC-18", []string{"M21-ArC-18, by ISO 14175", "group: M21: oxidizing", "bounds: CO2 over 15 up to 25 vol %, Ar balance", "in the AWS M band: no"}},
		{"a mixture in the band", "80 Ar 20 CO2", []string{"in ISO 14175: M21-ArC-20", "in the AWS M band: yes"}},
		{"a mixture whose gases are not named", "75/25", []string{"it may mean as well: I3-ArHe-25", "common practice"}},
		{"a size", "1.1 mm", []string{"note: 1.1 mm may be the mark of a wire of 0.045 in"}},
		{"a package", "12 in spool", []string{"12 in spool, package", "outside_diameter", "memory"}},
	}
	for _, tt := range tests {
		out, err := command(t, "decode", tt.text)
		for _, want := range tt.holds {
			if err != nil || !strings.Contains(out, want) {
				t.Errorf("%s: decode %q: got %v\n%s\nwant %q in it", tt.name, tt.text, err, out, want)
			}
		}
	}
	out, err := command(t, "decode", "--json", "82 Ar 18 CO2")
	if want := `"gas":{"iso":"M21-ArC-18","symbol":"M21","group":"M21: oxidizing","bounds":"CO2 over 15 up to 25 vol %, Ar balance","components":[{"gas":"Ar","vol_percent":"82"},{"gas":"CO2","vol_percent":"18"}],"in_aws_m_band":"no"}`; err != nil || !strings.Contains(out, want) {
		t.Errorf("decode --json 82 Ar 18 CO2: got %v\n%s\nwant %s in it", err, out, want)
	}
}

func TestAPIDecodesGasesSizesAndPackages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	tests := []struct {
		name, typed string
		holds       []string
	}{
		{"a gas mixture", "82+Ar+18+CO2", []string{`"kind":"gas"`, `"designation":"M21-ArC-18"`, `"in_aws_m_band":"no"`}},
		{"an old name of a gas", "SG-AC-25", []string{`"iso":"M21-ArC-25"`, `"in_aws_m_band":"yes"`}},
		{"a symbol alone", "M21", []string{`"in_aws_m_band":"not known: read the per cents on the cylinder"`}},
		{"a size", ".045+in", []string{`"kind":"size"`, `"size":{"nm":1143000,"listed":true}`}},
		{"a package", "300+mm+spool", []string{`"package":{"form":"spool","standard":"12 in spool"}`}},
		{"a class", "E71T-1C", []string{`"kind":"wire"`, `"spec":"AWS A5.20/A5.20M"`}},
	}
	for _, tt := range tests {
		status, _, body := s.do(t, "GET", "/api/v1/decode?d="+tt.typed, "", "")
		for _, want := range tt.holds {
			if status != 200 || !strings.Contains(body, want) {
				t.Errorf("%s: GET /api/v1/decode?d=%s: %d %s, want 200 and %s", tt.name, tt.typed, status, body, want)
			}
		}
	}
}
