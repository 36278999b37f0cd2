package inventory

import (
	"wirehold/inventory/filler"
)

// Card is what a welder needs to set the machine, largest first. A line whose
// Value is empty is not known: the page and label say "read the box".
type Card struct {
	Wire  Wire
	Lines []CardLine
}

// CardLine is one setting.
type CardLine struct {
	Label  string // "Polarity"
	Value  string // "DCEN"
	Words  string // the same in plain words: "electrode negative"; may be empty
	Source string
	Sure   bool // published, data sheet or shop; otherwise "confirm on the box"
	Large  bool // one of the three that are read at arm's length
}

// cardFacts are the lines of a card: which facts, under which label, in which
// order. The first fact name that is known gives the value.
var cardFacts = []struct {
	label string
	facts []string
	large bool
}{
	{"Polarity", []string{"polarity"}, true},
	{"Shielding gas", []string{"gas"}, true},
	{"Passes", []string{"passes"}, true},
	{"Positions", []string{"positions"}, false},
	{"Vertical", []string{"vertical_direction"}, false},
	{"Thickest plate", []string{"max_thickness", "max_sheet_thickness"}, false},
	{"Stick-out", []string{"stick_out"}, false},
	{"Travel", []string{"travel"}, false},
	{"Gas flow", []string{"gas_flow"}, false},
	{"Tensile strength", []string{"tensile_min", "tensile"}, false},
	{"Hydrogen, at most", []string{"diffusible_hydrogen_max"}, false},
	{"Open, at most", []string{"exposure_limit"}, false},
}

// Card returns the wire's set-up card.
func (w Wire) Card() (Card, error) {
	facts, err := w.Facts()
	if err != nil {
		return Card{}, err
	}
	card := Card{Wire: w}
	for _, c := range cardFacts {
		line := CardLine{Label: c.label, Large: c.large}
		for _, name := range c.facts {
			if f, ok := facts.Best(name); ok {
				line.Value, line.Words, line.Source, line.Sure = shown(f), words(f), f.Authority(), f.Sure()
				break
			}
		}
		card.Lines = append(card.Lines, line)
	}
	return card, nil
}

// shown is a fact's value with its unit, empty where the value is not known.
func shown(f filler.Fact) string {
	switch f.Value {
	case "not specified", "not in the designation", "none required":
		return ""
	}
	if f.Unit != "" {
		return f.Value + " " + f.Unit
	}
	return f.Value
}

// words says a value as a welder would; empty where the value does already.
func words(f filler.Fact) string {
	switch f.Value {
	case "DCEN":
		return "electrode negative"
	case "DCEP":
		return "electrode positive"
	case "DCEP or DCEN":
		return "the data sheet says which"
	case "none":
		return "self-shielded: run no gas"
	case "single only":
		return "never a second pass"
	case "single and multiple":
		return "any number of passes"
	}
	return ""
}
