package inventory

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
)

// WireImport is a table of wires that somebody asks to be entered.
type WireImport struct {
	Person     Code
	RequestKey string // the same for each repetition of one request
	File       string // its name as uploaded; empty if it had none
	SHA256     string // of the file, in hexadecimal
	Rows       []ImportRow
}

// ImportRecord is one import that was done: all of its wires are in the store.
type ImportRecord struct {
	ID         int64
	RequestKey string
	File       string
	SHA256     string
	Person     Code
	At         time.Time
	Wires      int
}

// ImportReader looks up what imports need.
type ImportReader interface {
	// WiresAfter returns up to limit wires with an id after the one given, in
	// order: what tells one wire from another, and no more.
	WiresAfter(id int64, limit int) ([]Wire, error)
	// WiresMark returns a text that is another once a wire was added or changed.
	WiresMark() (string, error)
	// ImportRequested returns the import made by the request key; [NotFound]
	// if it is new.
	ImportRequested(key string) (ImportRecord, error)
}

// ImportTx keeps imports.
type ImportTx interface {
	// AddImport enters the wires of lines at their first version, each with the
	// change of the same place, and keeps that they came by r. It gives the
	// wires their ids.
	AddImport(r ImportRecord, lines []ImportLine, changes []WireChange) (id int64, err error)
}

// PlanWires says what a table would enter if the person imported it, or all
// that is wrong with it, and changes nothing. [Forbidden] if the person enters
// no wires.
func (l *Ledger) PlanWires(ctx context.Context, person Code, rows []ImportRow) (plan ImportPlan, err error) {
	err = l.store.Snapshot(ctx, func(r Reader) error {
		from, err := importBasisOf(r, person)
		if err != nil {
			return err
		}
		plan, err = from.plan(r, rows)
		return err
	})
	return plan, err
}

// importBasis is what a plan rests on besides the table.
type importBasis struct {
	by        Person
	nicknames []Nickname
	wires     string // the mark of the wires in the store
}

// importBasisOf returns the basis of a plan for the person as it is now.
func importBasisOf(r Reader, person Code) (b importBasis, err error) {
	if b.by, err = badge(r, person); err != nil {
		return b, err
	}
	if !b.by.Role.MayEnterWires() {
		return b, Forbiddenf("may-not-enter-wires", "%s is a %s: the welding engineer, the owner or the buyer enters wires", b.by.Name, b.by.Role)
	}
	if b.nicknames, err = r.Nicknames(); err != nil {
		return b, err
	}
	b.wires, err = r.WiresMark()
	return b, err
}

func (b importBasis) same(c importBasis) bool {
	return b.by == c.by && b.wires == c.wires && slices.Equal(b.nicknames, c.nicknames)
}

func (b importBasis) plan(r Reader, rows []ImportRow) (ImportPlan, error) {
	return planImport(rows, NewVocabulary(b.nicknames)).against(r, b.by)
}

// importDraft is an import as it will be written.
type importDraft struct {
	from    importBasis
	plan    ImportPlan
	changes []WireChange // one a line of the plan
}

// draft works out what an import writes. Nothing of it is known to be so any
// more once its basis has changed.
func (in WireImport) draft(r Reader, from importBasis, now time.Time) (importDraft, error) {
	d := importDraft{from: from}
	var err error
	if d.plan, err = from.plan(r, in.Rows); err != nil {
		return d, err
	}
	for _, line := range d.plan.Lines {
		d.changes = append(d.changes, WireChange{Deed: WireEntered,
			Change: Change{Version: 1, Person: in.Person, At: now, RequestKey: fmt.Sprintf("%s line %d", in.RequestKey, line.Line), What: in.history(line)}})
	}
	return d, d.plan.Err()
}

// ImportWires enters every wire of a table, or none. A table with faults is
// [Invalid] with code "import-faults", and the plan says what they are. A
// request key that was used before returns what it entered then; used for
// another file it is a [Conflict].
//
// All is worked out before the transaction, which the counters wait for, and
// again within it only where somebody changed what it rests on meanwhile.
func (l *Ledger) ImportWires(ctx context.Context, in WireImport) (done ImportRecord, plan ImportPlan, err error) {
	if err := in.check(); err != nil {
		return done, plan, err
	}
	now := l.at()
	var d importDraft
	err = l.store.Snapshot(ctx, func(r Reader) (err error) {
		if done, err = in.before(r); err != nil || done.ID != 0 {
			return err
		}
		from, err := importBasisOf(r, in.Person)
		if err != nil {
			return err
		}
		d, err = in.draft(r, from, now)
		return err
	})
	if err == nil && done.ID == 0 {
		err = l.store.Write(ctx, func(tx Tx) (err error) {
			done, d, err = in.enter(tx, d, now)
			return err
		})
	}
	if err != nil {
		return ImportRecord{}, d.plan, err
	}
	return done, d.plan, nil
}

// before returns the import that the request key made before; one without an
// id if it is new.
func (in WireImport) before(r ImportReader) (ImportRecord, error) {
	done, err := r.ImportRequested(in.RequestKey)
	switch KindOf(err) {
	case NotFound:
		return ImportRecord{}, nil
	case "":
		return done, done.repeated(in)
	}
	return done, err
}

// enter writes the draft, worked out anew if its basis is no longer what it was.
func (in WireImport) enter(tx Tx, d importDraft, now time.Time) (ImportRecord, importDraft, error) {
	done, err := in.before(tx)
	if err != nil || done.ID != 0 {
		return done, importDraft{}, err
	}
	from, err := importBasisOf(tx, in.Person)
	if err != nil {
		return done, d, err
	}
	if !from.same(d.from) {
		if d, err = in.draft(tx, from, now); err != nil {
			return done, d, err
		}
	}
	done = ImportRecord{RequestKey: in.RequestKey, File: in.File, SHA256: in.SHA256, Person: in.Person, At: now, Wires: len(d.plan.Lines)}
	done.ID, err = tx.AddImport(done, d.plan.Lines, d.changes)
	return done, d, err
}

// history is what the wire's own history says of its import.
func (in WireImport) history(line ImportLine) []string {
	file := in.File
	if file == "" {
		file = "a table"
	}
	what := []string{fmt.Sprintf("imported from line %d of %s", line.Line, file)}
	if line.Typed != "" {
		what = append(what, "classifications as typed: "+line.Typed)
	}
	return append(what, differences(Wire{}, line.Wire)...)
}

func (in WireImport) check() error {
	switch {
	case in.Person.Kind() != PersonCode:
		return Invalidf("person", "scan a badge: %q is not one", in.Person)
	case strings.TrimSpace(in.RequestKey) == "" || len(in.RequestKey) > 100:
		return Invalidf("request_key", "give a key of 1 to 100 characters that is the same each time this request is repeated")
	case len(in.File) > 255:
		return Invalidf("file", "the file's name is longer than 255 characters: shorten it")
	}
	return nil
}

// repeated says whether a request key may be met again: for the same file it
// is the same request, sent twice.
func (r ImportRecord) repeated(in WireImport) error {
	if r.SHA256 != in.SHA256 {
		return Conflictf("request-key-used", "request key %q was used already, for import %d: use a new one", in.RequestKey, r.ID)
	}
	return nil
}
