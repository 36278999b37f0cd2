package fit

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory/filler"
)

// checkExposure: an opened spool may not have been exposed for longer than its
// data sheet or the shop allows, or else the profile (parameter
// "exposure_max"). A wire's own limit longer than the profile's cautions past
// the profile's: the longer time wants the maker's test report. With the report
// on file its time stands in place of the profile's; see [comparison.tested].
// An exposure that is not known is past every limit, and one that would pass a
// limit before the shift ends cautions.
func (c *comparison) checkExposure() Finding {
	if !c.offer.Opened && c.offer.ExposureUnknown == "" {
		return pass(Claim{Text: "no exposure", Source: "rule of the wire store", Provenance: filler.Shop}, c.record("sealed"), "The spool is sealed.")
	}
	so := c.exposedSo()
	offered := c.record("").saying("open %s", so)
	if c.offer.ExposureUnknown != "" {
		offered = c.record("").saying("exposure not known: %s", word(c.offer.ExposureUnknown))
	}
	own, known := c.ownExposure(offered, so)
	found := own
	for _, l := range c.limits(RuleExposure, "exposure_max") {
		against := c.exposureAgainst(l, offered, so)
		if known && own.Outcome == Passed && against.Outcome != Passed {
			if !c.pastExposure(hoursOf(l.Value)) {
				continue
			}
			against.Outcome = Caution
			against.Message = say("The spool has been open %s: within its own limit of %s, past the profile's %s. See the maker's test report before it is used.", so, own.Demanded.said(), against.Demanded.said())
		}
		found = worst(found, against)
	}
	if found.Outcome == "" {
		// Nothing is demanded here that an unknown could fail: a class fixes no
		// exposure (testdata/not_fixed_by_class.csv), the codes limit that of
		// flux-cored wire alone (testdata/exposure_rules.csv E001), and what ends
		// solid wire is rust, not hydrogen (E074, practice).
		found = caution(Claim{Text: "a limit on exposure", Source: "rule of the wire store", Provenance: filler.Shop}, offered,
			"The spool has been open %s and no limit is known: ask the engineer, or read the data sheet.", so)
	}
	found = worst(found, c.hydrogenLost(offered, so))
	if c.offer.ExposureUnknown != "" && c.offer.Remedy != "" {
		found.Message = found.Message.and(say("%s", word(c.offer.Remedy)))
	}
	return found
}

// hydrogenLost stops a spool of unknown exposure, of whatever form, where a
// limit on hydrogen is demanded: what box and class promise holds for the wire
// as it comes (testdata/exposure_rules.csv E005, E009), and an unknown satisfies
// no demand.
func (c *comparison) hydrogenLost(offered Claim, so any) Finding {
	found := Finding{Outcome: NotDemanded}
	if c.offer.ExposureUnknown == "" {
		return found
	}
	lost := func(demanded Claim) Finding {
		return stop(demanded, offered, "The spool has been open %s, and hydrogen of at most %s is wanted: what the box says of it no longer holds. Take a fresh spool.", so, demanded.said())
	}
	if c.demand.Hydrogen > 0 {
		found = lost(c.procedure(hydrogen(c.demand.Hydrogen).String()))
	}
	for _, l := range c.limits(RuleHydrogen, "hydrogen_max") {
		if want, err := parseHydrogen(l.Value); err == nil {
			found = worst(found, l.soften(lost(l.claim(want.String()))))
		}
	}
	return found
}

// exposedSo is how long the spool was open, as a part of a sentence.
func (c *comparison) exposedSo() any {
	if c.offer.ExposureUnknown != "" {
		return say("for a time that nobody knows (%s)", word(c.offer.ExposureUnknown))
	}
	return inHours(c.offer.Exposed)
}

// pastExposure reports whether the exposure is past the limit; one that is not
// known is.
func (c *comparison) pastExposure(limit time.Duration) bool {
	return c.offer.ExposureUnknown != "" || c.offer.Exposed > limit
}

// ownExposure judges by the limits of data sheet and shop for this wire; known
// is false if there is none. The shortest holds.
func (c *comparison) ownExposure(offered Claim, so any) (found Finding, known bool) {
	for _, f := range inOrder(c.named("exposure_limit")) {
		if strengthOf(f) > bySheet || saysNothing(f.Value) {
			continue
		}
		demanded := claimOf(f)
		limit := hoursOf(demanded.Text)
		this := c.beforeShiftEnds(pass(demanded, offered, "The spool has been open %s of the %s its %s allows.", so, demanded.said(), f.Provenance), limit)
		switch {
		case limit < 0:
			this = stop(demanded, offered, "The %s gives an exposure limit of %q, which cannot be read: ask the engineer.", f.Provenance, demanded.said())
		case c.pastExposure(limit):
			this = stop(demanded, offered, "The spool has been open %s. Its %s allows %s: take a fresh spool.", so, f.Provenance, demanded.said())
		}
		if !known || this.Outcome.weight() > found.Outcome.weight() {
			found = this
		}
		known = true
	}
	return found, known
}

