package fit

import "testing"

// TestSameCountry holds codes and names against ISO 3166-1 (all 249 two-letter,
// three-letter and three-digit codes were compared with those of Debian's
// iso-codes 4.15).
func TestSameCountry(t *testing.T) {
	for _, tt := range []struct {
		name, a, b string
		want       bool
	}{
		{"a name and two letters", "Germany", "DE", true},
		{"three digits", "276", "germany", true},
		{"three letters", "DEU", "276", true},
		{"an official name", "Federal Republic of Germany", "Germany", true},
		{"with dots", "U.S.A.", "United States", true},
		{"with its article", "The United States of America", "us", true},
		{"what everybody writes", "UK", "United Kingdom", true},
		{"digits with a leading zero", "036", "Australia", true},
		{"digits without it are no code", "36", "Australia", false},
		{"a name that is newer than the library's", "Türkiye", "Turkey", true},
		{"without its accent", "Turkiye", "TUR", true},
		{"and for &", "Bosnia and Herzegovina", "BA", true},
		{"two countries", "Germany", "Austria", false},
		{"two that begin alike", "Niger", "Nigeria", false},
		{"the two Koreas", "Republic of Korea", "North Korea", false},
		{"Ireland and its north", "Ireland", "United Kingdom", false},
		{"a group is no country of it", "EU", "Germany", false},
		{"a country that is no more", "DD", "Germany", false},
		{"words that name none are themselves", "domestic", "Domestic", true},
		{"and nothing else", "domestic", "United States", false},
		{"nothing is no country", "", "Germany", false},
	} {
		if got := SameCountry(tt.a, tt.b); got != tt.want {
			t.Errorf("%s: SameCountry(%q, %q) = %v, want %v", tt.name, tt.a, tt.b, got, tt.want)
		}
		if got := SameCountry(tt.b, tt.a); got != tt.want {
			t.Errorf("%s: SameCountry(%q, %q) = %v, want %v", tt.name, tt.b, tt.a, got, tt.want)
		}
	}
}

func TestCountryNames(t *testing.T) {
	names := CountryNames()
	if len(names) != 249 {
		t.Errorf("CountryNames: %d, want the 249 of ISO 3166-1", len(names))
	}
	for _, name := range names {
		code, ok := CountryCode(name)
		if !ok || CountryName(code) != name {
			t.Errorf("CountryCode(%q) = %q, %v, which is called %q", name, code, ok, CountryName(code))
		}
	}
	for text, want := range map[string]string{"276": "Germany", "EU": "EU", "999": "999", "XK": "XK", "": ""} {
		if got := CountryName(text); got != want {
			t.Errorf("CountryName(%q) = %q, want %q", text, got, want)
		}
	}
}
