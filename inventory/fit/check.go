package fit

// Rules returns the id of every rule in the order in which they are reported.
func Rules() []Rule {
	return []Rule{
		RuleBaseMetal, RuleClassification, RuleProcess, RuleDiameter, RulePolarity, RuleGas, RulePasses, RuleThickness,
		RulePosition, RuleStrength, RuleToughness, RuleHydrogen, RuleWind, RuleLotStatus,
		RuleCertificate, RuleShelfLife, RuleOrigin, RuleExposure, RuleRemaining, RuleMixing, RuleRolls, RulePackage,
	}
}

// Check compares one spool with one job, and with the feeder it is meant for
// (nil if none is named), under a profile. It reports every rule, in the order
// of [Rules], and never fails: what is not known stops where it is demanded.
// Check is pure and safe for concurrent use; it changes none of its arguments.
func Check(o Offer, d Demand, f *Feeder, p Profile) Verdict {
	c := &comparison{offer: o, demand: d, feeder: f, profile: p}
	return c.verdict()
}

// verdict asks every rule, in the order of [Rules].
func (c *comparison) verdict() Verdict {
	checks := [...]func() Finding{
		c.checkBaseMetal, c.checkClassification, c.checkProcess, c.checkDiameter, c.checkPolarity, c.checkGas,
		c.checkPasses, c.checkThickness, c.checkPosition, c.checkStrength, c.checkToughness, c.checkHydrogen,
		c.checkWind, c.checkLotStatus, c.checkCertificate, c.checkShelfLife, c.checkOrigin,
		c.checkExposure, c.checkRemaining, c.checkMixing, c.checkRolls, c.checkPackage,
	}
	v := Verdict{Findings: make([]Finding, len(checks))}
	for i, rule := range Rules() {
		v.Findings[i] = checks[i]().of(rule)
	}
	v.Answer = answer(v.Findings)
	return v
}

// of is the finding of a rule, said in English.
func (f Finding) of(r Rule) Finding {
	f.Rule, f.Says = r, f.Message.String()
	f.Demanded.Text, f.Offered.Text = f.Demanded.text(), f.Offered.text()
	return f
}

// answer is the verdict that findings come to.
func answer(fs []Finding) Answer {
	out := Fits
	for _, f := range fs {
		switch f.Outcome {
		case Stops:
			return DoesNotFit
		case Caution:
			out = FitsWithCautions
		}
	}
	return out
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
