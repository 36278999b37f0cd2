package pages

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestEveryCodeIsExplained reads the program's own source for the codes that
// its errors carry: each must be explained on its page.
func TestEveryCodeIsExplained(t *testing.T) {
	t.Parallel()
	codes := map[string]string{}
	for _, dir := range []string{".", "..", "../api", "../problem", "../../inventory", "../../inventory/store"} {
		files, err := filepath.Glob(dir + "/*.go")
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if !strings.HasSuffix(file, "_test.go") {
				collectCodes(t, file, codes)
			}
		}
	}
	if len(codes) < 15 {
		t.Fatalf("found the codes %v: fewer than the ledger alone has", codes)
	}
	for code, file := range codes {
		if _, ok := explain(code); !ok {
			t.Errorf("code %q of %s is explained nowhere", code, file)
		}
	}
}

// collectCodes adds the codes that the file gives to errors.
func collectCodes(t *testing.T, file string, codes map[string]string) {
	t.Helper()
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	add := func(e ast.Expr, prefix string) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			code, _ := strconv.Unquote(lit.Value)
			codes[prefix+code] = file
		}
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			switch name := called(n.Fun); {
			case len(n.Args) == 0:
			case name == "Invalidf":
				add(n.Args[0], "invalid-")
			case name == "NotFoundf" || name == "Conflictf" || name == "Refusedf" || name == "Forbiddenf":
				add(n.Args[0], "")
			}
		case *ast.CompositeLit:
			if called(n.Type) != "Error" {
				return true
			}
			for _, e := range n.Elts {
				if kv, ok := e.(*ast.KeyValueExpr); ok && called(kv.Key) == "Code" {
					add(kv.Value, "")
				}
			}
		}
		return true
	})
}

// called returns the last word of a name: "Conflictf" of
// "inventory.Conflictf".
func called(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}
