package store_test

import (
	"database/sql"
	"fmt"
	"os"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// BenchmarkTakeReadings takes the minutes of a day of one logger at a time, in
// order, as a logger that is read out once a day sends them.
func BenchmarkTakeReadings(b *testing.B) {
	s := newShop(b, 0)
	start := s.now().UTC()
	s.setLimits(b, limits(time.Hour, start))
	before := size(b, s.path)
	day := 0
	for b.Loop() {
		batch := make([]inventory.PlacedReading, 24*60)
		for i := range batch {
			batch[i] = reading(s.cabinet.Code, "L1", start.Add(time.Duration(24*60*day+i)*time.Minute), unit.Celsius(20+i%5), unit.Humidity(30+i/200%12))
		}
		day++
		s.clock.Store(start.Add(time.Duration(day) * inventory.ByDay).Unix())
		s.sends(b, batch...)
	}
	rows := float64(day * 24 * 60)
	b.ReportMetric(rows/b.Elapsed().Seconds(), "rows/s")
	b.ReportMetric(1e6*(size(b, s.path)-before)/rows, "MB/million")
}

// BenchmarkTakeOneReading takes a reading a minute from each of 20 loggers, one
// at a time, as loggers send that are always on line.
func BenchmarkTakeOneReading(b *testing.B) {
	s := newShop(b, 0)
	start := s.now().UTC()
	s.setLimits(b, limits(time.Hour, start))
	n := 0
	for b.Loop() {
		at := start.Add(time.Duration(n/20) * time.Minute)
		s.clock.Store(at.Unix())
		s.sends(b, reading(s.cabinet.Code, fmt.Sprint("L", n%20), at, 20, unit.Humidity(30+n/2000%12)))
		n++
	}
}

// BenchmarkACardOfAWinter takes the ten-minute readings of half a year, as far
// back as they are taken, of a cabinet that another logger watched every minute
// of a year. So long nobody else writes.
func BenchmarkACardOfAWinter(b *testing.B) {
	s := newShop(b, 0)
	start := s.now().UTC().Truncate(inventory.ByDay)
	s.setLimits(b, limits(time.Hour, start))
	s.sends(b, reading(s.cabinet.Code, "L0", start, 20, 30))
	const days = 395
	db := must(sql.Open(driver, bareDSN(s.path)))(b)
	defer db.Close()
	for _, statement := range []string{
		fmt.Sprintf(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < %d) INSERT INTO climate_readings
			SELECT l.id, %d + i * 60, 20000 + i %% 5 * 1000, CASE WHEN i / 60 %% 96 = 0 THEN 45000 ELSE 30000 END, 1 FROM climate_loggers l, n`, days*24*60, start.Unix()),
		fmt.Sprintf(`UPDATE climate_places SET settled_at = %d`, start.Add(days*inventory.ByDay).Unix()),
		`ANALYZE`,
	} {
		if _, err := db.ExecContext(b.Context(), statement); err != nil {
			b.Fatal(err)
		}
	}
	s.clock.Store(start.Add(days * inventory.ByDay).Unix())
	cards := 0
	for b.Loop() {
		cards++
		card := make([]inventory.PlacedReading, 182*24*6)
		for i := range card {
			card[i] = reading(s.cabinet.Code, fmt.Sprint("card ", cards), start.Add(time.Duration(i)*10*time.Minute), 20, unit.Humidity(30+i/200%12))
		}
		taken := must(s.ledger.TakeReadings(b.Context(), inventory.ReadingsEntry{Person: s.attendant.Code, Way: inventory.ByFile, Readings: card}))(b)
		if taken.Kept != len(card) {
			b.Fatalf("kept %d of %d", taken.Kept, len(card))
		}
	}
}

// BenchmarkTenYearsOfClimate answers what the climate page asks of a place that
// one logger has watched for ten years.
func BenchmarkTenYearsOfClimate(b *testing.B) {
	s := newShop(b, 0)
	start := s.now().UTC().Truncate(inventory.ByDay)
	s.setLimits(b, limits(2*time.Hour, start))
	const days = 3653
	for day := 0; day < days; day += 100 {
		var batch []inventory.PlacedReading
		for hour := range min(100, days-day) * 24 {
			damp := unit.Humidity(30)
			if hour%97 == 0 {
				damp = 45
			}
			batch = append(batch, reading(s.cabinet.Code, "L1", start.Add(time.Duration(24*day+hour)*time.Hour), unit.Celsius(20+hour%5), damp))
		}
		s.clock.Store(start.Add(time.Duration(day+100) * inventory.ByDay).Unix())
		s.sends(b, batch...)
	}
	end := start.Add(days * inventory.ByDay)
	for b.Loop() {
		c := s.store.Catalog(b.Context())
		means := must(c.ClimateMeans(s.cabinet.Code, inventory.ByDay, start, end))(b)
		undry := must(c.Undry(s.cabinet.Code, start, end))(b)
		if len(means) != days || len(undry) < 900 {
			b.Fatalf("got %d days and %d spans", len(means), len(undry))
		}
	}
	b.ReportMetric(size(b, s.path), "MB")
}

// size returns how many million bytes the database has, its log included.
func size(b *testing.B, path string) float64 {
	b.Helper()
	total := int64(0)
	for _, p := range []string{path, path + "-wal"} {
		if f, err := os.Stat(p); err == nil {
			total += f.Size()
		}
	}
	return float64(total) / 1e6
}
