package pages

import (
	"strings"

	"wirehold/inventory/fit"
)

// Verdict is a fit check as it is shown: one huge word with a shape and a
// colour, then the findings by how much they matter.
type Verdict struct {
	Word     string // "FITS WITH CAUTIONS"
	Of       string // what was compared: "Spool W7K2M-3 for job 2207"; empty if that is plain
	Why      string // the rules that matter: "Stops: gas, passes"; empty if none does
	Tone     string // "safe", "caution", "stop": colour and shape after ISO 3864-1
	Stops    []fit.Finding
	Cautions []fit.Finding
	Passed   []fit.Finding
	Idle     []fit.Finding // rules that the job asks nothing of
	Barred   bool          // nothing is to be set up now: cautions wait until the stop is cleared
}

func newVerdict(v fit.Verdict) Verdict {
	out := Verdict{Word: strings.ToUpper(string(v.Answer)), Tone: "stop"}
	switch v.Answer {
	case fit.Fits:
		out.Tone = "safe"
	case fit.FitsWithCautions:
		out.Tone = "caution"
	}
	for _, f := range v.Findings {
		switch f.Outcome {
		case fit.Stops:
			out.Stops = append(out.Stops, f)
		case fit.Caution:
			out.Cautions = append(out.Cautions, f)
		case fit.Passed:
			out.Passed = append(out.Passed, f)
		default:
			out.Idle = append(out.Idle, f)
		}
	}
	switch {
	case len(out.Stops) > 0:
		out.Why = "Stops: " + ruleNames(out.Stops)
	case len(out.Cautions) > 0:
		out.Why = "Look at: " + ruleNames(out.Cautions)
	}
	return out
}

// ruleNames lists the rules of the findings as words in a sentence.
func ruleNames(findings []fit.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, strings.ReplaceAll(string(f.Rule), "-", " "))
	}
	return strings.Join(out, ", ")
}
