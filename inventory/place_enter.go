package inventory

import (
	"context"
	"errors"
	"slices"
	"time"
)

// PlaceKinds lists the kinds of place that are not feeders, in the order in
// which they are offered.
func PlaceKinds() []PlaceKind { return []PlaceKind{Shelf, DryCabinet, Quarantine} }

// MayEnterWork reports whether a person in this role may enter and edit places,
// feeders, procedures and jobs.
func (r Role) MayEnterWork() bool { return r == Engineer || r == Owner }

func mayEnterPlaces(by Person) error {
	if by.Role.MayEnterWork() {
		return nil
	}
	return Forbiddenf("may-not-enter-places", "%s is a %s: the welding engineer or the owner enters places and feeders", by.Name, by.Role)
}

// PlaceEntry is a place as somebody enters or edits it.
type PlaceEntry struct {
	Edit
	Of Place
}

// EnterPlace enters a place that is no feeder and gives it a code.
func (l *Ledger) EnterPlace(ctx context.Context, e PlaceEntry) (Place, error) {
	p, err := changeRecord(ctx, l, e.deed(RecordEntered, ""))
	return p, taken(err, "name", "there is a place or feeder of that name already")
}

// ChangePlace writes the place e.Of.Code as it is now.
func (l *Ledger) ChangePlace(ctx context.Context, e PlaceEntry) (Place, error) {
	p, err := changeRecord(ctx, l, e.deed(RecordEdited, string(e.Of.Code)))
	return p, taken(err, "name", "there is a place or feeder of that name already")
}

func (e PlaceEntry) deed(deed RecordDeed, subject string) recordDeed[Place] {
	return recordDeed[Place]{Edit: e.Edit, keeper: placeKeeper(), deed: deed, subject: subject,
		wish: wish(deed, subject, e.Version, e.Of.Name, e.Of.Kind, e.Of.DryKept), may: mayEnterPlaces,
		decide: func(tx Tx, before Place, at time.Time) (Place, []string, error) {
			if before.Kind == AtFeeder {
				return before, nil, Invalidf("kind", "%s is a feeder: edit it as one", before.Name)
			}
			after := before
			after.Name, after.Kind, after.DryKept = e.Of.Name, e.Of.Kind, e.Of.DryKept
			if err := after.ready(); err != nil {
				return before, nil, err
			}
			return after, toldDifferences(before.differences(after)), keepDry(tx, before, after, at)
		}}
}

// keepDry begins or ends the dry-keeping of a place that is there already.
func keepDry(tx ExposureTx, before, after Place, at time.Time) error {
	if before.Code == "" || before.DryKept == after.DryKept {
		return nil
	}
	return tx.KeepDry(before.Code, after.DryKept, at)
}

// ready tidies the place and says what is wrong.
func (p *Place) ready() error {
	faults := tidyAll(map[string]*string{"name": &p.Name})
	if p.Name == "" {
		faults = append(faults, FieldFault{"name", "give the name that is written on it"})
	}
	if !slices.Contains(PlaceKinds(), p.Kind) {
		faults = append(faults, FieldFault{"kind", "choose what sort of place it is"})
	}
	return faultsError(faults)
}

func (p Place) differences(after Place) []Difference {
	return differ(Difference{"name", p.Name, after.Name}, Difference{"kind", string(p.Kind), string(after.Kind)},
		Difference{"dry-kept", yesNo(p.DryKept, p.Version), yesNo(after.DryKept, 1)})
}

// yesNo writes a yes or no; nothing of a record that was not there.
func yesNo(yes bool, version int) string {
	switch {
	case version == 0:
		return ""
	case yes:
		return "yes"
	}
	return "no"
}

// taken puts a conflict over a name or number that stands already beside its
// field.
func taken(err error, field, says string) error {
	if e, ok := errors.AsType[*Error](err); !ok || e.Code != "already-there" || len(e.Fields) > 0 {
		return err
	}
	return &Error{Kind: Conflict, Code: "already-there", Detail: says, Fields: []FieldFault{{field, says}}, Err: err}
}

func placeKeeper() recordKeeper[Place] {
	return recordKeeper[Place]{kind: PlaceRecord,
		name: func(p Place) string { return p.Name },
		mark: func(p *Place) (string, *int) { return string(p.Code), &p.Version },
		read: func(tx Tx, code string) (Place, error) { return tx.Place(Code(code)) },
		add: func(tx Tx, p Place) (_ Place, err error) {
			if p.Code, err = tx.NextCode(PlaceCode); err != nil {
				return p, err
			}
			return p, tx.AddPlace(p)
		},
		update: Tx.UpdatePlace}
}
