package store_test

import (
	"context"
	"database/sql"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

const (
	sweptSpools = 10_000
	sweptMoves  = 100 // of each spool, so 1,000,000 in all
)

// BenchmarkSweepExposure looks at 10,000 open spools in a ledger of 1,000,000
// movements: each went out and back into a dry cabinet 49 times, and the air of
// the cabinet left its limits once every four days. One spool in a hundred is
// past its limit; the first sweep, which puts those on hold, is reported apart.
func BenchmarkSweepExposure(b *testing.B) {
	s := newSwept(b)
	ctx := b.Context()
	begin := time.Now()
	if raised, _, err := s.ledger.SweepExposure(ctx, s.now()); err != nil || raised != sweptSpools/100 {
		b.Fatalf("the first sweep raised %d, %v; want %d", raised, err, sweptSpools/100)
	}
	first := time.Since(begin)
	b.ReportAllocs()
	for b.Loop() {
		if raised, cleared, err := s.ledger.SweepExposure(ctx, s.now()); err != nil || raised+cleared != 0 {
			b.Fatalf("a further sweep raised %d and cleared %d, %v; want none", raised, cleared, err)
		}
	}
	b.ReportMetric(first.Seconds(), "s/first")
}

// newSwept is a shop whose ledger is filled by SQL: its hash chain is not
// sound, which no sweep looks at.
func newSwept(b *testing.B) *shop {
	b.Helper()
	s := newShop(b, sweptSpools)
	start := s.now().UTC()
	s.setLimits(b, limits(2*time.Hour, start))
	for day := range 9 {
		var batch []inventory.PlacedReading
		for hour := range 24 {
			damp := unit.Humidity(30)
			if day%4 == 1 && hour == 3 {
				damp = 45
			}
			batch = append(batch, reading(s.cabinet.Code, "L1", start.Add(time.Duration(24*day+hour)*time.Hour), 20, damp))
		}
		s.clock.Store(start.Add(time.Duration(day+1) * inventory.ByDay).Unix())
		s.sends(b, batch...)
	}
	db := must(sql.Open(driver, bareDSN(s.path)))(b)
	db.SetMaxOpenConns(1)
	b.Cleanup(func() { db.Close() })
	for n := range s.spools {
		s.spools[n].Track = s.busy(start, n, exposure.Track("").With(exposure.Event{Kind: exposure.Put, Seq: int64(n + 1), At: start, Place: string(s.shelf.Code)}))
	}
	s.giveTracks(b, db, start)
	s.fillLedger(b, db, start)
	return s
}

// busy is the track of a spool that went out and back every four hours. The
// hundredth ones stay out for longer.
func (s *shop) busy(start time.Time, n int, t exposure.Track) exposure.Track {
	out := 30 * time.Minute
	if n%100 == 0 {
		out = 2 * time.Hour
	}
	seq := int64(sweptSpools + n*(sweptMoves-1))
	t = t.With(exposure.Event{Kind: exposure.Open, Seq: seq, At: start.Add(time.Minute)})
	for i := range (sweptMoves - 2) / 2 {
		at := start.Add(time.Duration(i)*4*time.Hour + time.Minute)
		t = t.With(exposure.Event{Kind: exposure.Put, Seq: seq + int64(2*i+1), At: at})
		t = t.With(exposure.Event{Kind: exposure.Put, Seq: seq + int64(2*i+2), At: at.Add(out), Place: string(s.cabinet.Code)})
	}
	return t
}

func (s *shop) giveTracks(b *testing.B, db *sql.DB, start time.Time) {
	b.Helper()
	tx := must(db.BeginTx(context.Background(), nil))(b)
	give := must(tx.Prepare(`UPDATE spools SET track = ?, opened_at = ?, version = ?, place_code = ? WHERE code = ?`))(b)
	for _, spool := range s.spools {
		must(give.Exec(string(spool.Track), start.Add(time.Minute).Unix(), sweptMoves, string(s.cabinet.Code), string(spool.Code)))(b)
	}
	if err := tx.Commit(); err != nil {
		b.Fatal(err)
	}
}

// fillLedger brings the ledger to 1,000,000 movements.
func (s *shop) fillLedger(b *testing.B, db *sql.DB, start time.Time) {
	b.Helper()
	must(db.Exec(`WITH RECURSIVE v(i) AS (SELECT 2 UNION ALL SELECT i + 1 FROM v WHERE i < ?)
INSERT INTO movements (seq, spool_code, version, type, effective_at, entered_at, person_code, request_key, request, to_code, reason, corrects, verdict, checked, prev_hash, hash)
SELECT ? + ROW_NUMBER() OVER (ORDER BY s.code, v.i), s.code, v.i, 'moved', ?, ?, ?, 'fill ' || v.i, '', ?, '', 0, '', '', '', '' FROM spools s CROSS JOIN v`,
		sweptMoves, sweptSpools, start.Unix(), start.Unix(), string(s.attendant.Code), string(s.cabinet.Code)))(b)
	var movements int
	if err := db.QueryRow("SELECT COUNT(*) FROM movements").Scan(&movements); err != nil || movements != sweptSpools*sweptMoves {
		b.Fatalf("%d movements, %v", movements, err)
	}
}
