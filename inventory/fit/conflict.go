package fit

import (
	"slices"
	"strings"

	"wirehold/inventory/filler"
)

// Conflict is one fact of a wire on which classification, data sheet and shop
// cannot all be right. An engineer must settle it before the wire is used.
type Conflict struct {
	Fact  string // "polarity"
	Rule  Rule   // that it stops
	Says  string // one sentence, in English: who says what
	Sides []Side // two or more: one of them is to be chosen

	Message *Message // what Says says, before it is said in a language
}

// Side is one of the values between which a conflict is.
type Side struct {
	Who    string // "classification", "data sheet" or "shop"
	Value  string // "DCEN"
	Unit   string
	Source string // "ISO 17632:2015 Table 5B, from \"11\""
}

// Text is the side's value with its unit.
func (s Side) Text() string { return strings.TrimSpace(s.Value + " " + s.Unit) }

// judge is how the facts of one name are looked at for a conflict.
type judge struct {
	fact     string
	rule     Rule
	conflict func(filler.Facts) *Message
	either   bool // of two classifications either will do
}

func judges() []judge {
	return []judge{
		{"form", RuleProcess, conflictOf(wordTrait(fluxCored, metalCored, solid)), false},
		{"shielding", RuleProcess, conflictOf(wordTrait(external, self)), false},
		{"polarity", RulePolarity, conflictOf(polarityTrait()), true},
		{"gas", RuleGas, conflictOf(gasTrait()), true},
		{"passes", RulePasses, conflictOf(passesTrait()), false},
		{"positions", RulePosition, conflictOf(positionsTrait()), false},
		{"vertical_direction", RulePosition, func(fs filler.Facts) *Message { return conflictOf(directionTrait())(replacingMemory(fs)) }, true},
		{"tensile_min", RuleStrength, conflictIn(strengthQuantity()), false},
		{"diffusible_hydrogen_max", RuleHydrogen, conflictIn(hydrogenQuantity()), false},
		{"drive_rolls", RuleRolls, conflictOf(rollsTrait()), true},
	}
}

func conflictOf[T any](t trait[T]) func(filler.Facts) *Message {
	return func(facts filler.Facts) *Message { return resolve(facts, t).conflict }
}

func conflictIn[T any](q quantity[T]) func(filler.Facts) *Message {
	return func(facts filler.Facts) *Message {
		_, conflict := q.measures(facts)
		return conflict
	}
}

// Conflicts returns what [Check] would call a conflict in a wire's facts, were
// it demanded, in the order of its rules; nil if there is none. It is pure.
func Conflicts(facts filler.Facts) []Conflict {
	var out []Conflict
	for _, j := range judges() {
		named := facts.Named(j.fact)
		if says := j.conflict(named); says != nil {
			out = append(out, Conflict{Fact: j.fact, Rule: j.rule, Says: says.String(), Sides: j.sides(named), Message: says})
		}
	}
	return out
}

// sides gathers the facts by who says so, the classification first. Where the
// conflict is within one of them, each value is a side of its own.
func (j judge) sides(facts filler.Facts) []Side {
	var box, sheet, shop filler.Facts
	for _, f := range inOrder(facts) {
		switch s := strengthOf(f); {
		case s == byPractice || saysNothing(f.Value):
		case s == byShop:
			shop = append(shop, f)
		case s == bySheet:
			sheet = append(sheet, f)
		default:
			box = append(box, f)
		}
	}
	var out []Side
	for _, group := range []filler.Facts{box, sheet, shop} {
		out = append(out, j.sidesOf(group, j.conflict(group) == nil)...)
	}
	return out
}

// sidesOf makes one side of facts that agree, and one of each value otherwise.
func (j judge) sidesOf(facts filler.Facts, agree bool) (out []Side) {
	for _, f := range facts {
		c := claimOf(f)
		s := Side{Who: string(authority(f)), Value: f.Value, Unit: f.Unit, Source: c.Source}
		at := slices.IndexFunc(out, func(o Side) bool { return o.Text() == s.Text() })
		switch {
		case at >= 0:
			continue
		case agree && len(out) > 0 && j.either:
			out[0].Value += " or " + s.Value
		case agree && len(out) > 0:
		default:
			out = append(out, s)
		}
	}
	return out
}

// Blocked returns v with each rule stopped on which a conflict of the wire
// bears, whether or not the job demands anything there: a wire whose box and
// data sheet disagree is not issued until an engineer has settled it.
func (v Verdict) Blocked(cs []Conflict) Verdict {
	if len(cs) == 0 {
		return v
	}
	v.Answer, v.Findings = DoesNotFit, slices.Clone(v.Findings)
	for i, f := range v.Findings {
		for _, c := range cs {
			if c.Rule == f.Rule && f.Outcome != Stops {
				stopped := disagree(f.Demanded, c.claim(), c.Message).of(f.Rule)
				v.Findings[i], f = stopped, stopped
			}
		}
	}
	return v
}

// claim is all the sides as one claim.
func (c Conflict) claim() Claim {
	var texts, sources []string
	for _, s := range c.Sides {
		texts, sources = append(texts, s.Text()), append(sources, s.Source)
	}
	return Claim{Text: strings.Join(texts, " / "), Source: strings.Join(sources, " / ")}
}

// ReadsAsGas reports whether text is a gas, or gases, that the fit check
// understands: "75-80 % Ar + balance CO2", "CO2 or M21", "none".
func ReadsAsGas(text string) bool {
	_, ok := parseGasRanges(text)
	return ok
}
