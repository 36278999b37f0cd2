package main

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wirehold/inventory"
)

// TestAWaiverByTwoPeopleByKeyboard is a spool that is refused, a waiver that
// the attendant asks for and the engineer grants, and the issue with the waiver
// on its slip.
func TestAWaiverByTwoPeopleByKeyboard(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	attendant, engineer := site.withRole(inventory.Attendant)[0], site.withRole(inventory.Engineer)[0]
	job := site.jobNumbered(t, "2201")
	spool := newAttempt(t, inventory.Attendant).waivable // the same yard: no waiver stands for it there

	counter := tab(t, chrome, site, "/counter")
	counter.scan(attendant.Code)
	counter.scan(job.Code)
	counter.scan(spool)
	counter.says("does not fit", "stops: classification")
	if counter.count(`form[action="/counter/issue"]`) != 0 {
		t.Error("a refused spool can be issued from the page")
	}
	counter.tabTo(`a[href^="/waivers/new"]`)
	counter.enter()
	counter.says("ask the welding engineer", "does not fit", "E71T-1M or E71T-12M")
	counter.typeInto(`form[action="/waivers"] [name=reason]`, "ran sound on the test plate")
	counter.enter()
	counter.says("the welding engineer is asked", attendant.Name, "ran sound on the test plate")

	// The attendant cannot grant it; the engineer can.
	const grant = `form[action$="/grant"] `
	counter.typeInto(grant+"[name=person]", string(attendant.Code))
	counter.typeInto(grant+"[name=reason]", "I think so")
	counter.typeInto(grant+"[name=until]", "12012026"+kb.Tab+"1200PM")
	counter.enter()
	counter.says("the welding engineer decides about a waiver")
	desk := tab(t, chrome, site, "/waivers")
	desk.says("asked for", string(spool))
	desk.tabTo(`a[href="/waivers/3"]`)
	desk.enter()
	desk.says("as things are now", "does not fit", "The procedure lists")
	desk.typeInto(grant+"[name=person]", string(engineer.Code))
	desk.typeInto(grant+"[name=reason]", "bend test seen, this spool only")
	desk.typeInto(grant+"[name=until]", "12012026"+kb.Tab+"1200PM")
	desk.enter()
	desk.says("the waiver is granted", "standing", "2026-12-01 12:00 UTC", "fits with cautions")

	counter.run(chromedp.Navigate(site.url + "/counter"))
	counter.scan(attendant.Code)
	counter.scan(job.Code)
	counter.scan(spool)
	counter.says("fits with cautions", "Waived by "+engineer.Name)
	counter.typeInto(`form[action="/counter/issue"] [name=gross]`, "15.7 kg")
	counter.enter()
	counter.says("issued", "waiver 3, granted by "+engineer.Name+" until 2026-12-01 12:00 UTC: bend test seen, this spool only (asked by "+attendant.Name+")")
	site.movements(t)
}

// typeInto moves to a field by keyboard and types.
func (b *browser) typeInto(selector, keys string) {
	b.t.Helper()
	b.tabTo(selector)
	b.press(keys)
}
