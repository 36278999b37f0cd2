package store_test

import (
	"context"
	"crypto/rand"
	"database/sql"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/unit"
	"wirehold/server"
)

// BenchmarkCheckout measures a spool issued and returned: through the ledger,
// over HTTP on loopback through the whole server, and as the same statements in
// bare prepared SQL on the same driver and settings.
func BenchmarkCheckout(b *testing.B) {
	for _, spools := range []int{1_000, 100_000} {
		b.Run(fmt.Sprintf("ledger/%d", spools), func(b *testing.B) { benchmarkLedger(b, spools) })
		b.Run(fmt.Sprintf("http/%d", spools), func(b *testing.B) { benchmarkHTTP(b, spools) })
		b.Run(fmt.Sprintf("bare/%d", spools), func(b *testing.B) { benchmarkBare(b, spools) })
	}
}

func benchmarkLedger(b *testing.B, spools int) {
	s := newShop(b, spools)
	ctx := b.Context()
	gross := unit.Grams(15_700)
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		spool := s.spools[n%len(s.spools)].Code
		n++
		issue := inventory.Issue{Entry: inventory.Entry{Spool: spool, Person: s.attendant.Code, RequestKey: fmt.Sprint("issue ", n)},
			Job: s.job.Code, Holder: s.welder.Code, Feeder: s.feeder.Code, Gross: &gross}
		if _, err := s.ledger.Issue(ctx, issue); err != nil {
			b.Fatal(err)
		}
		back := inventory.Return{Entry: inventory.Entry{Spool: spool, Person: s.attendant.Code, RequestKey: fmt.Sprint("return ", n)}, Place: s.shelf.Code, Gross: &gross}
		if _, err := s.ledger.Return(ctx, back); err != nil {
			b.Fatal(err)
		}
	}
}

// serve answers for the shop over HTTP on loopback, through the whole server.
func (s *shop) serve(b *testing.B) *httptest.Server {
	b.Helper()
	h, err := server.New(server.Deps{Ledger: s.ledger, Catalog: func(ctx context.Context) server.Catalog { return s.store.Catalog(ctx) },
		Healthy: s.store.Ping, Log: slog.New(slog.DiscardHandler), Now: s.now, NewID: rand.Text})
	if err != nil {
		b.Fatal(err)
	}
	srv := httptest.NewServer(h)
	b.Cleanup(srv.Close)
	return srv
}

func benchmarkHTTP(b *testing.B, spools int) {
	s := newShop(b, spools)
	srv := s.serve(b)
	post := func(path, body string) {
		resp, err := srv.Client().Post(srv.URL+path, "application/json", strings.NewReader(body))
		if err != nil {
			b.Fatal(err)
		}
		answer, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil || resp.StatusCode != http.StatusOK {
			b.Fatalf("%s: %d %s %v", path, resp.StatusCode, answer, err)
		}
	}
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		spool := s.spools[n%len(s.spools)].Code
		n++
		post("/api/v1/spools/"+string(spool)+"/issue", fmt.Sprintf(`{"person":%q,"request_key":"issue %d","job":%q,"feeder":%q,"gross_g":15700}`, s.attendant.Code, n, s.job.Number, s.feeder.Code))
		post("/api/v1/spools/"+string(spool)+"/return", fmt.Sprintf(`{"person":%q,"request_key":"return %d","place":%q,"gross_g":15700}`, s.attendant.Code, n, s.shelf.Code))
	}
}

// bareReads are the look-ups that an issue makes, by what they are given.
var bareReads = []string{
	`SELECT seq FROM movements WHERE request_key = ?`,
	`SELECT code, lot_id, place_code, net_g, tare_g, full_g, received_at, opened_at, held, job_code, holder_code, out_since, scrapped, moved_at, version FROM spools WHERE code = ?`,
	`SELECT code, name, role FROM people WHERE code = ?`,
	`SELECT code, name, role FROM people WHERE code = ?`,
	`SELECT code, name, role FROM people WHERE code = ?`,
	`SELECT id, wire_id, number, certificate, received_at, status, reason, version FROM lots WHERE id = ?`,
	`SELECT id, maker, trade_name, classifications, diameter_nm, marked, package, net_g, tare_g, minimum_g FROM wires WHERE id = ?`,
	`SELECT name, value, unit, condition, provenance, source, note FROM wire_facts WHERE wire_id = ? ORDER BY line`,
	`SELECT code, number, name, procedure_id, profile_id, base_metals, thickness_nm, joint, wind_mm_s, sheltered, closed FROM jobs WHERE code = ?`,
	`SELECT id, number, revision, title, processes, classifications, diameters_nm, polarity, gas, passes, positions, tensile, toughness, hydrogen, prequalified FROM procedures WHERE id = ?`,
	`SELECT p.code, p.name, p.kind, p.dry_kept, f.polarities, f.gas, f.diameters_nm FROM feeders f JOIN places p ON p.code = f.code WHERE f.code = ?`,
	`SELECT seq, hash FROM movements WHERE 0 < ? ORDER BY seq DESC LIMIT 1`,
}

