package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"

	"wirehold/inventory"
)

// phone makes the tab a phone's screen.
func (b *browser) phone() {
	b.t.Helper()
	b.run(chromedp.EmulateViewport(390, 844), chromedp.Reload(), chromedp.WaitReady("main"))
}

// fitsThePhone checks that nothing stands out of the screen to the side, and
// that what a glove must hit is 48 px and more.
func (b *browser) fitsThePhone(what string) {
	b.t.Helper()
	if width := evaluate[int](b, `document.documentElement.scrollWidth`); width > 390 {
		b.t.Errorf("%s: the page is %d px wide on a screen of 390", what, width)
	}
	small := evaluate[string](b, `[...document.querySelectorAll("main .tick-box, main .tick-says, main button, main .tag-clear, main .feeder-name")]
		.filter(e => { const r = e.getBoundingClientRect(); return r.height > 0 && r.height < 48 && !e.closest(".find") })
		.map(e => e.className + " " + e.getBoundingClientRect().height).join("; ")`)
	if small != "" {
		b.t.Errorf("%s: too small for a glove: %s", what, small)
	}
}

// TestTheLoadCheckOnAPhone scans feeder and spool at the machine: the wrong
// feeder, then the right one, on a phone's screen.
func TestTheLoadCheckOnAPhone(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	welder, spool := site.withRole(inventory.Welder)[0], site.issued(t, "Cobalt Wren 14", "2206")
	wrong, right := site.feederNamed(t, "Feeder 4"), site.feederNamed(t, "Feeder 6")
	site.unload(t, right, welder)

	b := tab(t, chrome, site, "/load")
	b.phone()
	b.says("On the feeders now", wrong.Name)
	b.fitsThePhone("the list of feeders")

	b.scan(spool) // in any order
	b.says("Scan the feeder")
	b.scan(wrong.Code)
	b.says("do not load", "polarity", "gives only DCEP", "Demanded", "Offered")
	if b.count(".tick-box") != 0 || b.count(`form[action="/load"][method=post]`) != 0 {
		t.Error("a spool that must not be loaded can be")
	}
	if !b.stops("polarity") {
		t.Errorf("the refusal does not name polarity:\n%s", b.text())
	}
	b.fitsThePhone("do not load")

	b.scan(right.Code)
	b.scan(welder.Code)
	b.says("load", "electrode negative (DCEN).", "Leave the gas off", "Stick-out 10-13 mm", "Drag the gun, never push it.")
	if word := evaluate[string](b, `document.querySelector(".verdict-word").textContent`); word != "LOAD" {
		t.Errorf("the word is %q, want LOAD", word)
	}
	b.fitsThePhone("load")

	b.tabTo(".ticks-end .button")
	b.enter()
	b.says("not confirmed", "look at the machine")
	n := b.count(".tick-box")
	for i := range n {
		b.tabTo(fmt.Sprintf(".tick:nth-of-type(%d) .tick-box", i+1))
		b.press(" ")
	}
	b.tabTo(".ticks-end .button")
	b.enter()
	b.says("Spool "+string(spool)+" is on "+right.Name, "On "+right.Name+" now")
	b.fitsThePhone("loaded")
	if s, err := site.store.Catalog(t.Context()).Spool(spool); err != nil || s.Feeder != right.Code {
		t.Errorf("after all that: %+v, %v; want it on %s", s, err, right.Name)
	}

	b.tabTo(`form[action="/load/unload"] button`)
	b.enter()
	b.says("is off the feeder", "Nothing is on it")
	site.movements(t)
}
