package fit

// Rules returns the id of every rule in the order in which they are reported.
func Rules() []Rule {
	return []Rule{
		RuleBaseMetal, RuleClassification, RuleProcess, RuleDiameter, RulePolarity, RuleGas, RulePasses, RuleThickness,
		RulePosition, RuleStrength, RuleToughness, RuleHydrogen, RuleWind, RuleLotStatus, RuleExposure,
	}
}

// Check compares one spool with one job, and with the feeder it is meant for
// (nil if none is named), under a profile. It reports every rule, in the order
// of [Rules], and never fails: what is not known stops where it is demanded.
// Check is pure and safe for concurrent use; it changes none of its arguments.
func Check(o Offer, d Demand, f *Feeder, p Profile) Verdict {
	c := &comparison{offer: o, demand: d, feeder: f, profile: p}
	checks := [...]func() Finding{
		c.checkBaseMetal, c.checkClassification, c.checkProcess, c.checkDiameter, c.checkPolarity, c.checkGas,
		c.checkPasses, c.checkThickness, c.checkPosition, c.checkStrength, c.checkToughness, c.checkHydrogen,
		c.checkWind, c.checkLotStatus, c.checkExposure,
	}
	v := Verdict{Answer: Fits, Findings: make([]Finding, len(checks))}
	for i, rule := range Rules() {
		found := checks[i]()
		found.Rule = rule
		v.Findings[i] = found
		switch {
		case found.Outcome == Stops:
			v.Answer = DoesNotFit
		case found.Outcome == Caution && v.Answer == Fits:
			v.Answer = FitsWithCautions
		}
	}
	return v
}

// Find returns the finding of one rule; false if v has none.
func (v Verdict) Find(r Rule) (Finding, bool) {
	for _, f := range v.Findings {
		if f.Rule == r {
			return f, true
		}
	}
	return Finding{}, false
}
