package pages

import (
	"net/url"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/filler"
)

// MeaningView is what a search has understood, and what it must ask.
type MeaningView struct {
	Ask   *Ask // nil if everything is clear
	Lines []MeaningLine
}

// Ask is a name that may stand for several processes.
type Ask struct {
	Typed   string
	Choices []AskChoice
}

// AskChoice is one process that may be meant.
type AskChoice struct{ Process, Words, Href string }

// MeaningLine is one thing that was understood.
type MeaningLine struct {
	Typed string
	As    string
	By    string // whose word that is: "practice" or "shop"; empty for a size
}

// understood returns q with what its text means, and the same as the page at
// path shows it; nil if nothing was understood.
func (p *Pages) understood(c *gin.Context, path string, q inventory.Query) (inventory.Query, *MeaningView, error) {
	m, err := p.Ledger.Understand(c.Request.Context(), q.Text)
	if err != nil || !m.Understood() {
		return q, nil, err
	}
	q.Meaning = &m
	return q, newMeaning(path, m), nil
}

func newMeaning(path string, m inventory.Meaning) *MeaningView {
	v := &MeaningView{}
	unclear, ask := m.Unclear()
	if ask {
		v.Ask = &Ask{Typed: unclear.Typed}
		for _, process := range unclear.Processes() {
			v.Ask.Choices = append(v.Ask.Choices, AskChoice{string(process), inventory.ProcessWords(process),
				path + "?" + url.Values{"q": {m.With(unclear, process)}}.Encode()})
		}
	}
	for _, n := range m.Names {
		if len(n.Processes()) > 1 {
			continue
		}
		t := n.Terms[0]
		line := MeaningLine{n.Typed, string(t.Process) + ", " + t.Words(), "common practice"}
		if t.Provenance == filler.Shop {
			line.By = "shop: " + t.Source
		}
		v.Lines = append(v.Lines, line)
	}
	for _, s := range m.Sizes {
		v.Lines = append(v.Lines, MeaningLine{Typed: s.Typed, As: s.Size.Inches() + " (" + s.Size.Millimetres(2) + ") and what is sold as that"})
	}
	return v
}
