package inventory

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// A record is what the shop enters once and then works with: a person, a
// place, a feeder, a revision of a procedure, a job. Each keeps who entered and
// changed it, and nothing of that is ever deleted.

// RecordKind is the sort of record.
type RecordKind string

// The kinds of record.
const (
	PersonRecord    RecordKind = "person"
	PlaceRecord     RecordKind = "place"
	FeederRecord    RecordKind = "feeder"
	ProcedureRecord RecordKind = "procedure"
	JobRecord       RecordKind = "job"
	ContactRecord   RecordKind = "contact" // how alerts reach a person: their code
	WebhookRecord   RecordKind = "webhook" // its id
	ShopRecord      RecordKind = "shop"    // what the shop says of its own days
	PrinterRecord   RecordKind = "printer" // its id
)

// RecordDeed is what was done to a record.
type RecordDeed string

// The deeds.
const (
	RecordEntered    RecordDeed = "entered"
	RecordEdited     RecordDeed = "edited"
	RecordRetired    RecordDeed = "retired"
	RecordReinstated RecordDeed = "reinstated"
	RecordClosed     RecordDeed = "closed"
	RecordReopened   RecordDeed = "reopened"
)

// RecordChange is one line of a record's history.
type RecordChange struct {
	ID      int64
	Kind    RecordKind
	Subject string // the record's code; of a procedure its id
	Deed    RecordDeed
	Change
}

// RecordReader looks up what is kept of records besides themselves.
type RecordReader interface {
	// RecordChanges returns up to limit changes of a record, the latest first.
	RecordChanges(kind RecordKind, subject string, limit int) ([]RecordChange, error)
	// People returns everybody but the program itself, by name; those who are retired come last.
	People() ([]Person, error)
	// Revisions returns the revisions of a procedure, the latest entered first.
	Revisions(number string) ([]Procedure, error)
}

// RecordTx changes records. An update names the version that it leaves, which
// is one more than the record has: [Conflict] if it has another.
type RecordTx interface {
	// RecordRequested returns the change made by the request key; [NotFound]
	// if it is new.
	RecordRequested(key string) (RecordChange, error)
	AddRecordChange(RecordChange) error
	UpdatePerson(Person) error
	UpdatePlace(Place) error
	UpdateFeeder(Feeder) error
	// RetireProcedure writes until when the revision was good; nothing else of
	// a revision is ever written again.
	RetireProcedure(Procedure) error
	UpdateJob(Job) error
}

// Edit is what every change to a record has in common.
type Edit struct {
	Person     Code   // who makes it
	RequestKey string // the same for each repetition of one request
	Version    int    // of the record, as it was looked at; zero where it is entered
}

// Changes returns what was done to a record, the latest first.
func (l *Ledger) Changes(ctx context.Context, kind RecordKind, subject string) ([]RecordChange, error) {
	return l.store.Read(ctx).RecordChanges(kind, subject, mostLines)
}

// recordKeeper is how records of one kind are read and written.
type recordKeeper[T any] struct {
	kind   RecordKind
	name   func(T) string
	mark   func(*T) (subject string, version *int)
	read   func(Tx, string) (T, error)
	add    func(Tx, T) (T, error) // gives it its code or id
	update func(Tx, T) error
}

// recordDeed is one change of a record under way.
type recordDeed[T any] struct {
	Edit
	keeper  recordKeeper[T]
	deed    RecordDeed
	subject string // empty where it is entered
	wish    string // the digest of what is asked for
	// may checks that the person may do it at all.
	may func(Person) error
	// decide returns the record as it shall be, and what changes; nothing
	// changes if what is empty.
	decide func(tx Tx, before T, at time.Time) (after T, what []string, err error)
}

// changeRecord is the one way in which a record is entered and changed by a
// person: in one transaction it looks the request key up, reads the record,
// holds it against the version that was seen, decides, and keeps who changed
// what.
func changeRecord[T any](ctx context.Context, l *Ledger, d recordDeed[T]) (T, error) {
	var after T
	if err := d.check(); err != nil {
		return after, err
	}
	now := l.at()
	err := l.store.Write(ctx, func(tx Tx) error {
		done, err := tx.RecordRequested(d.RequestKey)
		if err == nil {
			after, err = d.again(tx, done)
			return err
		}
		if KindOf(err) != NotFound {
			return err
		}
		by, err := badge(tx, d.Person)
		if err != nil {
			return err
		}
		if err := d.may(by); err != nil {
			return err
		}
		after, err = d.write(tx, by.Code, now)
		return err
	})
	return after, err
}

