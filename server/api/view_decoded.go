package api

import "wirehold/inventory/filler"

// DecodedView is what was decoded: a classification, a gas, a size or a
// package.
type DecodedView struct {
	Kind        string     `json:"kind" doc:"wire, gas, size or package"`
	Designation string     `json:"designation" doc:"In its one spelling."`
	Spec        string     `json:"spec,omitempty" doc:"Whose designation it is; left out of sizes and packages."`
	Parts       []PartView `json:"parts,omitempty" doc:"The designation from left to right; together they are it."`
	Facts       []FactView `json:"facts"`
	NotFixed    []OpenView `json:"not_fixed,omitempty" doc:"What a welder needs and the class leaves open."`
	Notes       []string   `json:"notes,omitempty" doc:"What a person must know before relying on it."`

	Gas     *GasView     `json:"gas,omitempty" doc:"Only of a gas."`
	Size    *SizeView    `json:"size,omitempty" doc:"Only of a size."`
	Package *PackageView `json:"package,omitempty" doc:"Only of a package."`
}

// GasView is what is asked first of a gas.
type GasView struct {
	ISO          string          `json:"iso,omitempty" doc:"Its designation in ISO 14175; left out where the text does not give it."`
	Symbol       string          `json:"symbol,omitempty" doc:"Sub-group of ISO 14175; Z is outside all bounds."`
	Group        string          `json:"group,omitempty"`
	Bounds       string          `json:"bounds,omitempty" doc:"Of the sub-group."`
	Components   []ComponentView `json:"components,omitempty" doc:"Base gas first; left out where the text gives the symbol alone."`
	InMBand      string          `json:"in_aws_m_band" doc:"Whether it is what M stands for in AWS classes, 75-80 % argon and the rest CO2: yes, no, or why it is not known."`
	Alternatives []string        `json:"alternatives,omitempty" doc:"What the text may mean as well."`
}

// ComponentView is one gas of a mixture.
type ComponentView struct {
	Gas     string `json:"gas"`
	Percent string `json:"vol_percent" doc:"By volume, as a decimal."`
}

// SizeView is the size of a wire.
type SizeView struct {
	Nm     int64 `json:"nm"`
	Listed bool  `json:"listed" doc:"A specification lists it in the unit that was typed."`
}

// PackageView is how a wire is wound.
type PackageView struct {
	Form     string `json:"form,omitempty"`
	Standard string `json:"standard,omitempty" doc:"Name of the standard package; left out if it is none."`
	NetG     int64  `json:"net_g,omitempty"`
}

// PartView is a run of characters of a designation and what it means.
type PartView struct {
	Text  string `json:"text"`
	Means string `json:"means"`
}

// OpenView is a fact that a classification does not fix.
type OpenView struct {
	Fact       string `json:"fact"`
	Says       string `json:"says"`
	TakeFrom   string `json:"take_from"`
	Provenance string `json:"provenance"`
	Source     string `json:"source,omitempty"`
}

// ViewDecoded returns t as the API and the decode command write it.
func ViewDecoded(t filler.Typed) DecodedView {
	v := DecodedView{Designation: t.String(), Facts: ViewFacts(t.Facts())}
	switch {
	case t.Wire != nil:
		d := t.Wire
		v.Kind, v.Designation, v.Spec, v.Notes = "wire", d.Designation, d.Spec, d.Notes
		v.parts(d.Parts)
		for _, n := range d.NotFixed {
			v.NotFixed = append(v.NotFixed, OpenView{n.Fact, n.Says, n.TakeFrom, string(n.Provenance), n.Source})
		}
	case t.Gas != nil:
		d := t.Gas
		v.Kind, v.Spec, v.Notes, v.Gas = "gas", d.Spec, d.Notes, viewGas(*d)
		v.parts(d.Parts)
	case t.Size != nil:
		v.Kind, v.Notes, v.Size = "size", t.Size.Notes, &SizeView{int64(t.Size.Size), t.Size.Listed}
	case t.Package != nil:
		d := t.Package
		v.Kind, v.Notes, v.Package = "package", d.Notes, &PackageView{d.Form, d.Name, int64(d.Net)}
	}
	return v
}

func (v *DecodedView) parts(parts []filler.Part) {
	for _, p := range parts {
		v.Parts = append(v.Parts, PartView{p.Text, p.Means})
	}
}

func viewGas(d filler.GasDecoded) *GasView {
	v := &GasView{ISO: d.ISO, Symbol: d.Symbol, Alternatives: d.Alternatives}
	v.Group, _ = d.Group()
	v.Bounds, _ = d.Bounds()
	v.InMBand, _ = d.InBand()
	for _, c := range d.Components {
		v.Components = append(v.Components, ComponentView{c.Gas, c.Part.String()})
	}
	return v
}
