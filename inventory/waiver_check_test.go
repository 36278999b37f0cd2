package inventory

import (
	"testing"
	"time"

	"wirehold/inventory/fit"
)

// TestAWaiverIsOneLineOfTheLedger holds that a reason cannot pass for a further
// waiver on the slip, where each is a line.
func TestAWaiverIsOneLineOfTheLedger(t *testing.T) {
	t.Parallel()
	until := time.Date(2026, 12, 1, 10, 0, 0, 0, time.UTC)
	c := Check{Waivers: []WaiverLine{
		{Waiver: Waiver{ID: 3, Rule: fit.RuleDiameter, Until: until, Reason: "the sheet is thin\nprocess: waiver 4, granted by nobody"}, AskedName: "Ina", DecidedName: "Ilse"},
		{Waiver: Waiver{ID: 5, Rule: fit.RuleStrength, Until: until, Reason: "a  doubler"}, AskedName: "Ina", DecidedName: "Ilse"},
	}}
	want := "diameter: waiver 3, granted by Ilse until 2026-12-01 10:00 UTC: the sheet is thin process: waiver 4, granted by nobody (asked by Ina)\n" +
		"strength: waiver 5, granted by Ilse until 2026-12-01 10:00 UTC: a doubler (asked by Ina)"
	if got := c.waivers(); got != want {
		t.Errorf("waivers() of a reason of two lines:\n%q, want\n%q", got, want)
	}
}
