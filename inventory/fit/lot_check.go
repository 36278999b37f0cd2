package fit

import "slices"

// LotCheck checks spools that differ by their lots alone: the rules that weigh
// nothing of a lot are asked once, lot-status, certificate, shelf-life and
// origin for each. It is safe for concurrent use.
type LotCheck struct {
	base    comparison
	verdict Verdict
}

// NewLotCheck checks o, of one lot; see [Check].
func NewLotCheck(o Offer, d Demand, f *Feeder, p Profile) *LotCheck {
	c := &comparison{offer: o, demand: d, feeder: f, profile: p}
	c.sort()
	return &LotCheck{base: *c, verdict: c.verdict()}
}

// LotKey is all of an offer's lot that rules other than those of the lot may
// ask for, by the conditions of a profile's limits. Offers of one [LotCheck]
// have the same.
type LotKey struct {
	Sealing      string
	Exposure     string // that the lot was tested for
	Made, Tested bool   // the day is on record
}

// LotKey returns the key of the offer's lot.
func (o Offer) LotKey() LotKey {
	tested := ""
	if o.TestedExposure != "" {
		tested = o.TestedExposure + ", lot " + o.LotNumber // its source names the lot
	}
	return LotKey{o.Sealing, tested, !o.Made.IsZero(), !o.Certificate.Tested.IsZero()}
}

// Check returns what [Check] would of o, which has the wire, the [LotKey], the
// weight and the exposure of the offer that the LotCheck was made with.
func (l *LotCheck) Check(o Offer) Verdict {
	c := l.base
	c.offer = o
	v := Verdict{Findings: slices.Clone(l.verdict.Findings)}
	for i := range v.Findings {
		switch found := &v.Findings[i]; found.Rule {
		case RuleLotStatus:
			*found = c.checkLotStatus().of(RuleLotStatus)
		case RuleCertificate:
			*found = c.checkCertificate().of(RuleCertificate)
		case RuleShelfLife:
			*found = c.checkShelfLife().of(RuleShelfLife)
		case RuleOrigin:
			*found = c.checkOrigin().of(RuleOrigin)
		}
	}
	v.Answer = answer(v.Findings)
	return v
}
