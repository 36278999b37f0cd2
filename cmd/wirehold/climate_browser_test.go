package main

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// TestBrowserDrawsTheClimate: the vendored plots work under the policy that
// lets nothing inline in, name every line in words, and fit a phone.
func TestBrowserDrawsTheClimate(t *testing.T) {
	t.Parallel()
	chrome, site := newBrowser(t), newSite(t)
	b := tab(t, chrome, site, "/climate/"+string(site.placeNamed("Dry cabinet 1"))+"?range=month")
	b.run(chromedp.WaitReady(`[data-plot="temperature"] canvas`))
	if lines := evaluate[string](b, `[...document.querySelectorAll(".u-series .u-label")].map(e => e.textContent).join()`); lines != "When,logger D1 highest,logger D1 lowest,logger D3 highest,logger D3 lowest,When,logger D1 warmest,logger D1 coldest,logger D1 dew point,logger D3 warmest,logger D3 coldest,logger D3 dew point" {
		t.Errorf("the plots name the lines %q", lines)
	}
	if drawn := evaluate[bool](b, `[...document.querySelectorAll(".uplot canvas")].every(c => c.getContext("2d").getImageData(0, 0, c.width, c.height).data.some(v => v > 0))`); !drawn {
		t.Error("a plot is empty")
	}
	b.phone()
	b.fitsThePhone("the climate of a place")
}
