package fit

import (
	"slices"
	"strings"

	"wirehold/inventory/filler"
)

// checkProcess: the wire's form and shielding must make it a wire for one of
// the procedure's processes.
func (c *comparison) checkProcess() Finding {
	e := c.process()
	wants := c.demand.Processes
	if len(wants) == 0 {
		return c.open(e.claim, topic("the process"))
	}
	demanded := c.procedure(list(wants))
	if e.conflict != nil {
		return disagree(demanded, e.claim, e.conflict)
	}
	if !e.known {
		return stop(demanded, e.claim, "Nobody says what kind of wire this is: read the box. The procedure is %s.", demanded.said())
	}
	for _, p := range wants {
		if slices.Contains(e.allowed, p) {
			return passUnless(e.doubt, demanded, e.claim, "This is wire for %s, as the procedure wants.", p)
		}
	}
	return stop(demanded, e.claim, "This is %s. The procedure is %s: take a wire for that.", e.claim.said(), demanded.said())
}

// process works out what the wire is for. Metal cored wire is not flux cored:
// it always needs gas. A cored rod (AWS A5.22 RxxxT1-5) is for GTAW.
func (c *comparison) process() evidence[Process] {
	form, shielding := c.form(), c.shielding()
	e := evidence[Process]{claim: form.claim, known: form.known, conflict: form.conflict}
	switch {
	case is(form, solid):
		e.allowed = []Process{GMAW, GTAW}
		_, e.doubt = form.admits(solid)
		e.claim.Text = "solid wire, for GMAW or GTAW"
	case is(form, metalCored):
		e.allowed = []Process{GMAWC}
		_, e.doubt = form.admits(metalCored)
		e.claim.Text = "metal cored wire, for " + string(GMAWC)
	case is(form, fluxCored) && c.isRod():
		e.allowed = []Process{GTAW}
		e.claim.Text = "flux cored rod, for GTAW"
	case is(form, fluxCored):
		c.fluxCored(&e, shielding)
	}
	return e
}

func (c *comparison) fluxCored(e *evidence[Process], shielding evidence[string]) {
	e.known, e.conflict = shielding.known, shielding.conflict
	text := "gas-shielded flux cored wire, FCAW-G"
	e.allowed = []Process{FCAWG}
	_, e.doubt = shielding.admits(external)
	if is(shielding, self) {
		text, e.allowed = "self-shielded flux cored wire, FCAW-S", []Process{FCAWS}
		_, e.doubt = shielding.admits(self)
	}
	form := e.claim
	e.claim = shielding.claim
	if !e.known {
		e.claim.Text = "flux cored wire, shielding not known"
		return
	}
	e.claim.Text = text
	if !strings.Contains(e.claim.Source, form.Source) {
		e.claim.Source += "; " + form.Source
	}
}

func (c *comparison) isRod() bool {
	return slices.ContainsFunc(c.named("process"), func(f filler.Fact) bool {
		return strengthOf(f) < byPractice && strings.HasPrefix(f.Value, "GTAW")
	})
}