func (d recordDeed[T]) check() error {
	if err := (Entry{Spool: "W", Person: d.Person, RequestKey: d.RequestKey}).check(); err != nil {
		return err
	}
	if d.deed == RecordEdited && d.Version < 1 {
		return Invalidf("version", "say which version of the %s you looked at", d.keeper.kind)
	}
	return nil
}

// again returns the record of a request that was sent twice.
func (d recordDeed[T]) again(tx Tx, done RecordChange) (T, error) {
	if d.keeper.kind != done.Kind || d.deed != done.Deed || d.wish != done.Request {
		var none T
		return none, Conflictf("request-key-used", "request key %q was used already, for something else (%s %s was %s): look at it, and use a new key", done.RequestKey, done.Kind, done.Subject, done.Deed)
	}
	return d.keeper.read(tx, done.Subject)
}

// write decides, and keeps the record and the line of its history.
func (d recordDeed[T]) write(tx Tx, by Code, at time.Time) (T, error) {
	before, err := d.before(tx)
	if err != nil {
		return before, err
	}
	after, what, err := d.decide(tx, before, at)
	if err != nil || len(what) == 0 {
		return after, err
	}
	_, was := d.keeper.mark(&before)
	_, version := d.keeper.mark(&after)
	*version = *was + 1
	if d.subject == "" {
		after, err = d.keeper.add(tx, after)
	} else {
		err = d.keeper.update(tx, after)
	}
	if err != nil {
		return after, err
	}
	return after, d.note(tx, after, by, at, what)
}

// note keeps the line of the history. Whoever is entered first entered
// themselves.
func (d recordDeed[T]) note(tx Tx, after T, by Code, at time.Time, what []string) error {
	subject, version := d.keeper.mark(&after)
	return tx.AddRecordChange(RecordChange{Kind: d.keeper.kind, Subject: subject, Deed: d.deed,
		Change: Change{Version: *version, Person: by, At: at, RequestKey: d.RequestKey, Request: d.wish, What: what}})
}

// before reads the record, if there is one yet, at the version that was seen.
func (d recordDeed[T]) before(tx Tx) (T, error) {
	var none T
	if d.subject == "" {
		return none, nil
	}
	record, err := d.keeper.read(tx, d.subject)
	if err != nil {
		return none, err
	}
	if _, has := d.keeper.mark(&record); d.Version == 0 || d.Version == *has {
		return record, nil
	}
	last, err := tx.RecordChanges(d.keeper.kind, d.subject, 1)
	if err != nil {
		return none, err
	}
	who := "somebody"
	if len(last) > 0 {
		who = last[0].PersonName + " at " + Stamp(last[0].At)
	}
	return none, Conflictf("record-changed", "%s was changed by %s, after you opened it: look at it again, then make your change", d.keeper.name(record), who)
}

// Difference is one field of a record in which two states differ.
type Difference struct{ Label, Before, After string }

// told writes differences as the lines of a history.
func toldDifferences(ds []Difference) []string {
	out := make([]string, len(ds))
	for i, d := range ds {
		out[i] = fmt.Sprintf("%s: %s", d.Label, orNothing(d.After))
		if d.Before != "" {
			out[i] += ", before " + d.Before
		}
	}
	return out
}

// differ keeps the fields whose texts differ.
func differ(fields ...Difference) (out []Difference) {
	for _, f := range fields {
		if f.Before != f.After {
			out = append(out, f)
		}
	}
	return out
}

// faultsError is all that is wrong with the fields as one error; nil if
// nothing is.
func faultsError(faults []FieldFault) error {
	if len(faults) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Code: "invalid-" + faults[0].Field, Detail: faults[0].Detail, Fields: faults}
}

// mostRecordText is how long a name or title of a record may be, in characters.
const mostRecordText = 120

// tidyAll trims the texts and says what of them cannot be shown.
func tidyAll(texts map[string]*string) (faults []FieldFault) {
	for _, name := range namesOf(texts) {
		text, err := tidy(name, *texts[name], mostRecordText)
		if err != nil {
			faults = append(faults, FieldFault{name, detail(err)})
			continue
		}
		if strings.ContainsAny(text, "\n\t") {
			faults = append(faults, FieldFault{name, "write it in one line"})
		}
		*texts[name] = text
	}
	return faults
}
