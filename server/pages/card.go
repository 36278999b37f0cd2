package pages

import (
	"strings"

	"wirehold/inventory"
)

// CardView is a set-up card as it is shown: what is read at arm's length, and
// the rest.
type CardView struct {
	Large []LargeLine
	Small []inventory.CardLine
}

// LargeLine is one of the settings that are read at arm's length.
type LargeLine struct {
	inventory.CardLine
	Big string // the value as a label says it; empty if not known
}

func newCard(w inventory.Wire) (*CardView, error) {
	card, err := w.Card()
	if err != nil {
		return nil, err
	}
	v := &CardView{}
	for _, line := range card.Lines {
		if !line.Large {
			v.Small = append(v.Small, line)
			continue
		}
		large := LargeLine{line, spoken(line.Value)}
		if strings.HasPrefix(large.Words, large.Big) {
			large.Big, large.Words = large.Words, "" // say it once
		}
		v.Large = append(v.Large, large)
	}
	return v, nil
}

// spoken says a value of the reference tables as it is read from a label.
func spoken(value string) string {
	switch value {
	case "none":
		return "no gas"
	case "single only":
		return "single pass only"
	case "single and multiple":
		return "any number"
	}
	return value
}
