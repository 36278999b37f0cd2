package filler

import (
	"slices"
	"strconv"
	"strings"
)

// GasDecoded is a shielding gas taken apart.
type GasDecoded struct {
	Designation  string         // as ISO 14175 prints it, "M21-ArC-18", or an old name of AWS A5.32, "SG-AC-25"
	ISO          string         // the designation of ISO 14175 that it is or stands for
	Symbol       string         // sub-group of ISO 14175: "M21"; "Z" outside all bounds; empty if it cannot be known
	Spec         string         // whose designation it is
	Edition      string         // that the tables hold
	Components   []GasComponent // base gas first, the others by falling per cent; nil if the symbol alone is given
	Parts        []Part         // in order; together they are the Designation
	Facts        Facts
	Notes        []string // what a person must know before trusting the facts
	Alternatives []string // designations of ISO 14175 that the text may mean as well; nil if it is plain
}

// GasComponent is one gas of a mixture.
type GasComponent struct {
	Gas  string // by its sign: "Ar", "CO2"
	Part VolumePart
}

// VolumePart is a part by volume in thousandths of a per cent.
type VolumePart int

// wholeVolume is 100 %.
const wholeVolume VolumePart = 100_000

// String writes per cent without the sign: "7.5".
func (p VolumePart) String() string {
	return strconv.FormatFloat(float64(p)/1000, 'f', -1, 64)
}

// parsePart reads per cent, with a decimal point or the comma that ISO prints.
func parsePart(text string) (VolumePart, bool) {
	whole, fraction, _ := strings.Cut(strings.ReplaceAll(text, ",", "."), ".")
	if len(whole) == 0 || len(whole) > 3 || strings.HasSuffix(text, ".") || strings.HasSuffix(text, ",") || len(fraction) > 3 {
		return 0, false
	}
	n, err := strconv.Atoi(whole + fraction + "000"[len(fraction):])
	return VolumePart(n), err == nil && n >= 0 && VolumePart(n) <= wholeVolume
}

// String returns the canonical designation, which DecodeGas reads back.
func (d GasDecoded) String() string { return d.Designation }

// DecodeGas takes a shielding gas apart: a designation of ISO 14175, which AWS
// A5.32 has taken over ("M21-ArC-18", "M21"), an old name of AWS A5.32
// ("SG-AC-25"), or a mixture in per cent ("82 Ar 18 CO2"), which it puts into
// its sub-group by the bounds of testdata/gases.csv. The fact in_AWS_M_band
// says whether the mixture is what M stands for in a wire's class; it is absent
// where the text does not give the mixture.
//
// A mixture without the names of its gases ("75/25") is read as argon and CO2,
// which is common practice and marked so, with the other readings as
// alternatives. What cannot be read is a [*SyntaxError].
//
// DecodeGas is pure and safe for concurrent use.
func DecodeGas(text string) (GasDecoded, error) {
	s, bad := scan(text)
	if bad != nil {
		bad.what = "gas"
		return GasDecoded{}, bad
	}
	d, bad := gases().decode(s)
	if bad != nil {
		bad.what = "gas"
		return GasDecoded{}, bad
	}
	return d, nil
}

// decode tells the three ways to write a gas apart.
func (g *gasTable) decode(s *scanner) (GasDecoded, *SyntaxError) {
	s.gasSpecName()
	if s.end() {
		return GasDecoded{}, s.fail("write the gas, such as M21-ArC-18 or 82 Ar 18 CO2")
	}
	if s.word("SG") {
		return g.decodeOld(s)
	}
	start := s.pos
	if key, ok := s.longest(g.symbols); ok && (s.end() || s.peek() == '-' || s.spaced()) {
		if _, sign := g.letters[key]; sign && s.end() {
			return GasDecoded{}, s.failAt(s.at[start], key+" is the gas itself or, in ISO 14175, "+g.boundsOf(key)+": write the mixture in per cent, or the name of the gas")
		}
		return g.decodeISO(s, key)
	}
	s.pos = start
	return g.decodeMixture(s)
}

// gasSpecName passes over the name of the specification.
func (s *scanner) gasSpecName() {
	start := s.pos
	if s.word("AWS") || s.specNumber("32") {
		s.specNumber("32")
		s.eat('M')
		if s.eat('/') {
			s.specNumber("32")
			s.eat('M')
		}
	} else {
		s.word("BS")
		s.word("EN")
		if !s.word("ISO") || !s.word("14175") {
			s.pos = start
			return
		}
	}
	s.edition()
	if !s.eat(':') {
		s.eat('-')
	}
}

