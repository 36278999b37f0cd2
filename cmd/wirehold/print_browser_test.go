package main

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"golang.org/x/image/draw"

	"wirehold/inventory"
	"wirehold/labels"
	"wirehold/server/notify/ipp/ipptest"
)

// TestABoxBecomesAnIssuedSpoolInTheBrowser receives 48 spools by the GS1 code on
// their box, prints their labels on a real IPP printer (ippeveprinter), and
// issues one by a photo of its printed label.
func TestABoxBecomesAnIssuedSpoolInTheBrowser(t *testing.T) {
	ipptest.Run(t, func(t *testing.T, printer ipptest.Server) {
		site := newSite(t)
		chrome := newBrowser(t)
		attendant, engineer := site.withRole(inventory.Attendant)[0], site.withRole(inventory.Engineer)[0]
		if _, err := site.ledger.RetirePrinter(t.Context(), inventory.Edit{Person: engineer.Code, RequestKey: "retire"}, must(site.ledger.Printers(t.Context()))(t)[0].ID, true); err != nil {
			t.Fatal(err)
		}
		if _, err := site.ledger.EnterPrinter(t.Context(), inventory.PrinterEntry{Edit: inventory.Edit{Person: engineer.Code, RequestKey: "printer"},
			Of: inventory.Printer{Name: "Receiving desk", Address: printer.URL, DPI: 203, Size: "100x75", Format: "pdf"}}); err != nil {
			t.Fatal(err)
		}
		printing, err := newPrinting(&program{now: clock}, site.ledger, func(ctx context.Context) labels.Register { return site.store.Catalog(ctx) }, labels.Shop{}, quiet)
		if err != nil {
			t.Fatal(err)
		}

		b := tab(t, chrome, site, "/receiving?badge="+string(attendant.Code))
		b.scan("]C10109521234543213")
		b.scan("]C111260115" + "10A26-777")
		b.says("The box says", "09521234543213", "A26-777", "Choose the wire below")
		b.run(chromedp.SetValue(`select[name=wire]`, idOf(t, site, "Amber Kestrel 71M")))
		for _, field := range [][2]string{{"certificate", "MTC-777"}, {"spools", "48"}, {"place", "Shelf A1"}} {
			b.tabTo(".panel-form [name=" + field[0] + "]")
			b.press(field[1])
		}
		b.tabTo(".panel-form .form-end .button")
		b.enter()
		b.says("Lot A26-777 is in", "Print 48 labels")
		b.tabTo(".slip-print .button")
		b.enter()
		b.says("It is on its way to the printer", "and 45 more")
		if err := printing.Round(t.Context()); err != nil {
			t.Fatal(err)
		}
		b.run(chromedp.Reload(), chromedp.WaitReady("main"))
		b.says("sent to the printer")

		photo, spool := site.photoOfFirst(t, printer)
		b = tab(t, chrome, site, "/counter?badge="+string(attendant.Code))
		b.scan(site.jobNumbered(t, "2201").Code)
		b.run(chromedp.Click(".fold-summary"), chromedp.SetUploadFiles("#photo", []string{photo}))
		b.tabTo(`form[action="/scan/photo"] .button`)
		b.enter()
		b.says(string(spool), "A26-777")
		b.issues(t, spool)
		if s, err := site.store.Catalog(t.Context()).Spool(spool); err != nil || !s.Out() {
			t.Errorf("spool %s after all that: %+v, %v; want it out", spool, s, err)
		}
		site.movements(t)
	})
}

// issues hands out the spool that the counter shows.
func (b *browser) issues(t *testing.T, spool inventory.Code) {
	t.Helper()
	b.tabTo(`form[action="/counter/issue"] .button`)
	b.enter()
	b.says(string(spool))
}

// idOf returns the id of a wire by its trade name, as a form has it.
func idOf(t *testing.T, site *siteFixture, name string) string {
	t.Helper()
	return strconv.FormatInt(site.wireNamed(t, name).ID, 10)
}

// photoOfFirst takes a photo of the first label that the printer was sent, and
// says which spool an independent decoder (zbarimg) reads on it.
func (s *siteFixture) photoOfFirst(t *testing.T, printer ipptest.Server) (path string, spool inventory.Code) {
	t.Helper()
	documents := printer.Documents(t, ".pdf")
	if len(documents) != 1 {
		t.Fatalf("the printer kept %d documents, want 1", len(documents))
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "labels.pdf")
	if err := os.WriteFile(file, documents[0], 0o600); err != nil {
		t.Fatal(err)
	}
	page := filepath.Join(dir, "label")
	if out, err := exec.Command(tool(t, "pdftoppm"), "-r", "203", "-f", "1", "-l", "1", "-singlefile", "-png", file, page).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	read, err := exec.Command(tool(t, "zbarimg"), "-q", "--raw", "-Sdisable", "-Scode128.enable", page+".png").Output()
	if err != nil {
		t.Fatalf("zbarimg: %v", err)
	}
	if spool, err = inventory.ParseCode(strings.TrimSpace(string(read))); err != nil {
		t.Fatal(err)
	}
	return photographed(t, page+".png"), spool
}

// photographed lays a label on a grey table and returns the photo's path.
func photographed(t *testing.T, path string) string {
	t.Helper()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	label, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	table := image.NewGray(image.Rect(0, 0, 1400, 1100))
	draw.Draw(table, table.Bounds(), image.NewUniform(color.Gray{140}), image.Point{}, draw.Src)
	draw.BiLinear.Scale(table, image.Rect(100, 100, 1300, 1000), label, label.Bounds(), draw.Src, nil)
	var out bytes.Buffer
	if err := jpeg.Encode(&out, table, &jpeg.Options{Quality: 80}); err != nil {
		t.Fatal(err)
	}
	photo := filepath.Join(t.TempDir(), "label.jpg")
	if err := os.WriteFile(photo, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return photo
}
