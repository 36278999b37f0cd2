package pages

import (
	"slices"
	"testing"
)

// TestAPhotoKeepsWhatWasScanned holds that a photo loses none of the slots that
// its page hands on.
func TestAPhotoKeepsWhatWasScanned(t *testing.T) {
	t.Parallel()
	full := slots{Badge: "P", Welder: "P", Job: "J", Spool: "W", Feeder: "F", Place: "K", Procedure: 7}
	for _, page := range []string{"/counter", "/load", "/returns"} {
		kept, ok := photoKept(page)
		if !ok {
			t.Errorf("photoKept(%q): takes no photo", page)
		}
		for _, h := range full.hidden() {
			if !slices.Contains(kept, h.Name) {
				t.Errorf("photoKept(%q) = %q, want %q among them: the page keeps it", page, kept, h.Name)
			}
		}
	}
}
