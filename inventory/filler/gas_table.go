package filler

import (
	"slices"
	"strings"
	"sync"
)

// gasTable is testdata/gases.csv made ready.
type gasTable struct {
	spec, edition string
	clause        string // the clause on designations
	symbols       keySet
	bounds        map[string][]gasBound // by symbol
	rows          map[string][]Fact     // rows of a symbol, its bounds apart
	byLetter      keySet
	letters       map[string]string // sign of a gas to its letter: "CO2" to "C"
	order         []string          // signs in table order
	groups        map[string][]Fact // main group: meaning and purity
	tolerances    []gasTolerance
	old           map[string][]Fact // by old designator
	oldStatus     []Fact            // what became of the old form
	band          gasBand
}

// gasBound is what a sub-group allows of one gas.
type gasBound struct {
	gas       string
	balance   bool
	helium    bool // helium may replace the balance gas
	low, high VolumePart
	aboveLow  bool // low itself is outside
	fact      Fact
}

// gasTolerance is how far a component may be off.
type gasTolerance struct {
	over, upTo VolumePart
	fact       Fact
}

// gasBand is the mixtures that a gas letter of wire classes stands for.
type gasBand struct {
	letter    string
	low, high VolumePart // of CO2 in argon
	fact      Fact
}

// gases is read once; nothing changes it afterwards.
var gases = sync.OnceValue(func() *gasTable {
	g := &gasTable{bounds: map[string][]gasBound{}, rows: map[string][]Fact{}, letters: map[string]string{},
		groups: map[string][]Fact{}, old: map[string][]Fact{}}
	var symbols, letters []string
	for _, r := range mustReadRows(gasTableName) {
		f, key := rowFact(r), r[3]
		switch r[2] {
		case "symbol":
			if !slices.Contains(symbols, key) {
				symbols = append(symbols, key)
			}
			g.addSymbol(key, f)
			if g.spec == "" {
				g.spec, g.edition = "ISO 14175", r[1]
			}
		case "main_group", "purity":
			g.groups[key] = append(g.groups[key], f)
		case "component_letter":
			letters = append(letters, key)
			sign := gasNames()[f.Value]
			g.letters[sign], g.order = key, append(g.order, sign)
			g.clause = f.Source
		case "tolerance":
			g.addTolerance(key, f)
		case "old_designator":
			g.old[key] = append(g.old[key], f)
		case "wire_gas_letter":
			g.addBandRow(key, f)
		case "edition":
			g.addEdition(key, f)
		}
	}
	g.symbols, g.byLetter = newKeySet(symbols), newKeySet(letters)
	return g
})

// gasNames are the words for the gases, with their signs.
var gasNames = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"argon": "Ar", "carbon dioxide": "CO2", "hydrogen": "H2", "nitrogen": "N2", "oxygen": "O2", "helium": "He",
	}
})

func (g *gasTable) addSymbol(symbol string, f Fact) {
	b := gasBound{gas: f.Name, fact: f}
	b.fact.Name += "_bounds"
	switch {
	case f.Name == "meaning":
		g.rows[symbol] = append(g.rows[symbol], f)
		return
	case f.Value == "balance":
		b.balance, b.helium = true, strings.HasPrefix(f.Note, "helium may replace")
	case strings.HasPrefix(f.Value, ">"):
		low, high, _ := strings.Cut(strings.TrimPrefix(f.Value, ">"), " <=")
		low, with := strings.CutPrefix(low, "=")
		b.aboveLow = !with
		b.low, _ = parsePart(low)
		b.high, _ = parsePart(high)
	default:
		b.low, _ = parsePart(f.Value)
		b.high = b.low
	}
	g.bounds[symbol] = append(g.bounds[symbol], b)
}

// addTolerance reads "component over 5 %" and "component 1 to 5 %".
func (g *gasTable) addTolerance(key string, f Fact) {
	words := strings.Fields(key)
	t := gasTolerance{upTo: wholeVolume, fact: f}
	if low, ok := parsePart(words[1]); ok {
		t.over = low - 1
		t.upTo, _ = parsePart(words[3])
	} else {
		t.over, _ = parsePart(words[2])
	}
	g.tolerances = append(g.tolerances, t)
}

