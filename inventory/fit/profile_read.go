package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Profiles returns the profiles that come with the program, in the order of
// profiles/profiles.csv. The caller owns the result: changing it changes
// nothing else. Profiles never fails on the files that are embedded; the error
// is there for one who edits them.
func Profiles() ([]Profile, error) {
	ps, err := shipped()
	out := slices.Clone(ps)
	for i := range out {
		out[i].Limits = slices.Clone(out[i].Limits)
	}
	return out, err
}

// ProfileByID returns the shipped profile with this id; false if there is none.
func ProfileByID(id string) (Profile, bool) {
	ps, _ := Profiles()
	for _, p := range ps {
		if p.ID == id {
			return p, true
		}
	}
	return Profile{}, false
}

var shipped = sync.OnceValues(func() ([]Profile, error) {
	var out []Profile
	for _, line := range readTable("profiles/profiles.csv") {
		p := Profile{ID: line["id"], Name: line["name"]}
		for _, m := range readTable("profiles/" + p.ID + ".csv") {
			l := Limit{
				Rule: Rule(m["rule"]), Parameter: m["parameter"], Value: m["value"], Condition: m["condition"],
				Action: Outcome(m["action"]), Provenance: filler.Provenance(m["provenance"]), Source: m["source"], Note: m["note"],
			}
			if err := l.Validate(); err != nil {
				return nil, fmt.Errorf("profile %s: %w", p.ID, err)
			}
			p.Limits = append(p.Limits, l)
		}
		out = append(out, p)
	}
	return out, nil
})

// Validate reports why a limit would not work: a rule, parameter, condition or
// action that does not exist, or a value that cannot be read. A shop that
// edits a profile asks it before the profile is kept.
func (l Limit) Validate() error {
	if !slices.Contains(Rules(), l.Rule) {
		return fmt.Errorf("there is no rule %q", l.Rule)
	}
	for condition := range strings.SplitSeq(l.Condition, ", ") {
		if condition != "" && !slices.Contains(conditions(), condition) {
			return fmt.Errorf("%s: there is no condition %q", l.Rule, condition)
		}
	}
	if !slices.Contains([]Outcome{"", Caution, Stops}, l.Action) {
		return fmt.Errorf("%s: going past a limit cannot be %q", l.Rule, l.Action)
	}
	if l.Source == "" {
		return fmt.Errorf("%s: %s has no source", l.Rule, l.Parameter)
	}
	if l.Parameter == waiverLine && (l.Condition != "" || l.Action == Caution) {
		return fmt.Errorf("%s: whether it may be waived is yes or no at all times: give neither a condition nor what going past it does", l.Rule)
	}
	return l.validateValue()
}

func (l Limit) validateValue() (err error) {
	switch key := string(l.Rule) + " " + l.Parameter; key {
	case "wind wind_max":
		_, err = unit.ParseSpeed(l.Value)
	case "toughness toughness_min":
		_, err = unit.ParseToughness(l.Value)
	case "hydrogen hydrogen_max":
		_, err = parseHydrogen(l.Value)
	case "exposure exposure_max":
		if hoursOf(l.Value) < 0 {
			err = &unit.ParseError{Text: l.Value, Want: `time: give whole hours, such as "72 h"`}
		}
	case "certificate certificate_age_max", "shelf-life shelf_life_max":
		if _, ok := monthsOf(l.Value); !ok {
			err = &unit.ParseError{Text: l.Value, Want: `time: give whole months or years, such as "12 months" or "5 years"`}
		}
	case "certificate certificate", "mixing intermix_proof", "strength matching":
		if l.Value != "required" {
			err = fmt.Errorf("%s is required or not in the profile at all, not %q", l.Parameter, l.Value)
		}
	case "passes prequalified_single_pass":
		if l.Value != "not allowed" {
			err = fmt.Errorf("%s is not allowed or not in the profile at all, not %q", l.Parameter, l.Value)
		}
	case "thickness general_recommendation", "thickness prequalified_limit":
		err = l.validatePlate()
	default:
		if l.Parameter != "waiver" {
			return fmt.Errorf("rule %s has no limit %q", l.Rule, l.Parameter)
		}
		if l.Value != "yes" && l.Value != "no" {
			err = fmt.Errorf("a waiver is yes or no, not %q", l.Value)
		}
	}
	return err
}

// validatePlate holds the words of a limit of plates to what going past it
// does: nothing else reads them.
func (l Limit) validatePlate() error {
	if words, _ := PlateWords(l.Parameter, l.Action); l.Value != words {
		return fmt.Errorf("a limit of plates that %s is written %q, not %q", cmp.Or(l.Action, Stops), words, l.Value)
	}
	return nil
}

// PlateWords returns the words of a limit of plates, whose figure is the
// wire's, by what going past it does; false for any other parameter.
func PlateWords(parameter string, past Outcome) (string, bool) {
	switch {
	case parameter != "general_recommendation" && parameter != "prequalified_limit":
		return "", false
	case past == Caution:
		return "may be exceeded with care", true
	}
	return "may not be exceeded", true
}
