package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"wirehold/inventory"
)

// door is one address behind which the program may be, may not be, and may be
// another time.
type door struct {
	*httptest.Server
	to atomic.Pointer[httputil.ReverseProxy]
}

func newDoor(t *testing.T) *door {
	t.Helper()
	d := &door{}
	d.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if to := d.to.Load(); to != nil {
			to.ServeHTTP(w, r)
			return
		}
		if conn, _, err := http.NewResponseController(w).Hijack(); err == nil {
			conn.Close() // as where no program listens
		}
	}))
	t.Cleanup(d.Close)
	return d
}

// open leads to the site, as its own name would.
func (d *door) open(t *testing.T, site *siteFixture) {
	t.Helper()
	at := must(url.Parse(site.url))(t)
	d.to.Store(&httputil.ReverseProxy{FlushInterval: -1, Rewrite: func(r *httputil.ProxyRequest) { r.SetURL(at) },
		ErrorHandler: func(http.ResponseWriter, *http.Request, error) {}})
}

// TestTheBoardAcrossARestart shuts the program down under an open board, which
// says so, and starts another on the same store: the board shows what was done
// meanwhile, is live again, and was never loaded again.
func TestTheBoardAcrossARestart(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	path, y := demoCopy(t)
	first, d := siteOn(t, path, y), newDoor(t)
	d.open(t, first)
	attendant, welder, job := first.withRole(inventory.Attendant)[0], first.withRole(inventory.Welder)[0], first.jobNumbered(t, "2201")
	spool := first.spoolOf(t, "Amber Kestrel 71M")

	behind := *first
	behind.url = d.URL
	board := tab(t, chrome, &behind, "/board")
	evaluate[bool](board, `window.sameDocument = true`)
	const row = `[...document.querySelectorAll(".board-row")].some(r => r.textContent.includes(%q))`
	const isLost = `!document.querySelector("[data-board-lost]").hidden`
	if evaluate[bool](board, row, spool) {
		t.Fatalf("spool %s is on the board before it is issued", spool)
	}

	d.to.Store(nil)
	d.CloseClientConnections()
	board.sees("that it is not live", isLost)
	sealed := inventory.Issue{Entry: inventory.Entry{Spool: spool, Person: attendant.Code, RequestKey: "while it was down"}, Job: job.Code, Holder: welder.Code, StaysSealed: true}
	must(first.ledger.Issue(t.Context(), sealed))(t)
	second := siteOn(t, path, y)
	d.open(t, second)
	board.sees("what was done meanwhile", row, spool)
	board.sees("that it is live again", "!("+isLost+")")

	d.to.Store(nil)
	d.CloseClientConnections()
	board.sees("that it is not live a second time", isLost)
	d.open(t, second)
	board.sees("that it is live again though nothing was done", "!("+isLost+")")
	if !evaluate[bool](board, `window.sameDocument === true`) {
		t.Error("the board was loaded again")
	}
}

// TestTheBoardWithoutScript shows every row and does not say that it is not
// live: the page loads itself again instead.
func TestTheBoardWithoutScript(t *testing.T) {
	t.Parallel()
	chrome, site := newBrowser(t), newSite(t)
	board := tab(t, chrome, site, "/board")
	rows := evaluate[int](board, `document.querySelectorAll(".board-row").length`)
	if _, err := chromedp.Call(board.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	board.run(chromedp.Navigate(site.url+"/board"), chromedp.WaitReady("main"))
	const shown = `[...document.querySelectorAll(%q)].filter(e => e.checkVisibility()).length`
	if got := evaluate[int](board, shown, ".board-row"); got != rows || rows == 0 {
		t.Errorf("the board without script shows %d rows, want %d", got, rows)
	}
	if got := evaluate[int](board, shown, "[data-board-lost]"); got != 0 {
		t.Error("the board without script says that it is not live, which it never was")
	}
	if got := evaluate[string](board, `document.querySelector("noscript meta[http-equiv=refresh]")?.content ?? ""`); got != fmt.Sprint(60) {
		t.Errorf("the board without script loads itself again after %q s, want 60", got)
	}
}
