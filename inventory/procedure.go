package inventory

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// Procedure is one revision of a welding procedure (WPS) as the demands it
// makes of the wire. A zero field asks nothing; a nil Gas asks nothing and a
// zero *Gas asks for no gas. A revision is never changed: another one follows.
type Procedure struct {
	ID              int64
	Number          string
	Revision        string
	Title           string
	Processes       []fit.Process
	Classifications []string
	Diameters       []unit.Length
	Polarity        fit.Polarity
	Gas             *fit.Gas
	Passes          fit.Passes
	Positions       []fit.Position
	Tensile         unit.Stress
	Toughness       unit.Toughness
	Hydrogen        int // mL/100 g at most; zero asks nothing
	Prequalified    bool

	Matching       bool   // the strength must match the base metals, by the groups of AWS D1.1
	PassCount      int    // how many passes the joint takes, where it is more than one; zero is not stated
	IntermixReport string // the test report that proves mixed deposits; empty names none

	Qualified fit.Qualified // the plates and base metals that it is qualified for

	RetiredAt time.Time // since when no wire goes to it; zero while it is good
	Version   int       // counts entering and retiring, from 1
}

// Name is the procedure with its revision: "WPS-14 rev C".
func (p Procedure) Name() string { return p.Number + " rev " + p.Revision }

// Retired reports whether no wire goes to work welded to this revision.
func (p Procedure) Retired() bool { return !p.RetiredAt.IsZero() }

// ProcedureEntry is a revision as somebody enters it.
type ProcedureEntry struct {
	Edit
	Of   Procedure
	From int64 // the revision it was copied from; zero for a new procedure
}

// EnterProcedure enters a new procedure, or the next revision of one. What it
// was copied from stays as it is.
func (l *Ledger) EnterProcedure(ctx context.Context, e ProcedureEntry) (Procedure, error) {
	p, err := changeRecord(ctx, l, recordDeed[Procedure]{Edit: e.Edit, keeper: procedureKeeper(), deed: RecordEntered, may: mayEnterProcedures,
		wish:   wish(RecordEntered, e.From, e.Of.Demands(), e.Of.Number, e.Of.Revision, e.Of.Title),
		decide: func(tx Tx, _ Procedure, _ time.Time) (Procedure, []string, error) { return e.decide(tx) }})
	return p, taken(err, "revision", "there is such a revision already: give the next one")
}

func (e ProcedureEntry) decide(tx Tx) (Procedure, []string, error) {
	after := e.Of
	after.ID, after.Version, after.RetiredAt = 0, 0, time.Time{}
	if err := after.ready(); err != nil {
		return after, nil, err
	}
	if e.From == 0 {
		known, err := tx.Revisions(after.Number)
		if err == nil && len(known) > 0 {
			err = taken(&Error{Kind: Conflict, Code: "already-there"}, "number", "there is a procedure "+after.Number+" already: enter a new revision of it")
		}
		return after, append([]string{"revision: " + after.Revision}, toldDifferences(beside(nil, after.Demands()))...), err
	}
	from, err := tx.Procedure(e.From)
	if err != nil {
		return after, nil, err
	}
	if from.Number != after.Number {
		return after, nil, Invalidf("number", "a revision of %s keeps its number: enter another number as a new procedure", from.Number)
	}
	return after, append([]string{"revision: " + after.Revision + ", copied from " + from.Revision}, toldDifferences(from.Differences(after))...), nil
}

// RetireProcedure ends a revision: no job may be given it and no wire goes to
// work welded to it. It is kept, and may be reinstated.
func (l *Ledger) RetireProcedure(ctx context.Context, e Edit, id int64, retired bool) (Procedure, error) {
	deed := RecordReinstated
	if retired {
		deed = RecordRetired
	}
	return changeRecord(ctx, l, recordDeed[Procedure]{Edit: e, keeper: procedureKeeper(), deed: deed, subject: ProcedureSubject(id),
		wish: wish(deed, id), may: mayEnterProcedures,
		decide: func(_ Tx, p Procedure, at time.Time) (Procedure, []string, error) {
			if p.Retired() == retired {
				return p, nil, nil
			}
			p.RetiredAt = time.Time{}
			if retired {
				p.RetiredAt = at
			}
			return p, []string{"revision " + string(deed)}, nil
		}})
}

func mayEnterProcedures(by Person) error {
	if by.Role.MayEnterWork() {
		return nil
	}
	return Forbiddenf("may-not-enter-procedures", "%s is a %s: the welding engineer or the owner enters and retires procedures", by.Name, by.Role)
}

const longestNumber, mostClassifications, mostPasses = 40, 40, 99

