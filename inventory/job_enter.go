package inventory

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// JobEntry is a job as somebody enters or edits it.
type JobEntry struct {
	Edit
	Of Job
}

// EnterJob enters a job and gives it a code.
func (l *Ledger) EnterJob(ctx context.Context, e JobEntry) (Job, error) {
	j, err := changeRecord(ctx, l, e.deed(l, RecordEntered, ""))
	return j, taken(err, "number", "there is a job of that number already")
}

// ChangeJob writes the job e.Of.Code as it is now. What was issued to it stays
// as it was checked.
func (l *Ledger) ChangeJob(ctx context.Context, e JobEntry) (Job, error) {
	j, err := changeRecord(ctx, l, e.deed(l, RecordEdited, string(e.Of.Code)))
	return j, taken(err, "number", "there is a job of that number already")
}

// CloseJob ends a job, so that no wire goes to it, or opens it again. What is
// out on it still comes back.
func (l *Ledger) CloseJob(ctx context.Context, e Edit, code Code, closed bool) (Job, error) {
	deed := RecordReopened
	if closed {
		deed = RecordClosed
	}
	return changeRecord(ctx, l, recordDeed[Job]{Edit: e, keeper: jobKeeper(), deed: deed, subject: string(code), wish: wish(deed, code), may: mayEnterJobs,
		decide: func(_ Tx, j Job, _ time.Time) (Job, []string, error) {
			if j.Closed == closed {
				return j, nil, nil
			}
			j.Closed = closed
			return j, []string{"job " + string(deed)}, nil
		}})
}

func mayEnterJobs(by Person) error {
	if by.Role.MayEnterWork() {
		return nil
	}
	return Forbiddenf("may-not-enter-jobs", "%s is a %s: the welding engineer or the owner enters, edits and closes jobs", by.Name, by.Role)
}

func (e JobEntry) deed(l *Ledger, deed RecordDeed, subject string) recordDeed[Job] {
	return recordDeed[Job]{Edit: e.Edit, keeper: jobKeeper(), deed: deed, subject: subject, may: mayEnterJobs,
		wish: wish(deed, subject, e.Version, e.Of.Demands(), e.Of.Procedures, e.Of.ProfileID),
		decide: func(tx Tx, before Job, _ time.Time) (Job, []string, error) {
			after := e.Of
			after.Code, after.Version, after.Closed = before.Code, before.Version, before.Closed
			faults := after.faults()
			is, wrong, err := after.procedureFaults(tx, before)
			if err == nil && !l.hasProfile(tx, after.ProfileID, &err) {
				faults = append(faults, FieldFault{"profile", "choose the body of rules it is welded under"})
			}
			if err != nil {
				return before, nil, err
			}
			if err := faultsError(append(faults, wrong...)); err != nil {
				return before, nil, err
			}
			what, err := before.changes(tx, after, is)
			return after, what, err
		}}
}

// hasProfile reports whether there is a rule profile of the id; what went wrong
// otherwise is put into err.
func (l *Ledger) hasProfile(tx Tx, id string, err *error) bool {
	_, errProfile := l.profile(tx, id)
	if KindOf(errProfile) == NotFound {
		return false
	}
	*err = errProfile
	return true
}

// changes says what is different in after, which is welded to the procedure.
func (j Job) changes(tx Tx, after Job, procedure string) ([]string, error) {
	if j.Version == 0 {
		return toldDifferences(beside(nil, append(after.Demands(), Difference{Label: "procedure", After: procedure}, Difference{Label: "rule profile", After: after.ProfileID}))), nil
	}
	was, _, err := j.procedureFaults(tx, j)
	if err != nil {
		return nil, err
	}
	return toldDifferences(append(beside(j.Demands(), after.Demands()),
		differ(Difference{"procedure", was, procedure}, Difference{"rule profile", j.ProfileID, after.ProfileID})...)), nil
}

const mostWelds = 20

// faults tidies the job and says what is wrong with each field.
func (j *Job) faults() []FieldFault {
	faults := tidyAll(map[string]*string{"number": &j.Number, "name": &j.Name, "origin_clause": &j.Origin.Clause, "certificate_lot_class": &j.Certificate.LotClass})
	fault := func(wrong bool, field, says string) {
		if wrong {
			faults = append(faults, FieldFault{field, says})
		}
	}
	fault(j.Number == "" || len([]rune(j.Number)) > longestNumber, "number", fmt.Sprintf("give the shop's number of the job, at most %d characters", longestNumber))
	_, err := ParseCode(j.Number)
	fault(err == nil, "number", "that reads like a code on a label: give the shop's own number")
	fault(!slices.Contains(Sites(), j.Site), "site", "choose whether it is welded in the shop or in the field")
	fault(j.Joint != "" && !slices.Contains(Joints(), j.Joint), "joint", "a joint is "+strings.Join(Joints(), ", "))
	fault(j.Wind < 0, "wind", "a wind is not below zero")
	fault(!j.WindKnown && j.Wind > 0, "wind", "a wind that is given is known")
	fault(len(j.Welds) > mostWelds, "welds", fmt.Sprintf("at most %d lines of weld", mostWelds))
	for _, w := range j.Welds {
		err := w.Validate()
		fault(err != nil, "welds", fmt.Sprint(err))
	}
	faults = append(faults, j.plateFaults()...)
	return append(faults, j.paperFaults()...)
}

