package fit

import (
	"slices"
	"strings"
	"time"

	"wirehold/inventory/filler"
)

// checkCertificate: the lot's certificate must be there where the job or the
// profile (parameter "certificate") demands one, and be of the type, testing
// schedule and lot class that the job names, or stronger. One older than the
// profile's limit (parameter "certificate_age_max") is past it.
func (c *comparison) checkCertificate() Finding {
	have, want := c.offer.Certificate, c.demand.Certificate
	offered := c.certificateClaim()
	found := Finding{Outcome: NotDemanded}
	if have.Number != "" {
		found = worst(c.certificateMarks(offered), c.certificateAge(offered))
	}
	if found.Outcome == NotDemanded {
		found = c.open(offered, topic("the certificate"))
	}
	for _, l := range c.limits(RuleCertificate, "certificate") {
		found = worst(found, c.certificateThere(l.claim("a certificate of the lot"), offered, l.pastIt(), l.reserve()))
	}
	if !want.IsZero() {
		found = worst(found, c.certificateThere(c.job("a certificate of the lot"), offered, Stops, nil))
	}
	return found
}

// certificateMarks holds type, schedule and lot class against the job's.
func (c *comparison) certificateMarks(offered Claim) Finding {
	have, want := c.offer.Certificate, c.demand.Certificate
	found := append(make([]Finding, 0, 4), Finding{Outcome: NotDemanded})
	if want.Type != "" {
		found = append(found, ranked("certificate", "EN 10204", certificateTypes(), have.Type, want.Type, c.job("").saying("certificate %s (EN 10204)", want.Type), offered))
	}
	if want.Schedule != "" {
		found = append(found, c.certificateSchedule(offered))
	}
	if want.LotClass != "" {
		found = append(found, c.certificateLotClass(offered))
	}
	return everyWorst(found...)
}

// certificateClaim is the certificate in words.
func (c *comparison) certificateClaim() Claim {
	have := c.offer.Certificate
	if have.Number == "" {
		return unknown()
	}
	var room [7]any
	parts := append(room[:0], have.Number)
	if have.Type != "" {
		parts = append(parts, word("type"), have.Type)
	}
	if have.Schedule != "" {
		parts = append(parts, word("schedule"), have.Schedule)
	}
	if have.LotClass != "" {
		parts = append(parts, word("lot class"), have.LotClass)
	}
	says := [...]pattern{"certificate %s", "certificate %s, %s %s", "certificate %s, %s %s, %s %s", "certificate %s, %s %s, %s %s, %s %s"}
	return c.lot("").saying(says[len(parts)/2], parts...)
}

func (c *comparison) certificateThere(demanded, offered Claim, missing Outcome, reserve *Message) Finding {
	if c.offer.Certificate.Number == "" {
		return finding(missing, demanded, offered, "No certificate of this lot is on file: ask for it before the wire is used.", nil).and(reserve)
	}
	return passUnless(reserve, demanded, offered, "The lot's %s is on file.", offered.said())
}

// ranked holds a mark against a demanded one in an order, weakest first.
func ranked(what word, by string, order []string, have, want string, demanded, offered Claim) Finding {
	meets, known := atLeast(order, have, want)
	switch {
	case !slices.Contains(order, want):
		return stop(demanded, offered, "The job asks for %s %q, which %s does not have: ask the engineer.", what, want, by)
	case !known:
		return stop(demanded, offered, "Nobody has recorded the %s of this lot by %s: read it. The job wants %s.", what, by, want)
	case !meets:
		return stop(demanded, offered, "This lot's %s is %s by %s, and the job wants %s.", what, have, by, want)
	}
	return pass(demanded, offered, "This lot's %s is %s by %s, and the job wants %s.", what, have, by, want)
}

func (c *comparison) certificateSchedule(offered Claim) Finding {
	want, wantOK := scheduleLetter(c.demand.Certificate.Schedule)
	have, haveOK := scheduleLetter(c.offer.Certificate.Schedule)
	demanded := c.job("").saying("testing schedule %s (AWS A5.01)", c.demand.Certificate.Schedule)
	switch listed := want == "K" || have == "K"; {
	case listed && want == have:
		return caution(demanded, offered, "Schedule K tests what the buyer listed: see that the certificate has the tests the job lists.")
	case listed && !haveOK:
		return stop(demanded, offered, "Nobody has recorded the testing schedule of this lot: read it. The job wants K, the tests that the buyer listed.")
	case listed && wantOK:
		return stop(demanded, offered, "Schedule K tests what the buyer listed and stands for no other schedule: the lot has %s, the job wants %s.", have, want)
	}
	return ranked("testing schedule", "AWS A5.01", schedules(), have, want, demanded, offered)
}

func (c *comparison) certificateLotClass(offered Claim) Finding {
	allowed := strings.Split(c.demand.Certificate.LotClass, "|")
	demanded := c.job("").saying("lot class %s (AWS A5.01)", anyOf(allowed))
	have := c.offer.Certificate.LotClass
	switch {
	case have == "":
		return stop(demanded, offered, "Nobody has recorded the lot class of this lot: read the certificate. The job wants %s.", anyOf(allowed))
	case !slices.Contains(allowed, have):
		return stop(demanded, offered, "This lot is of class %s. The job wants %s.", have, anyOf(allowed))
	}
	return pass(demanded, offered, "This lot is of class %s, as the job wants.", have)
}

// certificateAge counts from the tests to the day of the check.
func (c *comparison) certificateAge(offered Claim) Finding {
	found := Finding{Outcome: NotDemanded}
	tested, at := c.offer.Certificate.Tested, c.offer.At
	for _, l := range c.limits(RuleCertificate, "certificate_age_max") {
		months, ok := monthsOf(l.Value)
		demanded := l.claim("").saying("tests not older than %s", word(l.Value))
		switch {
		case !ok:
			found = worst(found, l.unreadable(offered))
		case tested.IsZero() || at.IsZero():
			found = worst(found, finding(l.pastIt(), demanded, offered, "Nobody has recorded when this lot was tested: read the certificate.", nil).and(l.reserve()))
		case at.After(tested.AddDate(0, months, 0)):
			found = worst(found, finding(l.pastIt(), demanded, offered, "The tests of this lot are of %s, more than %s ago: ask for a newer certificate.",
				[]any{day(tested), word(l.Value)}).and(l.reserve()))
		default:
			found = worst(found, passUnless(l.reserve(), demanded, offered, "The tests of this lot are of %s, not more than %s ago.", day(tested), word(l.Value)))
		}
	}
	return found
}

// day writes a date as the shop's papers do: "2026-03-02".
func day(t time.Time) string { return t.Format(time.DateOnly) }

// lot is what the shop's own record of the lot says.
func (c *comparison) lot(text string) Claim {
	name := c.offer.LotNumber
	if name == "" {
		name = "without a number"
	}
	return Claim{Text: text, Source: "record of lot " + name, Provenance: filler.Shop}
}
