package store_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// BenchmarkChoose measures "which spool should I take?" over HTTP on loopback,
// through the whole server, among 10 000 spools of 200 lots of 40 wires, of
// which a part is open: a tenth, as in a shop, and all of them.
func BenchmarkChoose(b *testing.B) {
	for _, open := range []int{10, 1} {
		b.Run(fmt.Sprintf("one in %d open", open), func(b *testing.B) {
			s := newStock(b, 200, 50, open)
			srv := s.serve(b)
			b.ReportAllocs()
			for b.Loop() {
				resp, err := srv.Client().Get(srv.URL + "/api/v1/jobs/" + string(s.job.Code) + "/choices?feeder=" + string(s.feeder.Code))
				if err != nil {
					b.Fatal(err)
				}
				answer, err := io.ReadAll(resp.Body)
				resp.Body.Close()
				var got struct {
					Fitting []json.RawMessage `json:"fitting"`
					Near    []json.RawMessage `json:"near_misses"`
				}
				if err != nil || resp.StatusCode != http.StatusOK || json.Unmarshal(answer, &got) != nil || len(got.Fitting) != 10 || len(got.Near) == 0 {
					b.Fatalf("%d, %d fitting, %d near: %v", resp.StatusCode, len(got.Fitting), len(got.Near), err)
				}
			}
		})
	}
}

// papersOf are papers of the n-th lot that no other lot has.
func (s *shop) papersOf(n int) inventory.LotPapers {
	made := inventory.DayOf(s.now().AddDate(0, 0, -n))
	return inventory.LotPapers{Type: "3.1", Schedule: "J", LotClass: "T4", Tested: made, Melted: "Country A", Made: "Country A", MadeOn: made,
		Expires: inventory.DayOf(s.now().AddDate(2, 0, n)), Sealing: fit.VacuumFoil}
}

// kinds are the classifications of the stock, a fourth of which fits the job.
var kinds = [][]string{{"E71T-1M-H8"}, {"E71T-11"}, {"ER70S-6"}, {"E71T-1C"}}

// newStock is a shop with 40 wires and lots lots of size spools each; one spool
// in open is open.
func newStock(b testing.TB, lots, size, open int) *shop {
	b.Helper()
	s := newShop(b, 0)
	ctx, l := b.Context(), s.ledger
	var wires []inventory.Wire
	for n := range 40 {
		w := inventory.Wire{Maker: "Maker Amber", TradeName: fmt.Sprintf("Amber Heron %d", n), Classifications: kinds[n%len(kinds)],
			Diameter: 45 * unit.Inch / 1000, Net: 15_000, Tare: 700, Supplied: s.wire.Supplied}
		wires = append(wires, must(l.AddWire(ctx, w))(b))
	}
	for n := range lots {
		r := s.receipt(size)
		r.WireID, r.Papers = wires[n%len(wires)].ID, s.papersOf(n)
		_, spools, err := l.Receive(ctx, r)
		if err != nil {
			b.Fatal(err)
		}
		for i, spool := range spools {
			if (n*size+i)%open == 0 {
				must(l.Open(ctx, s.entry(spool.Code)))(b)
			}
		}
		s.wait(60e9)
	}
	return s
}
