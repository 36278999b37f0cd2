package store_test

import (
	"database/sql"
	"fmt"
	"testing"
	"time"

	"wirehold/inventory"
)

const decadeLoggers, decadeDays, rawDays = 20, 3653, 407

// decade is a shop in whose one cabinet 20 loggers have measured every minute
// for ten years: the minutes of the last 407 days, all hours and days, and a damp
// hour every fourth day. It is written by SQL: through the ledger it would take
// hours.
func decade(b *testing.B) (s *shop, end time.Time) {
	b.Helper()
	s = newShop(b, 0)
	start := s.now().UTC().Truncate(inventory.ByDay)
	end = start.Add(decadeDays * inventory.ByDay)
	s.setLimits(b, limits(time.Hour, start))
	for n := range decadeLoggers {
		s.sends(b, reading(s.cabinet.Code, fmt.Sprint("L", n), start, 20, 30))
	}
	db := must(sql.Open(driver, bareDSN(s.path)))(b)
	defer db.Close()
	minutes := `WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < ?) `
	for _, x := range []struct {
		sql  string
		args []any
	}{
		{`DELETE FROM climate_readings`, nil},
		{minutes + `INSERT INTO climate_readings SELECT l.id, ? + i * 60, 20000 + i % 5 * 1000, CASE WHEN i / 60 % 96 = 0 THEN 45000 ELSE 30000 END, 1 FROM climate_loggers l, n`,
			[]any{rawDays * 24 * 60, end.Add(-rawDays * inventory.ByDay).Unix()}},
		{minutes + `INSERT OR REPLACE INTO climate_means SELECT l.id, 3600, ? + i * 3600, 60, 20000, 24000, 60 * 22000, 30000, CASE WHEN i % 96 = 0 THEN 45000 ELSE 30000 END, 60 * 30000 FROM climate_loggers l, n`,
			[]any{decadeDays*24 - 1, start.Unix()}},
		{minutes + `INSERT OR REPLACE INTO climate_means SELECT l.id, 86400, ? + i * 86400, 1440, 20000, 24000, 1440 * 22000, 30000, 45000, 1440 * 30000 FROM climate_loggers l, n`,
			[]any{decadeDays - 1, start.Unix()}},
		{`DELETE FROM climate_undry`, nil},
		{minutes + `INSERT INTO climate_undry SELECT ?, ? + i * 345600, ? + i * 345600 + 3600, 1 FROM n`, []any{decadeDays/4 - 1, string(s.cabinet.Code), start.Unix(), start.Unix()}},
		{`UPDATE climate_places SET settled_at = ?, taken_from = ?`, []any{end.Unix(), end.Add(-inventory.ReadingsKept).Unix()}},
		{`UPDATE climate_loggers SET last_at = ?`, []any{end.Unix()}},
		{`ANALYZE`, nil},
	} {
		if _, err := db.ExecContext(b.Context(), x.sql, x.args...); err != nil {
			b.Fatalf("%s: %v", x.sql, err)
		}
	}
	s.clock.Store(end.Unix())
	return s, end
}

// BenchmarkDecade is what twenty loggers cost after ten years.
func BenchmarkDecade(b *testing.B) {
	s, end := decade(b)
	c := s.store.Catalog(b.Context())
	means := func(b *testing.B, length, step time.Duration, want int) {
		for b.Loop() {
			must(c.PlaceClimate(s.cabinet.Code))(b)
			must(c.Undry(s.cabinet.Code, end.Add(-length), end))(b)
			got := must(c.ClimateMeans(s.cabinet.Code, step, time.Unix(end.Add(-length).Unix()/int64(step/time.Second)*int64(step/time.Second), 0), end))(b)
			if len(got) != want {
				b.Fatalf("got %d sums, want %d", len(got), want)
			}
		}
	}
	b.Run("a week by the hour", func(b *testing.B) { means(b, 7*inventory.ByDay, inventory.ByHour, 7*24*decadeLoggers) })
	b.Run("a year by the day", func(b *testing.B) { means(b, 366*inventory.ByDay, inventory.ByDay, 366*decadeLoggers) })
	b.Run("ten years by four weeks", func(b *testing.B) { means(b, 3640*inventory.ByDay, 28*inventory.ByDay, 131*decadeLoggers) })
	b.Run("outside over a year", func(b *testing.B) {
		for b.Loop() {
			if got := must(c.Outside(s.cabinet.Code, end.Add(-366*inventory.ByDay), end))(b); len(got) < 90 {
				b.Fatalf("got %d spans", len(got))
			}
		}
	})
	n := 0
	b.Run("taking a reading", func(b *testing.B) {
		for b.Loop() {
			n++
			at := end.Add(time.Duration(n/decadeLoggers+1) * time.Minute)
			s.clock.Store(at.Unix())
			s.sends(b, reading(s.cabinet.Code, fmt.Sprint("L", n%decadeLoggers), at, 20, 30))
		}
		b.ReportMetric(size(b, s.path), "MB")
	})
	b.Run("taking one that is 390 days late", func(b *testing.B) {
		late := 0
		for b.Loop() {
			late++
			s.sends(b, reading(s.cabinet.Code, fmt.Sprint("L", late%decadeLoggers), end.Add(-390*inventory.ByDay+time.Duration(n+late*61+1)*time.Second), 20, 30))
		}
	})
	b.Run("dropping a day", func(b *testing.B) {
		days := 0
		for b.Loop() {
			days++
			must(s.ledger.DropReadings(b.Context(), end.Add(time.Duration(days)*inventory.ByDay)))(b)
		}
	})
}
