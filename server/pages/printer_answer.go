package pages

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// RecordAnswer is what a printer answered when it was asked.
type RecordAnswer struct {
	Title  string
	Fault  string   // why there is no answer; empty if there is one
	Doubts []string // what does not go with what is entered
	Facts  []DemandLine
}

// askedOf returns the printer's answer if the page was asked for it; nil if not.
func (p *Pages) askedOf(c *gin.Context, printer inventory.Printer) *RecordAnswer {
	if p.AskPrinter == nil || c.Query("ask") == "" {
		return nil
	}
	out := &RecordAnswer{Title: "The printer says"}
	a, err := p.AskPrinter(c.Request.Context(), printer.Address)
	if err != nil {
		out.Fault = detailOf(err)
		return out
	}
	out.Doubts = a.Doubts(printer)
	out.Facts = answerFacts(a)
	return out
}

// answerFacts writes the answer line by line.
func answerFacts(a inventory.PrinterAnswer) []DemandLine {
	state := said(a.State)
	if len(a.Reasons) > 0 {
		state += ": " + strings.Join(a.Reasons, ", ")
	}
	jobs := "none that is not done"
	if len(a.Jobs) > 0 {
		lines := make([]string, len(a.Jobs))
		for i, j := range a.Jobs {
			lines[i] = fmt.Sprintf("%d, %s: %s", j.Number, said(j.Name), said(j.State))
		}
		jobs = strings.Join(lines, "; ")
	}
	heads := make([]string, len(a.Resolutions))
	for i, n := range a.Resolutions {
		heads[i] = strconv.Itoa(n) + " dpi"
	}
	return []DemandLine{fact("Name", said(strings.Trim(a.Name+", "+a.Model, ", "))), fact("State", state), fact("Its jobs", jobs), fact("Print head", said(strings.Join(heads, ", "))),
		fact("Takes", said(firstFew(a.Formats))), fact("Paper and labels", said(firstFew(a.Media)))}
}

// said writes what a printer may leave out.
func said(text string) string {
	if text == "" {
		return "it does not say"
	}
	return text
}

// mostSaid is how many of a long list a line names.
const mostSaid = 8

func firstFew(all []string) string {
	if len(all) <= mostSaid {
		return strings.Join(all, ", ")
	}
	return strings.Join(all[:mostSaid], ", ") + fmt.Sprintf(" and %d more", len(all)-mostSaid)
}
