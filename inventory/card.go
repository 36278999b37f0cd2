package inventory

import (
	"slices"
	"strings"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// Card is what a welder needs to set the machine, largest first. A line whose
// Value is empty is not known: page and label say "not known: read the box".
type Card struct {
	Wire     Wire
	Lines    []CardLine // in the order of tables/card.csv: the large ones first
	Cautions []Caution  // what to look out for with this wire; see tables/cautions.csv
}

// CardLine is one setting.
type CardLine struct {
	Key        string // names the line wherever it is shown: "polarity"
	Label      string // "Polarity"
	Value      string // "DCEN"; empty if not known
	Words      string // the same in plain words: "electrode negative"; may be empty
	Source     string // who vouches for the value; empty if not known
	Provenance filler.Provenance
	Sure       bool     // published, data sheet or shop; otherwise "confirm on the box"
	Large      bool     // one of the three that are read at arm's length
	Conflict   string   // why box and data sheet cannot both be right, and so Value is empty; empty if they agree
	Advice     []Advice // common practice, only where Value is empty: never evidence
}

// Line returns the card's line with the key; false if it has none.
func (c Card) Line(key string) (CardLine, bool) {
	i := slices.IndexFunc(c.Lines, func(l CardLine) bool { return l.Key == key })
	if i < 0 {
		return CardLine{}, false
	}
	return c.Lines[i], true
}

// Card returns the wire's set-up card. It is pure; the error is that of
// [Wire.Facts].
func (w Wire) Card() (Card, error) {
	facts, err := w.Facts()
	if err != nil {
		return Card{}, err
	}
	t := newTraits(w, facts)
	card := Card{Wire: w, Cautions: t.cautions()}
	known := map[string]bool{}
	var all []CardLine
	for _, row := range cardRows() {
		line := t.line(row)
		known[row.key] = line.Value != ""
		all = append(all, line)
	}
	for i, row := range cardRows() {
		if line := all[i]; line.Value != "" || t.mustSay(row, known) && !t.is("form", row.notOf) {
			card.Lines = append(card.Lines, line)
		}
	}
	return card, nil
}

// line returns the line of one row, with advice where nobody supplied the fact.
func (t traits) line(row cardRow) CardLine {
	line := CardLine{Key: row.key, Label: row.label, Large: row.large}
	if line.Conflict = t.conflict(row.facts[0]); line.Conflict != "" {
		return line // nobody welds by either side
	}
	for _, name := range row.facts {
		name = strings.ReplaceAll(name, "{process}", string(t.only()))
		if said := t.said(name); len(said) > 0 {
			line.tell(said)
			break
		}
	}
	switch {
	case line.Value == "":
		line.Advice = t.advice(row)
	case row.key == "gas" && line.Value == "none":
		line.Words = t.gasPermitted()
	case line.Words == "":
		line.Words = inInches(line.Value, strings.HasPrefix(row.key, "thickness"))
	}
	return line
}

// tell takes over the value of facts that are equally strong.
func (l *CardLine) tell(said filler.Facts) {
	l.Provenance, l.Sure = said[0].Provenance, true
	var values, sources, conditions []string
	for _, f := range said {
		values = appendNew(values, valueOf(f))
		sources = appendNew(sources, f.Authority())
		if f.Condition != "" {
			conditions = appendNew(conditions, f.Condition)
		}
		l.Sure = l.Sure && f.Sure()
	}
	l.Value, l.Source = strings.Join(values, " or "), strings.Join(sources, "; ")
	if l.Key == "approved" {
		l.Value = strings.Join(values, "; ")
	}
	if l.Words = words(said[0]); len(values) > 1 {
		l.Words = ""
	}
	if len(conditions) > 0 {
		l.Words = strings.TrimPrefix(l.Words+"; "+strings.Join(conditions, "; "), "; ")
	}
}

func appendNew(texts []string, text string) []string {
	if slices.Contains(texts, text) {
		return texts
	}
	return append(texts, text)
}

// mustSay reports whether a line that nobody knows is written all the same:
// "not known: read the box".
func (t traits) mustSay(row cardRow, known map[string]bool) bool {
	if t.conflict(row.facts[0]) != "" {
		return true
	}
	if slices.ContainsFunc(row.coveredBy, func(key string) bool { return known[key] }) {
		return false
	}
	switch row.unknown {
	case "say":
		return true
	case "with gas":
		return !t.selfShielded()
	}
	return false
}

// gasPermitted says what a self-shielded wire may be run with: nothing, unless
// its sheet permits a gas. Its polarity stays what the sheet says.
func (t traits) gasPermitted() string {
	said := t.said("self_shielded_gas_permitted")
	if len(said) > 0 && said[0].Value != "no" && said[0].Value != "none" {
		return "self-shielded: run no gas; the sheet permits " + shown(said[0]) + ", and polarity stays as above"
	}
	return "self-shielded: run no gas"
}

// shown is a fact's value with its unit, empty where the value is not known.
func shown(f filler.Fact) string {
	if leavesOpen(f.Value) || f.Value == "none required" {
		return ""
	}
	value := strings.ReplaceAll(f.Value, "|", ", ")
	if f.Unit != "" {
		return value + " " + f.Unit
	}
	return value
}

// valueOf is shown, with the flow and transfer mode of a gas that the sheet
// approves.
func valueOf(f filler.Fact) string {
	if f.Name == "approved_gas" && f.Note != "" {
		return shown(f) + ": " + f.Note
	}
	return shown(f)
}

// leavesOpen reports whether a value says that the matter is left open.
func leavesOpen(value string) bool {
	for _, open := range []string{"not specified", "not in the designation", "not fixed", "per data sheet", "as agreed"} {
		if strings.HasPrefix(value, open) {
			return true
		}
	}
	return value == ""
}

// Spoken says a value of the reference tables as it is read at arm's length, on
// page and label alike: "no gas", "single pass only". Any other text stays.
func Spoken(value string) string {
	switch value {
	case "none":
		return "no gas"
	case "self":
		return "self-shielded"
	case "external":
		return "external gas"
	case "single only":
		return "single pass only"
	case "single and multiple":
		return "any number of passes"
	}
	return value
}

// words says a value as a welder would; empty where the value does already.
func words(f filler.Fact) string {
	switch f.Value {
	case string(fit.DCEN):
		return "electrode negative"
	case string(fit.DCEP):
		return "electrode positive"
	case "DCEP or DCEN":
		return "the data sheet says which"
	case "none":
		return "self-shielded: run no gas"
	case "self":
		return "the core makes its own shield"
	case "external":
		return "never without its gas"
	case "single only":
		return "never a second pass"
	case "single and multiple":
		return "any number of passes"
	case "up":
		return "weld vertical joints upward"
	case "down":
		return "weld vertical joints downward"
	case "drag only":
		return "pull the gun, slag behind the arc"
	case "push only":
		return "push the gun ahead of the bead"
	case "either", "drag or push", "push or drag":
		return "drag the gun or push it"
	}
	return ""
}
