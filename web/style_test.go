package web_test

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wirehold/web"
)

// TestStyleSheets holds the house rules of CSS that a machine can see.
func TestStyleSheets(t *testing.T) {
	t.Parallel()
	rules := []struct{ name, pattern string }{
		{"no !important", `!important`},
		{"no ids for styling", `(?m)^\s*#[a-zA-Z]`},
		{"nothing from elsewhere", `url\(["']?(https?:|//|data:)`},
		{"colours only in tokens.css", `#[0-9a-fA-F]{6}\b`},
		{"no physical sides", `(?m)^\s*(margin|padding|border)-(left|right|top|bottom)\b`},
	}
	sheets, err := fs.Glob(web.Files, "static/css/components/*.css")
	if err != nil || len(sheets) < 10 {
		t.Fatalf("Glob: %d style sheets, %v", len(sheets), err)
	}
	for _, sheet := range append(sheets, "static/css/base.css", "static/css/layout.css") {
		css, err := fs.ReadFile(web.Files, sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, rule := range rules {
			if found := regexp.MustCompile(rule.pattern).Find(css); found != nil {
				t.Errorf("%s: %q: %s", sheet, found, rule.name)
			}
		}
	}
}

// TestContrast holds the colours against WCAG 2.2: 4.5 for text (1.4.3), 3 for
// the edges of fields and the focus ring (1.4.11), in light and dark.
func TestContrast(t *testing.T) {
	t.Parallel()
	pairs := []struct {
		front, back string
		least       float64
	}{
		{"ink", "ground", 7}, {"ink", "face", 7}, {"ink", "sunk", 7},
		{"ink-soft", "ground", 4.5}, {"ink-soft", "face", 4.5}, {"ink-soft", "do-wash", 4.5}, {"ink-soft", "safe-wash", 4.5}, {"ink-soft", "stop-wash", 4.5}, {"ink-soft", "caution-wash", 4.5},
		{"ink", "do-wash", 7}, {"ink", "stop-wash", 7}, {"ink", "caution-wash", 7}, {"ink", "safe-wash", 7},
		{"strip-ink", "strip", 7}, {"strip-soft", "strip", 4.5},
		{"do-ink", "do", 4.5}, {"do-ink", "do-deep", 4.5}, {"stop-ink", "stop", 4.5}, {"caution-ink", "caution", 7}, {"safe-ink", "safe", 4.5},
		{"stop-text", "face", 4.5}, {"stop-text", "ground", 4.5}, {"stop-text", "stop-wash", 4.5}, {"stop-text", "safe-wash", 4.5},
		{"caution-text", "face", 4.5}, {"caution-text", "ground", 4.5}, {"caution-text", "caution-wash", 4.5},
		{"safe-text", "face", 4.5}, {"safe-text", "ground", 4.5}, {"safe-text", "safe-wash", 4.5},
		{"line-strong", "face", 3}, {"line-strong", "ground", 3}, {"focus", "ground", 3}, {"focus", "face", 3}, {"focus", "focus-gap", 3}, {"do", "do-wash", 3},
	}
	light, dark := tokens(t)
	for scheme, colours := range map[string]map[string]string{"light": light, "dark": dark} {
		for _, p := range pairs {
			if got := contrast(t, colours[p.front], colours[p.back]); got < p.least {
				t.Errorf("%s: %s %s on %s %s has contrast %.2f, want %.1f", scheme, p.front, colours[p.front], p.back, colours[p.back], got, p.least)
			}
		}
	}
}

// tokens reads the colours of tokens.css; those that dark does not change are
// light's.
func tokens(t *testing.T) (light, dark map[string]string) {
	t.Helper()
	css, err := fs.ReadFile(web.Files, "static/css/tokens.css")
	if err != nil {
		t.Fatal(err)
	}
	before, after, ok := strings.Cut(string(css), "@media (prefers-color-scheme: dark)")
	if !ok {
		t.Fatal("tokens.css has no dark set")
	}
	colour := regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6});`)
	light, dark = map[string]string{}, map[string]string{}
	for _, m := range colour.FindAllStringSubmatch(before, -1) {
		light[m[1]], dark[m[1]] = m[2], m[2]
	}
	for _, m := range colour.FindAllStringSubmatch(after, -1) {
		dark[m[1]] = m[2]
	}
	return light, dark
}

// contrast is WCAG's contrast ratio of two colours.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// luminance is WCAG's relative luminance of "#rrggbb".
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
	if err != nil || len(colour) != 7 {
		t.Fatal(fmt.Errorf("%q is no colour", colour))
	}
	linear := func(c uint64) float64 {
		s := float64(c&0xff) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(n>>16) + 0.7152*linear(n>>8) + 0.0722*linear(n)
}

// TestFonts holds the vendored fonts against their checksums' list and
// licence.
func TestFonts(t *testing.T) {
	t.Parallel()
	fonts, err := fs.Glob(web.Files, "static/fonts/*.woff2")
	if err != nil || len(fonts) == 0 {
		t.Fatalf("Glob: %v, %v", fonts, err)
	}
	sums, err := fs.ReadFile(web.Files, "static/fonts/SHA256SUMS")
	if err != nil {
		t.Fatal(err)
	}
	for _, font := range fonts {
		content, err := fs.ReadFile(web.Files, font)
		if err != nil {
			t.Fatal(err)
		}
		name := font[strings.LastIndex(font, "/")+1:]
		if line := fmt.Sprintf("%s  %s\n", sum(content), name); !strings.Contains(string(sums), line) {
			t.Errorf("SHA256SUMS lacks %q", line)
		}
	}
}

// TestVendoredScripts holds the vendored scripts against their checksums, and
// wants the licence beside each.
func TestVendoredScripts(t *testing.T) {
	t.Parallel()
	sums, err := fs.Glob(web.Files, "static/vendor/*/SHA256SUMS")
	if err != nil || len(sums) == 0 {
		t.Fatalf("Glob: %v, %v", sums, err)
	}
	for _, list := range sums {
		dir := strings.TrimSuffix(list, "/SHA256SUMS")
		content, err := fs.ReadFile(web.Files, list)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(content)) {
			want, name, _ := strings.Cut(strings.TrimSpace(line), "  ")
			file, err := fs.ReadFile(web.Files, dir+"/"+name)
			if err != nil || sum(file) != want {
				t.Errorf("%s/%s: %v, SHA-256 %s, want %s", dir, name, err, sum(file), want)
			}
		}
		if licences, err := fs.Glob(web.Files, dir+"/*LICENSE*"); err != nil || len(licences) == 0 {
			t.Errorf("%s holds no licence", dir)
		}
	}
}

func sum(content []byte) string {
	s := sha256.Sum256(content)
	return hex.EncodeToString(s[:])
}

// TestVendored holds every file that came from elsewhere against its
// checksums' list, and sees that a licence lies beside it.
func TestVendored(t *testing.T) {
	t.Parallel()
	files, err := fs.Glob(web.Files, "static/vendor/*/*")
	if err != nil || len(files) == 0 {
		t.Fatalf("Glob: %v, %v", files, err)
	}
	for _, file := range files {
		dir, name := path.Split(file)
		sums, errSums := fs.ReadFile(web.Files, dir+"SHA256SUMS")
		licences, errLicence := fs.Glob(web.Files, dir+"*LICENSE*")
		content, errFile := fs.ReadFile(web.Files, file)
		if err := errors.Join(errSums, errLicence, errFile); err != nil {
			t.Fatal(err)
		}
		if len(licences) == 0 {
			t.Errorf("no licence lies in %s", dir)
		}
		if line := fmt.Sprintf("%s  %s\n", sum(content), name); name != "SHA256SUMS" && name != "README.txt" && !slices.Contains(licences, dir+name) && !strings.Contains(string(sums), line) {
			t.Errorf("%sSHA256SUMS lacks %q", dir, line)
		}
	}
}