// decodeISO reads what follows a symbol: "-ArC-18", or nothing.
func (g *gasTable) decodeISO(s *scanner, symbol string) (GasDecoded, *SyntaxError) {
	d := GasDecoded{Symbol: symbol, Spec: g.spec, Edition: g.edition}
	if b := g.bounds[symbol]; s.end() && len(b) == 1 && b[0].low == wholeVolume {
		return g.whole([]GasComponent{{b[0].gas, wholeVolume}}, Published), nil
	}
	if s.end() {
		d.put(symbol, g.boundsOf(symbol))
		d.Facts = g.symbolFacts(symbol, span{symbol, 0})
		switch {
		case symbol == "Z":
			d.Notes = append(d.Notes, "Z alone says nothing of the gas: read the mixture on the cylinder")
		default:
			g.addBandOfSymbol(&d)
		}
		d.ISO = d.Designation
		return d, nil
	}
	s.eat('-')
	start := s.pos
	components, bad := g.components(s, g.byLetter)
	if bad != nil {
		return GasDecoded{}, bad
	}
	if got := g.classify(components); got != symbol {
		return GasDecoded{}, s.failAt(s.at[start], mixtureWords(components)+" is "+got+", not "+symbol)
	}
	if !s.end() {
		return GasDecoded{}, s.fail("nothing of ISO 14175 stands behind the per cents")
	}
	return g.whole(components, Published), nil
}

// components reads base gas and components by letter and their per cents:
// "ArC-18", "ArCO-6/4".
func (g *gasTable) components(s *scanner, letters keySet) ([]GasComponent, *SyntaxError) {
	var out []GasComponent
	for {
		start := s.pos
		letter, ok := s.longest(letters)
		if !ok {
			break
		}
		sign := g.sign(letter)
		if slices.ContainsFunc(out, func(c GasComponent) bool { return c.Gas == sign }) {
			return nil, s.failAt(s.at[start], letter+" is named already")
		}
		out = append(out, GasComponent{Gas: sign})
	}
	if len(out) == 0 {
		return nil, s.fail("the base gas and its components stand here: " + letters.words)
	}
	if len(out) > 1 {
		s.eat('-')
	}
	rest := wholeVolume
	for i := range out[1:] {
		if i > 0 && !s.eat('/') {
			return nil, s.fail("the per cent of each component stands here, parted by /")
		}
		start := s.pos
		part, ok := parsePart(s.number())
		if !ok || part == 0 || part >= rest {
			return nil, s.failAt(s.at[start], "the per cent of "+out[i+1].Gas+" stands here")
		}
		out[i+1].Part = part
		rest -= part
	}
	out[0].Part = rest
	return out, nil
}

// number reads digits with a decimal point or comma.
func (s *scanner) number() string {
	n := 0
	for n < s.run(8) && strings.IndexByte("0123456789.,", s.norm[s.pos+n]) >= 0 {
		n++
	}
	s.pos += n
	return string(s.norm[s.pos-n : s.pos])
}

// put writes the next characters of the designation.
func (d *GasDecoded) put(text, means string) span {
	s := span{text, len(d.Designation)}
	d.Designation += text
	d.Parts = append(d.Parts, Part{Text: text, At: s.at, Means: means})
	return s
}

// whole is a gas of which all components are known; its facts have provenance
// p where the tables do not say otherwise.
func (g *gasTable) whole(components []GasComponent, p Provenance) GasDecoded {
	components = g.sorted(components)
	d := GasDecoded{Symbol: g.classify(components), Spec: g.spec, Edition: g.edition, Components: components}
	by := d.put(d.Symbol, g.boundsOf(d.Symbol))
	d.Facts = g.symbolFacts(d.Symbol, by)
	from := []span{by}
	if len(components) > 1 || d.Symbol == "Z" {
		from = g.putComponents(&d)
	}
	d.ISO = d.Designation
	for i, c := range components {
		d.Facts = d.Facts.with([]Fact{g.componentFact(c, p)}, from[i])
		d.Facts = d.Facts.with(g.tolerance(c), from[i])
	}
	g.addBand(&d, p)
	return d
}

// putComponents writes "-ArC-18" and returns what gives each component's part.
func (g *gasTable) putComponents(d *GasDecoded) []span {
	d.put("-", joins)
	var from []span
	for i, c := range d.Components {
		means := "component " + c.Gas
		if i == 0 {
			means = "base gas " + c.Gas
		}
		from = append(from, d.put(g.letter(c.Gas), means))
	}
	for i, c := range d.Components[1:] {
		sep := "/"
		if i == 0 {
			sep = "-"
		}
		d.put(sep, joins)
		from[i+1] = d.put(c.Part.String(), c.Part.String()+" % "+c.Gas)
	}
	return from
}

func (g *gasTable) componentFact(c GasComponent, p Provenance) Fact {
	f := Fact{Name: c.Gas, Value: c.Part.String(), Unit: "vol %", Provenance: p}
	if p == Published {
		f.Source = g.clause
	}
	return f
}

// mixtureWords writes components as the tables do: "82 % Ar + 18 % CO2".
func mixtureWords(components []GasComponent) string {
	var words []string
	for _, c := range components {
		words = append(words, c.Part.String()+" % "+c.Gas)
	}
	return strings.Join(words, " + ")
}