func (c *comparison) exposureAgainst(l *Limit, offered Claim, so any) Finding {
	limit := hoursOf(l.Value)
	demanded, whose, who := l.claim(l.Value), word("the profile"), word("The profile")
	if tested, claim, ok := c.tested(); ok && tested > limit && limit >= 0 {
		limit, demanded, whose, who = tested, claim, "its exposure test", "Its exposure test"
	}
	switch {
	case limit < 0:
		return l.unreadable(offered)
	case c.pastExposure(limit):
		return finding(l.pastIt(), demanded, offered, "The spool has been open %s. %s allows %s: take a fresh spool.", []any{so, who, demanded.said()}).and(l.reserve())
	}
	return c.beforeShiftEnds(passUnless(l.reserve(), demanded, offered, "The spool has been open %s of the %s %s allows.", so, demanded.said(), whose), limit)
}

// beforeShiftEnds makes a pass a caution where the spool, out in the open from
// now on, would pass the limit before the shift ends.
func (c *comparison) beforeShiftEnds(f Finding, limit time.Duration) Finding {
	end, at := c.offer.ShiftEnds, c.offer.At
	if f.Outcome != Passed || limit < 0 || end.IsZero() || at.IsZero() || !c.offer.Opened || c.offer.Exposed+end.Sub(at) <= limit {
		return f
	}
	f.Outcome = Caution
	return f.and(say("Out of the cabinet it passes the limit at %s, before the shift ends at %s: have it back by then.",
		at.Add(limit-c.offer.Exposed).In(end.Location()).Format("15:04"), end.Format("15:04 MST")))
}

// tested returns the longest exposure for which a test report of the wire or
// its lot shows a hydrogen that the profile allows. Only a profile that limits
// hydrogen takes such a report in place of its own limit: AWS D1.8 allows a
// tested longer exposure where hydrogen stays at or under 16 mL/100 g
// (testdata/exposure_rules.csv E002, published), which is its limit for the
// wire as it comes too (E005).
func (c *comparison) tested() (longest time.Duration, claim Claim, ok bool) {
	limits := c.limits(RuleHydrogen, "hydrogen_max")
	take := func(text, source string, p filler.Provenance) {
		exposed, h, read := parseTestedExposure(text)
		if !read || len(limits) == 0 || exposed <= longest {
			return
		}
		for _, l := range limits {
			if most, err := parseHydrogen(l.Value); err != nil || h > most {
				return
			}
		}
		longest, ok = exposed, true
		claim = Claim{Text: inHours(exposed), Source: fmt.Sprintf("%s: hydrogen %s after %s of exposure", source, h, inHours(exposed)), Provenance: p}
	}
	for _, f := range inOrder(c.named("tested_exposure")) {
		if strengthOf(f) <= bySheet {
			take(f.Value, f.Source, f.Provenance)
		}
	}
	report := c.lot("")
	take(c.offer.TestedExposure, "test report, "+report.Source, report.Provenance)
	return longest, claim, ok
}

// parseTestedExposure reads the result of an exposure test, "120 h, 9 mL/100
// g": how long the wire was exposed, and the diffusible hydrogen after it.
func parseTestedExposure(text string) (exposed time.Duration, h hydrogen, ok bool) {
	hours, ml, found := strings.Cut(text, ", ")
	exposed = hoursOf(hours)
	h, err := parseHydrogen(ml)
	return exposed, h, found && err == nil && exposed > 0
}

var testedExposure = regexp.MustCompile(`(?i)^(\d{1,5}) ?h(?:ours)?(?:,|:| and| with)? ?(\d{1,2}(?:\.\d{1,2})?) ?ml ?/ ?100 ?g$`)

// ReadTestedExposure reads the result of an exposure test as it is typed,
// "120h, 9 ml/100g", and writes it as [Offer.TestedExposure] wants it: how long
// the wire was exposed, and the diffusible hydrogen after it. ok is false if it
// is none.
func ReadTestedExposure(text string) (result string, ok bool) {
	m := testedExposure.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return "", false
	}
	result = fmt.Sprintf("%s h, %s mL/100 g", strings.TrimLeft(m[1], "0"), m[2])
	_, _, ok = parseTestedExposure(result)
	return result, ok
}

// hoursOf reads "72 h"; -1 if the text is no length of time in hours.
func hoursOf(text string) time.Duration {
	number, hours := strings.CutSuffix(strings.TrimSpace(text), " h")
	n, err := strconv.Atoi(number)
	if !hours || err != nil || n < 0 || n > 100_000 {
		return -1
	}
	return time.Duration(n) * time.Hour
}

// inHours writes a length of time as "80 h 30 min", seconds left off.
func inHours(d time.Duration) string {
	minutes := int64(d / time.Minute)
	if minutes%60 == 0 {
		return fmt.Sprintf("%d h", minutes/60)
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}
