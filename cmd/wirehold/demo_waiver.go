package main

import (
	"fmt"
	"slices"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// demoWaivers are the waivers that the yard has asked for on its last day: the
// first is granted, the second waits.
var demoWaivers = [...]struct{ asked, granted string }{
	{"the listed wire is short until Monday; this one ran sound on the test plate", "macro and bends of the test plate seen; this spool only"},
	{"the right size is on order; the sheet can be welded with this one", ""},
}

// askWaivers asks for a waiver of two sealed spools that one rule stops for a
// job, and grants the first for two weeks.
func (h *history) askWaivers() error {
	h.clock = h.end
	jobs := h.jobs
	for n, w := range demoWaivers {
		check, job, err := h.nearMiss(jobs)
		if err != nil {
			return err
		}
		jobs = jobs[slices.IndexFunc(jobs, func(j inventory.Job) bool { return j.Code == job })+1:]
		asked, err := h.ledger.AskWaiver(h.ctx, inventory.WaiverRequest{Spool: check.Spool.Code, Job: job, Procedure: check.Procedure.ID, Rules: check.Waivable,
			Person: h.withRole(inventory.Attendant)[n].Code, Reason: w.asked, RequestKey: fmt.Sprintf("demo-waiver-%d", n)})
		if err != nil {
			return err
		}
		if w.granted == "" {
			continue
		}
		_, err = h.ledger.GrantWaiver(h.ctx, inventory.WaiverDecision{ID: asked[0].ID, Person: h.engineer().Code, Reason: w.granted,
			Until: h.end.AddDate(0, 0, 14), RequestKey: fmt.Sprintf("demo-grant-%d", n)})
		if err != nil {
			return err
		}
	}
	return nil
}

// nearMiss finds the first job for which a sealed spool is stopped by one rule
// alone that may be waived.
func (h *history) nearMiss(jobs []inventory.Job) (inventory.Check, inventory.Code, error) {
	for _, job := range jobs {
		if job.Closed {
			continue
		}
		for _, wire := range h.wires {
			for _, s := range h.store[wire.ID] {
				if s.Opened() || s.Held != "" {
					continue
				}
				check, err := h.ledger.CheckFitUnder(h.ctx, s.Code, job.Code, job.Procedures[0], "")
				if err != nil {
					return check, "", err
				}
				if check.Verdict.Answer == fit.DoesNotFit && check.MayAsk() && len(check.Waivable) == 1 {
					return check, job.Code, nil
				}
				break // the next spool of the wire fares alike
			}
		}
	}
	return inventory.Check{}, "", fmt.Errorf("no spool is stopped by one waivable rule")
}
