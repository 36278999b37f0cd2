package filler

import (
	"slices"
	"strings"
	"sync"
)

// gasWord is a gas or a number of a mixture as it is typed.
type gasWord struct {
	gas  string // sign; empty for a number
	part VolumePart
	at   int // in the scanner
}

// mixtureParts separate gases and numbers of a mixture.
const mixtureParts = "%+/,&:-;"

// decodeMixture reads a mixture in per cent: "82 Ar 18 CO2", "Ar/CO2 82/18",
// "Ar + 2 % O2", "CO2", "75/25".
func (g *gasTable) decodeMixture(s *scanner) (GasDecoded, *SyntaxError) {
	start := s.pos
	words, bad := g.words(s)
	if bad != nil {
		return GasDecoded{}, bad
	}
	if !slices.ContainsFunc(words, func(w gasWord) bool { return w.gas != "" }) {
		return g.unnamed(s, start, words)
	}
	components, bad := g.mix(s, start, words)
	if bad != nil {
		return GasDecoded{}, bad
	}
	return g.whole(components, Published), nil
}

// words takes the text into gases and numbers.
func (g *gasTable) words(s *scanner) ([]gasWord, *SyntaxError) {
	names := gasKeys()
	var out []gasWord
	for !s.end() {
		start := s.pos
		if key, ok := s.gasName(names); ok {
			sign, isName := gasNames()[key]
			if !isName {
				sign = key
			}
			out = append(out, gasWord{gas: sign, at: start})
			continue
		}
		if c := s.peek(); '0' <= c && c <= '9' {
			part, ok := parsePart(strings.TrimRight(s.number(), ",."))
			if !ok {
				return nil, s.failAt(s.at[start], "a per cent stands here, 100 at most")
			}
			out = append(out, gasWord{part: part, at: start})
			continue
		}
		if strings.IndexByte(mixtureParts, s.peek()) < 0 {
			return nil, s.fail("a gas is one of Ar, CO2, O2, He, H2, N2, a mixture is such as 82 Ar 18 CO2, a designation such as M21-ArC-18")
		}
		s.pos++
	}
	return out, nil
}

// gasKeys are the signs and names of the gases.
var gasKeys = sync.OnceValue(func() keySet {
	var keys []string
	for name, sign := range gasNames() {
		keys = append(keys, name, sign)
	}
	return newKeySet(keys)
})

// gasName reads a gas by sign or name.
func (s *scanner) gasName(names keySet) (string, bool) {
	if s.word("CARBON") {
		if s.word("DIOXIDE") {
			return "CO2", true
		}
		s.pos -= len("CARBON")
		return "", false
	}
	return s.longest(names)
}

// mix pairs gases with numbers. A gas without a number is the balance.
func (g *gasTable) mix(s *scanner, start int, words []gasWord) ([]GasComponent, *SyntaxError) {
	var gases []GasComponent
	var parts []VolumePart
	order := ""
	for _, w := range words {
		if w.gas == "" {
			parts, order = append(parts, w.part), order+"9"
			continue
		}
		if slices.ContainsFunc(gases, func(c GasComponent) bool { return c.Gas == w.gas }) {
			return nil, s.failAt(s.at[w.at], w.gas+" is named already")
		}
		gases, order = append(gases, GasComponent{Gas: w.gas}), order+"g"
	}
	unclear := "which per cent belongs to which gas is not plain: write 82 Ar 18 CO2"
	n := len(gases)
	switch {
	case len(parts) == 0 && n == 1:
		parts = []VolumePart{wholeVolume}
	case len(parts) == n && paired(order, n):
	case len(parts) == n-1 && order == "g"+strings.Repeat("9g", n-1) && s.balanced(words):
		parts = append([]VolumePart{wholeVolume - total(parts)}, parts...)
	default:
		return nil, s.failAt(s.at[start], unclear)
	}
	if total(parts) != wholeVolume || slices.Min(parts) <= 0 {
		return nil, s.failAt(s.at[start], "the per cents add up to "+total(parts).String()+", not 100")
	}
	for i := range gases {
		gases[i].Part = parts[i]
	}
	return gases, nil
}

// paired tells whether numbers and gases alternate or stand in two lists.
func paired(order string, n int) bool {
	return order == strings.Repeat("9g", n) || order == strings.Repeat("g9", n) ||
		order == strings.Repeat("9", n)+strings.Repeat("g", n) || order == strings.Repeat("g", n)+strings.Repeat("9", n)
}

// balanced tells whether a + parts the first gas, which has no number, from
// what follows: "Ar + 2 % O2".
func (s *scanner) balanced(words []gasWord) bool {
	return strings.Contains(string(s.norm[words[0].at:words[1].at]), "+")
}

func total(parts []VolumePart) VolumePart {
	var sum VolumePart
	for _, p := range parts {
		sum += p
	}
	return sum
}

// unnamed reads two numbers without gases, "75/25", as argon and CO2, and names
// what else they may be. The reading is practice and no evidence.
func (g *gasTable) unnamed(s *scanner, start int, words []gasWord) (GasDecoded, *SyntaxError) {
	if len(words) != 2 || words[0].part+words[1].part != wholeVolume || words[0].part < words[1].part || words[1].part == 0 {
		return GasDecoded{}, s.failAt(s.at[start], "name the gases: 82 Ar 18 CO2")
	}
	mixture := func(second string) []GasComponent {
		return []GasComponent{{"Ar", words[0].part}, {second, words[1].part}}
	}
	d := g.whole(mixture("CO2"), Practice)
	for i := range d.Facts {
		d.Facts[i].Provenance, d.Facts[i].Source = Practice, ""
	}
	for _, other := range []string{"O2", "He"} {
		if one := g.whole(mixture(other), Practice); one.Symbol != "Z" {
			d.Alternatives = append(d.Alternatives, one.ISO)
		}
	}
	d.Notes = append(d.Notes, "the gases are not named: read as "+mixtureWords(d.Components)+", as is common practice; it may also be "+oneOf(d.Alternatives))
	return d, nil
}
