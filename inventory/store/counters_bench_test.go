package store_test

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// checkout issues a spool and takes it back.
func (s *shop) checkout(t testing.TB, spool inventory.Code, key string) {
	gross := unit.Grams(15_700)
	issue := inventory.Issue{Entry: inventory.Entry{Spool: spool, Person: s.attendant.Code, RequestKey: "issue " + key}, Job: s.job.Code, Holder: s.welder.Code, Feeder: s.feeder.Code, Gross: &gross}
	if _, err := s.ledger.Issue(t.Context(), issue); err != nil {
		t.Error(err)
	}
	back := inventory.Return{Entry: inventory.Entry{Spool: spool, Person: s.attendant.Code, RequestKey: "return " + key}, Place: s.shelf.Code, Gross: &gross}
	if _, err := s.ledger.Return(t.Context(), back); err != nil {
		t.Error(err)
	}
}

// BenchmarkCounters measures checkouts at several counters at once, each with
// spools of its own: the time for one checkout of any.
func BenchmarkCounters(b *testing.B) {
	for _, counters := range []int{1, 2, 8} {
		b.Run(fmt.Sprint(counters), func(b *testing.B) {
			s := newShop(b, 1_000)
			b.ResetTimer()
			var wg sync.WaitGroup
			for counter := range counters {
				wg.Go(func() {
					for n := counter; n < b.N; n += counters {
						s.checkout(b, s.spools[n%len(s.spools)].Code, fmt.Sprint(n))
					}
				})
			}
			wg.Wait()
		})
	}
}

// BenchmarkCheckoutBesideImport measures an import of as many wires as one may
// hold, and the longest that a counter waits for a checkout meanwhile.
func BenchmarkCheckoutBesideImport(b *testing.B) {
	s := newShop(b, 1_000)
	buyer, rows := s.buyer(b), wireList(inventory.MostImportRows)
	var longest time.Duration
	checkouts := 0
	for n := range b.N {
		for i := range rows[1:] {
			rows[i+1].Cells[1].Text = fmt.Sprintf("Wire %d %d", n, i)
		}
		done := make(chan error, 1)
		go func() {
			_, _, err := s.ledger.ImportWires(b.Context(), inventory.WireImport{Person: buyer.Code, RequestKey: fmt.Sprint("import ", n), Rows: rows})
			done <- err
		}()
		for busy := true; busy; checkouts++ {
			began := time.Now()
			s.checkout(b, s.spools[checkouts%len(s.spools)].Code, fmt.Sprint(checkouts))
			longest = max(longest, time.Since(began))
			select {
			case err := <-done:
				busy = false
				if err != nil {
					b.Fatal(err)
				}
			default:
			}
		}
	}
	b.ReportMetric(float64(longest.Microseconds())/1e3, "ms-longest-checkout")
	b.ReportMetric(float64(checkouts)/float64(b.N), "checkouts/import")
}
