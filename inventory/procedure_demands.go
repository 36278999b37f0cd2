package inventory

import (
	"strconv"
	"strings"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Demands writes what the revision demands of the wire, every field under its
// label in one order; After is empty where it asks nothing.
func (p Procedure) Demands() []Difference {
	return []Difference{
		{Label: "title", After: p.Title},
		{Label: "process", After: strings.Join(texts(p.Processes), " or ")},
		{Label: "classification", After: strings.Join(p.Classifications, " or ")},
		{Label: "diameter", After: bothUnits(p.Diameters)},
		{Label: "polarity", After: string(p.Polarity)},
		{Label: "shielding gas", After: p.gasText()},
		{Label: "passes", After: string(p.Passes)},
		{Label: "number of passes", After: countText(p.PassCount, "")},
		{Label: "positions", After: strings.Join(texts(p.Positions), ", ")},
		{Label: "tensile strength", After: p.tensileText()},
		{Label: "matching strength", After: ifSo(p.Matching, "by the groups of AWS D1.1")},
		{Label: "toughness", After: p.toughnessText()},
		{Label: "diffusible hydrogen", After: countText(p.Hydrogen, " mL/100 g at most")},
		{Label: "prequalified", After: ifSo(p.Prequalified, "yes, under AWS D1.1")},
		{Label: "proof of mixed deposits", After: p.IntermixReport},
		{Label: "qualified for plate of", After: p.Qualified.Range()},
		{Label: "qualified for base metal", After: strings.Join(metalTexts(p.Qualified.Metals), " or ")},
	}
}

// Differences returns what a later revision demands otherwise.
func (p Procedure) Differences(later Procedure) []Difference {
	return beside(p.Demands(), later.Demands())
}

func metalTexts(metals []fit.BaseMetal) []string {
	out := make([]string, len(metals))
	for i, m := range metals {
		out[i] = m.String()
	}
	return out
}

func bothUnits(ls []unit.Length) string {
	out := make([]string, len(ls))
	for i, l := range ls {
		out[i] = l.Inches() + " / " + l.Millimetres(1)
	}
	return strings.Join(out, " or ")
}

func (p Procedure) gasText() string {
	if p.Gas == nil {
		return ""
	}
	return p.Gas.String()
}

func (p Procedure) tensileText() string {
	if p.Tensile.IsZero() {
		return ""
	}
	return p.Tensile.String() + " at least"
}

func (p Procedure) toughnessText() string {
	if p.Toughness.IsZero() {
		return ""
	}
	return p.Toughness.String()
}

func countText(n int, unit string) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n) + unit
}

func ifSo(yes bool, text string) string {
	if yes {
		return text
	}
	return ""
}