// bareReturnReads are the look-ups that a return makes.
var bareReturnReads = []int{0, 1, 2, 12, 11}

const (
	bareInsert = `INSERT INTO movements (seq, spool_code, version, type, effective_at, entered_at, person_code, request_key, request, lot_id, to_code, job_code, holder_code, net_g, tare_g, opened_at, reason, corrects, verdict, checked, prev_hash, hash) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)`
	bareUpdate = `UPDATE spools SET place_code = ?, net_g = ?, tare_g = ?, full_g = ?, opened_at = ?, held = ?, job_code = ?, holder_code = ?, out_since = ?, scrapped = ?, moved_at = ?, version = ? WHERE code = ? AND version = ?`
	bareHash   = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"
)

// bare is the checkout as a careful hand would write it without a domain.
type bare struct {
	db             *sql.DB
	reads          []*sql.Stmt
	insert, update *sql.Stmt
	shop           *shop
	args           []any
	seq            int64
}

func newBare(b *testing.B, s *shop) *bare {
	b.Helper()
	db := must(sql.Open(driver, bareDSN(s.path)))(b)
	db.SetMaxOpenConns(1)
	b.Cleanup(func() { db.Close() })
	x := &bare{db: db, shop: s}
	for _, q := range append(bareReads, `SELECT code, name, kind, dry_kept FROM places WHERE code = ?`) {
		x.reads = append(x.reads, must(db.Prepare(q))(b))
	}
	x.insert, x.update = must(db.Prepare(bareInsert))(b), must(db.Prepare(bareUpdate))(b)
	person := string(s.attendant.Code)
	x.args = []any{"key", "spool", person, person, string(s.welder.Code), s.lot.ID, s.wire.ID, s.wire.ID, string(s.job.Code), s.job.Procedures[0], string(s.feeder.Code), 1, string(s.shelf.Code)}
	if err := db.QueryRow("SELECT MAX(seq) FROM movements").Scan(&x.seq); err != nil {
		b.Fatal(err)
	}
	return x
}

// read runs the look-ups in the transaction and scans every row.
func (x *bare) read(b *testing.B, tx *sql.Tx, which []int, spool, key string) {
	for _, i := range which {
		arg := x.args[i]
		switch i {
		case 0:
			arg = key
		case 1:
			arg = spool
		}
		rows, err := tx.Stmt(x.reads[i]).Query(arg)
		if err != nil {
			b.Fatal(err)
		}
		columns, _ := rows.Columns()
		values := make([]any, len(columns))
		for j := range values {
			values[j] = new(any)
		}
		for rows.Next() {
			if err := rows.Scan(values...); err != nil {
				b.Fatal(err)
			}
		}
		rows.Close()
	}
}

// write appends a movement and updates the spool. place and job may be nil.
func (x *bare) write(b *testing.B, tx *sql.Tx, kind, spool, key string, version int, place, job, holder any) {
	x.seq++
	now := x.shop.now().Unix()
	if _, err := tx.Stmt(x.update).Exec(place, 15_000, 700, 15_000, now, "", job, holder, now, false, now, version, spool, version-1); err != nil {
		b.Fatal(err)
	}
	if _, err := tx.Stmt(x.insert).Exec(x.seq, spool, version, kind, now, now, string(x.shop.attendant.Code), key, bareHash, nil, place, job, holder, 15_000, nil, nil, "", 0, "fits", "WPS-11 rev C; General shop", bareHash, bareHash); err != nil {
		b.Fatal(err)
	}
}

func benchmarkBare(b *testing.B, spools int) {
	s := newShop(b, spools)
	x := newBare(b, s)
	issueReads := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
	versions := make(map[string]int, spools)
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		spool := string(s.spools[n%len(s.spools)].Code)
		n++
		v, first := versions[spool], false
		if v == 0 {
			v, first = 1, true
		}
		feeder, job, holder := string(s.feeder.Code), string(s.job.Code), string(s.welder.Code)
		x.inTx(b, func(tx *sql.Tx) {
			key := fmt.Sprint("issue ", n)
			x.read(b, tx, issueReads, spool, key)
			if first { // the ledger opens a sealed package in the same transaction
				v++
				x.write(b, tx, "opened", spool, key, v, string(s.shelf.Code), nil, nil)
			}
			v++
			x.write(b, tx, "issued", spool, key, v, feeder, job, holder)
		})
		x.inTx(b, func(tx *sql.Tx) {
			key := fmt.Sprint("return ", n)
			x.read(b, tx, bareReturnReads, spool, key)
			v++
			x.write(b, tx, "returned", spool, key, v, string(s.shelf.Code), nil, nil)
		})
		versions[spool] = v
	}
}

func (x *bare) inTx(b *testing.B, f func(*sql.Tx)) {
	tx, err := x.db.Begin()
	if err != nil {
		b.Fatal(err)
	}
	f(tx)
	if err := tx.Commit(); err != nil {
		b.Fatal(err)
	}
}
