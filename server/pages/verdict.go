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
	Stops    []Found
	Cautions []Found
	Passed   []Found
	Idle     string       // the rules that the job asks nothing of; empty if there are none
	Barred   bool         // nothing is to be set up now: cautions wait until the stop is cleared
	Lang     fit.Language // of word, why and findings; empty is the page's own, English
}

// Found is a finding as it is shown, with what its sides are called and how
// each is known.
type Found struct {
	fit.Finding
	Name               string // of the rule, as a heading
	Demands, Offers    string
	DemandKnown, Known string       // "published", "memory"
	Lang               fit.Language // empty is the page's own, English
}

// newVerdict returns a verdict as it is shown in English.
func newVerdict(v fit.Verdict) Verdict { return newVerdictIn(fit.English, v) }

// newVerdictIn returns a verdict as it is shown in a language.
func newVerdictIn(l fit.Language, v fit.Verdict) Verdict {
	out := Verdict{Word: strings.ToUpper(v.Answer.In(l)), Why: v.Why(l), Tone: "stop", Idle: v.Idle(l), Lang: langOf(l)}
	switch v.Answer {
	case fit.Fits:
		out.Tone = "safe"
	case fit.FitsWithCautions:
		out.Tone = "caution"
	}
	for _, f := range v.Findings {
		switch f.Outcome {
		case fit.Stops:
			out.Stops = append(out.Stops, foundIn(l, f))
		case fit.Caution:
			out.Cautions = append(out.Cautions, foundIn(l, f))
		case fit.Passed:
			out.Passed = append(out.Passed, foundIn(l, f))
		}
	}
	return out
}

func foundIn(l fit.Language, f fit.Finding) Found {
	demanded, offered := l.Sides()
	return Found{f.In(l), capital(strings.ReplaceAll(f.Rule.In(l), "-", " ")), capital(demanded), capital(offered),
		l.Known(f.Demanded.Provenance), l.Known(f.Offered.Provenance), langOf(l)}
}

// langOf is what marks a part of a page as in l; empty for the page's own.
func langOf(l fit.Language) fit.Language {
	if l == fit.English {
		return ""
	}
	return l
}

// count says how many of the findings there are, in their language.
func count(o fit.Outcome, fs []Found, later bool) string {
	l := fit.English
	if len(fs) > 0 && fs[0].Lang != "" {
		l = fs[0].Lang
	}
	return o.Count(len(fs), later, l)
}

// StopCount, CautionCount and PassCount say how many there are.
func (v Verdict) StopCount() string { return count(fit.Stops, v.Stops, false) }

// CautionCount also says that cautions wait, where they do.
func (v Verdict) CautionCount() string { return count(fit.Caution, v.Cautions, v.Barred) }

// PassCount is that of the rules that pass.
func (v Verdict) PassCount() string { return count(fit.Passed, v.Passed, false) }

// ruleNames lists the rules of the findings as words in a sentence.
func ruleNames(findings []Found) string {
	var out []string
	for _, f := range findings {
		out = append(out, strings.ReplaceAll(string(f.Rule), "-", " "))
	}
	return strings.Join(out, ", ")
}
