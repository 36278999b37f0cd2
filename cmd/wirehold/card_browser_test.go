package main

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wirehold/inventory"
)

// TestDecodeCompareAndSearchByKeyboardAlone is a welder with a box, and an
// engineer who asks whether one wire may stand in for another.
func TestDecodeCompareAndSearchByKeyboardAlone(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)

	// Decode: the box is ready, a misread character is marked, and the next
	// scan replaces what stands there.
	b := tab(t, chrome, site, "/decode")
	b.scan("e71t-1x")
	b.says("Character 7", "^")
	if got := evaluate[string](b, `document.querySelector(".misread-at").firstChild.textContent`); got != "x" {
		t.Errorf("the character at fault is %q, want x", got)
	}
	b.scan("E71T-11")
	b.says("AWS A5.20", "self-shielded", "ISO 17632:2015 Table 5B")
	if got := evaluate[string](b, `document.querySelector("#decode-d").value`); got != "E71T-11" {
		t.Errorf("the second scan left %q in the box", got)
	}
	b.scan("75/25")
	b.says("It may mean as well", "common practice", "75 % Ar + 25 % CO2")
	b.tabTo(`.links a[href*="I3-ArHe-25"]`)
	b.enter()
	b.says("75 % Ar + 25 % He", "I3: inert", "rest CO2)")

	// Search: a name that asks which, then the answer.
	b.tabTo("#find-q")
	b.scan("flux core .035")
	b.says("which?", "FCAW-G", "FCAW-S", "Cobalt Wren 14")
	b.tabTo(`.meaning a[href*="FCAW-S"]`)
	b.enter()
	b.says("Cobalt Wren 14", "Cobalt Petrel 11")
	if b.count(".notice .links") != 0 {
		t.Errorf("it asks again:\n%s", b.text())
	}

	// A nickname of the shop.
	b.run(chromedp.Navigate(site.url+"/names"), chromedp.WaitReady("main"))
	b.tabTo(`form[action="/names"] [name=person]`)
	b.press(string(site.withRole(inventory.Engineer)[0].Code) + kb.Tab + "fence wire" + kb.Tab + "FCAW-S" + kb.Tab)
	b.enter()
	b.says("understood from now on", "fence wire")
	b.tabTo("#find-q")
	b.scan("fence wire .035")
	b.says("Cobalt Wren 14", "shop: entered by")

	// From the wire's page to the comparison.
	b.tabTo(`main a[href^="/wires/"]`)
	b.enter()
	b.says("Set the machine", "look out for")
	b.tabTo(`a[href^="/wires/compare"]`)
	b.enter()
	b.tabTo("#compare-a")
	b.press("Amber Kestrel 71M E71T-1M-H8 .045")
	b.tabTo("#compare-b")
	b.press("Cobalt Wren 14")
	b.tabTo("#compare-job")
	b.press("2201")
	b.tabTo(`form[action="/wires/compare"] button`)
	b.enter()
	b.says("Cobalt Wren 14 cannot stand in on job 2201", "rules are answered differently", "as if a spool of each lay sealed", "never lay a second pass")
	site.movements(t)
}
