package fit

import (
	"regexp"
	"slices"
	"strings"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Qualified is what a procedure is qualified for, as its document states it. A
// zero field states nothing.
type Qualified struct {
	Least  unit.Length // the thinnest plate
	Most   unit.Length // the thickest plate
	Metals []BaseMetal // any of these: one without a name is every metal of its family, one named "group II" those of that group of AWS D1.1
}

// IsZero reports whether nothing is stated.
func (q Qualified) IsZero() bool { return q.Least == 0 && q.Most == 0 && len(q.Metals) == 0 }

// Range writes the plates in words; empty if no bound is stated.
func (q Qualified) Range() string {
	switch {
	case q.Least > 0 && q.Most > 0:
		return bothUnits(q.Least) + " to " + bothUnits(q.Most)
	case q.Least > 0:
		return bothUnits(q.Least) + " and more"
	case q.Most > 0:
		return "up to " + bothUnits(q.Most)
	}
	return ""
}

// String writes the metal as a procedure lists it, and as [ParseMetal] reads
// it: "A36 (carbon steel)", "stainless steel", "group II".
func (b BaseMetal) String() string {
	switch {
	case b.Name == "":
		return b.Family
	case b.Family == "":
		return b.Name
	}
	return b.Name + " (" + b.Family + ")"
}

var (
	metalText = regexp.MustCompile(`^([^()]*\S)\s*\(([^()]*)\)$`)
	groupText = regexp.MustCompile(`(?i)^(?:AWS )?(?:D1\.1 )?group ([IV]+)$`)
)

// cutGroup returns the numeral of a group of AWS D1.1, "II" of "group II".
func cutGroup(name string) (numeral string, ok bool) {
	if name == "" || !strings.ContainsAny(name[len(name)-1:], "IViv") {
		return "", false
	}
	m := groupText.FindStringSubmatch(name)
	if m == nil {
		return "", false
	}
	return m[1], true
}

// ParseMetal reads a metal that a procedure lists: a name with its family in
// brackets, a family alone, or a group of AWS D1.1.
func ParseMetal(text string) (BaseMetal, bool) {
	text = strings.TrimSpace(text)
	if group, ok := cutGroup(text); ok {
		return BaseMetal{Name: "group " + strings.ToUpper(group)}, true
	}
	name := ""
	if m := metalText.FindStringSubmatch(text); m != nil {
		name, text = MetalName(m[1]), m[2]
	}
	family, ok := parseWord(text, carbonSteel, lowAlloySteel, stainlessSteel, aluminiumAlloy)
	return BaseMetal{Name: name, Family: family}, ok
}

// JobFindings returns what keeps a job outside what its procedure is qualified
// for, or is to be looked at, whatever the wire; nil if nothing does.
func JobFindings(d Demand) []Finding {
	c := &comparison{demand: d}
	metals, plates := c.metalsQualified().of(RuleBaseMetal), c.platesQualified().of(RuleThickness)
	return slices.DeleteFunc([]Finding{metals, plates}, func(f Finding) bool { return f.Outcome.weight() < Caution.weight() })
}

const moveJob = "Move the job to another procedure or ask the welding engineer."

// withJob adds to what a rule finds of the wire what it finds between the job
// and its procedure. Where both stop, both are said.
func withJob(wire, job Finding) Finding {
	switch {
	case job.Outcome == Stops && wire.Outcome == Stops:
		wire.Message, wire.Unfit = job.Message.and(wire.Message), true
		return wire
	case job.Outcome == Caution && wire.Outcome == Caution:
		return wire.and(job.Message)
	case job.Outcome == Passed && wire.Outcome != NotDemanded:
		return wire.and(job.Message)
	}
	return worst(wire, job)
}

// stated is what the job says, held against what its procedure is qualified for.
func (c *comparison) stated(text string) Claim {
	if text == "" {
		return unknown()
	}
	return c.job(text)
}

func (c *comparison) unfit(demanded, offered Claim, p pattern, parts ...any) Finding {
	f := stop(demanded, offered, p, parts...)
	f.Unfit = true
	return f
}

// platesQualified: each plate must lie within the range that the procedure is
// qualified for.
func (c *comparison) platesQualified() Finding {
	q := c.demand.Qualified
	span := word(q.Range())
	if span == "" {
		return Finding{Outcome: NotDemanded}
	}
	demanded := c.procedure("").saying("plate of %s", span)
	plates := c.demand.Plates
	if len(plates) == 0 {
		plates = []unit.Length{c.demand.Thickness}
	}
	found := pass(demanded, c.job("").saying("%s plate", c.plate()), "The procedure is qualified for plate of %s.", span)
	for _, p := range plates {
		if p >= max(q.Least, 1) && (q.Most == 0 || p <= q.Most) {
			continue
		}
		is := bothUnits(p)
		switch {
		case p == 0:
			found = worst(found, c.unfit(demanded, c.stated(""), "The job does not say how thick each plate is, and %s is qualified for %s: state it on the job.", source(demanded.Source), span))
		case q.Most > 0 && p > q.Most:
			found = worst(found, c.unfit(demanded, c.job("").saying("%s plate", is), "The plate is %s, thicker than %s is qualified for: %s. "+moveJob, is, source(demanded.Source), span))
		case p < q.Least:
			found = worst(found, c.unfit(demanded, c.job("").saying("%s plate", is), "The plate is %s, thinner than %s is qualified for: %s. "+moveJob, is, source(demanded.Source), span))
		}
	}
	return found
}

// metalsQualified: each side must be a metal that the procedure lists.
func (c *comparison) metalsQualified() Finding {
	listed := c.demand.Qualified.Metals
	if len(listed) == 0 {
		return Finding{Outcome: NotDemanded}
	}
	demanded := c.procedure(list(listed))
	if len(c.demand.BaseMetals) == 0 {
		return c.unfit(demanded, c.stated(""), "The job does not say what metal the joint is, and %s is qualified for %s: state it on the job.", source(demanded.Source), demanded.said())
	}
	found := Finding{Outcome: NotDemanded}
	for i, side := range c.demand.BaseMetals {
		found = worst(found, c.sideQualified(side, c.plateOf(i), listed, demanded))
	}
	return found
}

// plateOf is the plate of one side; zero if it is not stated.
func (c *comparison) plateOf(side int) unit.Length {
	if side < len(c.demand.Plates) {
		return c.demand.Plates[side]
	}
	return c.demand.Thickness
}

func (c *comparison) sideQualified(side BaseMetal, plate unit.Length, listed []BaseMetal, demanded Claim) Finding {
	offered, doubt := c.stated(side.String()), ""
	for _, m := range listed {
		switch in, from := m.holds(side, plate); {
		case in && from != filler.Memory:
			return pass(demanded, offered, "The procedure is qualified for %s.", m)
		case in:
			doubt = m.Name
		}
	}
	if doubt != "" {
		return caution(demanded, offered, "%s is in %s of AWS D1.1 by memory only, and the procedure is qualified for that: have the welding engineer confirm it.", side.Name, word(doubt))
	}
	for _, m := range listed {
		if m.Family != side.Family || m.Name == "" {
			continue
		}
		if more, ok := saysMore(side.Name, m.Name); ok {
			return c.unfit(demanded, offered, "The joint has %s, and %s lists %s without %s: ask the welding engineer for a revision that states it, or move the job to another procedure.", offered.said(), source(demanded.Source), m.Name, word(more))
		}
		if more, ok := saysMore(m.Name, side.Name); ok {
			return c.unfit(demanded, offered, "The job says %s without %s, and %s is qualified for %s: state it on the job.", side.Name, word(more), source(demanded.Source), demanded.said())
		}
	}
	return c.unfit(demanded, offered, "The joint has %s, and %s is qualified for %s. "+moveJob, offered.said(), source(demanded.Source), demanded.said())
}

// holds reports whether a listed metal covers the side, and on what authority:
// that of a group is its table's, and of all else the procedure's.
func (b BaseMetal) holds(side BaseMetal, plate unit.Length) (bool, filler.Provenance) {
	if group, ok := cutGroup(b.Name); ok {
		g, ok := groupOf(side.Name, plate)
		open := g.bound > 0 && plate == 0 // the group goes by a plate that nobody states
		return ok && !open && strings.EqualFold(g.group, group), g.provenance
	}
	named := b.Name == "" || sameMetal(b.Name, side.Name)
	return named && side.Family == b.Family && b.Family != "", filler.Shop
}
