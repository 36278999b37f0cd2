package inventory

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/fit"
)

// LotPapers is what certificate and box say of a lot. An empty field is not
// known, and what is not known meets no demand.
type LotPapers struct {
	Type     string // of the certificate, by EN 10204: one of [CertificateTypes]
	Schedule string // of testing, by AWS A5.01: one of [Schedules]
	LotClass string // by AWS A5.01: one of [LotClassNames]
	Tested   Day    // when the tests were made
	Melted   string // the country in which the steel was first melted
	Made     string // the country in which the wire was drawn and filled
	MadeOn   Day
	Expires  Day    // the last day the box allows
	Sealing  string // how the package is sealed: one of [Sealings]
	Exposure string // what the lot's own exposure test found: "120 h, 9 mL/100 g", as [fit.ReadTestedExposure] writes it
}

// IsZero reports whether nothing is known.
func (p LotPapers) IsZero() bool { return p == LotPapers{} }

// OtherPackage is every sealing but [fit.VacuumFoil]
// (testdata/exposure_rules.csv E078).
const OtherPackage = "other package"

// Sealings lists the ways in which a package is sealed, as the shelf lives of
// testdata/exposure_rules.csv E077 and E078 tell them apart.
func Sealings() []string { return []string{fit.VacuumFoil, OtherPackage} }

// LotClassNames lists the lot classes of AWS A5.01: T of tubular wire, S of
// solid wire, C of covered electrodes, F of flux (testdata/code_rules.csv
// C062-C077, from memory).
func LotClassNames() []string {
	return []string{"T1", "T2", "T3", "T4", "S1", "S2", "S3", "S4", "C1", "C2", "C3", "C4", "C5", "F1", "F2"}
}

// PaperField is one field of a lot's papers: its name in forms, bodies and
// errors, and what people call it.
type PaperField struct{ Name, Label string }

// paperField is a field with the place that holds it.
type paperField struct {
	PaperField
	late  bool // kept since later than the others: the decisions of before have their hash
	value func(*LotPapers) *string
}

// country reports whether the field names a country, which may be written in
// several ways.
func (f paperField) country() bool {
	return f.Name == "papers_melted_in" || f.Name == "papers_made_in"
}

// paperFields lists the fields in the order in which they are told.
func paperFields() []paperField {
	return []paperField{
		{PaperField{"papers_type", "certificate type"}, false, func(p *LotPapers) *string { return &p.Type }},
		{PaperField{"papers_schedule", "testing schedule"}, false, func(p *LotPapers) *string { return &p.Schedule }},
		{PaperField{"papers_lot_class", "lot class"}, false, func(p *LotPapers) *string { return &p.LotClass }},
		{PaperField{"papers_tested_on", "tested on"}, false, func(p *LotPapers) *string { return (*string)(&p.Tested) }},
		{PaperField{"papers_melted_in", "melted in"}, false, func(p *LotPapers) *string { return &p.Melted }},
		{PaperField{"papers_made_in", "made in"}, false, func(p *LotPapers) *string { return &p.Made }},
		{PaperField{"papers_made_on", "made on"}, false, func(p *LotPapers) *string { return (*string)(&p.MadeOn) }},
		{PaperField{"papers_expires_on", "use by"}, false, func(p *LotPapers) *string { return (*string)(&p.Expires) }},
		{PaperField{"papers_sealing", "sealed in"}, false, func(p *LotPapers) *string { return &p.Sealing }},
		{PaperField{"papers_tested_exposure", "tested for an exposure of"}, true, func(p *LotPapers) *string { return &p.Exposure }},
	}
}

// differences lists the fields in which q is not as p.
func (p LotPapers) differences(q LotPapers) (out []Difference) {
	for _, f := range paperFields() {
		out = append(out, differ(Difference{f.Label, *f.value(&p), *f.value(&q)})...)
	}
	return out
}

// joined returns p with what only q says, and the fields of which each says
// something else.
func (p LotPapers) joined(q LotPapers) (out LotPapers, disagree []paperField) {
	out = p
	for _, f := range paperFields() {
		mine, other := f.value(&out), *f.value(&q)
		switch {
		case *mine == "":
			*mine = other
		case other != "" && other != *mine && !(f.country() && fit.SameCountry(other, *mine)):
			disagree = append(disagree, f)
		}
	}
	return out, disagree
}

// Texts tells what is known of certificate and origin, each in one short line:
// "type 3.1, schedule J, T4"; nil if nothing is.
func (p LotPapers) Texts() (out []string) {
	for _, line := range [...][]struct{ label, value string }{{{"type ", p.Type}, {"schedule ", p.Schedule}, {"class ", p.LotClass}}, {{"melted in ", p.Melted}}, {{"made in ", p.Made}}} {
		var known []string
		for _, part := range line {
			if part.value != "" {
				known = append(known, part.label+part.value)
			}
		}
		if len(known) > 0 {
			out = append(out, strings.Join(known, ", "))
		}
	}
	return out
}

