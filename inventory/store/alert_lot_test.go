package store_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
)

// TestAlertsOfALotsPapers takes lots through the months: one whose box says use
// by a day, one without a certificate.
func TestAlertsOfALotsPapers(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0) // 2026-03-02
	ctx := t.Context()
	r := s.receipt(2)
	r.Papers = inventory.LotPapers{MadeOn: "2026-01-12", Expires: "2026-06-30"}
	dated, spools, err := s.ledger.Receive(ctx, r)
	if err != nil {
		t.Fatal(err)
	}
	bare := s.receipt(1)
	bare.Certificate = ""
	missing, _, err := s.ledger.Receive(ctx, bare)
	if err != nil {
		t.Fatal(err)
	}
	sweep := func(day string, want ...string) {
		t.Helper()
		at := must(time.Parse(time.DateOnly, day))(t).Add(7 * time.Hour)
		s.clock.Store(at.Unix())
		for range 2 { // the second raises nothing twice
			if _, _, err := s.ledger.SweepLots(ctx, at); err != nil {
				t.Fatal(err)
			}
		}
		var got []string
		for _, a := range must(s.store.Read(ctx).OpenAlerts(""))(t) {
			got = append(got, string(a.Kind)+" "+a.Subject)
		}
		for _, w := range want {
			if !strings.Contains(strings.Join(got, ";"), w) {
				t.Errorf("on %s stand %q, want %q", day, got, w)
			}
		}
		if len(got) != len(want) {
			t.Errorf("on %s stand %q, want %q", day, got, want)
		}
	}
	id, bareID := strconv.FormatInt(dated.ID, 10), strconv.FormatInt(missing.ID, 10)
	sweep("2026-03-02", "certificate missing "+bareID)
	must(s.ledger.ChangeLot(ctx, inventory.LotChange{LotID: missing.ID, Person: s.engineer.Code, RequestKey: s.key(), Status: "accepted", Reason: "it came", Certificate: "MTC-9"}))(t)
	sweep("2026-03-03")
	sweep("2026-05-30")
	sweep("2026-06-02", "shelf life nearing "+id)
	sweep("2026-06-30", "shelf life nearing "+id)
	sweep("2026-07-02", "shelf life "+id)
	past := must(s.store.Read(ctx).OpenAlerts(inventory.ShelfLifeAlert))(t)
	if len(past) != 1 || !strings.Contains(past[0].Text, dated.Number) || !strings.Contains(past[0].Text, "2026-06-30") {
		t.Errorf("the alert is %+v, want the lot and the day its box says", past)
	}
	for _, spool := range spools {
		must(s.ledger.Scrap(ctx, s.entry(spool.Code), "past its date"))(t)
	}
	sweep("2026-07-03")
}