// plateFaults checks the sides of the joint and takes the thicker one.
func (j *Job) plateFaults() (faults []FieldFault) {
	if len(j.BaseMetals) > 2 {
		faults = append(faults, FieldFault{"base_metals", "a joint has one or two sides"})
	}
	for i, m := range j.BaseMetals {
		m.Name = fit.MetalName(m.Name)
		if m.Name == "" || len([]rune(m.Name)) > mostRecordText || strings.ContainsAny(m.Name, "\n\t") {
			faults = append(faults, FieldFault{fmt.Sprintf("metal_%d", i+1), "name the metal as the drawing does: A36, 304L"})
		}
		if !slices.Contains(Families(), m.Family) {
			faults = append(faults, FieldFault{fmt.Sprintf("family_%d", i+1), "choose what kind of metal it is"})
		}
		j.BaseMetals[i] = m
	}
	if len(j.Plates) == 0 {
		return faults
	}
	if len(j.Plates) != len(j.BaseMetals) {
		faults = append(faults, FieldFault{"plates", "give a thickness for each base metal, or for none"})
	}
	j.Thickness = slices.Max(j.Plates)
	for i, p := range j.Plates {
		if p < 0 || p > mostPlate {
			faults = append(faults, FieldFault{fmt.Sprintf("thickness_%d", i+1), "no plate is as thick as that"})
		}
	}
	return faults
}

const mostPlate = 2000 * unit.Millimetre

// paperFaults checks what the contract demands of a lot's papers.
func (j *Job) paperFaults() (faults []FieldFault) {
	if c := j.Certificate; c.Type != "" && !slices.Contains(CertificateTypes(), c.Type) {
		faults = append(faults, FieldFault{"certificate_type", "a certificate is of type " + strings.Join(CertificateTypes(), ", ")})
	}
	if c := j.Certificate; c.Schedule != "" && !slices.Contains(Schedules(), c.Schedule) {
		faults = append(faults, FieldFault{"certificate_schedule", "a schedule is " + strings.Join(Schedules(), ", ")})
	}
	classes := LotClassList(strings.ToUpper(j.Certificate.LotClass))
	j.Certificate.LotClass = LotClasses(classes)
	for _, class := range classes {
		if !slices.Contains(LotClassNames(), class) {
			faults = append(faults, FieldFault{"certificate_lot_class", fmt.Sprintf("a lot class is one of %s, not %q", strings.Join(LotClassNames(), ", "), clip(class))})
		}
	}
	if j.Origin.Clause == "" && !j.Origin.IsZero() {
		faults = append(faults, FieldFault{"origin_clause", "name the clause of the contract that asks for it"})
	}
	if j.Origin.Clause != "" && len(j.Origin.Melted)+len(j.Origin.Made) == 0 {
		faults = append(faults, FieldFault{"origin_melted", "say which countries the clause allows, here or below"})
	}
	return faults
}

// CertificateTypes lists the kinds of certificate that a job may demand, the
// weakest first (EN 10204; testdata/code_rules.csv C086).
func CertificateTypes() []string { return []string{"2.1", "2.2", "3.1", "3.2"} }

// Schedules lists the testing schedules that a job may demand, the weakest
// first (AWS A5.01; testdata/code_rules.csv C055-C060).
func Schedules() []string { return []string{"F", "G", "H", "I", "J", "K"} }

func jobKeeper() recordKeeper[Job] {
	return recordKeeper[Job]{kind: JobRecord,
		name: func(j Job) string { return "job " + j.Number },
		mark: func(j *Job) (string, *int) { return string(j.Code), &j.Version },
		read: func(tx Tx, code string) (Job, error) { return tx.Job(Code(code)) },
		add: func(tx Tx, j Job) (_ Job, err error) {
			if j.Code, err = tx.NextCode(JobCode); err != nil {
				return j, err
			}
			return j, tx.AddJob(j)
		},
		update: Tx.UpdateJob}
}

// LotClasses joins lot classes as [fit.Certificate] keeps them: "T3|T4".
func LotClasses(classes []string) string { return strings.Join(classes, "|") }

// LotClassList is what [LotClasses] joined; nil for none.
func LotClassList(joined string) []string {
	if joined == "" {
		return nil
	}
	return strings.Split(joined, "|")
}