// addBandRow reads "M21, CO2 20-25 % only".
func (g *gasTable) addBandRow(letter string, f Fact) {
	_, words, ok := strings.Cut(f.Value, ", CO2 ")
	if f.Name != "iso_symbol" || !ok {
		return
	}
	low, high, _ := strings.Cut(strings.TrimSuffix(words, " % only"), "-")
	g.band = gasBand{letter: letter, fact: f}
	g.band.low, _ = parsePart(low)
	g.band.high, _ = parsePart(high)
}

// addEdition keeps the bounds that a symbol had in an older edition.
func (g *gasTable) addEdition(key string, f Fact) {
	switch {
	case g.bounds[key] != nil:
		f.Name += "_bounds"
		f.Condition = "label made to the 1997 edition"
		g.rows[key] = append(g.rows[key], f)
	case key == "SG form":
		g.oldStatus = append(g.oldStatus, f)
	}
}

// sign is the gas a letter stands for; A is argon in the old names.
func (g *gasTable) sign(letter string) string {
	for sign, l := range g.letters {
		if l == letter || oldLetter(l) == letter {
			return sign
		}
	}
	return ""
}

func (g *gasTable) letter(sign string) string { return g.letters[sign] }

// boundsOf says what a symbol stands for: "M21: CO2 >15 <=25 vol %, Ar balance".
func (g *gasTable) boundsOf(symbol string) string {
	if g.bounds[symbol] == nil {
		return symbol + ": " + valueOf(g.rows[symbol], "meaning")
	}
	var words []string
	for _, b := range g.bounds[symbol] {
		words = append(words, strings.TrimSpace(b.gas+" "+b.fact.Value+" "+b.fact.Unit))
	}
	return symbol + ": " + strings.Join(words, ", ")
}

// symbolFacts is what a symbol gives: bounds, what its group is, purity.
func (g *gasTable) symbolFacts(symbol string, by span) Facts {
	var out Facts
	out = out.with([]Fact{{Name: "symbol", Value: symbol, Provenance: Published, Source: g.boundsSource()}}, by)
	for _, b := range g.bounds[symbol] {
		out = out.with([]Fact{b.fact}, by)
	}
	out = out.with(g.rows[symbol], by)
	for n := len(symbol); n > 0; n-- { // "M21" is of group M2, "I1" of I
		if rows := g.groups[symbol[:n]]; rows != nil {
			return out.with(renamed(rows, "meaning", "group"), by)
		}
	}
	return out
}

func (g *gasTable) boundsSource() string { return g.bounds[g.symbols.list[0]][0].fact.Source }

// tolerance is how far a component may be off, as the supplier fills it.
func (g *gasTable) tolerance(c GasComponent) []Fact {
	for _, t := range g.tolerances {
		if c.Part < wholeVolume && c.Part > t.over && c.Part <= t.upTo {
			f := t.fact
			f.Condition = c.Gas
			return []Fact{f}
		}
	}
	return nil
}

// addBand says whether a mixture is what M stands for in the class of a wire.
func (g *gasTable) addBand(d *GasDecoded, p Provenance) {
	co2 := partOf(d.Components, "CO2")
	inside := "no"
	if len(d.Components) == 2 && partOf(d.Components, "Ar")+co2 == wholeVolume && co2 >= g.band.low && co2 <= g.band.high {
		inside = "yes"
	}
	f := g.band.fact
	f.Name, f.Value, f.Note = "in_AWS_"+g.band.letter+"_band", inside, ""
	if p.rank() < f.Provenance.rank() {
		f.Provenance, f.Source = p, ""
	}
	d.Facts = d.Facts.with([]Fact{f}, span{d.Designation, 0})
}

// addBandOfSymbol says the same of a symbol alone, if it is plain: M21 may be
// in the band or not.
func (g *gasTable) addBandOfSymbol(d *GasDecoded) {
	only, _, _ := strings.Cut(g.band.fact.Value, ",")
	if d.Symbol == only {
		d.Notes = append(d.Notes, "the symbol does not say whether the mixture is the 75-80 % Ar that "+g.band.letter+" stands for in AWS classes: read the per cent")
		return
	}
	f := g.band.fact
	f.Name, f.Value, f.Note = "in_AWS_"+g.band.letter+"_band", "no", ""
	d.Facts = d.Facts.with([]Fact{f}, span{d.Designation, 0})
}
