package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wirehold/inventory"
)

// The same two wires as CSV and XLSX, and the CSV with three faults.
const (
	importCSV    = "../../testdata/import_wires.csv"
	importXLSX   = "../../testdata/import_wires.xlsx"
	importFaulty = "../../testdata/import_wires_faulty.csv"
)

// wireCount returns how many wires the site has.
func (s *siteFixture) wireCount(t testing.TB) int {
	t.Helper()
	wires, err := s.store.Read(t.Context()).WiresAfter(0, 10_000)
	if err != nil {
		t.Fatal(err)
	}
	return len(wires)
}

func readFile(t testing.TB, path string) string {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(content)
}

func TestImportByCommand(t *testing.T) {
	t.Parallel()
	path, y := demoCopy(t)
	s := siteOn(t, path, y)
	before := s.wireCount(t)
	buyer, welder := string(s.withRole(inventory.Buyer)[0].Code), string(s.withRole(inventory.Welder)[0].Code)
	broken := filepath.Join(t.TempDir(), "broken.xlsx")
	if err := os.WriteFile(broken, []byte("PK\x03\x04 and no more"), 0o600); err != nil {
		t.Fatal(err)
	}
	steps := []struct {
		name  string
		args  []string
		fails string // in the error; empty if it succeeds
		says  []string
		wires int
	}{
		{"a dry run of faults", []string{"--dry-run", "--person", buyer, importFaulty}, "said already", []string{
			`line 2, column "Size" (D): ".045" has no unit`, `line 3, column "Class" (C): classification "E71X-1C"`, `line 4, column "Net (kg)" (E)`, "3 faults in 3 rows"}, 0},
		{"an import of faults", []string{"--person", buyer, importFaulty}, "said already", []string{"3 faults in 3 rows"}, 0},
		{"a dry run", []string{"--dry-run", "--person", buyer, importXLSX}, "", []string{`XLSX, sheet "Wires"`, `(typed "e71t-1c h8")`, "3 wires can be entered"}, 0},
		{"a welder", []string{"--person", welder, importCSV}, "the welding engineer", nil, 0},
		{"no badge", []string{"--person", "W22222", importCSV}, "--person", nil, 0},
		{"no file", []string{"--person", buyer, "nowhere.csv"}, "nowhere.csv", nil, 0},
		{"a broken workbook", []string{"--person", buyer, broken}, "no XLSX workbook that can be read", nil, 0},
		{"an import", []string{"--person", buyer, importXLSX}, "", []string{"3 wires can be entered", "3 entered"}, 3},
		{"the same file again", []string{"--person", buyer, importXLSX}, "", []string{"was imported before"}, 3},
		{"the same wires from another file", []string{"--person", buyer, importCSV}, "said already", []string{"in the store is the same", "3 faults in 3 rows"}, 3},
	}
	for _, tt := range steps {
		out, err := command(t, append([]string{"import", "--db", path}, tt.args...)...)
		if (err == nil) != (tt.fails == "") || err != nil && !strings.Contains(err.Error(), tt.fails) {
			t.Errorf("%s: import %v: error %v, want %q", tt.name, tt.args, err, tt.fails)
		}
		for _, says := range tt.says {
			if !strings.Contains(out, says) {
				t.Errorf("%s: import %v lacks %q:\n%s", tt.name, tt.args, says, out)
			}
		}
		if got := s.wireCount(t) - before; got != tt.wires {
			t.Errorf("%s: %d wires were entered, want %d", tt.name, got, tt.wires)
		}
	}
}

