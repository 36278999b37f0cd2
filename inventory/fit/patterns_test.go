package fit

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
)

// saidInCode are the constants of a type of this package, each with the files
// in which it stands; by the name of the type, and all under "string".
type saidInCode map[string]map[string][]string

// constantsInCode reads this package's source as the compiler does, so that no
// pattern is missed wherever it is written.
var constantsInCode = sync.OnceValues(func() (saidInCode, error) {
	files := token.NewFileSet()
	entries, err := os.ReadDir(".")
	if err != nil {
		return nil, err
	}
	var parsed []*ast.File
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(files, e.Name(), nil, 0)
		if err != nil {
			return nil, err
		}
		parsed = append(parsed, file)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	imported, err := compiled()
	if err != nil {
		return nil, err
	}
	config := types.Config{Importer: importer.ForCompiler(files, "gc", imported)}
	if _, err := config.Check("wirehold/inventory/fit", files, parsed, info); err != nil {
		return nil, err
	}
	out := saidInCode{}
	for expr, is := range info.Types {
		if is.Value == nil || is.Value.Kind() != constant.String {
			continue
		}
		of := strings.TrimPrefix(is.Type.String(), "wirehold/inventory/fit.")
		for _, name := range []string{of, "string"} {
			if out[name] == nil {
				out[name] = map[string][]string{}
			}
			text := constant.StringVal(is.Value)
			out[name][text] = append(out[name][text], files.Position(expr.Pos()).Filename)
		}
	}
	return out, nil
})

// compiled finds what the compiler made of the packages that this one imports.
func compiled() (importer.Lookup, error) {
	out, err := exec.Command("go", "list", "-export", "-deps", "-f", "{{.ImportPath}} {{.Export}}", ".").Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	at := map[string]string{}
	for line := range strings.Lines(string(out)) {
		path, file, _ := strings.Cut(strings.TrimSpace(line), " ")
		at[path] = file
	}
	return func(path string) (io.ReadCloser, error) { return os.Open(at[path]) }, nil
}

// ruleOf is the rule whose files say a pattern; "several" if not one rule does.
func ruleOf(files []string) string {
	var out []string
	for _, f := range files {
		name, rule := strings.ReplaceAll(strings.TrimSuffix(f, ".go"), "_", "-"), "several"
		for _, r := range Rules() {
			if at := "rule-" + string(r); strings.HasPrefix(name+"-", at+"-") {
				rule = string(r)
			}
		}
		switch {
		case strings.HasPrefix(name, "weld"):
			rule = string(RuleRemaining)
		case strings.HasPrefix(name, "setting"):
			rule = "load check"
		}
		out = append(out, rule)
	}
	slices.Sort(out)
	if out = slices.Compact(out); len(out) == 1 {
		return out[0]
	}
	return "several"
}

var (
	placeholder = regexp.MustCompile(`%(?:\[\d\])?[a-z%]`)
	letter      = regexp.MustCompile(`[A-Za-z]`)
)

// placeholders are what a pattern has in place of its parts, each with the
// number of its part.
func placeholders(p string) []string {
	var out []string
	n := 0
	for _, verb := range placeholder.FindAllString(p, -1) {
		switch {
		case verb == "%%":
		case strings.Contains(verb, "["):
			out = append(out, verb[:1]+verb[4:]+" of part "+verb[2:3])
			continue
		default:
			n++
			verb += " of part " + string(rune('0'+n))
		}
		out = append(out, verb)
	}
	slices.Sort(out)
	return out
}

// TestEveryPatternHasItsRow holds the table of rule and language: every pattern
// that the code can say is in it and said in every language with the same
// parts, and nothing else is.
func TestEveryPatternHasItsRow(t *testing.T) {
	code, err := constantsInCode()
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for _, m := range readTable("tables/sentences.csv") {
		en := m["en"]
		files, ok := code["pattern"][en]
		switch {
		case !ok:
			t.Errorf("sentences.csv: no code says %q", en)
		case said[en]:
			t.Errorf("sentences.csv: %q is there twice", en)
		case m["rule"] != ruleOf(files):
			t.Errorf("sentences.csv: %q is of %q, said in %v: want %q", en, m["rule"], files, ruleOf(files))
		}
		said[en] = true
		for _, l := range Languages()[1:] {
			switch text := m[string(l)]; {
			case text == "" || text == en && letter.MatchString(placeholder.ReplaceAllString(en, "")) && !sameWord[en]:
				t.Errorf("sentences.csv: %q has no %s", en, l)
			case !slices.Equal(placeholders(en), placeholders(text)):
				t.Errorf("sentences.csv: %q has %v, in %s %q has %v", en, placeholders(en), l, text, placeholders(text))
			case m[string(l)+"_provenance"] == "":
				t.Errorf("sentences.csv: nobody says where the %s of %q is from", l, en)
			}
		}
	}
	for p, files := range code["pattern"] {
		if !said[p] && letter.MatchString(placeholder.ReplaceAllString(p, "")) {
			t.Errorf("%v: %q has no row in sentences.csv", files, p)
		}
	}
}

// sameWord are the texts that Spanish writes alike.
var sameWord = map[string]bool{"gas": true, "horizontal": true, "no": true}
