package inventory

import (
	"strings"

	"wirehold/inventory/unit"
)

// Demands writes what is known of the job, every field under its label in one
// order; After is empty where it says nothing. The procedure's own demands are
// not among them.
func (j Job) Demands() []Difference {
	welds := make([]string, len(j.Welds))
	for i, w := range j.Welds {
		welds[i] = WeldText(w)
	}
	return []Difference{
		{Label: "number", After: j.Number},
		{Label: "name", After: j.Name},
		{Label: "site", After: string(j.Site)},
		{Label: "base metal", After: j.metalText()},
		{Label: "thickest plate", After: plateText(j.Thickness)},
		{Label: "joint", After: j.Joint},
		{Label: "weld to lay", After: strings.Join(welds, "; ")},
		{Label: "wind at the weld", After: j.windText()},
		{Label: "sheltered", After: ifSo(j.Sheltered, "yes")},
		{Label: "certificate", After: j.certificateText()},
		{Label: "origin", After: j.originText()},
	}
}

func (j Job) metalText() string {
	out := make([]string, len(j.BaseMetals))
	for i, m := range j.BaseMetals {
		out[i] = m.Name + " (" + m.Family + ")"
		if len(j.Plates) > i && j.Plates[i] > 0 {
			out[i] += ", " + plateText(j.Plates[i])
		}
	}
	return strings.Join(out, " to ")
}

func plateText(l unit.Length) string {
	if l == 0 {
		return ""
	}
	return l.Inches() + " / " + l.Millimetres(1)
}

func (j Job) windText() string {
	switch {
	case j.Wind > 0:
		return j.Wind.MPH() + " / " + j.Wind.String()
	case j.WindKnown:
		return "none"
	}
	return ""
}

func (j Job) certificateText() string {
	var out []string
	for _, p := range [...]struct{ what, value string }{{"type ", j.Certificate.Type}, {"schedule ", j.Certificate.Schedule}, {"lot class ", strings.ReplaceAll(j.Certificate.LotClass, "|", " or ")}} {
		if p.value != "" {
			out = append(out, p.what+p.value)
		}
	}
	return strings.Join(out, ", ")
}

// PaperDemands tells what the contract demands of a lot's papers, one demand a
// line; nil if nothing.
func (j Job) PaperDemands() (out []string) {
	if text := j.certificateText(); text != "" {
		out = append(out, "certificate "+text)
	}
	if text := j.originText(); text != "" {
		out = append(out, "origin "+text)
	}
	return out
}

func (j Job) originText() string {
	out := j.Origin.Clause
	if len(j.Origin.Melted) > 0 {
		out += "; melted in " + strings.Join(j.Origin.Melted, " or ")
	}
	if len(j.Origin.Made) > 0 {
		out += "; made in " + strings.Join(j.Origin.Made, " or ")
	}
	return strings.TrimPrefix(out, "; ")
}