func TestImportOfALongTableSaysHowFarItIs(t *testing.T) {
	t.Parallel()
	path, y := demoCopy(t)
	table := filepath.Join(t.TempDir(), "long.csv")
	var b strings.Builder
	b.WriteString("Maker,Product,Class,Size (in),Net (kg),Tare (g)\n")
	for i := range inventory.MostImportRows {
		fmt.Fprintf(&b, "Maker Dune,Dune Test %d,E71T-11,.045,15,700\n", i)
	}
	if err := os.WriteFile(table, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errOut bytes.Buffer
	buyer := y.withRole(inventory.Buyer)[0].Code
	err := run(t.Context(), []string{"import", "--db", path, "--person", string(buyer), table}, os.Getenv, &out, &errOut, clock)
	if err != nil || !strings.Contains(out.String(), "5000 entered") || !strings.Contains(errOut.String(), "5001 rows read") || !strings.Contains(errOut.String(), "5000 rows checked") {
		t.Errorf("import of 5000 wires: %v, progress %q", err, errOut.String())
	}
}

func TestImportByAPI(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	before := s.wireCount(t)
	engineer, welder := string(s.withRole(inventory.Engineer)[0].Code), string(s.withRole(inventory.Welder)[0].Code)
	sound, faulty, book := readFile(t, importCSV), readFile(t, importFaulty), readFile(t, importXLSX)
	ask := func(values ...string) string {
		q := url.Values{}
		for i := 0; i < len(values); i += 2 {
			q.Set(values[i], values[i+1])
		}
		return "/api/v1/wires/import?" + q.Encode()
	}
	steps := []struct {
		name, path, body string
		status           int
		holds            []string
		wires            int
	}{
		{"a dry run is what is done unless told", ask("person", engineer), sound, 200, []string{`"dry_run":true`, `"count":3`, `"typed":"e71t-1c h8"`, `"classifications":["E71T-1C-H8"]`, `"format":"CSV, separated by semicolons"`}, 0},
		{"a dry run of a workbook", ask("person", engineer, "dry_run", "true"), book, 200, []string{`"count":3`, `XLSX, sheet \"Wires\"`}, 0},
		{"a dry run of faults", ask("person", engineer), faulty, 200, []string{`"count":0`, `"line":3,"column":"Class","letter":"C","typed":"E71X-1C"`}, 0},
		{"an import of faults", ask("person", engineer, "dry_run", "false", "request_key", "f"), faulty, 422, []string{"/problems/import-faults", `"pointer":"#/line/3/C"`, "3 faults in 3 rows"}, 0},
		{"a welder", ask("person", welder, "dry_run", "false", "request_key", "w"), sound, 403, []string{"/problems/may-not-enter-wires"}, 0},
		{"nobody", ask("dry_run", "false", "request_key", "w"), sound, 422, []string{"person"}, 0},
		{"no key", ask("person", engineer, "dry_run", "false"), sound, 422, []string{"#/request_key"}, 0},
		{"a picture", ask("person", engineer), "\x89PNG\r\n\x1a\n\x00", 422, []string{"#/file", "neither CSV nor XLSX"}, 0},
		{"nothing", ask("person", engineer), "", 400, []string{"/problems/unreadable"}, 0},
		{"more than 5 MB", ask("person", engineer), strings.Repeat("a", inventory.MostImportBytes+1), 422, []string{"#/file", "larger than 5 MB"}, 0},
		{"far more than 5 MB", ask("person", engineer), strings.Repeat("a", 2*inventory.MostImportBytes), 413, []string{"/problems/body-too-large"}, 0},
		{"an import", ask("person", engineer, "dry_run", "false", "request_key", "k", "file", "list.xlsx"), book, 200, []string{`"import_id":1`, `"count":3`, `"dry_run":false`}, 3},
		{"the same request again", ask("person", engineer, "dry_run", "false", "request_key", "k", "file", "list.xlsx"), book, 200, []string{`"import_id":1`, `"count":3`}, 3},
		{"its key for another table", ask("person", engineer, "dry_run", "false", "request_key", "k"), sound, 409, []string{"/problems/request-key-used"}, 3},
		{"what is there by now", ask("person", engineer), sound, 200, []string{"in the store is the same", `"count":0`}, 3},
	}
	for _, tt := range steps {
		status, media, body := s.do(t, "POST", tt.path, "text/csv", tt.body)
		if status != tt.status || !strings.Contains(media, "json") || !json.Valid([]byte(body)) {
			t.Errorf("%s: POST %s: %d %s, want %d\n%.2000s", tt.name, tt.path, status, media, tt.status, body)
		}
		for _, want := range tt.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the answer lacks %q:\n%.3000s", tt.name, want, body)
			}
		}
		if got := s.wireCount(t) - before; got != tt.wires {
			t.Errorf("%s: %d wires were entered, want %d", tt.name, got, tt.wires)
		}
	}
	_, _, openapi := s.do(t, "GET", "/api/openapi.json", "", "")
	for _, want := range []string{`/api/v1/wires/import`, `"text/csv"`, `spreadsheetml.sheet`} {
		if !strings.Contains(openapi, want) {
			t.Errorf("the API's description lacks %q", want)
		}
	}
	if status := s.crossSite(t, "/wires/import/enter"); status != 403 {
		t.Errorf("POST /wires/import/enter from another site: status %d, want 403", status)
	}
}

// TestImportInTheBrowser is the whole way by keyboard: a table with faults, the
// mended one, and its wires in the store.
func TestImportInTheBrowser(t *testing.T) {
	t.Parallel()
	chrome := newBrowser(t)
	site := newSite(t)
	before := site.wireCount(t)
	engineer := site.withRole(inventory.Engineer)[0]
	choose := func(b *browser, path string) {
		t.Helper()
		whole, err := filepath.Abs(path)
		if err != nil {
			t.Fatal(err)
		}
		b.run(chromedp.SetUploadFiles(`input[type=file]`, []string{whole}))
	}

	b := tab(t, chrome, site, "/wires")
	b.tabTo(`a[href="/wires/import"]`)
	b.enter()
	b.tabTo(`[name=person]`)
	b.press(string(engineer.Code))
	choose(b, importFaulty)
	b.tabTo(`form[action="/wires/import"] button`)
	b.enter()
	b.says("3 faults in 3 rows", "has no unit", `"E71X-1C"`, "Net (kg)", "nothing is entered until all are mended")
	if b.count(`form[action="/wires/import/enter"]`) != 0 {
		t.Error("a table with faults can be imported from the page")
	}

	// The badge is still there; the browser forgets the file.
	choose(b, importCSV)
	b.tabTo(`form[action="/wires/import"] button`)
	b.enter()
	b.says("3 wires can be entered", "import_wires.csv", "typed e71t-1c h8", "Nothing is changed yet")
	if got := site.wireCount(t); got != before {
		t.Errorf("the dry run entered %d wires", got-before)
	}
	b.tabTo(`form[action="/wires/import/enter"] button`)
	b.says("Import 3 wires")
	b.enter()
	b.says("3 wires are in", engineer.Name, "Birch Reed 1")
	if got := site.wireCount(t); got != before+3 {
		t.Errorf("%d wires were entered, want 3", got-before)
	}
	b.tabTo(`.table a[href^="/wires/"]`)
	b.press(kb.Enter)
	b.run(chromedp.WaitVisible(`.counts`))
	b.says("Birch Reed 1", "E71T-1C-H8", "Reed sheet rev 2")
}
