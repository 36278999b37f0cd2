package inventory

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// SheetFact is one thing that a data sheet or the shop may say of a wire: a
// row of tables/wire_facts.csv. A further one is a further row, no code.
type SheetFact struct {
	Name       string // as fit and card name it: "stick_out"
	Label      string // "Stick-out"
	Shape      Shape
	Units      []Term // that may be typed; empty if the value has none
	Words      []Term // of a word: those allowed; of a gas: those allowed besides
	ByDiameter bool   // it may be given size by size: ".035 in: 5 mm; .045 in: 8 mm"
	OnBox      bool   // where it rests on memory, receiving asks the attendant to read the box
	Most       int    // no number may pass it; zero is no bound
	Example    string // a value that is understood
	Source     string // where a shop finds it
}

// Term is a word that is kept, with other spellings of it that are understood.
type Term struct {
	Word     string
	Synonyms []string
}

// Shape is how a value is written.
type Shape string

// The shapes of a value.
const (
	NumberShape Shape = "number"        // above zero, with a unit: "8 mm"
	WholeShape  Shape = "whole"         // a whole number above zero: "72 h"
	SignedShape Shape = "signed"        // a whole number, below zero too: "-20 degF"
	RangeShape  Shape = "range"         // one or two numbers with a unit: "13-19 mm"
	WordShape   Shape = "word"          // one of the words
	WordsShape  Shape = "words"         // some of the words: "flat|horizontal"
	GasShape    Shape = "gas"           // a mixture or range of them, as fit reads it
	GasUseShape Shape = "gas use"       // a gas, its flow and its transfer mode; several of them
	DryingShape Shape = "drying"        // time and temperature, and how often
	TestedShape Shape = "exposure test" // hours, and the hydrogen after them
)

//go:embed tables/wire_facts.csv
var wireFactsCSV string

// wireFacts is the table, read once; nothing changes it.
var wireFacts = sync.OnceValue(func() []SheetFact {
	rows, err := csv.NewReader(strings.NewReader(wireFactsCSV)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("inventory: tables/wire_facts.csv: %v", err))
	}
	out := make([]SheetFact, 0, len(rows)-1)
	for _, row := range rows[1:] {
		cell := map[string]string{}
		for i, column := range rows[0] {
			cell[column] = row[i]
		}
		f := SheetFact{Name: cell["name"], Label: cell["label"], Shape: Shape(cell["shape"]), Units: terms(cell["units"]), Words: terms(cell["words"]),
			ByDiameter: cell["by_diameter"] == "yes", OnBox: cell["box"] == "yes", Example: cell["example"], Source: cell["source"]}
		if most := cell["most"]; most != "" {
			if _, err := fmt.Sscan(most, &f.Most); err != nil {
				panic(fmt.Sprintf("inventory: tables/wire_facts.csv: %s: most %q", f.Name, most))
			}
		}
		out = append(out, f)
	}
	return out
})

// terms reads "either=drag or push=both|drag only".
func terms(text string) (out []Term) {
	if text == "" {
		return nil
	}
	for one := range strings.SplitSeq(text, "|") {
		spellings := strings.Split(one, "=")
		out = append(out, Term{spellings[0], spellings[1:]})
	}
	return out
}

// SheetFacts returns the facts that a data sheet or the shop may supply, in
// the order in which they are asked. The caller owns the slice.
func SheetFacts() []SheetFact { return slices.Clone(wireFacts()) }

// SheetFactNamed returns the fact called name; false if there is none.
func SheetFactNamed(name string) (SheetFact, bool) {
	for _, f := range wireFacts() {
		if f.Name == name {
			return f, true
		}
	}
	return SheetFact{}, false
}

// Accepts says in words what is understood: `a range with its unit (mm or in),
// such as "13-19 mm"`.
func (f SheetFact) Accepts() string {
	what := map[Shape]string{
		NumberShape: "a number with its unit", WholeShape: "a whole number with its unit", SignedShape: "a whole number with its unit",
		RangeShape: "a range with its unit", WordShape: "one of", WordsShape: "some of", GasShape: "a gas by its parts",
		GasUseShape: "a gas, its flow and its transfer mode, one gas a line", DryingShape: "the time and temperature", TestedShape: "the hours and the hydrogen after them",
	}[f.Shape]
	switch f.Shape {
	case WordShape, WordsShape:
		what += " " + either(f.Words)
	case NumberShape, WholeShape, SignedShape, RangeShape:
		what += " (" + either(f.Units) + ")"
	case GasShape, DryingShape:
		if len(f.Words) > 0 {
			what += ", or " + either(f.Words)
		}
	}
	return fmt.Sprintf("%s, such as %q", what, f.Example)
}

// either writes "a, b or c".
func either(ts []Term) string {
	words := make([]string, len(ts))
	for i, t := range ts {
		words[i] = t.Word
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// Text writes the facts called f.Name among facts as they are typed: Read
// reads it back. It is empty if there is none.
func (f SheetFact) Text(facts filler.Facts) string {
	var out []string
	for _, fact := range facts.Named(f.Name) {
		text := factText(fact)
		if size, ok := diameterOf(fact); ok {
			text = size.Inches() + ": " + text
		}
		if fact.Note != "" && f.Shape == GasUseShape {
			text += ": " + fact.Note
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// factText is a fact's value with its unit.
func factText(f filler.Fact) string { return strings.TrimSpace(f.Value + " " + f.Unit) }

// atDiameter begins the condition of a fact that holds for one size alone.
const atDiameter = "diameter "

// diameterOf returns the size for which f alone holds; ok is false if it holds
// for every size.
func diameterOf(f filler.Fact) (size unit.Length, ok bool) {
	text, ok := strings.CutPrefix(f.Condition, atDiameter)
	if !ok {
		return 0, false
	}
	size, err := unit.ParseLength(text)
	return size, err == nil
}
