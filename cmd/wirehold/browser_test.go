package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wirehold/inventory"
)

// tool returns the path of a program that the fuller tests need. Without it
// the test is skipped, unless WIREHOLD_TOOLS=required says that it must be
// there.
func tool(t *testing.T, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("WIREHOLD_TOOLS") == "required" {
		t.Fatalf("%s is not installed, and WIREHOLD_TOOLS=required", names[0])
	}
	t.Skipf("%s is not installed", names[0])
	return ""
}

// browser is one counter: a browser tab that is used by keyboard alone.
type browser struct {
	t    *testing.T
	ctx  context.Context
	site *siteFixture
}

// newBrowser starts a browser for the test, with more options if any are given;
// tab opens counters in it.
func newBrowser(t *testing.T, more ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(tool(t, "chromium", "chromium-browser", "google-chrome")), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), append(options, more...)...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatalf("start browser: %v", err)
	}
	return ctx
}

func tab(t *testing.T, ctx context.Context, site *siteFixture, path string) *browser {
	t.Helper()
	ctx, cancel := chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900)); err != nil {
		t.Fatalf("open tab: %v", err)
	}
	ctx, cancel = context.WithTimeout(ctx, 90*time.Second)
	t.Cleanup(cancel)
	b := &browser{t, ctx, site}
	b.run(chromedp.Navigate(site.url+path), chromedp.WaitReady("main"))
	return b
}

func (b *browser) run(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.t.Fatalf("browser: %v\npage: %s", err, b.text())
	}
}

// text returns what the page says.
func (b *browser) text() string {
	text, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`document.querySelector("main")?.innerText ?? ""`))
	if err != nil {
		return err.Error()
	}
	return text
}

// evaluate returns the value of a script.
func evaluate[T any](b *browser, script string, args ...any) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](fmt.Sprintf(script, args...)))
	if err != nil {
		b.t.Fatalf("browser: %v\npage: %s", err, b.text())
	}
	return v
}

// press sends keys to whatever has the focus.
func (b *browser) press(keys string) {
	b.t.Helper()
	b.run(chromedp.KeyEvent(keys))
}

// enter presses Enter and waits for the page that follows.
func (b *browser) enter() {
	b.t.Helper()
	evaluate[bool](b, `window.before = true`)
	b.press(kb.Enter)
	for range 400 {
		next, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](`window.before === undefined && document.readyState === "complete"`))
		if err == nil && next {
			return
		}
		b.run(chromedp.Sleep(25 * time.Millisecond)) // the browser is a process of its own: there is nothing to wait on
	}
	b.t.Fatalf("no page follows Enter\npage: %s", b.text())
}

// scan is what a scanner does: it types the code into whatever has the focus
// and ends with Enter.
func (b *browser) scan(code any) {
	b.t.Helper()
	b.press(fmt.Sprint(code))
	b.enter()
}

// tabTo presses Tab until an element that matches has the focus.
func (b *browser) tabTo(selector string) {
	b.t.Helper()
	for range 80 {
		if evaluate[bool](b, `document.activeElement.matches(%q)`, selector) {
			return
		}
		b.press(kb.Tab)
	}
	b.t.Fatalf("Tab never reaches %s\npage: %s", selector, b.text())
}

// says checks that the page holds every text, in any case.
func (b *browser) says(texts ...string) {
	b.t.Helper()
	page := strings.ToLower(b.text())
	for _, text := range texts {
		if !strings.Contains(page, strings.ToLower(text)) {
			b.t.Errorf("the page lacks %q:\n%s", text, page)
		}
	}
}

// count returns how many elements match.
func (b *browser) count(selector string) int {
	b.t.Helper()
	return evaluate[int](b, `document.querySelectorAll(%q).length`, selector)
}

// stops reports whether the page shows the rule among those that stop.
func (b *browser) stops(rule string) bool {
	b.t.Helper()
	return evaluate[bool](b, `[...document.querySelectorAll(".finding-stop .finding-rule")].some(e => e.textContent.toLowerCase() === %q)`, rule)
}

// TestTheCounterByKeyboardAlone is the main job, as people do it.
func TestTheCounterByKeyboardAlone(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	attendants, welder := site.withRole(inventory.Attendant), site.withRole(inventory.Welder)[0]
	job := site.jobNumbered(t, "2201")
	wrong, right := site.spoolOf(t, "Cobalt Wren 14"), site.spoolOf(t, "Amber Kestrel 71M")

	first := tab(t, chrome, site, "/counter")
	// In any order: spool, badge, job.
	first.scan(strings.ToLower(string(wrong)))
	first.scan(attendants[0].Code)
	first.scan(job.Code)
	first.says("does not fit", "never lay a second pass", "Demanded", "Offered", "WPS-11 rev C", "AWS A5.20")
	for _, rule := range []string{"passes", "gas", "polarity", "process"} {
		if !first.stops(rule) {
			t.Errorf("the refusal does not name %s:\n%s", rule, first.text())
		}
	}
	if first.count(`form[action="/counter/issue"]`) != 0 {
		t.Error("a refused spool can be issued from the page")
	}

	// A misread code keeps what was scanned.
	first.scan("W2222-2")
	first.says("check character", attendants[0].Name, job.Number)

	first.scan(right)
	first.says("fits", string(right))
	first.scan(welder.Code) // a second badge is the welder who takes it
	first.says(welder.Name)
	first.tabTo(`form[action="/counter/issue"] [name=gross]`)
	first.press("15.7")
	first.enter()
	first.says("kg") // a weight without a unit is asked for again
	first.tabTo(`form[action="/counter/issue"] [name=gross]`)
	first.press(kb.End + strings.Repeat(kb.Backspace, 10) + "15.7 kg")
	first.enter()
	first.says("issued", string(right), welder.Name)

	// The first counter's spool is refused at a second one, with who has it.
	second := tab(t, chrome, site, "/counter")
	second.scan(attendants[1].Code)
	second.scan(job.Code)
	second.scan(right)
	second.says("already out", welder.Name+" has it")

	// It comes back by weight.
	second.tabTo(`a[href="/returns"]`)
	second.enter()
	second.scan(attendants[1].Code)
	second.scan(right)
	second.tabTo(`form[action="/returns"] [name=gross]`)
	second.press("11.2 kg")
	second.tabTo(`form[action="/returns"] [name=place]`)
	second.press("Dry")
	second.tabTo(`form[action="/returns"] button`)
	second.enter()
	second.says("4.5 kg", job.Number)

	s, err := site.store.Catalog(t.Context()).SpoolLine(right)
	if err != nil || s.Out() || s.Net != 10_500 || s.PlaceName != "Dry cabinet 1" {
		t.Errorf("after all that: %+v, %v; want it in dry cabinet 1 with 10.5 kg", s, err)
	}
	site.movements(t)
}