// certificate is the lot's certificate as the fit check weighs it.
func (l Lot) certificate() fit.Certificate {
	return fit.Certificate{Number: l.Certificate, Type: l.Papers.Type, Schedule: l.Papers.Schedule, LotClass: l.Papers.LotClass, Tested: l.Papers.Tested.Time()}
}

// origin is where the lot comes from as the fit check weighs it.
func (l Lot) origin() (o fit.Origin) {
	if l.Papers.Melted != "" {
		o.Melted = []string{l.Papers.Melted}
	}
	if l.Papers.Made != "" {
		o.Made = []string{l.Papers.Made}
	}
	return o
}

// faults tidies the papers and says what is wrong with each field, of a lot
// with the certificate of that number which came in at received.
func (p *LotPapers) faults(number string, received, now time.Time) []FieldFault {
	faults := tidyAll(map[string]*string{"papers_melted_in": &p.Melted, "papers_made_in": &p.Made})
	fault := func(wrong bool, field, says string, args ...any) {
		if wrong {
			faults = append(faults, FieldFault{field, fmt.Sprintf(says, args...)})
		}
	}
	oneOf := func(field, what, value string, of []string) {
		fault(value != "" && !slices.Contains(of, value), field, "%s is one of %s, not %q: read the certificate or the box", what, strings.Join(of, ", "), clip(value))
	}
	oneOf("papers_type", "the type of a certificate (EN 10204)", p.Type, CertificateTypes())
	oneOf("papers_schedule", "a testing schedule (AWS A5.01)", p.Schedule, Schedules())
	oneOf("papers_lot_class", "a lot class (AWS A5.01)", p.LotClass, LotClassNames())
	oneOf("papers_sealing", "how a package is sealed", p.Sealing, Sealings())
	if p.Exposure != "" {
		read, ok := fit.ReadTestedExposure(p.Exposure)
		fault(!ok, "papers_tested_exposure", "%q is no result of an exposure test: give the hours and the hydrogen after them, such as \"120 h, 9 mL/100 g\"", clip(p.Exposure))
		if ok {
			p.Exposure = read
		}
	}
	marked := p.Type+p.Schedule+p.LotClass+string(p.Tested)+p.Exposure != ""
	fault(marked && number == "", "certificate", "give the certificate's number too: what a certificate says counts for nothing without it")
	return append(faults, p.dayFaults(received, now)...)
}

// dayFaults says which days cannot be.
func (p *LotPapers) dayFaults(received, now time.Time) (faults []FieldFault) {
	for _, d := range [...]struct {
		field, of string
		day       Day
		past      bool
	}{{"papers_made_on", "manufacture", p.MadeOn, true}, {"papers_tested_on", "the tests", p.Tested, true}, {"papers_expires_on", "expiry", p.Expires, false}} {
		switch {
		case d.day == "":
		case !d.day.sound():
			faults = append(faults, FieldFault{d.field, fmt.Sprintf("%q is no day of %s: give one such as 2026-03-02", clip(string(d.day)), d.of)})
		case d.past && !d.day.begun(now):
			faults = append(faults, FieldFault{d.field, fmt.Sprintf("%s has not come yet: read the day of %s again", d.day, d.of)})
		}
	}
	if len(faults) > 0 {
		return faults
	}
	if p.MadeOn != "" && !p.MadeOn.begun(received) {
		faults = append(faults, FieldFault{"papers_made_on", fmt.Sprintf("the lot came in on %s and cannot have been made after that, on %s: read the box again", DayOf(received), p.MadeOn)})
	}
	if p.MadeOn != "" && p.Expires != "" && p.Expires < p.MadeOn {
		faults = append(faults, FieldFault{"papers_expires_on", fmt.Sprintf("use by %s is before the day the wire was made, %s: read both days on the box again", p.Expires, p.MadeOn)})
	}
	if p.MadeOn != "" && p.Tested != "" && p.Tested < p.MadeOn && p.ownTests() {
		faults = append(faults, FieldFault{"papers_tested_on", fmt.Sprintf("tests of %s are from before the lot was made, on %s: read both days again; tests of another run are of type 2.1 or 2.2, or of schedule F or G", p.Tested, p.MadeOn)})
	}
	return faults
}

// ownTests reports whether the tests were made on this lot, or may have been:
// certificates of type 2.1 and 2.2 and schedules F and G report those of
// another run (testdata/code_rules.csv C055, C056, C086).
func (p *LotPapers) ownTests() bool {
	if p.Type == "3.1" || p.Type == "3.2" || slices.Contains([]string{"H", "I", "J", "K"}, p.Schedule) {
		return true
	}
	return p.Type == "" && p.Schedule == ""
}
