package fit

import "wirehold/inventory/filler"

// Rule is the id of one comparison.
type Rule string

// The rules, in the order in which they are reported.
const (
	RuleBaseMetal      Rule = "base-metal"
	RuleClassification Rule = "classification"
	RuleProcess        Rule = "process"
	RuleDiameter       Rule = "diameter"
	RulePolarity       Rule = "polarity"
	RuleGas            Rule = "gas"
	RulePasses         Rule = "passes"
	RuleThickness      Rule = "thickness"
	RulePosition       Rule = "position"
	RuleStrength       Rule = "strength"
	RuleToughness      Rule = "toughness"
	RuleHydrogen       Rule = "hydrogen"
	RuleWind           Rule = "wind"
	RuleLotStatus      Rule = "lot-status"
	RuleCertificate    Rule = "certificate"
	RuleShelfLife      Rule = "shelf-life"
	RuleOrigin         Rule = "origin"
	RuleExposure       Rule = "exposure"
	RuleRemaining      Rule = "remaining"
	RuleMixing         Rule = "mixing"
	RuleRolls          Rule = "rolls"
	RulePackage        Rule = "package"
)

// Outcome is how one rule ended.
type Outcome string

// The outcomes of a rule, mildest first.
const (
	NotDemanded Outcome = "not demanded" // the job asks nothing here
	Passed      Outcome = "passes"
	Caution     Outcome = "caution" // may be issued; somebody must look
	Stops       Outcome = "stops"
)

// Answer is the verdict in one of three words.
type Answer string

// The three verdicts of design and counter.
const (
	Fits             Answer = "fits"
	FitsWithCautions Answer = "fits with cautions"
	DoesNotFit       Answer = "does not fit"
)

// Claim is one side of a finding: what is demanded or offered, and by what
// authority.
type Claim struct {
	Text       string // "multiple passes"; "not known" if nobody supplied it
	Source     string // "procedure WPS-14 rev C"; "AWS A5.20/A5.20M, from -11"
	Provenance filler.Provenance
	Message    *Message // the text before it is said in a language; nil where its words are looked up
}

// Finding is one rule's result.
type Finding struct {
	Rule     Rule
	Outcome  Outcome
	Demanded Claim
	Offered  Claim
	Says     string   // one sentence in a welder's words, in English
	Conflict bool     // box and data sheet disagree: an engineer must settle it, no waiver does
	Unfit    bool     // the job lies outside what its procedure is qualified for: no spool helps, and no waiver of one
	Waived   *Waiver  // what made a caution of a stop; nil if nothing did
	Message  *Message // what Says says, before it is said in a language
}

// Verdict is the answer and every rule's finding, in the order of the rules.
type Verdict struct {
	Answer   Answer
	Findings []Finding
}
