package inventory

import (
	"context"
	"errors"
	"maps"
	"slices"
	"time"
)

// Person is somebody with a badge.
type Person struct {
	Code      Code
	Name      string
	Role      Role
	RetiredAt time.Time // since when the badge is refused; zero while it is good
	Version   int       // counts the changes, from 1
}

// Retired reports whether the badge is refused.
func (p Person) Retired() bool { return !p.RetiredAt.IsZero() }

// Good returns nil if the badge is good, and [Forbidden] if it is retired.
func (p Person) Good() error {
	if !p.Retired() {
		return nil
	}
	return Forbiddenf("badge-retired", "the badge of %s (%s) was retired at %s: it enters nothing and takes no wire; the owner can reinstate it", p.Name, p.Code, Stamp(p.RetiredAt))
}

// badge returns the person who acts with the badge; [Forbidden] if it is
// retired.
func badge(r interface{ Person(Code) (Person, error) }, code Code) (Person, error) {
	person, err := r.Person(code)
	if err == nil {
		err = person.Good()
	}
	if err == nil && person.Role == Program {
		err = Forbiddenf("badge-of-the-program", "%s is no badge that anybody wears: scan your own", code)
	}
	return person, err
}

// byBadge does in one transaction what needs nothing but whose badge it is: no
// request key, because what is done twice changes nothing or is a [Conflict].
func byBadge[T any](ctx context.Context, l *Ledger, code Code, do func(tx Tx, by Person, at time.Time) (T, error)) (out T, err error) {
	if code.Kind() != PersonCode {
		return out, Invalidf("person", "scan a badge: %q is not one", code)
	}
	at := l.at()
	err = l.store.Write(ctx, func(tx Tx) error {
		by, err := badge(tx, code)
		if err != nil {
			return err
		}
		out, err = do(tx, by, at)
		return err
	})
	return out, err
}

// Roles lists the roles in the order in which they are offered.
func Roles() []Role { return []Role{Attendant, Welder, Buyer, Engineer, Owner} }

// MayEnterPeople reports whether a person in this role may enter people and
// retire their badges.
func (r Role) MayEnterPeople() bool { return r == Owner }

// PersonEntry is a person as somebody enters or edits them.
type PersonEntry struct {
	Edit
	Of Person
}

// EnterPerson enters a person and gives them a badge code. Only the owner may;
// but while nobody is entered, whoever is there enters themselves as the owner,
// without a badge.
func (l *Ledger) EnterPerson(ctx context.Context, e PersonEntry) (Person, error) {
	if e.Person == "" {
		return l.enterFirst(ctx, e)
	}
	return changeRecord(ctx, l, e.deed(RecordEntered, ""))
}

// ChangePerson writes name and role of the person e.Of.Code.
func (l *Ledger) ChangePerson(ctx context.Context, e PersonEntry) (Person, error) {
	return changeRecord(ctx, l, e.deed(RecordEdited, string(e.Of.Code)))
}

// RetirePerson makes the person's badge refused everywhere, or good again. The
// person stays: the ledger names them. The last owner is not retired.
func (l *Ledger) RetirePerson(ctx context.Context, e Edit, of Code, retired bool) (Person, error) {
	deed := RecordReinstated
	if retired {
		deed = RecordRetired
	}
	return changeRecord(ctx, l, recordDeed[Person]{Edit: e, keeper: personKeeper(), deed: deed, subject: string(of), wish: wish(deed, of), may: mayEnterPeople,
		decide: func(tx Tx, p Person, at time.Time) (Person, []string, error) {
			if p.Retired() == retired {
				return p, nil, nil
			}
			after := p
			after.RetiredAt = time.Time{}
			if retired {
				after.RetiredAt = at
			}
			return after, []string{"badge " + string(deed)}, ownerLeft(tx, p, after)
		}})
}

func mayEnterPeople(by Person) error {
	if by.Role.MayEnterPeople() {
		return nil
	}
	return Forbiddenf("may-not-enter-people", "%s is a %s: only the owner enters people and retires badges", by.Name, by.Role)
}

