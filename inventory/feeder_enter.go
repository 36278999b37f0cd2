package inventory

import (
	"context"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// FeederEntry is a feeder as somebody enters or edits it.
type FeederEntry struct {
	Edit
	Of Feeder
}

// EnterFeeder enters a feeder and gives it a code. What is not known of it
// stays empty.
func (l *Ledger) EnterFeeder(ctx context.Context, e FeederEntry) (Feeder, error) {
	f, err := changeRecord(ctx, l, e.deed(RecordEntered, ""))
	return f, taken(err, "name", "there is a place or feeder of that name already")
}

// ChangeFeeder writes the feeder e.Of.Code as it stands now.
func (l *Ledger) ChangeFeeder(ctx context.Context, e FeederEntry) (Feeder, error) {
	f, err := changeRecord(ctx, l, e.deed(RecordEdited, string(e.Of.Code)))
	return f, taken(err, "name", "there is a place or feeder of that name already")
}

func (e FeederEntry) deed(deed RecordDeed, subject string) recordDeed[Feeder] {
	asked := e.Of
	asked.Code, asked.Version, asked.Kind = "", 0, ""
	return recordDeed[Feeder]{Edit: e.Edit, keeper: feederKeeper(), deed: deed, subject: subject, may: mayEnterPlaces,
		wish: wish(deed, subject, e.Version, asked.texts()),
		decide: func(tx Tx, before Feeder, at time.Time) (Feeder, []string, error) {
			after := e.Of
			after.Code, after.Version, after.Kind = before.Code, before.Version, AtFeeder
			if err := after.ready(); err != nil {
				return before, nil, err
			}
			return after, toldDifferences(before.differences(after)), keepDry(tx, before.Place, after.Place, at)
		}}
}

// ready tidies the feeder and says what is wrong.
func (f *Feeder) ready() error {
	faults := tidyAll(map[string]*string{"name": &f.Name})
	fault := func(wrong bool, field, says string) {
		if wrong {
			faults = append(faults, FieldFault{field, says})
		}
	}
	fault(f.Name == "", "name", "give the name that is written on it")
	for _, p := range f.Polarities {
		_, ok := fit.ParsePolarity(string(p))
		fault(!ok, "polarities", "a source gives DCEP, DCEN or AC")
	}
	_, ok := fit.ParsePolarity(string(f.Polarity))
	fault(f.Polarity != "" && !ok, "polarity", "a polarity is DCEP, DCEN or AC")
	fault(f.Polarity != "" && ok && len(f.Polarities) > 0 && !slices.Contains(f.Polarities, f.Polarity), "polarity",
		"the source does not give that polarity: mend one of the two")
	_, ok = fit.ParseRolls(string(f.Rolls))
	fault(f.Rolls != "" && !ok, "rolls", "drive rolls are "+strings.Join(rollNames(), ", "))
	parts := map[string]unit.Length{"roll_size": f.RollSize, "gun": f.Gun, "liner": f.Liner}
	for _, name := range namesOf(parts) {
		fault(parts[name] < 0 || parts[name] > mostDiameter, name, "no wire is as thick as that")
	}
	fault(slices.ContainsFunc(f.Diameters, func(d unit.Length) bool { return d <= 0 || d > mostDiameter }), "diameters", "no wire is as thick as that")
	fault(f.LargestPackage < 0, "largest_package", "a weight is not below zero")
	return faultsError(faults)
}

// mostDiameter is thicker than any wire that is fed.
const mostDiameter = unit.Inch / 2

// RollKinds lists the kinds of drive roll in the order in which they are
// offered.
func RollKinds() []fit.Rolls { return []fit.Rolls{fit.KnurledV, fit.SmoothV, fit.UGroove} }

func rollNames() []string { return texts(RollKinds()) }

// texts writes words as plain texts.
func texts[T ~string](words []T) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return out
}

// texts writes what is known of the feeder, each field under its label.
func (f Feeder) texts() []Difference {
	packages := make([]string, len(f.Packages))
	for i, p := range f.Packages {
		packages[i] = p.String()
	}
	gas, most := "", ""
	if f.Gas != nil {
		gas = f.Gas.String()
	}
	if f.LargestPackage > 0 {
		most = f.LargestPackage.String()
	}
	return []Difference{
		{Label: "name", After: f.Name},
		{Label: "dry-kept", After: yesNo(f.DryKept, 1)},
		{Label: "polarities", After: strings.Join(texts(f.Polarities), ", ")},
		{Label: "polarity as set", After: string(f.Polarity)},
		{Label: "connected gas", After: gas},
		{Label: "sizes", After: sizes(f.Diameters)},
		{Label: "drive rolls", After: string(f.Rolls)},
		{Label: "size of the rolls", After: sizeText(f.RollSize)},
		{Label: "gun", After: sizeText(f.Gun)},
		{Label: "liner", After: sizeText(f.Liner)},
		{Label: "packages", After: strings.Join(packages, ", ")},
		{Label: "largest package", After: most},
	}
}

func (f Feeder) differences(after Feeder) []Difference {
	was := f.texts()
	if f.Version == 0 {
		was = nil
	}
	return beside(was, after.texts())
}

// beside holds the texts of two states of a record against each other; was is
// nil where there was none.
func beside(was, is []Difference) []Difference {
	out := slices.Clone(is)
	for i := range was {
		out[i].Before = was[i].After
	}
	return differ(out...)
}

// sizeText writes a length in both units; empty for zero.
func sizeText(l unit.Length) string {
	if l == 0 {
		return ""
	}
	return l.Inches() + " / " + l.Millimetres(2)
}

// sizes writes lengths in inches: ".045 in, .052 in".
func sizes(ls []unit.Length) string {
	out := make([]string, len(ls))
	for i, l := range ls {
		out[i] = l.Inches()
	}
	return strings.Join(out, ", ")
}

func feederKeeper() recordKeeper[Feeder] {
	return recordKeeper[Feeder]{kind: FeederRecord,
		name: func(f Feeder) string { return f.Name },
		mark: func(f *Feeder) (string, *int) { return string(f.Code), &f.Version },
		read: func(tx Tx, code string) (Feeder, error) { return tx.Feeder(Code(code)) },
		add: func(tx Tx, f Feeder) (_ Feeder, err error) {
			if f.Code, err = tx.NextCode(FeederCode); err != nil {
				return f, err
			}
			return f, tx.AddFeeder(f)
		},
		update: Tx.UpdateFeeder}
}
