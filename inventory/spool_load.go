package inventory

import (
	"context"
	"strings"
	"time"

	"wirehold/inventory/fit"
)

// Load puts a spool on a feeder, by the welder who has set the machine for it.
type Load struct {
	Entry
	Feeder    Code
	Job       Code           // empty is the job that the spool is out for
	Confirmed []Confirmation // of each setting of the [LoadCheck], as it was read
}

// Confirmation is a setting that the welder has made, looked at and ticked.
type Confirmation struct {
	Part fit.Part
	Says string // the words that were ticked, as [fit.Setting] has them
}

// Load checks the spool against its job and the feeder, and the confirmations
// against what must be set, and then puts the spool on. A sealed package is
// opened with that. What was confirmed is kept in the movement, and is how the
// feeder stands from then on: a change of the feeder by the same person.
//
// The error is [Refused] with every finding where a rule stops, [Invalid] with
// each setting that is not confirmed as it stands, and [Conflict] where another
// spool is on the feeder or this one on another.
func (l *Ledger) Load(ctx context.Context, o Load) (Spool, error) {
	return l.move(ctx, o.Entry, Loaded, o.wish(), func(tx Tx, s Spool, now time.Time) ([]Movement, error) {
		c, err := l.loadCheck(tx, s, o.Feeder, o.Job, now)
		if err != nil {
			return nil, err
		}
		if err := c.refusal(); err != nil {
			return nil, err
		}
		says, err := c.confirmed(o.Confirmed)
		if err != nil {
			return nil, err
		}
		if err := c.setFeeder(tx, o, now); err != nil {
			return nil, err
		}
		on := Movement{Type: Loaded, To: o.Feeder, Job: s.Job, Procedure: c.Procedure.ID, Reason: says, Verdict: c.summary(), Checked: c.Against(), Waiver: c.waivers()}
		if s.Opened() {
			return []Movement{on}, nil
		}
		return []Movement{{Type: Opened}, on}, nil
	})
}

func (o Load) wish() string {
	parts := []any{Loaded, o.Spool, o.At, o.Feeder, o.Job}
	for _, c := range o.Confirmed {
		parts = append(parts, c.Part, c.Says)
	}
	return wish(parts...)
}

// confirmed returns what was set and confirmed as the ledger keeps it.
func (c LoadCheck) confirmed(ticked []Confirmation) (string, error) {
	said := map[fit.Part]string{}
	for _, t := range ticked {
		said[t.Part] = strings.TrimSpace(t.Says)
	}
	var faults []FieldFault
	var words []string
	for _, s := range c.Settings {
		words = append(words, s.Says)
		switch says, ok := said[s.Part]; {
		case !ok:
			faults = append(faults, FieldFault{SettingField(s.Part), "not confirmed: " + s.Says})
		case says != s.Says:
			faults = append(faults, FieldFault{SettingField(s.Part), "this has changed since you looked: " + s.Says})
		}
	}
	if faults != nil {
		return "", &Error{Kind: Invalid, Code: "set-up-not-confirmed", Fields: faults,
			Detail: "look at the machine and tick each line before spool " + string(c.Spool.Code) + " goes on: " + faultNames(faults) + " not confirmed"}
	}
	return "set and confirmed: " + strings.Join(words, " "), nil
}

// SettingField is what the confirmation of a part is called in a form:
// "set-gun-and-liner".
func SettingField(p fit.Part) string { return "set-" + strings.ReplaceAll(string(p), " ", "-") }

// SettingParts returns what of a feeder may be set, in the order in which it is
// listed.
func SettingParts() []fit.Part {
	return []fit.Part{fit.SetPolarity, fit.SetGas, fit.SetRolls, fit.SetGun, fit.SetStickOut, fit.SetTravel}
}

func faultNames(faults []FieldFault) string {
	names := make([]string, len(faults))
	for i, f := range faults {
		names[i] = strings.ReplaceAll(strings.TrimPrefix(f.Field, "set-"), "-", " ")
	}
	if len(names) == 1 {
		return names[0] + " is"
	}
	return strings.Join(names, ", ") + " are"
}

// Unload takes a spool off its feeder. It stays out with whoever has it, and
// its exposure runs on. [Conflict] if it is on none.
func (l *Ledger) Unload(ctx context.Context, e Entry) (Spool, error) {
	return l.move(ctx, e, Unloaded, wish(Unloaded, e.Spool, e.At), func(_ Tx, s Spool, _ time.Time) ([]Movement, error) {
		return []Movement{{Type: Unloaded, Job: s.Job}}, nil
	})
}

// offFeeder returns m with the unloading that must go before it, if s is on a
// feeder.
func (s Spool) offFeeder(m Movement) []Movement {
	if !s.Loaded() {
		return []Movement{m}
	}
	return []Movement{{Type: Unloaded, Job: s.Job}, m}
}
