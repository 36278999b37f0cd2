package fit

import (
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Part is what of a feeder is set for a wire.
type Part string

// The parts, in the order in which they are listed.
const (
	SetPolarity Part = "polarity"
	SetGas      Part = "gas"
	SetRolls    Part = "rolls"
	SetGun      Part = "gun and liner"
	SetStickOut Part = "stick-out"
	SetTravel   Part = "travel"
)

// Setting is one thing to do at the feeder before a spool is welded.
type Setting struct {
	Part       Part
	Says       string // in a welder's words, in English
	Change     bool   // the feeder is, or may be, set otherwise now
	Source     string // who says so
	Provenance filler.Provenance
	Message    *Message // what Says says, before it is said in a language

	// How the feeder stands once that is done. What is not of the part is zero;
	// so is what the words leave to the welder, and is then not known.
	Polarity Polarity
	Gas      *Gas // zero is no gas; nil is not known
	Rolls    Rolls
	RollSize unit.Length
}

// Done returns the feeder as it stands once the setting is made. Gun, liner,
// stick-out and travel are not recorded of a feeder, or are not set to a value
// here. It is pure.
func (s Setting) Done(f Feeder) Feeder {
	switch s.Part {
	case SetPolarity:
		f.Polarity = s.Polarity
	case SetGas:
		f.Gas = s.Gas
	case SetRolls:
		f.Rolls, f.RollSize = s.Rolls, s.RollSize
	}
	return f
}

// Settings returns how to set a feeder for a spool: polarity, gas, drive rolls,
// gun, stick-out and travel, in this order. It says how, and not whether the
// spool may be loaded: that is for [Check]. It is pure.
func Settings(o Offer, f Feeder) []Setting {
	c := &comparison{offer: o, feeder: &f}
	out := []Setting{c.setPolarity(), c.setGas()}
	if s, ok := c.setRolls(); ok {
		out = append(out, s)
	}
	if s, ok := c.setGun(); ok {
		out = append(out, s)
	}
	return append(out, c.setStickOut(), c.setTravel())
}

// set is a setting with the doubt about it; nil if there is none.
func set(part Part, change bool, from Claim, doubt *Message, p pattern, parts ...any) Setting {
	says := say(p, parts...).and(doubt)
	return Setting{Part: part, Says: says.String(), Change: change, Source: from.Source, Provenance: from.Provenance, Message: says}
}

func (c *comparison) setPolarity() Setting {
	e := c.polarity()
	switch {
	case e.conflict != nil:
		return set(SetPolarity, true, e.claim, nil, "Do not weld: %s An engineer must settle it.", e.conflict)
	case !e.known:
		return set(SetPolarity, true, e.claim, c.usual("polarity"), "Nobody says how this wire is run: read the box.")
	case len(e.allowed) > 1:
		return set(SetPolarity, true, e.claim, nil, "This wire runs on %s as its maker says: read the data sheet and set that.", e.claim.said())
	}
	s := c.setOnePolarity(&e)
	s.Polarity = e.allowed[0]
	return s
}

func (c *comparison) setOnePolarity(e *evidence[Polarity]) Setting {
	want, now := e.allowed[0], c.feeder.Polarity
	_, doubt := e.admits(want)
	from := e.vouch(want)
	switch {
	case len(c.feeder.Polarities) > 0 && !slices.Contains(c.feeder.Polarities, want):
		return set(SetPolarity, true, from, doubt, "This wire runs %s, which this feeder cannot give: take another feeder.", want.inWords())
	case now == want:
		return set(SetPolarity, false, from, doubt, "Leave the machine on %s.", want.inWords())
	case now == "":
		return set(SetPolarity, true, from, doubt, "Set the machine to %s.", want.inWords())
	}
	return set(SetPolarity, true, from, doubt, "Swap to %s: the machine is set to %s.", want.inWords(), now.inWords())
}

func (c *comparison) setGas() Setting {
	e, has := c.gas(), c.feeder.Gas
	var s Setting
	switch {
	case e.conflict != nil:
		return set(SetGas, true, e.claim, nil, "Do not weld: %s An engineer must settle it.", e.conflict)
	case !e.known:
		return set(SetGas, true, e.claim, c.usual("gas"), "Nobody says which gas this wire takes: read the box.")
	case selfShielded(&e):
		return c.setNoGas(&e)
	case has != nil && !has.IsNone():
		if ok, doubt := e.admits(exactly(*has)); ok {
			s = set(SetGas, false, e.vouch(exactly(*has)), doubt, "Leave %s connected.", has)
			s.Gas = has
			return s
		}
		s = set(SetGas, true, e.claim, e.doubt, "Change the gas to %s: %s is connected.", e.claim.said(), has)
	case has == nil:
		s = set(SetGas, true, e.claim, e.doubt, "See that the gas is %s: nobody has recorded what is connected.", e.claim.said())
	default:
		s = set(SetGas, true, e.claim, e.doubt, "Connect gas: %s.", e.claim.said())
	}
	s.Gas = onlyGas(e.allowed)
	return s
}

func (c *comparison) setNoGas(e *evidence[gasRange]) Setting {
	has := c.feeder.Gas
	_, doubt := e.admits(gasRange{})
	var s Setting
	switch {
	case has == nil:
		s = set(SetGas, true, e.claim, doubt, "Shut the gas: this wire runs without.")
	case has.IsNone():
		s = set(SetGas, false, e.claim, doubt, "Leave the gas off: this wire runs without.")
	default:
		if f := c.gasOnSelfShielded(Claim{}, Claim{}, *has, nil); f.Outcome == Passed {
			s = set(SetGas, false, f.Offered, doubt, "This wire runs without gas, and its sheet permits %s, which is connected.", has)
			s.Gas = has
			return s
		}
		s = set(SetGas, true, e.claim, doubt, "Shut the gas: this wire runs without, and %s is connected.", has)
	}
	s.Gas = &Gas{}
	return s
}

// setRolls is false where nobody says which rolls the wire wants.
func (c *comparison) setRolls() (Setting, bool) {
	e := resolve(c.named("drive_rolls"), rollsTrait())
	wants, from := e.allowed, e.claim
	switch {
	case e.conflict != nil:
		return set(SetRolls, true, e.claim, nil, "Ask the engineer about the drive rolls: %s", e.conflict), true
	case !e.known:
		wants, from = c.usualRolls(), practiceOf("T024")
	}
	if wants == nil {
		return Setting{}, false
	}
	want := say("%s rolls", anyOf(wants))
	if c.offer.Diameter > 0 {
		want = say("%s rolls %s", anyOf(wants), c.offer.Diameter.Inches())
	}
	return c.setRollsTo(wants, want, from), true
}

func (c *comparison) setRollsTo(wants []Rolls, want *Message, from Claim) (s Setting) {
	has, size := c.feeder.Rolls, c.feeder.RollSize
	fits, _ := fitsSize(c.offer.Diameter, []unit.Length{size})
	switch {
	case slices.Contains(wants, has) && fits:
		s = set(SetRolls, false, from, nil, "Leave the %s rolls for %s.", has, size.Inches())
		s.Rolls, s.RollSize = has, size
		return s
	case has == "" && (size == 0 || fits):
		s = set(SetRolls, true, from, nil, "See that the feeder has %s.", want)
	default:
		s = set(SetRolls, true, from, nil, "Change to %s.", want)
	}
	if len(wants) == 1 {
		s.Rolls = wants[0]
	}
	s.RollSize = c.offer.Diameter
	return s
}

// setGun is false unless gun or liner is known to be too small.
func (c *comparison) setGun() (Setting, bool) {
	var small []string
	for _, part := range [...]struct {
		what string
		most unit.Length
	}{{"gun", c.feeder.Gun}, {"liner", c.feeder.Liner}} {
		if part.most > 0 && c.offer.Diameter > part.most {
			small = append(small, part.what)
		}
	}
	if small == nil {
		return Setting{}, false
	}
	return set(SetGun, true, c.record(c.size(c.offer.Diameter)), nil, "Change the %s for %s wire.", word(strings.Join(small, " and ")), c.offer.Diameter.Inches()), true
}

func (c *comparison) setStickOut() Setting {
	if f, ok := c.strongest("stick_out", byMemory); ok {
		return set(SetStickOut, true, claimOf(f), strengthOf(f).doubt(), "Stick-out %s.", word(textOf(f)))
	}
	return set(SetStickOut, true, unknown(), nil, "Nobody says what stick-out this wire wants: read the data sheet.")
}

// setTravel says how the gun is held. The words are those of the fact travel.
func (c *comparison) setTravel() Setting {
	f, known := c.strongest("travel", byMemory)
	if !known {
		return c.usualTravel()
	}
	says, ok := map[string]pattern{
		"drag only": "Drag the gun, never push it.", "push only": "Push the gun, never drag it.", "drag": "Drag the gun.", "push": "Push the gun.",
		"either": "Drag or push the gun.", "drag or push": "Drag or push the gun.", "push or drag": "Drag or push the gun.",
	}[f.Value]
	if !ok {
		return set(SetTravel, true, claimOf(f), strengthOf(f).doubt(), "Travel: %s.", word(f.Value))
	}
	return set(SetTravel, true, claimOf(f), strengthOf(f).doubt(), says)
}

// usualTravel is common practice: rows T020 and T021 of
// testdata/trade_practice.csv.
func (c *comparison) usualTravel() Setting {
	switch {
	case is(c.form(), fluxCored):
		return set(SetTravel, true, practiceOf("T020"), nil, "No sheet says how the gun is held. Common practice is to drag it.")
	case is(c.form(), solid), is(c.form(), metalCored):
		return set(SetTravel, true, practiceOf("T021"), nil, "No sheet says how the gun is held. Common practice is to push it or hold it neutral.")
	}
	return set(SetTravel, true, unknown(), nil, "Nobody says how the gun is held: read the data sheet.")
}

// practiceOf is the authority of a row of trade_practice.csv, as advice.
func practiceOf(id string) Claim {
	return Claim{Source: "trade_practice.csv " + id + ", common practice" + practiceSources()[id], Provenance: filler.Practice}
}

var practiceSources = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, m := range readTable("tables/trade_practice.csv") {
		if m["source"] != "" {
			out[m["id"]] = "; " + m["source"]
		}
	}
	return out
})
