package fit

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
	"golang.org/x/text/unicode/norm"
)

// SameCountry reports whether two texts name one country: letter for letter but
// for case, or by their codes where both are known ("Germany", DE, DEU and 276).
// A text that names no country here is only itself.
func SameCountry(a, b string) bool {
	if strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) {
		return true
	}
	first, ok := CountryCode(a)
	second, also := CountryCode(b)
	return ok && also && first == second
}

// CountryCode returns the two letters of ISO 3166-1 of a country that is written
// as these, as three letters, as three digits or by its English name; false if
// the text is none of them. A group of countries, such as EU, is none.
func CountryCode(text string) (code string, ok bool) {
	code, ok = countries().codes[foldCountry(text)]
	return code, ok
}

// CountryName returns the English name of the country that text is written as;
// text itself if it is none.
func CountryName(text string) string {
	if code, ok := CountryCode(text); ok {
		return countries().names[code]
	}
	return text
}

// CountryNames lists the English names of the countries of ISO 3166-1, in
// order.
func CountryNames() []string { return slices.Clone(countries().sorted) }

// countryTable is ISO 3166-1: what a country is written as, folded, to its two
// letters, and these to its name.
type countryTable struct {
	codes, names map[string]string
	sorted       []string
}

// countries takes codes and names from golang.org/x/text, which has them of
// Unicode CLDR, and from tables/countries.csv the further names of ISO 3166-1
// and those that are newer. Codes that are withdrawn or private have no name or
// number there and are left out.
var countries = sync.OnceValue(func() countryTable {
	t := countryTable{codes: map[string]string{}, names: map[string]string{}}
	english := display.English.Regions()
	for i := range 26 * 26 {
		code := string([]byte{'A' + byte(i/26), 'A' + byte(i%26)})
		r, err := language.ParseRegion(code)
		if err != nil || !r.IsCountry() || r.Canonicalize() != r || r.IsPrivateUse() || r.M49() == 0 || english.Name(r) == "" || code == "XK" { // Kosovo has no code of ISO's
			continue
		}
		t.names[code] = english.Name(r)
		for _, text := range []string{code, r.ISO3(), fmt.Sprintf("%03d", r.M49()), t.names[code]} {
			t.add(text, code)
		}
	}
	for _, r := range readTable("tables/countries.csv") {
		t.add(r["name"], r["code"])
		if r["shown"] == "yes" {
			t.names[r["code"]] = r["name"]
		}
	}
	for _, name := range t.names {
		t.sorted = append(t.sorted, name)
	}
	slices.SortFunc(t.sorted, func(a, b string) int { return strings.Compare(foldCountry(a), foldCountry(b)) })
	return t
})

// add makes text stand for the country. One that stands for another already is
// a bug in the tables.
func (t countryTable) add(text, code string) {
	key := foldCountry(text)
	if was, ok := t.codes[key]; ok && was != code {
		panic(fmt.Sprintf("fit: countries: %q stands for %s and %s", text, was, code))
	}
	t.codes[key] = code
}

// foldCountry writes a country so that case, accents, dots, and "and" for &
// tell no two apart: "U.S.A." is USA.
func foldCountry(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '.' || r == '\'' || r == '’' || unicode.Is(unicode.Mn, r):
			return -1
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return unicode.ToUpper(r)
		}
		return ' '
	}, norm.NFD.String(strings.ReplaceAll(text, "&", " and ")))
	return strings.TrimPrefix(strings.Join(strings.Fields(text), " "), "THE ")
}
