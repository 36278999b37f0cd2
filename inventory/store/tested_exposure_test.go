package store_test

import (
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// TestALotsExposureTestHoldsForThatLotAlone checks two spools of one wire that
// were open for 80 hours, of which one lot was tested for 120.
func TestALotsExposureTestHoldsForThatLotAlone(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	w := s.wire
	w.ID, w.TradeName, w.Classifications, w.Minimum = 0, "Amber Osprey", []string{"E71T-1C-H8"}, 0
	w.Supplied = filler.Facts{{Name: "tensile_min", Value: "70", Unit: "ksi", Provenance: filler.DataSheet, Source: "invented sheet"}}
	s.wire = must(s.ledger.AddWire(ctx, w))(t)
	j := s.job
	j.Code, j.Number, j.ProfileID = "", "2299", "seismic-structural"
	job := must(s.ledger.AddJob(ctx, j))(t)
	spools := map[string]inventory.Code{}
	for name, p := range map[string]inventory.LotPapers{"tested": {Exposure: "120 h, 9 mL/100 g"}, "too wet": {Exposure: "120 h, 17 mL/100 g"}, "not tested": {}} {
		r := s.receipt(1)
		r.Papers = p
		_, received, err := s.ledger.Receive(ctx, r)
		if err != nil {
			t.Fatal(err)
		}
		spools[name] = received[0].Code
		must(s.ledger.Open(ctx, s.entry(received[0].Code)))(t)
	}
	s.wait(80 * time.Hour)
	for name, want := range map[string]fit.Outcome{"tested": fit.Passed, "too wet": fit.Stops, "not tested": fit.Stops} {
		check := must(s.ledger.CheckFit(ctx, spools[name], job.Code, ""))(t)
		got, _ := check.Verdict.Find(fit.RuleExposure)
		if got.Outcome != want {
			t.Errorf("%s: the exposure rule says %s (%s), want %s", name, got.Outcome, got.Says, want)
		}
		if name == "tested" && !strings.Contains(got.Demanded.Source, "test report, record of lot "+check.Lot.Number) {
			t.Errorf("the limit is by %q, want by the report of lot %s", got.Demanded.Source, check.Lot.Number)
		}
	}
	verified(t, s)
}
