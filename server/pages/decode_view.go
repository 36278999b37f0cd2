package pages

import (
	"slices"
	"strings"

	"wirehold/inventory/filler"
)

// DecodedView is what was typed, taken apart: a classification, a gas, a size
// or a package.
type DecodedView struct {
	By          string // whose designation it is, with the edition
	Designation string
	Parts       []DecodedPart
	Taken       bool            // the parts mean something of their own
	Answers     []DecodedAnswer // of a gas, a size or a package: what is asked first
	Notes       []string
	Other       []string // what the text may mean as well
	Facts       filler.Facts
	NotFixed    []filler.NotFixed
}

// DecodedAnswer is one answer that stands above the facts.
type DecodedAnswer struct{ Label, Says, Source string }

// DecodedPart is a run of characters, what it means, and the facts it gives.
type DecodedPart struct {
	filler.Part
	First, Last int // places of its characters, counted from 1
	Facts       filler.Facts
	Sources     []string // who says so, each once
}

func newDecoded(t filler.Typed) *DecodedView {
	switch {
	case t.Wire != nil:
		d := t.Wire
		return &DecodedView{By: withEdition(d.Spec, d.Edition), Designation: d.Designation, Parts: decodedParts(d.Parts, d.Facts), Taken: true, Notes: d.Notes, Facts: d.Facts, NotFixed: d.NotFixed}
	case t.Gas != nil:
		return gasView(*t.Gas)
	case t.Size != nil:
		return sizeView(*t.Size)
	}
	return packageView(*t.Package)
}

func withEdition(spec, edition string) string {
	if edition == "" {
		return spec
	}
	return spec + ", edition " + edition
}

// gasView puts group, bounds and the band of the letter M above the facts.
func gasView(d filler.GasDecoded) *DecodedView {
	v := &DecodedView{By: withEdition(d.Spec, d.Edition), Designation: d.Designation, Parts: decodedParts(d.Parts, d.Facts), Taken: true, Notes: d.Notes, Other: d.Alternatives, Facts: d.Facts}
	var mixture []string
	for _, c := range d.Components {
		mixture = append(mixture, c.Part.String()+" % "+c.Gas)
	}
	v.answer("Mixture", strings.Join(mixture, " + "), "")
	if d.ISO != d.Designation {
		v.answer("In ISO 14175", d.ISO, "")
	}
	group, source := d.Group()
	v.answer("Group", group, source)
	bounds, source := d.Bounds()
	v.answer("Bounds", bounds, source)
	band, source := d.InBand()
	v.answer("In the band of M in AWS classes (75-80 % Ar, rest CO2)", band, source)
	return v
}

func sizeView(d filler.SizeDecoded) *DecodedView {
	v := &DecodedView{By: "Wire size", Designation: d.String(), Notes: d.Notes, Facts: d.Facts}
	v.answer("Measures", d.Size.Inches()+" = "+d.Size.Millimetres(3), "1 in = 25.4 mm")
	listed := "no specification lists it"
	if d.Listed {
		listed = "yes"
	}
	v.answer("A listed size", listed, "")
	v.Parts = []DecodedPart{{Part: filler.Part{Text: v.Designation, Means: "the size of a wire"}, First: 1, Last: len(v.Designation)}}
	return v
}

func packageView(d filler.PackageDecoded) *DecodedView {
	v := &DecodedView{By: "Package", Designation: d.String(), Notes: d.Notes, Facts: d.Facts}
	v.answer("Form", d.Form, "")
	v.answer("Standard package", d.Name, "")
	if d.Size > 0 {
		v.answer("Size", d.Size.Inches()+" = "+d.Size.Millimetres(1), "")
	}
	if d.Net > 0 {
		v.answer("Wire on it", d.Net.String()+" = "+d.Net.Pounds(), "")
	}
	v.Parts = []DecodedPart{{Part: filler.Part{Text: v.Designation, Means: "how the wire is wound and sold"}, First: 1, Last: len(v.Designation)}}
	return v
}

// answer adds an answer, if there is one.
func (v *DecodedView) answer(label, says, source string) {
	if says != "" {
		v.Answers = append(v.Answers, DecodedAnswer{label, says, source})
	}
}

// decodedParts gives each part of the designation the facts that its
// characters gave.
func decodedParts(parts []filler.Part, facts filler.Facts) []DecodedPart {
	out := make([]DecodedPart, len(parts))
	for i, part := range parts {
		out[i] = DecodedPart{Part: part, First: part.At + 1, Last: part.At + len(part.Text)}
	}
	for _, f := range facts {
		i := slices.IndexFunc(out, func(p DecodedPart) bool { return f.From != "" && f.At >= p.At && f.At < p.Last })
		if i < 0 {
			continue
		}
		part := &out[i]
		if f.Name != "meaning" {
			f.Value = strings.ReplaceAll(f.Value, "|", ", ")
			part.Facts = append(part.Facts, f)
		}
		if says := f.Authority(); !slices.Contains(part.Sources, says) {
			part.Sources = append(part.Sources, says)
		}
	}
	return out
}
