package pages

import (
	"fmt"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// ChoicesView is which spools to take for a job, the first before the others.
type ChoicesView struct {
	Fitting []ChoiceLine
	More    int // how many more fit
	Near    []NearLine
	Feeder  string // the machine that they were checked with too; empty if none
}

// ChoiceLine is a spool that fits.
type ChoiceLine struct {
	inventory.SpoolLine
	Href  string // where it is issued
	Tone  string // "safe" or "caution"
	Word  string // "fits with cautions: exposure"
	UseBy inventory.Day
	Left  string // "41 h left"; empty if it is sealed or nobody gives a limit
	Wire  string // "enough wire"; empty if nobody says how much the weld needs
	Short bool   // the wire is not enough
}

// NearLine is wire that one rule alone keeps from the job.
type NearLine struct {
	Name   string
	What   string // "3 open spools, such as W7K2M-3"
	Wire   int64
	Rule   fit.Rule
	Says   string
	Source string
}

// mostTaken is how many spools are proposed, and fewInstead how many beside a
// refusal, whose reasons must not slip off the screen.
const mostTaken, fewInstead = 6, 3

// choices answers "which spool should I take?" on a page; nil where nothing
// goes to the job at all. s is what was scanned: a spool that is proposed is
// put beside it.
func (p *Pages) choices(c *gin.Context, s slots, most int) (*ChoicesView, error) {
	found, err := p.Ledger.ChooseUnder(c.Request.Context(), s.Job, s.Procedure, s.Feeder, most)
	if kind := inventory.KindOf(err); kind == inventory.Refused || kind == inventory.NotFound {
		return nil, nil // the page says so elsewhere
	}
	if err != nil {
		return nil, err
	}
	v := &ChoicesView{More: found.More}
	if found.Feeder != nil {
		v.Feeder = found.Feeder.Name
	}
	for _, choice := range found.Fitting {
		s.Spool = choice.Code
		line := choiceLine(choice)
		line.Href = "/counter" + s.query()
		v.Fitting = append(v.Fitting, line)
	}
	for _, n := range found.Near {
		v.Near = append(v.Near, nearLine(n))
	}
	return v, nil
}

func choiceLine(c inventory.Choice) ChoiceLine {
	line := ChoiceLine{SpoolLine: c.SpoolLine, UseBy: c.UseBy, Tone: "safe", Word: string(c.Verdict.Answer)}
	if v := newVerdict(c.Verdict); len(v.Cautions) > 0 {
		line.Tone = "caution"
		line.Word += ": " + ruleNames(v.Cautions)
	}
	if c.Left != nil {
		line.Left = fmt.Sprintf("%d h %02d min left", int(*c.Left/time.Hour), int(*c.Left/time.Minute)%60)
	}
	switch c.Amount.Outcome {
	case fit.Passed:
		line.Wire = "enough wire for the weld"
	case fit.Caution:
		line.Wire, line.Short = c.Amount.Says, true
	}
	return line
}

func nearLine(n inventory.NearMiss) NearLine {
	state := "sealed"
	if n.Open {
		state = "open"
	}
	line := NearLine{Name: n.Wire.Name(), Wire: n.Wire.ID, Rule: n.Why.Rule, Says: n.Why.Says, Source: n.Why.Demanded.Source + " / " + n.Why.Offered.Source}
	if n.Spools == 1 {
		line.What = fmt.Sprintf("1 %s spool, %s", state, n.First)
	} else {
		line.What = fmt.Sprintf("%d %s spools, such as %s", n.Spools, state, n.First)
	}
	return line
}
