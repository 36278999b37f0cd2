package main

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// TestTheMenuOnAPhone opens a group by keyboard and goes to one of its pages,
// on a screen that the menu must fit.
func TestTheMenuOnAPhone(t *testing.T) {
	t.Parallel()
	chrome, site := newBrowser(t), newSite(t)
	b := tab(t, chrome, site, "/counter")
	b.phone()
	b.fitsThePhone("the counter")
	wide := evaluate[string](b, `[...document.querySelectorAll(".menu-name, .menu-link")].filter(e => e.getBoundingClientRect().right > 390 || e.getBoundingClientRect().height < 48).map(e => e.textContent).join()`)
	if wide != "" {
		t.Errorf("off the screen or too small for a glove: %s", wide)
	}

	b.tabTo(".menu-group:nth-of-type(2) > summary")
	b.press(kb.Enter)
	b.tabTo(`.menu-group:nth-of-type(4) > summary`)
	b.press(kb.Enter)
	if open := b.count(".menu-group[open]"); open != 1 {
		t.Errorf("%d groups are open, want one", open)
	}
	b.tabTo(`.menu-item[href="/alerts"]`)
	b.enter()
	if here := evaluate[string](b, `document.querySelector(".menu-link[aria-current]").textContent`); here != "Alerts" {
		t.Errorf("the menu says %q is open, want Alerts", here)
	}
}
