package fit

import (
	"regexp"
	"slices"
	"strings"
)

// matchStainless judges joints with stainless steel on a side, and stainless
// wire on any.
func (c *comparison) matchStainless(deposit string, bases []BaseMetal, demanded, offered Claim) Finding {
	plain := slices.ContainsFunc(bases, func(b BaseMetal) bool { return b.Family != stainlessSteel })
	inox := slices.ContainsFunc(bases, func(b BaseMetal) bool { return b.Family == stainlessSteel })
	switch {
	case deposit != stainlessSteel:
		return stop(demanded, withRow(offered, "carbon steel filler on stainless"), "Never weld stainless steel with this wire: it lays down %s. Take a stainless wire.", word(deposit))
	case !inox:
		return stop(demanded, offered, "This is stainless wire and the joint is %s: take a carbon or low-alloy steel wire.", demanded.said())
	case plain:
		return c.matchDissimilar(demanded, offered)
	}
	return c.matchTable("stainless", bases, demanded, offered)
}

// matchDissimilar judges stainless wire between stainless and other steel.
func (c *comparison) matchDissimilar(demanded, offered Claim) Finding {
	for _, t := range c.stainlessTypes() {
		if strings.HasPrefix(t, "308") {
			r := rowNamed("308L on stainless to carbon steel")
			return stop(demanded, withRow(offered, r.designator), "%s between stainless and other steel %s: take a 309L wire.", t, word(r.note))
		}
	}
	r := rowNamed("stainless to carbon or low-alloy steel")
	if c.fillerAmong(strings.Split(r.value, "|")) {
		return pass(demanded, withRow(offered, r.designator), "This wire suits stainless to other steel: %s is named for it.", word(r.value))
	}
	return caution(demanded, withRow(offered, r.designator), "Between stainless and other steel the table names %s, not this wire: ask the engineer.", word(r.value))
}

// rowNamed is the pairing with a designator; a zero row if there is none.
func rowNamed(designator string) row {
	for _, r := range pairings() {
		if r.designator == designator {
			return r
		}
	}
	return row{}
}

// withRow adds the authority of a pairing to a claim.
func withRow(c Claim, designator string) Claim {
	c.Source += "; " + rowNamed(designator).authority()
	return c
}

// fillerAmong reports whether one of the wire's designations is one of those
// named in a pairing: "ER5356" as it stands, or "309L" as a stainless type.
func (c *comparison) fillerAmong(names []string) bool {
	types := c.stainlessTypes()
	return slices.ContainsFunc(names, func(n string) bool {
		return slices.Contains(c.offer.Classifications, n) || slices.Contains(types, n)
	})
}

var stainlessClass = regexp.MustCompile(`^(?:ER|EC|E|R)(\d{3,4}[A-Za-z]*?)(?:T[01](?:-.*)?)?$`)

// stainlessTypes are the alloy types in the wire's designations: 309L of
// E309LT1-4, 308LSi of ER308LSi (AWS A5.22, A5.9).
func (c *comparison) stainlessTypes() []string {
	var out []string
	for _, d := range c.offer.Classifications {
		if m := stainlessClass.FindStringSubmatch(d); m != nil {
			out = append(out, m[1])
		}
	}
	return out
}

// gradesIn are the base-metal grades a pairing is for: 304 and 304L of
// "304|304L to itself". Pairings between two grades have none of their own.
func gradesIn(designator string) []string {
	if strings.Contains(designator, " to ") && !strings.HasSuffix(designator, " to itself") {
		return nil
	}
	designator = strings.TrimSuffix(designator, " to itself")
	for _, word := range []string{"castings ", "duplex ", " high temperature"} {
		designator = strings.ReplaceAll(designator, word, "")
	}
	return strings.Split(designator, "|")
}

// gradeIn is the grade in brackets: P11 of "1-1/4 Cr 1/2 Mo (P11)".
func gradeIn(designator string) string {
	_, rest, _ := strings.Cut(designator, "(")
	return strings.TrimSuffix(rest, ")")
}

// namesGrade reports whether a base metal's name holds the grade as a word of
// its own: "A240 304L" holds 304L and not 304; "A335-P11" holds P11.
func namesGrade(name, grade string) bool {
	return slices.Contains(strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" -/,()", r) }), grade) && grade != ""
}
