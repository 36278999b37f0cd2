package inventory

import (
	"context"
	"fmt"
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
}

// ImportTx keeps imports.
type ImportTx interface {
	// ImportRequested returns the import made by the request key; [NotFound]
	// if it is new.
	ImportRequested(key string) (ImportRecord, error)
	// AddImport keeps that the wires of lines, entered before, came by r.
	AddImport(r ImportRecord, lines []ImportLine) (id int64, err error)
}

// PlanWires says what a table would enter if the person imported it, or all
// that is wrong with it, and changes nothing. [Forbidden] if the person enters
// no wires.
func (l *Ledger) PlanWires(ctx context.Context, person Code, rows []ImportRow) (ImportPlan, error) {
	return planFor(l.store.Read(ctx), person, rows)
}

func planFor(r Reader, person Code, rows []ImportRow) (ImportPlan, error) {
	by, err := badge(r, person)
	if err != nil {
		return ImportPlan{}, err
	}
	if !by.Role.MayEnterWires() {
		return ImportPlan{}, Forbiddenf("may-not-enter-wires", "%s is a %s: the welding engineer, the owner or the buyer enters wires", by.Name, by.Role)
	}
	nicknames, err := r.Nicknames()
	if err != nil {
		return ImportPlan{}, err
	}
	return planImport(rows, NewVocabulary(nicknames)).against(r, by)
}

// ImportWires enters every wire of a table, or none. A table with faults is
// [Invalid] with code "import-faults", and the plan says what they are. A
// request key that was used before returns what it entered then; used for
// another file it is a [Conflict].
func (l *Ledger) ImportWires(ctx context.Context, in WireImport) (ImportRecord, ImportPlan, error) {
	if err := in.check(); err != nil {
		return ImportRecord{}, ImportPlan{}, err
	}
	now := l.at()
	var done ImportRecord
	var plan ImportPlan
	err := l.store.Write(ctx, func(tx Tx) error {
		before, err := tx.ImportRequested(in.RequestKey)
		if err == nil {
			done = before
			return before.repeated(in)
		}
		if KindOf(err) != NotFound {
			return err
		}
		if plan, err = planFor(tx, in.Person, in.Rows); err != nil {
			return err
		}
		if err := plan.Err(); err != nil {
			return err
		}
		done, err = in.enter(tx, plan, now)
		return err
	})
	if err != nil {
		return ImportRecord{}, plan, err
	}
	return done, plan, nil
}

// enter writes the wires, who entered them, and that they came by this import.
func (in WireImport) enter(tx Tx, plan ImportPlan, now time.Time) (ImportRecord, error) {
	done := ImportRecord{RequestKey: in.RequestKey, File: in.File, SHA256: in.SHA256, Person: in.Person, At: now, Wires: len(plan.Lines)}
	for i := range plan.Lines {
		line := &plan.Lines[i]
		line.Wire.Version = 1
		id, err := tx.AddWire(line.Wire)
		if err != nil {
			return done, fmt.Errorf("line %d: %w", line.Line, err)
		}
		line.Wire.ID = id
		err = tx.AddWireChange(WireChange{WireID: id, Version: 1, Person: in.Person, At: now, RequestKey: fmt.Sprintf("%s line %d", in.RequestKey, line.Line),
			Deed: WireEntered, What: in.history(*line)})
		if err != nil {
			return done, fmt.Errorf("line %d: keep who entered it: %w", line.Line, err)
		}
	}
	var err error
	done.ID, err = tx.AddImport(done, plan.Lines)
	return done, err
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
