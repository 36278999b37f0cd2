package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"
)

// mayImport is the whole list of imports within the module: what each package
// may import of ours, tests apart. "+" stands for the package and all below it.
var mayImport = map[string][]string{
	"wirehold/cmd/wirehold":              {"wirehold/+"},
	"wirehold/server":                    {"wirehold/inventory", "wirehold/server/api", "wirehold/server/pages", "wirehold/server/schedule", "wirehold/server/live"},
	"wirehold/server/api":                {"wirehold/inventory", "wirehold/inventory/exposure", "wirehold/inventory/spreadsheet", "wirehold/inventory/filler", "wirehold/inventory/fit", "wirehold/inventory/unit", "wirehold/labels", "wirehold/server/problem", "wirehold/server/auth"},
	"wirehold/server/pages":              {"wirehold/inventory", "wirehold/inventory/spreadsheet", "wirehold/inventory/filler", "wirehold/inventory/fit", "wirehold/inventory/exposure", "wirehold/inventory/unit", "wirehold/labels", "wirehold/web", "wirehold/server/problem", "wirehold/server/auth"},
	"wirehold/server/problem":            {"wirehold/inventory", "wirehold/inventory/fit"},
	"wirehold/server/notify/ipp":         {},
	"wirehold/server/notify/ipp/ipptest": {},
	"wirehold/server/notify":             {"wirehold/inventory", "wirehold/server/notify/ipp"},
	"wirehold/server/notify/smtptest":    {}, // of tests alone
	"wirehold/server/schedule":           {"wirehold/inventory"},
	"wirehold/server/live":               {"wirehold/inventory"},
	"wirehold/labels":                    {"wirehold/inventory", "wirehold/inventory/unit", "wirehold/inventory/filler"},
	"wirehold/inventory":                 {"wirehold/inventory/filler", "wirehold/inventory/fit", "wirehold/inventory/exposure", "wirehold/inventory/reorder", "wirehold/inventory/unit"},
	"wirehold/inventory/store":           {"wirehold/inventory", "wirehold/inventory/exposure", "wirehold/inventory/filler", "wirehold/inventory/fit", "wirehold/inventory/unit", "wirehold/migrations"},
	"wirehold/inventory/filler":          {"wirehold/inventory/unit"},
	"wirehold/inventory/fit":             {"wirehold/inventory/filler", "wirehold/inventory/unit"},
	"wirehold/inventory/exposure":        {"wirehold/inventory/unit"},
	"wirehold/inventory/reorder":         {"wirehold/inventory/unit"},
	"wirehold/inventory/unit":            {},
	"wirehold/inventory/spreadsheet":     {"wirehold/inventory"},
	"wirehold/migrations":                {},
	"wirehold/web":                       {},
}

// mayNotReach is what a package must not depend on, however far down, and why.
var mayNotReach = []struct {
	pkg       string
	forbidden []string
	why       string
}{
	{"wirehold/inventory", []string{"net/http", "html/template", "encoding/json", "database/sql", "gorm.io/gorm", "os"}, "the domain knows no HTTP, HTML, JSON, SQL or environment"},
	{"wirehold/inventory/fit", []string{"net/http", "html/template", "encoding/json", "database/sql", "gorm.io/gorm", "os"}, "it is pure"},
	{"wirehold/inventory/filler", []string{"net/http", "html/template", "encoding/json", "database/sql", "gorm.io/gorm", "os"}, "it is pure"},
	{"wirehold/inventory/exposure", []string{"net/http", "database/sql", "os"}, "it is pure"},
	{"wirehold/inventory/reorder", []string{"net/http", "database/sql", "os"}, "it is pure"},
	{"wirehold/labels", []string{"gorm.io/gorm", "database/sql", "net/http"}, "a label knows no HTTP and no SQL"},
	{"wirehold/server/api", []string{"gorm.io/gorm"}, "the server knows no SQL"},
	{"wirehold/server/pages", []string{"gorm.io/gorm"}, "the server knows no SQL"},
}

// pkg is what go list says of a package.
type pkg struct {
	ImportPath string
	Imports    []string
	Deps       []string
}

func listed(t *testing.T) map[string]pkg {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), "go", "list", "-deps", "-json=ImportPath,Imports,Deps", "wirehold/...")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	packages := map[string]pkg{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return packages
		} else if err != nil {
			t.Fatal(err)
		}
		packages[p.ImportPath] = p
	}
}

func TestImportsGoOneWay(t *testing.T) {
	t.Parallel()
	ours := 0
	for path, p := range listed(t) {
		if !strings.HasPrefix(path, "wirehold/") {
			continue
		}
		ours++
		allowed, known := mayImport[path]
		if !known {
			t.Errorf("package %s is not in the list of imports: add it, with what it may import", path)
			continue
		}
		for _, i := range p.Imports {
			if strings.HasPrefix(i, "wirehold/") && !permits(allowed, i) {
				t.Errorf("%s imports %s, and may import of ours only %v", path, i, allowed)
			}
		}
	}
	if ours < len(mayImport) {
		t.Errorf("go list knows %d packages of ours, the list of imports %d", ours, len(mayImport))
	}
}

func permits(allowed []string, path string) bool {
	for _, a := range allowed {
		if a == path || strings.HasSuffix(a, "+") && strings.HasPrefix(path, strings.TrimSuffix(a, "+")) {
			return true
		}
	}
	return false
}

func TestPackagesKnowNothingOfWhatTheyMustNot(t *testing.T) {
	t.Parallel()
	packages := listed(t)
	for _, rule := range mayNotReach {
		p, ok := packages[rule.pkg]
		if !ok {
			t.Errorf("there is no package %s", rule.pkg)
			continue
		}
		// What the standard library needs for itself (fmt reaches os) is its own
		// affair: only what we and our dependencies import counts.
		for _, reached := range append([]string{rule.pkg}, p.Deps...) {
			if !strings.Contains(reached, ".") && !strings.HasPrefix(reached, "wirehold/") {
				continue
			}
			for _, i := range packages[reached].Imports {
				for _, f := range rule.forbidden {
					if i == f && ownBusiness(reached, f) {
						t.Errorf("%s reaches %s by way of %s: %s", rule.pkg, f, reached, rule.why)
					}
				}
			}
		}
	}
}

// ownBusiness reports whether an import counts: always in our packages, and in
// a dependency only where it is the forbidden library itself.
func ownBusiness(importer, forbidden string) bool {
	return strings.HasPrefix(importer, "wirehold/") || strings.Contains(forbidden, ".")
}
