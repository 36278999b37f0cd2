package inventory

import (
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Job is work to be done.
type Job struct {
	Code        Code
	Number      string // the shop's own number
	Name        string
	Procedures  []int64 // the revisions that it is welded to, in order
	ProfileID   string
	BaseMetals  []fit.BaseMetal // the sides of the joint, one or two
	Plates      []unit.Length   // the thickness of each side, in the order of BaseMetals; zero is not stated
	Thickness   unit.Length     // the thicker plate; zero is not stated
	Joint       string          // one of [Joints]; empty is not stated
	Welds       []fit.Weld      // weld that it still needs; empty is not stated
	Site        Site            // empty is not stated
	Wind        unit.Speed      // at the weld; zero is none or not stated
	WindKnown   bool            // Wind is stated
	Sheltered   bool
	Certificate fit.Certificate // that the contract demands of a lot; zero asks nothing
	Origin      fit.Origin      // that the contract demands; zero asks nothing
	Closed      bool
	Version     int // counts the changes, from 1
}

// Site is where a job is welded.
type Site string

// The sites.
const (
	InShop  Site = "shop"
	InField Site = "field"
)

// Sites lists the sites in the order in which they are offered.
func Sites() []Site { return []Site{InShop, InField} }

// Joints lists the kinds of joint in the order in which they are offered.
func Joints() []string { return []string{"butt", "tee", "lap", "corner", "edge"} }

// Families lists the families of base metal that the fit check tells apart.
func Families() []string {
	return []string{"carbon steel", "low-alloy steel", "stainless steel", "aluminium"}
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
		WindNotStated:   j.Site == InField && !j.WindKnown,
		Sheltered:       j.Sheltered,
		Prequalified:    p.Prequalified,
		Matching:        p.Matching,
		PassCount:       p.PassCount,
		Welds:           j.Welds,
		Certificate:     j.Certificate,
		Origin:          j.Origin,
		IntermixReport:  p.IntermixReport,
		Plates:          j.Plates,
		Qualified:       p.Qualified,
	}
}

// Outside returns what of the job lies outside what p is qualified for, or is
// to be looked at, whatever the wire; nil if nothing does.
func (j Job) Outside(p Procedure) []fit.Finding { return fit.JobFindings(j.demand(p)) }
