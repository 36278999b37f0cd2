package fit

import (
	"testing"

	"pgregory.net/rapid"
)

func TestParseGas(t *testing.T) {
	m := Gas{Argon: 75, CO2: 25}
	tests := []struct {
		name, text string
		want       Gas
		ok         bool
	}{
		{"parts before signs", "75 Ar 25 CO2", m, true},
		{"signs before parts", "Ar 75 CO2 25", m, true},
		{"parts and signs with slashes", "75/25 Ar/CO2", m, true},
		{"per cent and plus", "75 % Ar + 25 % CO2", m, true},
		{"the smaller part first", "25 % CO2 + 75 % Ar", m, true},
		{"words in any case", "75 argon 25 carbon dioxide", m, true},
		{"three gases", "90 Ar 8 CO2 2 O2", Gas{Argon: 90, CO2: 8, Oxygen: 2}, true},
		{"one gas alone", "CO2", Gas{CO2: 100}, true},
		{"one gas with its hundred", "CO2 100 %", Gas{CO2: 100}, true},
		{"no gas", "none", Gas{}, true},
		{"no gas in two words", "no gas", Gas{}, true},
		{"parts that do not add up", "75 Ar 20 CO2", Gas{}, false},
		{"a part without its gas", "75/25", Gas{}, false},
		{"gases without parts", "Ar/CO2", Gas{}, false},
		{"a gas twice", "50 Ar 50 Ar", Gas{}, false},
		{"a gas of nothing", "100 Ar 0 CO2", Gas{}, false},
		{"fractions of a per cent", "99.5 Ar 0.5 O2", Gas{}, false},
		{"a gas nobody knows", "75 Xe 25 CO2", Gas{}, false},
		{"nothing", "", Gas{}, false},
		{"one gas with half", "50 CO2", Gas{}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ParseGas(tt.text)
			if got != tt.want || (err == nil) != tt.ok {
				t.Errorf("ParseGas(%q): got %+v, %v; want %+v, ok %v", tt.text, got, err, tt.want, tt.ok)
			}
		})
	}
}

func TestGasString(t *testing.T) {
	for want, g := range map[string]Gas{
		"75 % Ar + 25 % CO2": {Argon: 75, CO2: 25}, "CO2 100 %": {CO2: 100}, "no gas": {}, "60 % CO2 + 40 % He": {CO2: 60, Helium: 40},
		"50 % Ar + 50 % CO2": {Argon: 50, CO2: 50},
	} {
		if got := g.String(); got != want {
			t.Errorf("%#v.String(): got %q, want %q", g, got, want)
		}
	}
}

func TestGasRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(0, 100).Draw(t, "argon")
		c := rapid.IntRange(0, 100-a).Draw(t, "co2")
		o := rapid.IntRange(0, 100-a-c).Draw(t, "oxygen")
		g := Gas{Argon: a, CO2: c, Oxygen: o, Helium: 100 - a - c - o}
		if got, err := ParseGas(g.String()); err != nil || got != g {
			t.Fatalf("ParseGas(%q): got %+v, %v; want %+v", g, got, err, g)
		}
	})
}

func FuzzParseGas(f *testing.F) {
	for _, s := range []string{"75 Ar 25 CO2", "CO2", "none", "75/25 Ar/CO2", "Ar 100 %"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		g, err := ParseGas(s)
		if err != nil {
			return
		}
		if again, err := ParseGas(g.String()); err != nil || again != g {
			t.Errorf("ParseGas(%q) = %+v, and ParseGas(%q) = %+v, %v", s, g, g, again, err)
		}
	})
}

func TestParseGasRanges(t *testing.T) {
	tests := []struct {
		text    string
		in, out string // a gas of the range and one that is not; empty if the text cannot be read
	}{
		{"75-80 % Ar + balance CO2", "78 Ar 22 CO2", "81 Ar 19 CO2"},
		{"75-80 % Ar + balance CO2", "75 Ar 25 CO2", "74 Ar 26 CO2"},
		{"CO2 100 %", "CO2", "99 CO2 1 O2"},
		{"CO2 100 % or 75-80 % Ar + balance CO2", "CO2", "60 Ar 40 CO2"},
		{"none", "none", "CO2"},
		{"NO", "none", "Ar"},
		{"Ar + CO2", "98 Ar 2 CO2", "Ar"},
		{"M12", "95 Ar 5 CO2", "94 Ar 6 CO2"},
		{"M20", "94 Ar 6 CO2", "84 Ar 16 CO2"},
		{"M21", "84 Ar 16 CO2", "85 Ar 15 CO2"},
		{"M13", "98 Ar 2 O2", "96 Ar 4 O2"},
		{"C1", "CO2", "99 CO2 1 O2"},
		{"I1", "Ar", "He"},
		{"mixed gas", "", ""},
		{"80-75 % Ar + balance CO2", "", ""},
		{"N2", "", ""},
		{"R1", "", ""},
		{"Z", "", ""},
	}
	for _, tt := range tests {
		ranges, ok := parseGasRanges(tt.text)
		if ok != (tt.in != "") {
			t.Errorf("parseGasRanges(%q): got %+v, %v", tt.text, ranges, ok)
			continue
		}
		if ok && (!exactly(*gasOf(tt.in)).within(ranges) || exactly(*gasOf(tt.out)).within(ranges)) {
			t.Errorf("parseGasRanges(%q): got %+v, which should hold %q and not %q", tt.text, ranges, tt.in, tt.out)
		}
	}
}
