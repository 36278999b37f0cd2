package inventory

import (
	"slices"
	"strings"
	"time"

	"wirehold/inventory/fit"
)

// exposureTurn is an exposure past which the rule judges more sternly.
type exposureTurn struct {
	after    time.Duration
	outcome  fit.Outcome // past it
	demanded fit.Claim   // whose limit it is
}

// exposedOnBoard returns how long the spool has been open at the instant at.
func exposedOnBoard(s SpoolLine, at time.Time) time.Duration {
	return max(0, at.Sub(s.OpenedAt))
}

// turnsOnBoard returns the exposures past which the rule judges a spool of the
// wire more sternly, the shortest first: what it says a second past each limit
// that data sheet, shop or profile names, for only there can it begin to.
func turnsOnBoard(w Wire, p fit.Profile) (out []exposureTurn, err error) {
	facts, err := w.Facts()
	if err != nil {
		return nil, err
	}
	var limits []time.Duration
	for _, f := range facts.Named("exposure_limit") {
		limits = append(limits, hoursIn(f.Value+f.Unit)...)
	}
	for _, l := range p.Limits {
		if l.Rule == fit.RuleExposure {
			limits = append(limits, hoursIn(l.Value)...)
		}
	}
	slices.Sort(limits)
	for _, after := range slices.Compact(limits) {
		o := fit.Offer{Spool: "W", Classifications: w.Classifications, Facts: facts, Diameter: w.Diameter, LotStatus: fit.LotAccepted, Opened: true, Exposed: after + time.Second}
		f, _ := fit.Check(o, fit.Demand{}, nil, p).Find(fit.RuleExposure)
		if f.Outcome != fit.Passed && (len(out) == 0 || out[len(out)-1].outcome != f.Outcome) {
			out = append(out, exposureTurn{after, f.Outcome, f.Demanded})
		}
	}
	return out, nil
}

// hoursIn reads "72 h"; nothing if the text is no length of time.
func hoursIn(text string) []time.Duration {
	d, err := time.ParseDuration(strings.ReplaceAll(text, " ", ""))
	if err != nil {
		return nil
	}
	return []time.Duration{d}
}
