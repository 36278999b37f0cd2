package fit

import (
	"strings"

	"wirehold/inventory/filler"
)

// Sides are what the two claims of a finding are called in a language.
func (l Language) Sides() (demanded, offered string) {
	return l.lookUp("side", "demanded"), l.lookUp("side", "offered")
}

// Known is how a fact is known, in a language: "published", "memory"; empty if
// p is.
func (l Language) Known(p filler.Provenance) string { return l.lookUp("word", string(p)) }

// ToLoad is the word of a load check in a language: "load" or "do not load".
func (l Language) ToLoad(may bool) string {
	if may {
		return l.lookUp("verdict", "load")
	}
	return l.lookUp("verdict", "do not load")
}

// SetUp heads what is to be set at a feeder, and says that it is, in a
// language.
func (l Language) SetUp() (heading, done string) {
	return say("Set the machine. Look at each, then tick it.").In(l), say("It is set so: load it").In(l)
}

// Why names in a language the rules that the verdict comes from; empty if it
// fits.
func (v Verdict) Why(l Language) string {
	if stops := v.rules(Stops, l); stops != "" {
		return say("Stops: %s", stops).In(l)
	}
	if cautions := v.rules(Caution, l); cautions != "" {
		return say("Look at: %s", cautions).In(l)
	}
	return ""
}

// Idle names in a language the rules of which nothing is demanded; empty if
// there are none.
func (v Verdict) Idle(l Language) string {
	if rules := v.rules(NotDemanded, l); rules != "" {
		return say("The job demands nothing about: %s.", rules).In(l)
	}
	return ""
}

// rules lists the rules that end so: "base metal, gas".
func (v Verdict) rules(o Outcome, l Language) string {
	var out []string
	for _, f := range v.Findings {
		if f.Outcome == o {
			out = append(out, strings.ReplaceAll(f.Rule.In(l), "-", " "))
		}
	}
	return strings.Join(out, ", ")
}

// Count says in a language how many rules end so: "2 rules stop". Of cautions
// that wait until a stop is cleared it says that too.
func (o Outcome) Count(n int, later bool, l Language) string {
	one := map[Outcome]pattern{Stops: "%d rule stops", Caution: "%d caution", Passed: "%d rule passes"}
	many := map[Outcome]pattern{Stops: "%d rules stop", Caution: "%d cautions", Passed: "%d rules pass"}
	says := say(many[o], n)
	if n == 1 {
		says = say(one[o], n)
	}
	if later {
		says = say("%s for when the stop is cleared", says)
	}
	return says.In(l)
}
