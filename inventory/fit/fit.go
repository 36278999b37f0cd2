// Package fit compares what a job demands of a wire with what one spool
// offers, rule by rule, and says why in words a welder uses.
//
// It is pure: the same input gives the same verdict. An unknown fact never
// satisfies a demand; a fact from memory that matches is a caution and one
// that does not match stops; common practice is never evidence. The result is
// an aid: local codes, the contract and qualified people decide.
package fit

import (
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

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
	RuleExposure       Rule = "exposure"
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
}

// Finding is one rule's result.
type Finding struct {
	Rule     Rule
	Outcome  Outcome
	Demanded Claim
	Offered  Claim
	Says     string // one sentence in a welder's words
}

// Verdict is the answer and every rule's finding, in the order of the rules.
type Verdict struct {
	Answer   Answer
	Findings []Finding
}

// Process is a welding process as a procedure names it.
type Process string

// The processes Wirehold tells apart. FCAW-G and FCAW-S are the trade's short
// names for flux cored arc welding with and without external gas.
const (
	FCAWG Process = "FCAW-G"
	FCAWS Process = "FCAW-S"
	GMAW  Process = "GMAW"             // solid wire and gas
	GMAWC Process = "GMAW metal cored" // metal cored wire and gas
	GTAW  Process = "GTAW"
)

// Polarity of the electrode, in the reference tables' words.
type Polarity string

// The polarities of direct and alternating current.
const (
	DCEP Polarity = "DCEP"
	DCEN Polarity = "DCEN"
	AC   Polarity = "AC"
)

// Position is a welding position group.
type Position string

// The positions a classification distinguishes.
const (
	Flat         Position = "flat"
	Horizontal   Position = "horizontal"
	VerticalUp   Position = "vertical up"
	VerticalDown Position = "vertical down"
	Overhead     Position = "overhead"
)

// Gas is a shielding gas by parts of a hundred. The zero Gas is no gas.
type Gas struct {
	Argon, CO2, Oxygen, Helium int // per cent by volume; they add up to 100, or to 0 for no gas
}

// Passes is how many passes a joint takes.
type Passes string

// The pass demands of a joint.
const (
	SinglePass Passes = "single pass"
	MultiPass  Passes = "multiple passes"
)

// BaseMetal is one side of a joint.
type BaseMetal struct {
	Name   string // "A572 Gr 50"
	Family string // "carbon steel", "low-alloy steel", "stainless steel", "aluminium"
}

// Demand is what a job and its procedure ask of the wire. A zero field asks
// nothing, except that a nil Gas asks nothing and a zero *Gas asks for no gas.
type Demand struct {
	JobSource       string // who says so: "job 2207"
	ProcedureSource string // "procedure WPS-14 rev C"

	BaseMetals      []BaseMetal // from the job: the sides of the joint
	Classifications []string    // from the procedure: canonical designations allowed
	Processes       []Process   // from the procedure: any of these
	Diameters       []unit.Length
	Polarity        Polarity
	Gas             *Gas
	Passes          Passes
	Thickness       unit.Length // thicker plate of the joint, from the job
	Joint           string      // "tee", "lap", "butt", "corner", "edge"; from the job
	Positions       []Position  // every one of these must be allowed
	Tensile         unit.Stress
	Toughness       unit.Toughness
	Hydrogen        int        // mL/100 g at most
	Wind            unit.Speed // at the weld, from the job
	Sheltered       bool
	Prequalified    bool // the procedure is used as prequalified under AWS D1.1
}

// Feeder is the machine the spool is meant for. Nil where none is named.
type Feeder struct {
	Name       string
	Polarities []Polarity    // what the source can give; empty is not known
	Gas        *Gas          // what is connected; zero is no gas; nil is not known
	Diameters  []unit.Length // sizes its rolls and liner take; empty is not known
}

// Offer is what one spool is and has been through.
type Offer struct {
	Spool           string   // its code
	Classifications []string // canonical designations of its wire
	Facts           filler.Facts
	Diameter        unit.Length
	LotNumber       string
	LotStatus       LotStatus
	LotReason       string // why the lot is not accepted
	Held            string // why this spool is on hold; empty if it is not
	Opened          bool
	Exposed         time.Duration // open so far; zero if sealed
}

// LotStatus is whether a lot may be used.
type LotStatus string

// The states of a lot.
const (
	LotAccepted LotStatus = "accepted"
	LotOnHold   LotStatus = "on hold"
	LotRejected LotStatus = "rejected"
)

// Limit is one line of a rule profile: a number or word with its authority.
type Limit struct {
	Rule        Rule
	Parameter   string // "wind_max"
	Value       string // with its unit as the unit package reads it: "5 mph"
	Condition   string
	Provenance  filler.Provenance
	Source      string
	Note        string
	ConfirmedBy string // who in the shop confirmed a memory or practice limit; empty if nobody
	ConfirmedOn string // the date, YYYY-MM-DD
}

// Profile is a body of rules as data: which limits hold and who says so.
type Profile struct {
	ID     string // "structural-steel"
	Name   string // "Structural steel, AWS D1.1"
	Limits []Limit
}
