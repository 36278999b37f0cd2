package fit

import (
	"slices"
	"strings"

	"wirehold/inventory/filler"
)

// The families of base and weld metal, in the words of the fact deposit.
const (
	carbonSteel    = "carbon steel"
	lowAlloySteel  = "low-alloy steel"
	stainlessSteel = "stainless steel"
	aluminiumAlloy = "aluminium"
)

// checkBaseMetal: the weld metal must suit every side of the joint, and each
// side must be a metal that the procedure is qualified for.
func (c *comparison) checkBaseMetal() Finding {
	return withJob(c.suitsMetals(), c.metalsQualified())
}

// suitsMetals: the pairings are those of testdata/base_metal_match.csv; what
// they do not name is a caution within a family and a stop across families.
func (c *comparison) suitsMetals() Finding {
	e := c.deposit()
	bases := c.demand.BaseMetals
	if len(bases) == 0 {
		return c.open(e.claim, topic("the base metal"))
	}
	names := make([]string, len(bases))
	for i, b := range bases {
		names[i] = strings.TrimSpace(b.Name + " (" + b.Family + ")")
	}
	demanded := c.job(strings.Join(names, " to "))
	switch {
	case e.conflict != nil:
		return disagree(demanded, e.claim, e.conflict)
	case !e.known:
		return stop(demanded, e.claim, "Nobody says what metal this wire lays down: read the box. The joint is %s.", demanded.said())
	}
	deposit := e.allowed[0]
	_, doubt := e.admits(deposit)
	found := c.matchMetals(deposit, bases, demanded, e.claim)
	if found.Outcome == Passed && doubt != nil {
		found.Outcome = Caution
		found = found.and(doubt)
	}
	return found
}

func (c *comparison) matchMetals(deposit string, bases []BaseMetal, demanded, offered Claim) Finding {
	has := func(family string) bool {
		return slices.ContainsFunc(bases, func(b BaseMetal) bool { return b.Family == family })
	}
	for _, b := range bases {
		if !slices.Contains([]string{carbonSteel, lowAlloySteel, stainlessSteel, aluminiumAlloy}, b.Family) {
			return stop(demanded, offered, "Nobody says what kind of metal %s is: ask the engineer. This wire lays down %s.", b.Name, word(deposit))
		}
	}
	switch {
	case has(aluminiumAlloy) || deposit == aluminiumAlloy:
		return c.matchAluminium(deposit, bases, demanded, offered)
	case has(stainlessSteel) || deposit == stainlessSteel:
		return c.matchStainless(deposit, bases, demanded, offered)
	}
	return c.matchSteel(deposit, bases, demanded, offered)
}

// matchSteel judges carbon and low-alloy steel. Chromium-molybdenum steels go
// by the composition suffix of the wire; common practice names it.
func (c *comparison) matchSteel(deposit string, bases []BaseMetal, demanded, offered Claim) Finding {
	for _, b := range bases {
		for _, r := range pairings() {
			if r.attribute != "composition_suffix" || !namesGrade(b.Name, gradeIn(r.designator)) {
				continue
			}
			if !slices.ContainsFunc(c.offer.Classifications, func(d string) bool { return strings.Contains(d, "-"+r.value) }) {
				return stop(demanded, offered, "%s is a chromium-molybdenum steel; common practice is a wire with the suffix %s, and this wire has none. Ask the engineer.", b.Name, r.value)
			}
			return caution(demanded, offered, "%s is a chromium-molybdenum steel; the suffix %s suits it by common practice only. Ask the engineer.", b.Name, r.value)
		}
	}
	for _, b := range bases {
		if b.Family != deposit {
			return caution(demanded, offered, "This wire lays down %s and the joint is %s: ask the engineer whether it is wanted.", word(deposit), demanded.said())
		}
	}
	return pass(demanded, offered, "This wire lays down %s, as the joint is.", word(deposit))
}

func (c *comparison) matchAluminium(deposit string, bases []BaseMetal, demanded, offered Claim) Finding {
	for _, b := range bases {
		switch {
		case deposit != aluminiumAlloy:
			r := aluminium()
			return stop(demanded, offered, "Never weld aluminium with this wire: it lays down %s, and no tubular wire for aluminium exists (%s).", word(deposit), word(r.value))
		case b.Family != aluminiumAlloy:
			return stop(demanded, offered, "This is aluminium wire. %s is %s: take a steel wire.", b.Name, word(b.Family))
		}
	}
	return c.matchTable("aluminium", bases, demanded, offered)
}

// matchTable looks each side of a joint of one family up in the pairings.
func (c *comparison) matchTable(kind string, bases []BaseMetal, demanded, offered Claim) Finding {
	found := Finding{Outcome: NotDemanded}
	for _, b := range bases {
		found = worst(found, c.matchGrade(kind, b, demanded, offered))
	}
	return found
}

func (c *comparison) matchGrade(kind string, b BaseMetal, demanded, offered Claim) Finding {
	this := caution(demanded, offered, "No table names a wire for %s: ask the engineer whether this one suits.", b.Name)
	for _, r := range pairings() {
		if r.kind != kind || !slices.ContainsFunc(gradesIn(r.designator), func(g string) bool { return namesGrade(b.Name, g) }) {
			continue
		}
		names := strings.Split(r.value, "|")
		on := c.fillerAmong(names)
		match := offered
		match.Source += "; " + r.authority()
		switch {
		case r.attribute == "not_filler" && on:
			return stop(demanded, match, "%s is not for %s: take another wire.", anyOf(names), b.Name)
		case r.attribute != "filler_type":
		case on && r.provenance == filler.Published:
			this = pass(demanded, match, "This wire suits %s: %s is named for it.", b.Name, anyOf(names))
		case on:
			this = caution(demanded, match, "This wire suits %s by %s only: ask the engineer.", b.Name, r.provenance)
		case this.Outcome != Passed:
			this = caution(demanded, match, "For %s the table names %s, not this wire: ask the engineer.", b.Name, anyOf(names))
		}
	}
	return this
}

func (r row) authority() string {
	if r.source != "" {
		return r.source
	}
	return string(r.provenance) + ", no source on file"
}
