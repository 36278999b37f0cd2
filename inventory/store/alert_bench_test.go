package store_test

import (
	"fmt"
	"strconv"
	"testing"

	"wirehold/inventory"
)

// BenchmarkRenewAlerts writes the texts of 1,000 standing alerts anew, as a
// sweep does where the hours of as many spools have gone on.
func BenchmarkRenewAlerts(b *testing.B) {
	s := newShop(b, 0)
	alerts := make([]inventory.Alert, 1000)
	write := func(do func(inventory.Tx) error) {
		b.Helper()
		if err := s.store.Write(b.Context(), do); err != nil {
			b.Fatal(err)
		}
	}
	write(func(tx inventory.Tx) (err error) {
		for i := range alerts {
			alerts[i] = inventory.Alert{Kind: inventory.ExposureAlert, Subject: strconv.Itoa(i), Text: "was", RaisedAt: s.now()}
			if alerts[i].ID, _, err = tx.RaiseAlert(alerts[i]); err != nil {
				return err
			}
		}
		return nil
	})
	for n := 0; b.Loop(); n++ {
		for i := range alerts {
			alerts[i].Text = fmt.Sprintf("Spool %d is past its limit of 72 h: it was exposed for %d h.", i, n)
		}
		write(func(tx inventory.Tx) error { return tx.RenewAlerts(alerts) })
	}
}
