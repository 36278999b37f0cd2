package labels

import (
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

func TestATravellerSaysWhereItsProceduresDiffer(t *testing.T) {
	t.Parallel()
	root := inventory.Procedure{Number: "WPS-31", Revision: "B", Polarity: fit.DCEP, Gas: &fit.Gas{Argon: 75, CO2: 25}, Passes: fit.MultiPass}
	fill := inventory.Procedure{Number: "WPS-21", Revision: "A", Polarity: fit.DCEN, Gas: &fit.Gas{}, Passes: fit.MultiPass}
	want := map[string]string{"procedure": "WPS-31 rev B, WPS-21 rev A", "polarity": "by WPS", "gas": "by WPS", "passes": "multiple passes"}
	got := map[string]string{}
	for _, f := range (Shop{}).Job(inventory.Job{Code: "JJJ4E-2", Number: "26-114"}, root, fill).Facts {
		got[f.Field] = f.Words
	}
	for field, words := range want {
		if got[field] != words {
			t.Errorf("Job(..., WPS-31, WPS-21): %s says %q, want %q", field, got[field], words)
		}
	}
}
