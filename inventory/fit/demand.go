package fit

import (
	"strings"

	"wirehold/inventory/unit"
)

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
	WindNotStated   bool       // the job is in the field and nobody says how windy it is there
	Sheltered       bool
	Prequalified    bool // the procedure is used as prequalified under AWS D1.1

	Matching       bool        // the strength must match the base metals, by the groups of AWS D1.1
	PassCount      int         // how many passes the joint takes, where it is more than one; from the procedure
	Welds          []Weld      // weld that the job still needs
	Certificate    Certificate // of the lot: type, schedule and lot class, or stronger
	Origin         Origin      // clause of the contract
	Laid           []Laid      // wire that has gone into the joint already, by the ledger
	Out            Away        // wire that is out for the job on other spools; how much of it is left nobody knows
	Scrapped       Away        // wire that went out for the job on spools that were scrapped there unweighed
	IntermixReport string      // the test report that proves mixed deposits, from the procedure

	Plates    []unit.Length // of each side, from the job; zero is not stated; nil is Thickness alone
	Qualified Qualified     // from the procedure: the plates and metals that it is qualified for
}

// Feeder is the machine the spool is meant for. Nil where none is named; a zero
// field is not known.
type Feeder struct {
	Name       string
	Polarities []Polarity    // what the source can give; empty is not known
	Gas        *Gas          // what is connected; zero is no gas; nil is not known
	Diameters  []unit.Length // sizes its rolls and liner take; empty is not known

	Polarity       Polarity    // as it is set now
	Rolls          Rolls       // the drive rolls in it now
	RollSize       unit.Length // of their groove
	Gun            unit.Length // the thickest wire its gun takes
	Liner          unit.Length // the thickest wire its liner takes
	Packages       []Package   // that its hub takes
	LargestPackage unit.Grams  // wire in the heaviest package it carries
}

// called is the feeder's name where the word feeder stands before it: "4" of
// "Feeder 4".
func (f *Feeder) called() string {
	const word = "feeder "
	if len(f.Name) > len(word) && strings.EqualFold(f.Name[:len(word)], word) {
		return f.Name[len(word):]
	}
	return f.Name
}

// ParsePolarity reads "DCEP", "DCEN" or "AC".
func ParsePolarity(text string) (Polarity, bool) { return parseWord(text, DCEP, DCEN, AC) }

// ParseProcess reads the name of one of the processes: "FCAW-G".
func ParseProcess(text string) (Process, bool) {
	return parseWord(text, FCAWG, FCAWS, GMAW, GMAWC, GTAW)
}

// ParsePosition reads "flat", "horizontal", "vertical up", "vertical down" or
// "overhead".
func ParsePosition(text string) (Position, bool) {
	return parseWord(text, Flat, Horizontal, VerticalUp, VerticalDown, Overhead)
}

// ParsePasses reads "single pass" or "multiple passes".
func ParsePasses(text string) (Passes, bool) { return parseWord(text, SinglePass, MultiPass) }

// parseWord finds text among the known words, whatever its case.
func parseWord[T ~string](text string, known ...T) (T, bool) {
	for _, k := range known {
		if strings.EqualFold(strings.TrimSpace(text), string(k)) {
			return k, true
		}
	}
	return "", false
}
