package inventory

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// traits is a wire with its facts as the card, its advice and its cautions ask
// about it.
type traits struct {
	wire      Wire
	facts     filler.Facts
	processes []fit.Process // what it is for; nil where nobody says so
	disputes  map[string]string
}

func newTraits(w Wire, facts filler.Facts) traits {
	return traits{w, facts, w.processes(facts), disputes(facts)}
}

// Processes returns what the wire is for: one process, or two of a solid wire
// whose package does not tell spooled wire from rods. It is nil where nobody
// says what kind of wire this is. The error is that of [Wire.Facts].
func (w Wire) Processes() ([]fit.Process, error) {
	facts, err := w.Facts()
	if err != nil {
		return nil, err
	}
	return w.processes(facts), nil
}

func (w Wire) processes(facts filler.Facts) []fit.Process {
	if f, ok := facts.Best("form"); ok && f.Value == "covered electrode" {
		return []fit.Process{SMAW}
	}
	all := fit.Processes(facts)
	for _, p := range [...]struct {
		process fit.Process
		words   []string // of a package that wire for it comes in: practice
	}{
		{fit.GMAW, []string{"spool", "coil", "drum", "reel", "basket"}},
		{fit.GTAW, []string{"rod", "cut length", "tube of", "straight"}},
	} {
		packed := slices.ContainsFunc(p.words, func(word string) bool { return strings.Contains(strings.ToLower(w.Package), word) })
		if packed && len(all) > 1 && slices.Contains(all, p.process) {
			return []fit.Process{p.process}
		}
	}
	return all
}

// only returns the wire's process if it has just one.
func (t traits) only() fit.Process {
	if len(t.processes) == 1 {
		return t.processes[0]
	}
	return ""
}

// said returns the strongest facts called name that say something of this wire
// in its size; nil where there is none. Common practice says nothing.
func (t traits) said(name string) filler.Facts {
	var mine, bare filler.Facts
	for _, f := range t.facts.Named(name) {
		value, ok := ofSize(f, t.wire.Diameter)
		if !ok || leavesOpen(value) {
			continue
		}
		f.Value = value
		if size, isSize := sizeIn(f.Condition); isSize && slices.Contains(fit.SoldAs(size), t.wire.Diameter) {
			f.Condition = ""
		}
		mine = append(mine, f)
	}
	best, ok := mine.Best(name)
	if !ok {
		return nil
	}
	mine = slices.DeleteFunc(mine, func(f filler.Fact) bool { return f.Provenance != best.Provenance })
	for _, f := range mine {
		if f.Condition == "" {
			bare = append(bare, f)
		}
	}
	if len(bare) > 0 {
		return bare
	}
	return mine
}

// ofSize returns what f says of wire of diameter d. A value or condition may
// be for one size: ".035 in: 5 mm; .045 in: 8 mm".
func ofSize(f filler.Fact, d unit.Length) (value string, ok bool) {
	if size, isSize := sizeIn(f.Condition); isSize && !slices.Contains(fit.SoldAs(size), d) {
		return "", false
	}
	if !strings.Contains(f.Value, ":") {
		return f.Value, true
	}
	bySize := false
	for part := range strings.SplitSeq(f.Value, ";") {
		head, tail, _ := strings.Cut(part, ":")
		size, isSize := sizeIn(head)
		if !isSize {
			continue
		}
		if bySize = true; slices.Contains(fit.SoldAs(size), d) {
			return strings.TrimSpace(tail), true
		}
	}
	return f.Value, !bySize
}

// sizeIn reads a wire size that a value or condition is tied to: ".045 in",
// "diameter .045 in".
func sizeIn(text string) (unit.Length, bool) {
	text = strings.TrimPrefix(strings.TrimSpace(text), "diameter ")
	size, err := unit.ParseLength(text)
	return size, err == nil
}

// selfShielded reports whether the wire is known to make its own shield.
func (t traits) selfShielded() bool {
	said := t.said("shielding")
	return len(said) == 1 && said[0].Value == "self"
}

// conflict says why box and sheet cannot both be right about name; empty if
// they agree.
func (t traits) conflict(name string) string { return t.disputes[name] }

// inInches writes a length or a range of lengths in millimetres in inches too,
// to the nearest sixteenth, a limit to the one below: "13-19 mm" is "about 1/2
// to 3/4 in". It is empty for anything else.
func inInches(value string, limit bool) string {
	number, ok := strings.CutSuffix(value, " mm")
	if !ok {
		return ""
	}
	var out []string
	for part := range strings.SplitSeq(number, "-") {
		l, err := unit.ParseLength(part + " mm")
		if err != nil || l == 0 {
			return ""
		}
		sixteenth := unit.Inch / 16
		if !limit {
			l += sixteenth / 2
		}
		out = append(out, sixteenths(int64(l/sixteenth)))
	}
	return "about " + strings.Join(out, " to ") + " in"
}

// sixteenths writes n/16 as a person does: "1 1/4".
func sixteenths(n int64) string {
	switch whole, rest := n/16, big.NewRat(n%16, 16); {
	case n%16 == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return rest.RatString()
	default:
		return fmt.Sprintf("%d %s", whole, rest.RatString())
	}
}

// disputes returns, by the name of the fact, why box and sheet cannot both be
// right.
func disputes(facts filler.Facts) map[string]string {
	out := map[string]string{}
	for _, c := range fit.Conflicts(facts) {
		out[c.Fact] = c.Says
	}
	return out
}
