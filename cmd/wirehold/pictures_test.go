package main

import (
	"context"
	"flag"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"wirehold/inventory"
)

var pictures = flag.String("pictures", "", "take pictures of the pages into this folder")

// TestPictures takes the pages at phone, tablet and desktop size, light and
// dark, for a person to look at. It proves nothing by itself.
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("no -pictures folder was given")
	}
	if err := os.MkdirAll(*pictures, 0o755); err != nil {
		t.Fatal(err)
	}
	chrome, site := newBrowser(t), newSite(t)
	for _, job := range sweeps(site.ledger, quiet) {
		if err := job.Do(t.Context(), today); err != nil {
			t.Fatal(err)
		}
	}
	pages := site.pictured(t)
	sizes := []struct {
		name          string
		width, height int64
	}{{"phone", 390, 844}, {"tablet", 820, 1180}, {"desktop", 1366, 768}}
	for _, theme := range []string{"light", "dark"} {
		for _, size := range sizes {
			b := tab(t, chrome, site, "/counter")
			b.run(chromedp.EmulateViewport(size.width, size.height), prefers(theme))
			for name, path := range pages {
				b.run(chromedp.Navigate(site.url+path), chromedp.WaitReady(chromedp.CSS("main")))
				picture, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatalf("%s: %v", path, err)
				}
				file := filepath.Join(*pictures, fmt.Sprintf("%s_%s_%s.png", name, size.name, theme))
				if err := os.WriteFile(file, picture, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// prefers makes the browser's person prefer a light or dark page.
func prefers(theme string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}},
		})
		return err
	})
}

// pictured returns the addresses of the pages to look at, by name.
func (s *siteFixture) pictured(t *testing.T) map[string]string {
	t.Helper()
	badge, job := s.withRole(inventory.Attendant)[0].Code, s.jobNumbered(t, "2201")
	wrong, right := s.spoolOf(t, "Cobalt Wren 14"), s.spoolOf(t, "Amber Kestrel 71M")
	out, err := s.store.Catalog(t.Context()).Spools(inventory.Query{State: string(inventory.StateIssued), Limit: 1})
	if err != nil || len(out) == 0 {
		t.Fatalf("no spool is out: %v", err)
	}
	counter := func(spool inventory.Code) string {
		return fmt.Sprintf("/counter?badge=%s&job=%s&spool=%s", badge, job.Code, spool)
	}
	wire := func(name string) string { return fmt.Sprintf("/wires/%d", s.wireNamed(t, name).ID) }
	return map[string]string{
		"counter_empty": "/counter", "counter_refused": counter(wrong), "counter_granted": counter(right), "counter_out": counter(out[0].Code),
		"returns":   fmt.Sprintf("/returns?badge=%s&spool=%s", badge, out[0].Code),
		"receiving": "/receiving", "spools": "/spools", "spool": "/spools/" + string(out[0].Code), "wires": "/wires", "wire": "/wires/3",
		"lots": "/lots", "lot": "/lots/3", "jobs": "/jobs", "job": "/jobs/" + string(job.Code), "alerts": "/alerts", "alert": "/alerts/1", "messages": "/messages", "told": "/told", "webhook": "/webhooks/1", "shifts": "/shop", "waivers": "/waivers", "waiver_asked": "/waivers/2", "profiles": "/profiles", "profile": "/profiles/bridge", "places": "/places", "board": "/board", "schedule": "/schedule", "schedule_job": "/schedule/exposure-sweep",
		"decode": "/decode?d=E71T-12MJ-H4", "decode_gas": "/decode?d=82+Ar+18+CO2", "decode_unnamed": "/decode?d=75/25", "decode_size": "/decode?d=1.1+mm",
		"decode_package": "/decode?d=12+in+spool", "decode_fault": "/decode?d=E71T-1X", "decode_dual": "/decode?d=E309LT1-1/4", "decode_empty": "/decode", "names": "/names",
		"wire_new": "/wires/new", "wire_edit": wire(disagreeing) + "/edit", "wire_disputed": wire(disagreeing), "wire_card": wire("Cobalt Wren 14") + "/card",
		"wire_memory": wire(readFromBox), "receiving_box": strings.Replace(wire(readFromBox), "/wires/", "/receiving?wire=", 1), "import": "/wires/import",
		"compare_empty": "/wires/compare", "compare": strings.Replace(wire("Amber Kestrel 71M"), "/wires/", "/wires/compare?a=", 1) + strings.Replace(wire("Cobalt Wren 14"), "/wires/", "&b=", 1) + "&job=2201",
		"label": "/labels/" + string(out[0].Code) + "?kind=slip&size=100x150", "labels_of_lot": "/lots/3/labels",
		"spools_disputed": "/spools?q=" + url.QueryEscape(disagreeing), "find_asks": "/find?q=flux+core+.035",
		"problem": "/problems/does-not-fit", "fail": "/spools/W2222-2", "find": "/find?q=kestrel",
	}
}