func (e PersonEntry) deed(deed RecordDeed, subject string) recordDeed[Person] {
	return recordDeed[Person]{Edit: e.Edit, keeper: personKeeper(), deed: deed, subject: subject, wish: wish(deed, subject, e.Version, e.Of.Name, e.Of.Role), may: mayEnterPeople,
		decide: func(tx Tx, before Person, _ time.Time) (Person, []string, error) {
			after := before
			after.Name, after.Role = e.Of.Name, e.Of.Role
			if err := after.ready(); err != nil {
				return before, nil, err
			}
			what := differ(Difference{"name", before.Name, after.Name}, Difference{"role", string(before.Role), string(after.Role)})
			if subject == "" {
				return after, toldDifferences(what), nil
			}
			return after, toldDifferences(what), ownerLeft(tx, before, after)
		}}
}

// ready tidies the person and says what is wrong.
func (p *Person) ready() error {
	faults := tidyAll(map[string]*string{"name": &p.Name})
	if p.Name == "" {
		faults = append(faults, FieldFault{"name", "give the person's name"})
	}
	if !slices.Contains(Roles(), p.Role) {
		faults = append(faults, FieldFault{"role", "choose what the person does in the store"})
	}
	return faultsError(faults)
}

// ownerLeft refuses a change that leaves no owner with a good badge: nobody
// could enter people any more.
func ownerLeft(tx Tx, before, after Person) error {
	standing := func(p Person) bool { return p.Role == Owner && !p.Retired() }
	if !standing(before) || standing(after) {
		return nil
	}
	people, err := tx.People()
	if err != nil {
		return err
	}
	if slices.ContainsFunc(people, func(p Person) bool { return p.Code != before.Code && standing(p) }) {
		return nil
	}
	return Refusedf("last-owner", "%s is the only owner: make somebody else an owner first", before.Name)
}

// enterFirst enters the first person, who is the owner, on their own word.
func (l *Ledger) enterFirst(ctx context.Context, e PersonEntry) (Person, error) {
	e.Person = "P" // checked as given: nobody has a badge yet
	d := e.deed(RecordEntered, "")
	if err := d.check(); err != nil {
		return Person{}, err
	}
	now := l.at()
	var first Person
	err := l.store.Write(ctx, func(tx Tx) error {
		if done, err := tx.RecordRequested(e.RequestKey); KindOf(err) != NotFound {
			if err == nil {
				first, err = d.again(tx, done)
			}
			return err
		}
		people, err := tx.People()
		if err != nil {
			return err
		}
		if len(people) > 0 {
			return &Error{Kind: Forbidden, Code: "somebody-is-entered", Detail: "somebody is entered already: the owner scans their badge to enter more people",
				Fields: []FieldFault{{"person", "scan the owner's badge"}}}
		}
		if e.Of.Role != Owner {
			return Invalidf("role", "the first person entered is the owner: they enter the others")
		}
		after, what, err := d.decide(tx, Person{}, now)
		if err != nil {
			return err
		}
		after.Version = 1
		if first, err = d.keeper.add(tx, after); err != nil {
			return err
		}
		return d.note(tx, first, first.Code, now, what)
	})
	return first, err
}

func personKeeper() recordKeeper[Person] {
	return recordKeeper[Person]{kind: PersonRecord,
		name: func(p Person) string { return p.Name },
		mark: func(p *Person) (string, *int) { return string(p.Code), &p.Version },
		read: func(tx Tx, code string) (Person, error) { return tx.Person(Code(code)) },
		add: func(tx Tx, p Person) (_ Person, err error) {
			if p.Code, err = tx.NextCode(PersonCode); err != nil {
				return p, err
			}
			return p, tx.AddPerson(p)
		},
		update: Tx.UpdatePerson}
}

// namesOf returns the names in m in order.
func namesOf[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// detail is what may be read of err.
func detail(err error) string {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Detail
	}
	return "cannot be read"
}
