package exposure

import (
	"bytes"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestAirAgainstLibrary holds 500 points of air against the general-purpose
// psychrometric library of the npm registry, computed here and now by
// testdata/psychrolib/grid.js. WIREHOLD_PSYCHROLIB is a folder in which
// `npm ci` was run with that folder's package-lock.json, as .ci/run does.
func TestAirAgainstLibrary(t *testing.T) {
	t.Parallel()
	rows := libraryGrid(t)
	for _, r := range rows {
		holdComputed(t, r, r.air(t))
	}
	if len(rows) != 500 {
		t.Errorf("the library computed %d points, want 500", len(rows))
	}
}

// libraryGrid runs the library. Without it the test is skipped, unless
// WIREHOLD_TOOLS=required says that it must be there.
func libraryGrid(t *testing.T) []row {
	t.Helper()
	node, err := exec.LookPath("node")
	modules := filepath.Join(os.Getenv("WIREHOLD_PSYCHROLIB"), "node_modules")
	if err == nil && os.Getenv("WIREHOLD_PSYCHROLIB") == "" {
		err = os.ErrNotExist
	}
	if err == nil {
		_, err = os.Stat(filepath.Join(modules, "psychrolib"))
	}
	if err != nil {
		if os.Getenv("WIREHOLD_TOOLS") == "required" {
			t.Fatalf("node and, in WIREHOLD_PSYCHROLIB, the psychrometric library are required: %v", err)
		}
		t.Skip("node or the psychrometric library is not installed: set WIREHOLD_PSYCHROLIB as .ci/run does")
	}
	cmd := exec.CommandContext(t.Context(), node, filepath.Join("testdata", "psychrolib", "grid.js"))
	cmd.Env = append(os.Environ(), "NODE_PATH="+modules)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("grid.js: %v\n%s", err, stderr.String())
	}
	lines, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rowsOf(lines)
}
