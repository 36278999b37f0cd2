package fit

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"wirehold/inventory/filler"
)

// strength of a fact as evidence, strongest first.
type strength int

const (
	byShop strength = iota
	bySheet
	byPublication
	byOldLabel // published, but only of a label made to an older edition
	byMemory
	byPractice // never evidence
)

const oldLabel = "label made to the 1995 edition"

func strengthOf(f filler.Fact) strength {
	switch {
	case f.Provenance == filler.Shop:
		return byShop
	case f.Provenance == filler.DataSheet:
		return bySheet
	case f.Provenance == filler.Memory:
		return byMemory
	case f.Provenance == filler.Published && f.Condition == oldLabel:
		return byOldLabel
	case f.Provenance == filler.Published:
		return byPublication
	}
	return byPractice
}

// doubt says why a match on evidence this strong is a caution only; nil if
// it is not.
func (s strength) doubt() *Message {
	switch s {
	case byMemory:
		return say("That is from memory: confirm it on the box.")
	case byOldLabel:
		return say("That holds for a label made to the 1995 edition: confirm it on the box.")
	}
	return nil
}

// byStrength orders facts strongest first, and by content where two are alike,
// so that the order in which facts arrive changes nothing.
func byStrength(a, b filler.Fact) int {
	if n := cmp.Compare(strengthOf(a), strengthOf(b)); n != 0 {
		return n
	}
	return cmp.Or(
		cmp.Compare(a.Value, b.Value), cmp.Compare(a.Unit, b.Unit), cmp.Compare(a.Source, b.Source),
		cmp.Compare(a.Condition, b.Condition), cmp.Compare(a.From, b.From), cmp.Compare(a.At, b.At), cmp.Compare(a.Note, b.Note))
}

// inOrder returns fs by strength. The result is not to be changed: it is fs
// itself if that is in order.
func inOrder(fs filler.Facts) filler.Facts {
	if slices.IsSortedFunc(fs, byStrength) {
		return fs
	}
	out := slices.Clone(fs)
	slices.SortFunc(out, byStrength)
	return out
}

// saysNothing reports whether a value leaves the matter open.
func saysNothing(value string) bool {
	for _, open := range [...]string{"not specified", "not in the designation", "not fixed", "per data sheet", "as agreed"} {
		if strings.HasPrefix(value, open) {
			return true
		}
	}
	return value == ""
}

// unknown is the claim where nobody supplied a fact.
func unknown() Claim { return Claim{Text: "not known", Source: "nobody has supplied it"} }

// claimOf is one fact as a claim.
func claimOf(f filler.Fact) Claim {
	return Claim{Text: textOf(f), Source: sourceOf(f), Provenance: f.Provenance}
}

// textOf is a fact's value with its unit.
func textOf(f filler.Fact) string {
	if f.Unit == "" {
		return strings.TrimSpace(f.Value)
	}
	return strings.TrimSpace(f.Value + " " + f.Unit)
}

// sourceOf names who vouches for a fact; never empty.
func sourceOf(f filler.Fact) string {
	source := f.Source
	if source == "" {
		source = string(f.Provenance) + ", no source on file"
	}
	if f.From != "" {
		source += ", from " + strconv.Quote(f.From)
	}
	return source
}

// advice is what common practice says of one of the names; nil if nothing.
func advice(facts filler.Facts) *Message {
	for _, f := range facts {
		if strengthOf(f) == byPractice && !saysNothing(f.Value) {
			return say("Common practice is %s.", word(f.Value))
		}
	}
	return nil
}
