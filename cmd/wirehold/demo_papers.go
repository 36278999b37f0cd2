package main

import (
	"fmt"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// contracted is the wire of which lots with papers come on the last day, and
// contractJob the job whose contract demands them.
const contracted, contractJob = "Birch Lowland 12", "2212"

// contract is the invented job, welded as the girders are.
func (y *yard) contract() inventory.Job {
	j := y.jobs[0]
	j.Code, j.Number, j.Name = "", contractJob, "Lantern Lock stair: contract with papers"
	j.Certificate = fit.Certificate{Type: "3.1", Schedule: "H", LotClass: inventory.LotClasses([]string{"T3", "T4"})}
	j.Origin = fit.Origin{Clause: "clause 7.4", Melted: []string{"Eastmark"}, Made: []string{"Eastmark", "Southmark"}}
	return j
}

// lotsWithPapers enters the job and receives three lots: one that has all the
// job demands, one with a typical report and of another origin, and one that is
// to be used within two weeks. An older lot gets its papers late, misread once.
func (h *history) lotsWithPapers() error {
	h.clock = h.end
	job, err := h.ledger.AddJob(h.ctx, h.contract())
	if err != nil {
		return fmt.Errorf("job %s: %w", contractJob, err)
	}
	made := inventory.DayOf(h.end.AddDate(0, 0, -30))
	all := inventory.LotPapers{Type: "3.1", Schedule: "J", LotClass: "T4", Tested: inventory.DayOf(h.end.AddDate(0, 0, -24)), Melted: "Eastmark", Made: "Southmark",
		MadeOn: made, Expires: inventory.DayOf(h.end.AddDate(1, 0, -30)), Sealing: fit.VacuumFoil}
	typical, soon := all, all
	typical.Type, typical.Schedule, typical.LotClass, typical.Melted = "2.2", "G", "T1", "Westmark"
	soon.MadeOn, soon.Tested, soon.Expires = inventory.DayOf(h.end.AddDate(-1, 0, 12)), inventory.DayOf(h.end.AddDate(-1, 0, 14)), inventory.DayOf(h.end.AddDate(0, 0, 12))
	for n, p := range []inventory.LotPapers{all, typical, soon} {
		r := inventory.Receipt{Person: h.attendant().Code, RequestKey: fmt.Sprintf("demo-papers-%d", n), WireID: h.named(contracted).ID, LotNumber: fmt.Sprintf("B26-9%02d", 11+n*3),
			Certificate: fmt.Sprintf("MTC-%05d", 41900+n*7), Place: h.places[n].Code, Spools: 3, Papers: p}
		if _, _, err := h.ledger.Receive(h.ctx, r); err != nil {
			return fmt.Errorf("lot %s: %w", r.LotNumber, err)
		}
	}
	return h.latePapers(job)
}

// latePapers records the papers of a lot that came long ago, and corrects what
// was misread.
func (h *history) latePapers(job inventory.Job) error {
	check, err := h.ledger.CheckFit(h.ctx, h.store[h.named(contracted).ID][0].Code, job.Code, "")
	if err != nil {
		return err
	}
	change := inventory.PapersChange{LotID: check.Lot.ID, Person: h.attendant().Code, RequestKey: "demo-papers-late", Version: check.Lot.Version, Certificate: check.Lot.Certificate, Papers: check.Lot.Papers}
	change.Papers.Type, change.Papers.Schedule = "3.2", "I"
	lot, err := h.ledger.RecordPapers(h.ctx, change)
	if err != nil {
		return err
	}
	change.Version, change.RequestKey, change.Person, change.Papers.Type, change.Note = lot.Version, "demo-papers-right", h.engineer().Code, "3.1", "misread: no inspector signed it"
	_, err = h.ledger.RecordPapers(h.ctx, change)
	return err
}

// named returns the first wire of the trade name.
func (y *yard) named(tradeName string) inventory.Wire {
	for _, w := range y.wires {
		if w.TradeName == tradeName {
			return w
		}
	}
	return inventory.Wire{}
}
