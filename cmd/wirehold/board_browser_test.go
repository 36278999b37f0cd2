package main

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// sees waits until the script is true on the page, which nobody loads again.
func (b *browser) sees(what, script string, args ...any) {
	b.t.Helper()
	for range 800 {
		if evaluate[bool](b, script, args...) {
			return
		}
		b.run(chromedp.Sleep(25 * time.Millisecond)) // the browser is a process of its own: there is nothing to wait on
	}
	b.t.Fatalf("the page never shows %s:\n%s", what, b.text())
}

// TestTheBoardInABrowser issues a spool in one tab, and it appears in another
// without a reload; returned, it stays as open in the store, and scrapped it is
// gone.
func TestTheBoardInABrowser(t *testing.T) {
	t.Parallel()
	chrome, site := newBrowser(t), newSite(t)
	attendant, welder, job := site.withRole(inventory.Attendant)[0], site.withRole(inventory.Welder)[0], site.jobNumbered(t, "2201")
	spool := site.spoolOf(t, "Amber Kestrel 71M")
	row := fmt.Sprintf(`[...document.querySelectorAll(".board-row")].find(r => r.textContent.includes(%q))`, spool)

	board := tab(t, chrome, site, "/board")
	evaluate[bool](board, `window.sameDocument = true`)
	board.sees("that it is live", `document.querySelector("[data-board-lost]").hidden`)
	if evaluate[bool](board, "%s !== undefined", row) {
		t.Fatalf("spool %s is on the board before it is issued", spool)
	}

	counter := tab(t, chrome, site, "/counter")
	for _, code := range []inventory.Code{attendant.Code, job.Code, spool, welder.Code} {
		counter.scan(code)
	}
	counter.tabTo(`form[action="/counter/issue"] [name=gross]`)
	counter.press("15.7 kg")
	counter.enter()
	counter.says("issued")
	board.sees("the issued spool with who has it", `%s?.textContent.includes(%q)`, row, welder.Name)

	gross := unit.Grams(11_200)
	must(site.ledger.Return(t.Context(), inventory.Return{Entry: inventory.Entry{Spool: spool, Person: attendant.Code, RequestKey: "back"}, Place: site.places[0].Code, Gross: &gross}))(t)
	board.sees("that it is back, and open", `%s?.textContent.includes("in the store")`, row)
	must(site.ledger.Scrap(t.Context(), inventory.Entry{Spool: spool, Person: attendant.Code, RequestKey: "scrap"}, "dropped"))(t)
	board.sees("that it is gone", "%s === undefined", row)
	if !evaluate[bool](board, `window.sameDocument === true`) {
		t.Error("the board was loaded again")
	}

	board.phone()
	board.fitsThePhone("the board")
	board.run(chromedp.EmulateViewport(1920, 1080))
	if size := evaluate[float64](board, `parseFloat(getComputedStyle(document.querySelector(".board-left strong")).fontSize)`); size < 48 {
		t.Errorf("the time left is %.0f px on a screen of 1920, want 48 and more to be read at 4 m", size)
	}
	// 16 minutes of arc at 4 m on a 55 inch screen of 16 to 9, 1217.6 mm wide, by
	// capitals of 0.7 of the size: 26.6 mm, or 42 px of 1920.
	least := 4000 * math.Tan(16.0/60*math.Pi/180) / 0.7 * 1920 / 1217.6
	for _, decides := range []string{".board-word", ".board-left strong", ".board-out strong", ".board-spool .code", ".board-name", ".board-table td:last-child strong", ".board-count"} {
		if size := evaluate[float64](board, `Math.min(...[...document.querySelectorAll(%q)].map(e => parseFloat(getComputedStyle(e).fontSize)))`, decides); size < least {
			t.Errorf("%s is %.1f px on a screen of 1920, want %.1f and more to be read at 4 m", decides, size, least)
		}
	}
	if wide := evaluate[int](board, `document.documentElement.scrollWidth`); wide > 1920 {
		t.Errorf("the board is %d px wide on a screen of 1920", wide)
	}
}

// TestTheBoardOnAWall turns its pages by itself where nobody touches it, shows
// each spool on one of them, and the whole list to whoever takes the mouse.
func TestTheBoardOnAWall(t *testing.T) {
	t.Parallel()
	chrome, site := newBrowser(t), newSite(t)
	board := tab(t, chrome, site, "/board")
	board.run(chromedp.EmulateViewport(1920, 1080))
	all := evaluate[int](board, `document.querySelectorAll(".board-row").length`)
	evaluate[bool](board, `location.hash = "#wall", location.reload(), true`)
	board.sees("the wall", `Boolean(document.documentElement?.classList.contains("board-wall"))`)
	board.run(chromedp.EmulateViewport(1920, 600))
	board.sees("its first page", `Boolean(document.querySelector("[data-board-turn]")?.textContent.startsWith("1 to "))`)
	const shown = `[...document.querySelectorAll(".board-row:not([hidden])")]`
	if low := evaluate[float64](board, `Math.max(...%s.map(r => r.getBoundingClientRect().bottom))`, shown); low > 600 {
		t.Errorf("the last row of the page ends at %.0f px of 600", low)
	}
	first := evaluate[int](board, `%s.length`, shown)
	if first < 3 || first >= all {
		t.Fatalf("the first page has %d of %d rows, want some", first, all)
	}
	board.sees("its second page", `document.querySelector("[data-board-turn]").textContent.startsWith("%d to ")`, first+1)
	board.run(chromedp.MouseClickXY(60, 60)) // the clock
	board.sees("the whole list", `%s.length === %d && !document.documentElement.classList.contains("board-wall")`, shown, all)
}
