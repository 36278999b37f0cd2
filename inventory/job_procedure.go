package inventory

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"wirehold/inventory/fit"
)

// mostProcedures is how many procedures a job may be welded to.
const mostProcedures = 10

// under returns the one of the job's procedures that a check is made against:
// the named one, or its only one where none is named, which is zero. Where
// neither is known the error is [Invalid], of the field procedure, and lists
// the choices.
func (j Job) under(r Reader, named int64) (int64, error) {
	if named == 0 && len(j.Procedures) == 1 {
		return j.Procedures[0], nil
	}
	if slices.Contains(j.Procedures, named) {
		return named, nil
	}
	choices, err := r.ProceduresWith(j.Procedures)
	if err != nil {
		return 0, err
	}
	return 0, whichProcedure(j, choices)
}

// whichProcedure asks which of the job's procedures is meant.
func whichProcedure(j Job, choices []Procedure) error {
	detail := fmt.Sprintf("say which procedure of job %s it is for: %s", j.Number, procedureNames(choices))
	return &Error{Kind: Invalid, Code: "which-procedure", Detail: detail, Fields: []FieldFault{{"procedure", detail}}}
}

// procedureNames writes procedures as a choice: "WPS-11 rev C or WPS-13 rev A".
func procedureNames(ps []Procedure) string {
	names := make([]string, len(ps))
	for i, p := range ps {
		names[i] = p.Name()
	}
	if last := len(names) - 1; last > 0 {
		return strings.Join(names[:last], ", ") + " or " + names[last]
	}
	return strings.Join(names, "")
}

// FindProcedure returns the one of the job's procedures that text names: by its
// number, its number and revision, or its id. Empty text is zero, which stands
// for a job's only procedure. The error is [Invalid], of the field procedure,
// where it is none of them.
func (l *Ledger) FindProcedure(ctx context.Context, job Code, text string) (int64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	r := l.store.Read(ctx)
	j, err := r.Job(job)
	if err != nil {
		return 0, err
	}
	choices, err := r.ProceduresWith(j.Procedures)
	if err != nil {
		return 0, err
	}
	if id, ok := ProcedureNamed(choices, text); ok {
		return id, nil
	}
	return 0, whichProcedure(j, choices)
}

// ProcedureNamed returns the procedure that text names among the choices: by its
// number, its number and revision, or its id.
func ProcedureNamed(choices []Procedure, text string) (id int64, ok bool) {
	text = strings.Join(strings.Fields(text), " ")
	for _, p := range choices {
		if strings.EqualFold(text, p.Number) || strings.EqualFold(text, p.Name()) || text == strconv.FormatInt(p.ID, 10) {
			return p.ID, true
		}
	}
	return 0, false
}

// ProcedureCheck is a fit check against one of a job's procedures.
type ProcedureCheck struct {
	Procedure Procedure
	Verdict   fit.Verdict // no findings where the procedure bars all wire
	Bar       error       // an [*Error]: why nothing goes out under it; nil if something may
}

// Fits reports whether nothing stops the spool.
func (c ProcedureCheck) Fits() bool { return c.Bar == nil && c.Verdict.Answer != fit.DoesNotFit }

// CheckProcedures compares the spool with each procedure of the job, in their
// order, as [Ledger.CheckFit] does.
func (l *Ledger) CheckProcedures(ctx context.Context, spool, job, feeder Code) (out []ProcedureCheck, err error) {
	err = l.store.Snapshot(ctx, func(r Reader) error {
		out = nil
		s, err := r.Spool(spool)
		if err != nil {
			return err
		}
		j, err := r.Job(job)
		if err != nil {
			return err
		}
		choices, err := r.ProceduresWith(j.Procedures)
		if err != nil {
			return err
		}
		at := l.at()
		for _, p := range choices {
			c, err := l.check(r, s, job, p.ID, feeder, at)
			if KindOf(err) != "" && KindOf(err) != Refused {
				return err
			}
			out = append(out, ProcedureCheck{p, c.Verdict, err})
		}
		return nil
	})
	return out, err
}

// OnlyFit returns the one procedure that the spool fits; false if it fits none,
// or several.
func OnlyFit(cs []ProcedureCheck) (Procedure, bool) {
	var only []Procedure
	for _, c := range cs {
		if c.Fits() {
			only = append(only, c.Procedure)
		}
	}
	if len(only) != 1 {
		return Procedure{}, false
	}
	return only[0], true
}

// procedureFaults says what is wrong with each procedure of the job that is
// entered, and returns their names. A retired revision is only kept, never
// taken.
func (j Job) procedureFaults(tx Tx, before Job) (names string, faults []FieldFault, err error) {
	if len(j.Procedures) == 0 || len(j.Procedures) > mostProcedures {
		return "", []FieldFault{{ProcedureField(0), fmt.Sprintf("choose the procedure it is welded to, at most %d", mostProcedures)}}, nil
	}
	known, err := tx.ProceduresWith(j.Procedures)
	if err != nil {
		return "", nil, err
	}
	all, numbers := make([]string, len(j.Procedures)), map[string]bool{}
	for i, id := range j.Procedures {
		at := slices.IndexFunc(known, func(p Procedure) bool { return p.ID == id })
		if at < 0 {
			faults = append(faults, FieldFault{ProcedureField(i), "there is no such procedure: choose one that is entered"})
			continue
		}
		p := known[at]
		switch {
		case numbers[p.Number]:
			faults = append(faults, FieldFault{ProcedureField(i), p.Number + " stands twice: a job is welded to one revision of it, named once"})
		case p.Retired() && !slices.Contains(before.Procedures, p.ID):
			faults = append(faults, FieldFault{ProcedureField(i), p.Name() + " is retired: choose a revision that is good"})
		}
		numbers[p.Number], all[i] = true, p.Name()
	}
	return strings.Join(all, ", then "), faults, nil
}

// ProcedureField names the nth procedure of a job, from 0, in a [FieldFault].
func ProcedureField(n int) string { return "procedure_" + strconv.Itoa(n+1) }

// issuedUnder returns the procedure that a spool which is out for j is held to:
// the one it was issued under, while j is welded to it, or j's only one. Where
// that is not known, bar says so.
func (j Job) issuedUnder(r Reader, s Spool) (id int64, bar, err error) {
	switch {
	case slices.Contains(j.Procedures, s.Procedure):
		return s.Procedure, nil, nil
	case len(j.Procedures) == 1:
		return j.Procedures[0], nil, nil
	}
	choices, err := r.ProceduresWith(j.Procedures)
	if err != nil {
		return 0, nil, err
	}
	return 0, Conflictf("procedure-changed", "job %s is welded to %s, and spool %s was issued under none of them: return it and have it issued again", j.Number, procedureNames(choices), s.Code), nil
}
