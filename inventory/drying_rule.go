package inventory

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// dryingRule is what data sheet or shop say of drying a wire: at which
// temperature, for how long, and how often.
type dryingRule struct {
	allowed bool
	text    string // with its source, as it is kept with the movement
	low     unit.Celsius
	high    unit.Celsius
	held    time.Duration
	times   int // zero is not said
}

// dryingRule returns the wire's rule for drying: the shop's before the data
// sheet's. Without one it is [Refused]: wire is dried only as its maker, or the
// shop, has written down (shop practice, testdata/exposure_rules.csv E092; AWS
// D1.8 resets the clock by nothing else, E008 from memory).
func (w Wire) dryingRule() (dryingRule, error) {
	var found *filler.Fact
	for _, f := range w.holding().Named("drying") {
		if found == nil || f.Provenance == filler.Shop && found.Provenance != filler.Shop {
			found = &f
		}
	}
	if found == nil {
		return dryingRule{}, Refusedf("no-drying-rule", "nothing is on file about drying %s, and without the maker's text no wire is dried (practice, E092): enter what its data sheet says under Drying", w.TradeName)
	}
	r := dryingRule{text: fmt.Sprintf("%s (%s: %s)", found.Value, found.Provenance, found.Source)}
	m := drying.FindStringSubmatch(found.Value)
	if m == nil {
		return r, nil // "not allowed"
	}
	r.allowed = true
	hours, err := strconv.Atoi(m[1])
	if err != nil {
		return r, err
	}
	r.held = time.Duration(hours) * time.Hour
	if m[3] != "" {
		if r.times, err = strconv.Atoi(m[3]); err != nil {
			return r, err
		}
	}
	r.low, r.high, err = heatOf(m[2])
	return r, err
}

// DryingNote says what data sheet or shop say of drying the wire, or why it is
// not dried; may is whether it is.
func (w Wire) DryingNote() (says string, may bool) {
	rule, err := w.dryingRule()
	known := w.SpoolMaterial()
	switch {
	case err != nil:
		return "Nothing is on file about drying this wire, and without its maker's text none is dried (practice, E092): ask the maker, and enter what the data sheet says.", false
	case !rule.allowed:
		return fmt.Sprintf("This wire is not to be dried: %s.", rule.text), false
	case known.Material != "" && !known.Material.bears():
		return fmt.Sprintf("This wire is not dried: its spool is of %s (%s), which is not heated (practice, E090).", known.Material, known.Source), false
	case w.inDrum():
		return "This wire is in a drum, and is not dried (practice, E090).", false
	}
	return fmt.Sprintf("Its rule: %s.", rule.text), true
}

// dryingRemedy says what can be done about wire of which nobody knows how long
// it was exposed: dry it, where its rule and its spool allow.
func (w Wire) dryingRemedy() string {
	says, may := w.DryingNote()
	if !may {
		return says
	}
	return "Or dry it, and its exposure is known again. " + says
}

// heatOf reads "260-290 degC" or "260 degC".
func heatOf(text string) (low, high unit.Celsius, err error) {
	numbers, scale, _ := strings.Cut(text, " ")
	from, to, span := strings.Cut(numbers, "-")
	if !span {
		to = from
	}
	if low, err = unit.ParseCelsius(from + " " + scale); err != nil {
		return 0, 0, err
	}
	high, err = unit.ParseCelsius(to + " " + scale)
	return low, high, err
}

// check returns nil where the drying is as the rule says; [Refused] with the
// rule where it is not. before is how often the spool was dried.
func (r dryingRule) check(s Spool, d Drying, before int, confirmed string) error {
	switch {
	case !r.allowed:
		return refusedDrying("oven", "spool %s is not to be dried: %s", s.Code, r.text)
	case r.times > 0 && before >= r.times:
		return refusedDrying("oven", "spool %s was dried %d times already, and the rule allows %d: %s", s.Code, before, r.times, r.text)
	case d.At > r.high:
		return refusedDrying("temperature", "%s is too hot: %s", d.At, r.text)
	case d.At < r.low:
		return refusedDrying("temperature", "%s is too cool: %s", d.At, r.text)
	case d.Held < r.held:
		return refusedDrying("hours", "%s is too short: %s", HoursText(d.Held), r.text)
	case r.times == 0 && confirmed == "":
		return Invalidf("confirmed", "the rule does not say how often this wire may be dried (%s), and spool %s was dried %d times: write who says that it may be, as from the maker", r.text, s.Code, before)
	}
	return nil
}

func refusedDrying(field, format string, args ...any) error {
	err := Refusedf("drying-refused", format, args...)
	err.Fields = []FieldFault{{field, err.Detail}}
	return err
}
