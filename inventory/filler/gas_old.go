package filler

import (
	"strings"
	"sync"
)

// oldLetters are the gas letters of AWS A5.32:1997: argon is A there.
var oldLetters = sync.OnceValue(func() keySet {
	return newKeySet([]string{"A", "C", "He", "H", "N", "O"})
})

// decodeOld reads an old name of AWS A5.32 behind SG: "-AC-25".
func (g *gasTable) decodeOld(s *scanner) (GasDecoded, *SyntaxError) {
	s.eat('-')
	start := s.pos
	var letters []string
	for {
		letter, ok := s.longest(oldLetters())
		if !ok {
			break
		}
		letters = append(letters, letter)
	}
	if len(letters) > 0 && s.eat('-') && s.eat('G') && s.end() {
		return g.special(letters), nil
	}
	s.pos = start
	components, bad := g.components(s, oldLetters())
	if bad != nil {
		return GasDecoded{}, bad
	}
	if !s.end() {
		return GasDecoded{}, s.fail("nothing of AWS A5.32 stands behind the per cents")
	}
	return g.oldWhole(g.sorted(components)), nil
}

// oldWhole writes components under their old name, with what ISO 14175 says of
// them. Only what the table says of that very name can be published.
func (g *gasTable) oldWhole(components []GasComponent) GasDecoded {
	iso := g.whole(components, Memory)
	d := GasDecoded{ISO: iso.ISO, Symbol: iso.Symbol, Spec: "AWS A5.32/A5.32M", Edition: "1997", Components: components}
	d.put("SG", "shielding gas")
	d.put("-", joins)
	for i, c := range components {
		means := "component " + c.Gas
		if i == 0 {
			means = "base gas " + c.Gas
		}
		d.put(oldLetter(g.letter(c.Gas)), means)
	}
	for i, c := range components[1:] {
		sep := "/"
		if i == 0 {
			sep = "-"
		}
		d.put(sep, joins)
		d.put(c.Part.String(), c.Part.String()+" % "+c.Gas)
	}
	all := span{d.Designation, 0}
	d.Facts = d.Facts.with([]Fact{{Name: "meaning", Value: mixtureWords(components), Provenance: Memory}}, all)
	d.Facts = d.Facts.with([]Fact{{Name: "iso_symbol", Value: d.Symbol, Provenance: Memory}}, all)
	d.Facts = d.Facts.confirm(g.old[d.Designation], all)
	for _, f := range iso.Facts {
		f.From, f.At = all.text, 0
		d.Facts = append(d.Facts, f)
	}
	d.Facts = d.Facts.with(g.oldStatus, span{"SG", 0})
	d.Notes = append(iso.Notes, "old name of AWS A5.32:1997; now "+d.ISO)
	return d
}

func oldLetter(letter string) string {
	if letter == "Ar" {
		return "A"
	}
	return letter
}

// special is a mixture that its old name leaves open: "SG-AC-G".
func (g *gasTable) special(letters []string) GasDecoded {
	d := GasDecoded{Spec: "AWS A5.32/A5.32M", Edition: "1997"}
	d.put("SG", "shielding gas")
	d.put("-", joins)
	d.put(strings.Join(letters, ""), "gases "+strings.Join(letters, ", "))
	d.put("-", joins)
	by := d.put("G", valueOf(g.old["SG-x-G"], "meaning"))
	d.Facts = d.Facts.with(g.old["SG-x-G"], by).with(g.oldStatus, span{"SG", 0})
	d.Notes = []string{"the name leaves the mixture open: read the per cents on the cylinder"}
	return d
}
