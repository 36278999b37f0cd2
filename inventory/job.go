package inventory

import (
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Procedure is one revision of a welding procedure (WPS) as the demands it
// makes of the wire. A zero field asks nothing; a nil Gas asks nothing and a
// zero *Gas asks for no gas.
type Procedure struct {
	ID              int64
	Number          string
	Revision        string
	Title           string
	Processes       []fit.Process
	Classifications []string
	Diameters       []unit.Length
	Polarity        fit.Polarity
	Gas             *fit.Gas
	Passes          fit.Passes
	Positions       []fit.Position
	Tensile         unit.Stress
	Toughness       unit.Toughness
	Hydrogen        int // mL/100 g at most; zero asks nothing
	Prequalified    bool
}

// Name is the procedure with its revision: "WPS-14 rev C".
func (p Procedure) Name() string { return p.Number + " rev " + p.Revision }

// Job is work to be done.
type Job struct {
	Code        Code
	Number      string // the shop's own number
	Name        string
	ProcedureID int64
	ProfileID   string
	BaseMetals  []fit.BaseMetal // the sides of the joint, one or two
	Thickness   unit.Length     // the thicker plate; zero is not stated
	Joint       string          // "butt", "tee", "lap", "corner", "edge"; empty is not stated
	Wind        unit.Speed      // at the weld; zero is indoors or not stated
	Sheltered   bool
	Closed      bool
}

// demand returns what the job, welded to p, asks of a wire.
func (j Job) demand(p Procedure) fit.Demand {
	return fit.Demand{
		JobSource:       "job " + j.Number,
		ProcedureSource: "procedure " + p.Name(),
		BaseMetals:      j.BaseMetals,
		Classifications: p.Classifications,
		Processes:       p.Processes,
		Diameters:       p.Diameters,
		Polarity:        p.Polarity,
		Gas:             p.Gas,
		Passes:          p.Passes,
		Thickness:       j.Thickness,
		Joint:           j.Joint,
		Positions:       p.Positions,
		Tensile:         p.Tensile,
		Toughness:       p.Toughness,
		Hydrogen:        p.Hydrogen,
		Wind:            j.Wind,
		Sheltered:       j.Sheltered,
		Prequalified:    p.Prequalified,
	}
}