// ready tidies the revision and says what is wrong with each field.
func (p *Procedure) ready() error {
	faults := tidyAll(map[string]*string{"number": &p.Number, "revision": &p.Revision, "title": &p.Title, "intermix_report": &p.IntermixReport})
	fault := func(wrong bool, field, says string) {
		if wrong {
			faults = append(faults, FieldFault{field, says})
		}
	}
	fault(p.Number == "" || len([]rune(p.Number)) > longestNumber, "number", fmt.Sprintf("give the procedure's number, at most %d characters: WPS-11", longestNumber))
	fault(p.Revision == "" || len([]rune(p.Revision)) > longestNumber, "revision", fmt.Sprintf("give the revision, at most %d characters: A", longestNumber))
	faults = append(faults, known("processes", p.Processes, fit.ParseProcess)...)
	faults = append(faults, known("positions", p.Positions, fit.ParsePosition)...)
	if p.Polarity != "" {
		faults = append(faults, known("polarity", []fit.Polarity{p.Polarity}, fit.ParsePolarity)...)
	}
	if p.Passes != "" {
		faults = append(faults, known("passes", []fit.Passes{p.Passes}, fit.ParsePasses)...)
	}
	fault(slices.ContainsFunc(p.Diameters, func(d unit.Length) bool { return d <= 0 || d > mostDiameter }), "diameters", "no wire is as thick as that")
	fault(p.Hydrogen < 0 || p.Hydrogen > 100, "hydrogen", "give whole mL/100 g, such as 8, or leave it empty")
	fault(p.PassCount < 0 || p.PassCount > mostPasses, "pass_count", fmt.Sprintf("a joint takes at most %d passes here", mostPasses))
	fault(p.PassCount == 1 && p.Passes == fit.MultiPass || p.PassCount > 1 && p.Passes == fit.SinglePass, "pass_count", "that is not what stands beside passes: mend one of the two")
	classes, wrong := canonicalClasses(p.Classifications)
	p.Classifications = classes
	return faultsError(append(append(faults, wrong...), qualifiedFaults(&p.Qualified)...))
}

const mostMetals = 40

// qualifiedFaults says what is wrong with what a procedure is qualified for, and
// writes each metal in its one spelling.
func qualifiedFaults(q *fit.Qualified) (faults []FieldFault) {
	for _, bound := range [...]struct {
		of    unit.Length
		field string
	}{{q.Least, "thickness_least"}, {q.Most, "thickness_most"}} {
		if bound.of < 0 || bound.of > mostPlate {
			faults = append(faults, FieldFault{bound.field, "no plate is as thick as that"})
		}
	}
	if q.Most > 0 && q.Least > q.Most {
		faults = append(faults, FieldFault{"thickness_most", "the thickest plate is thinner than the thinnest: mend one of the two"})
	}
	if len(q.Metals) > mostMetals {
		faults = append(faults, FieldFault{"base_metals", fmt.Sprintf("a procedure lists at most %d base metals here", mostMetals)})
	}
	for i, m := range q.Metals {
		exact, err := ParseMetal(m.String())
		if err == nil && (len([]rune(m.Name)) > mostRecordText || strings.ContainsAny(m.Name, "\n\t")) {
			err = Invalidf("base_metals", "write the name of the metal in one short line")
		}
		if err != nil {
			return append(faults, FieldFault{"base_metals", detail(err)})
		}
		q.Metals[i] = exact
	}
	return faults
}

// ParseMetal reads a base metal as a procedure lists it. The error is [Invalid]
// and says how one is written.
func ParseMetal(text string) (fit.BaseMetal, error) {
	if m, ok := fit.ParseMetal(text); ok {
		return m, nil
	}
	return fit.BaseMetal{}, Invalidf("base_metals", "%q is no base metal here: write its name with its kind, as A36 (carbon steel), a kind alone, or a group of AWS D1.1, as group II. The kinds are %s", clip(text), strings.Join(Families(), ", "))
}

// ProcedureProcesses lists the processes that a procedure may name, in the order
// in which they are offered.
func ProcedureProcesses() []fit.Process {
	return slices.DeleteFunc(TermProcesses(), func(p fit.Process) bool {
		_, ok := fit.ParseProcess(string(p))
		return !ok
	})
}

// known says which of the words stand for nothing.
func known[T ~string](field string, words []T, parse func(string) (T, bool)) (faults []FieldFault) {
	for _, w := range words {
		if exact, ok := parse(string(w)); !ok || exact != w {
			return []FieldFault{{field, fmt.Sprintf("%q is not one of the choices", clip(string(w)))}}
		}
	}
	return nil
}

// canonicalClasses reads classifications into their one spelling.
func canonicalClasses(typed []string) (classes []string, faults []FieldFault) {
	for _, text := range typed {
		d, err := filler.Decode(strings.TrimSpace(text))
		switch {
		case err != nil:
			faults = append(faults, FieldFault{"classifications", err.Error()})
		case slices.Contains(classes, d.Designation):
			faults = append(faults, FieldFault{"classifications", d.Designation + " stands twice"})
		default:
			classes = append(classes, d.Designation)
		}
	}
	if len(classes) > mostClassifications {
		faults = append(faults, FieldFault{"classifications", fmt.Sprintf("a procedure lists at most %d classifications here", mostClassifications)})
	}
	return classes, faults
}

// ProcedureSubject is the subject of a revision's [RecordChange]s.
func ProcedureSubject(id int64) string { return strconv.FormatInt(id, 10) }

func procedureKeeper() recordKeeper[Procedure] {
	return recordKeeper[Procedure]{kind: ProcedureRecord,
		name: Procedure.Name,
		mark: func(p *Procedure) (string, *int) { return ProcedureSubject(p.ID), &p.Version },
		read: func(tx Tx, id string) (Procedure, error) {
			n, err := strconv.ParseInt(id, 10, 64)
			if err != nil {
				return Procedure{}, err
			}
			return tx.Procedure(n)
		},
		add: func(tx Tx, p Procedure) (_ Procedure, err error) {
			p.ID, err = tx.AddProcedure(p)
			return p, err
		},
		update: Tx.RetireProcedure}
}
