package main

import (
	"testing"

	"wirehold/inventory"
)

// TestTheCounterOfAJobWithTwoProceduresByKeyboard scans wire for the root and
// wire for the fill of one job: what fits one procedure alone is proposed for
// it, another is chosen by its number, and nothing goes out unasked.
func TestTheCounterOfAJobWithTwoProceduresByKeyboard(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	attendant := site.withRole(inventory.Attendant)[0]
	root, wrong := site.spoolOf(t, "Amber Plain 6"), site.spoolOf(t, "Cobalt Wren 14")

	b := tab(t, chrome, site, "/counter")
	b.scan(attendant.Code)
	b.scan("2216")
	b.says("which procedure is it for", "WPS-31 rev B", "WPS-11 rev C")

	b.scan(wrong)
	b.says("does not fit", "none of the job's procedures")
	if b.count(`form[action="/counter/issue"]`) != 0 {
		t.Error("a spool that fits no procedure can be issued from the page")
	}

	b.scan(root)
	b.says("checked against WPS-31 rev B", "proposed", "this spool fits that one alone")
	if b.count(`form[action="/counter/issue"] input[name=procedure]`) != 1 {
		t.Error("the form does not say which procedure the spool goes out under")
	}

	b.scan("wps-11") // typed: for the other, which it does not fit
	b.says("does not fit", "checked against WPS-11 rev C", "you chose it")
	if b.count(`form[action="/counter/issue"]`) != 0 {
		t.Error("a spool can be issued under a procedure that it does not fit")
	}

	b.scan("WPS-31 rev B")
	b.says("checked against WPS-31 rev B", "you chose it")
	b.typeInto(`form[action="/counter/issue"] [name=gross]`, "15.7 kg")
	b.enter()
	b.says("issued", string(root), "WPS-31 rev B")

	s, err := site.store.Catalog(t.Context()).Spool(root)
	if err != nil || !s.Out() || s.Procedure == 0 {
		t.Errorf("after all that: %+v, %v; want it out under a procedure", s, err)
	}
	site.movements(t)
}
