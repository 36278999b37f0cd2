package inventory

import (
	"slices"
	"strings"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
)

// turn is an exposure past which the rule judges otherwise than before.
type turn struct {
	after   time.Duration
	outcome fit.Outcome
}

// left returns how long the spool may stay open before the exposure rule says
// worse of it than now; nil if it is sealed or nobody gives a limit.
func (c *chooser) left(w *knownWire, s Spool) *time.Duration {
	if !s.Opened() {
		return nil
	}
	exposed := exposure.Since(s.OpenedAt, c.at)
	now := c.after(w, exposed)
	for _, t := range c.turnsOf(w) {
		if t.after >= exposed && t.outcome != now {
			left := t.after - exposed
			return &left
		}
	}
	return nil
}

// after is what the exposure rule says of the wire after so long.
func (c *chooser) after(w *knownWire, exposed time.Duration) fit.Outcome {
	var out fit.Outcome
	for _, t := range c.turnsOf(w) {
		if exposed > t.after {
			out = t.outcome
		}
	}
	return out
}

// turnsOf asks the fit check what it says a second past each limit that data
// sheet, shop or profile names: only there can it begin to say otherwise. It
// asks once a wire.
func (c *chooser) turnsOf(w *knownWire) []turn {
	if w.turns != nil {
		return w.turns
	}
	limits := []time.Duration{-time.Second}
	for _, f := range w.facts.Named("exposure_limit") {
		limits = append(limits, hours(f.Value+f.Unit)...)
	}
	for _, l := range c.base.Profile.Limits {
		if l.Rule == fit.RuleExposure {
			limits = append(limits, hours(l.Value)...)
		}
	}
	slices.Sort(limits)
	for _, after := range slices.Compact(limits) {
		o := w.offer(Spool{Code: "W", OpenedAt: c.at.Add(-after - time.Second)}, Lot{Status: fit.LotAccepted}, c.at)
		f, _ := c.verdict(w, o).Find(fit.RuleExposure)
		w.turns = append(w.turns, turn{after, f.Outcome})
	}
	return w.turns
}

// hours reads "72 h"; nothing if the text is no length of time.
func hours(text string) []time.Duration {
	d, err := time.ParseDuration(strings.ReplaceAll(text, " ", ""))
	if err != nil {
		return nil
	}
	return []time.Duration{d}
}
