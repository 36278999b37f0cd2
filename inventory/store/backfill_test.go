package store_test

import (
	"database/sql"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/pressly/goose/v3"

	"wirehold/inventory"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
	"wirehold/migrations"
)

// updated returns a database that was kept by the program of a schema's version
// and then brought up to date: what the shop has entered is put into it as far
// as that schema had room for it, and the migrations do the rest.
func (s *shop) updated(t *testing.T, version int64) *sql.DB {
	t.Helper()
	path := filepath.Join(t.TempDir(), fmt.Sprintf("of-%d.db", version))
	db := must(sql.Open(driver, "file:"+path))(t)
	t.Cleanup(func() { db.Close() })
	db.SetMaxOpenConns(1) // what is attached is so on one connection
	old := must(goose.NewProvider(goose.DialectSQLite3, db, migrations.Files, goose.WithSlog(slog.New(slog.DiscardHandler))))(t)
	if _, err := old.UpTo(t.Context(), version); err != nil {
		t.Fatal(err)
	}
	run := func(statement string, args ...any) {
		t.Helper()
		if _, err := db.ExecContext(t.Context(), statement, args...); err != nil {
			t.Fatalf("%s: %v", statement, err)
		}
	}
	run("ATTACH DATABASE ? AS now", "file:"+s.path)
	for _, table := range texts(t, db, "SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%' AND name NOT LIKE 'goose%' AND name IN (SELECT name FROM now.sqlite_schema)") {
		columns := strings.Join(texts(t, db, "SELECT a.name FROM pragma_table_info('"+table+"', 'main') a JOIN pragma_table_info('"+table+"', 'now') b ON a.name = b.name ORDER BY a.cid"), ", ")
		run("INSERT OR REPLACE INTO main." + table + " (" + columns + ") SELECT " + columns + " FROM now." + table)
	}
	if version < 30 {
		run("DELETE FROM main.people WHERE role = 'program'")
	}
	run("DETACH DATABASE now")
	today, err := store.Open(t.Context(), path, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatalf("open a database of version %d: %v", version, err)
	}
	if err := today.Close(); err != nil {
		t.Fatal(err)
	}
	return db
}

// texts returns the rows of a query, the columns of each as one text.
func texts(t testing.TB, db *sql.DB, query string) (out []string) {
	t.Helper()
	rows := must(db.QueryContext(t.Context(), query))(t)
	defer rows.Close()
	names := must(rows.Columns())(t)
	for rows.Next() {
		cells, into := make([]sql.NullString, len(names)), make([]any, len(names))
		for i := range cells {
			into[i] = &cells[i]
		}
		if err := rows.Scan(into...); err != nil {
			t.Fatal(err)
		}
		row := make([]string, len(cells))
		for i, c := range cells {
			if row[i] = c.String; !c.Valid {
				row[i] = "-"
			}
		}
		out = append(out, strings.Join(row, " "))
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// rows is texts of the shop's own database.
func (s *shop) rows(t testing.TB, query string) []string {
	t.Helper()
	db := must(sql.Open(driver, "file:"+s.path))(t)
	defer db.Close()
	return texts(t, db, query)
}

const (
	allUses    = "SELECT job_code, spool_code, wire_id, used_g, laid, scrapped_g FROM job_uses ORDER BY spool_code, job_code"
	allTouched = "SELECT code, touched FROM spools ORDER BY code"
	allDryKept = "SELECT place_code, from_at, to_at FROM dry_keeping ORDER BY place_code, from_at"
)

// TestUsesAreFilledInFromAnOlderLedger holds what the migration makes of a
// shop's past against what the ledger wrote as it happened.
func TestUsesAreFilledInFromAnOlderLedger(t *testing.T) {
	t.Parallel()
	j := newJoint(t, "general-shop", "")
	at := func(i int) inventory.Spool { return j.spools[i] }
	j.wire.ID = must(j.store.Read(t.Context()).Lot(j.spools[0].LotID))(t).WireID
	j.receive(t, 8)
	histories := []struct {
		name string
		do   func(inventory.Spool)
	}{
		{"still out", func(s inventory.Spool) { j.outAgain(t, s, 15_000) }},
		{"out and loaded", func(s inventory.Spool) {
			must(j.ledger.Load(t.Context(), j.load(t, j.outAgain(t, s, 15_000).Code, j.feeder.Code)))(t)
			must(j.ledger.Unload(t.Context(), j.entry(s.Code)))(t)
		}},
		{"came back lighter, twice", func(s inventory.Spool) {
			j.outAgain(t, s, 15_000)
			j.back(t, s, 9_000)
			j.outAgain(t, s, 9_000)
			j.back(t, s, 4_000)
		}},
		{"came back as it went", func(s inventory.Spool) {
			j.outAgain(t, s, 15_000)
			j.back(t, s, 15_000)
		}},
		{"its return set right", func(s inventory.Spool) {
			j.outAgain(t, s, 15_000)
			j.back(t, s, 9_000)
			j.set(t, s, inventory.Returned, 10_000)
		}},
		{"a correction of a correction", func(s inventory.Spool) {
			j.outAgain(t, s, 15_000)
			j.back(t, s, 9_000)
			j.set(t, s, inventory.Returned, 10_000)
			j.set(t, s, inventory.Corrected, 11_000)
		}},
		{"a correction of a correction of a correction, and of the issue", func(s inventory.Spool) {
			j.outAgain(t, s, 14_500)
			j.set(t, s, inventory.Issued, 14_000)
			j.back(t, s, 9_000)
			j.set(t, s, inventory.Returned, 8_000)
			j.set(t, s, inventory.Corrected, 7_500)
			j.set(t, s, inventory.Corrected, 7_000)
		}},
		{"scrapped while out, and weighed after all", func(s inventory.Spool) {
			j.outAgain(t, s, 15_000)
			must(j.ledger.Scrap(t.Context(), j.entry(s.Code), "bird-nested"))(t)
			j.set(t, s, inventory.Scrapped, 12_000)
		}},
		{"weighed lighter while it was sealed, which does not count", func(s inventory.Spool) {
			must(j.ledger.Weigh(t.Context(), j.entry(s.Code), 14_980+s.Tare))(t)
			i := j.issue(s.Code)
			i.Gross = nil
			must(j.ledger.Issue(t.Context(), i))(t)
			j.back(t, s, 9_000)
		}},
		{"scrapped while out", func(s inventory.Spool) {
			j.outAgain(t, s, 15_000)
			must(j.ledger.Scrap(t.Context(), j.entry(s.Code), "bird-nested"))(t)
		}},
	}
	for i, h := range histories {
		h.do(at(i))
	}
	verified(t, j.shop)
	if got := j.rows(t, allUses); len(got) < 6 {
		t.Fatalf("the ledger kept %d uses, want those of six spools and more: %q", len(got), got)
	}
	then := j.updated(t, 25)
	for _, query := range []string{allUses, allTouched} {
		if diff := cmp.Diff(j.rows(t, query), texts(t, then, query)); diff != "" {
			t.Errorf("%s of an updated database (-as it was kept +filled in):\n%s", query, diff)
		}
	}
}

// outAgain issues the spool with so much wire on it.
func (j joint) outAgain(t testing.TB, s inventory.Spool, net unit.Grams) inventory.Spool {
	t.Helper()
	i := j.issue(s.Code)
	gross := net + s.Tare
	i.Gross = &gross
	return must(j.ledger.Issue(t.Context(), i))(t)
}

// TestDryKeepingIsFilledInFromAnOlderDatabase ticks and unticks places and
// feeders and holds the migration against what is kept of it today.
func TestDryKeepingIsFilledInFromAnOlderDatabase(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	tick := func(p inventory.Place, dry ...bool) {
		t.Helper()
		for _, d := range dry {
			s.wait(time.Hour)
			edit := inventory.Edit{Person: s.engineer.Code, RequestKey: s.key()}
			if p.Code.Kind() == inventory.FeederCode {
				f := must(s.store.Read(t.Context()).Feeder(p.Code))(t)
				edit.Version, f.DryKept = f.Version, d
				must(s.ledger.ChangeFeeder(t.Context(), inventory.FeederEntry{Edit: edit, Of: f}))(t)
				continue
			}
			now := must(s.store.Read(t.Context()).Place(p.Code))(t)
			edit.Version, now.DryKept = now.Version, d
			must(s.ledger.ChangePlace(t.Context(), inventory.PlaceEntry{Edit: edit, Of: now}))(t)
		}
	}
	enter := func(name string, dry bool) inventory.Place {
		return must(s.ledger.AddPlace(t.Context(), inventory.Place{Name: name, Kind: inventory.Shelf, DryKept: dry}))(t)
	}
	feeder := func(name string, dry bool) inventory.Place {
		return must(s.ledger.AddFeeder(t.Context(), inventory.Feeder{Place: inventory.Place{Name: name, DryKept: dry}}))(t).Place
	}
	tick(s.cabinet, false, true, false, true)
	tick(s.shelf, true, false, true)
	tick(enter("Never dry", false))
	tick(enter("Dry since ever", true))
	tick(enter("Dry no more", true), false)
	tick(enter("Dry since", false), true)
	tick(feeder("Feeder dry since ever", true))
	tick(feeder("Feeder dry no more", true), false)
	tick(feeder("Feeder dry again", true), false, true)
	tick(feeder("Feeder dry since", false), true)
	want := s.rows(t, allDryKept)
	if open := slices.DeleteFunc(slices.Clone(want), func(row string) bool { return !strings.HasSuffix(row, " -") }); len(want) != 13 || len(open) != 7 {
		t.Errorf("dry keeping is %d spans, %d of them open; want 13 and 7: %q", len(want), len(open), want)
	}
	if diff := cmp.Diff(want, texts(t, s.updated(t, 29), allDryKept)); diff != "" {
		t.Errorf("dry keeping of an updated database (-as it was kept +filled in):\n%s", diff)
	}
}

// TestWhatWasTriedAloneGoesOnAlone has a message fail before messages were
// bundled: its name outside the program was its key, and stays so.
func TestWhatWasTriedAloneGoesOnAlone(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	raise := func(subject string) {
		t.Helper()
		at := s.now()
		if err := s.store.Write(t.Context(), func(tx inventory.Tx) error {
			id, _, err := tx.RaiseAlert(inventory.Alert{Kind: inventory.ReorderAlert, Subject: subject, RaisedAt: at})
			if err != nil {
				return err
			}
			return tx.AddMessages([]inventory.Message{{AlertID: id, Channel: inventory.EmailChannel, Recipient: string(s.engineer.Code), Key: "key-of-" + subject, MadeAt: at, Attempt: inventory.Attempt{DueAt: at}}})
		}); err != nil {
			t.Fatal(err)
		}
	}
	raise("1")
	d, ok, err := s.ledger.ClaimDelivery(t.Context(), inventory.EmailChannel, "claim", s.now(), s.now().Add(time.Minute))
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	if err := s.ledger.Undelivered(t.Context(), d, "down", s.now(), s.now().Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	raise("2")
	want := []string{"key-of-1 key-of-1", "key-of-2 "}
	if diff := cmp.Diff(want, texts(t, s.updated(t, 34), "SELECT message_key, bundle FROM messages ORDER BY id")); diff != "" {
		t.Errorf("messages of an updated database (-want +got):\n%s", diff)
	}
}

// TestRandomUsesAreFilledInFromAnOlderLedger does with 40 spools what people do
// with their weight, mistakes and corrections of any entry included, and holds
// the migrations against what the ledger kept.
func TestRandomUsesAreFilledInFromAnOlderLedger(t *testing.T) {
	t.Parallel()
	s := newShop(t, 40)
	draw := rand.New(rand.NewPCG(26, 34))
	done := map[inventory.MovementType]int{}
	twice := 0
	for range 1500 {
		s.wait(time.Duration(draw.IntN(3)) * time.Minute) // no spool is out too long
		spool := s.spools[draw.IntN(len(s.spools))]
		now := must(s.store.Read(t.Context()).Spool(spool.Code))(t)
		history := must(s.store.Read(t.Context()).History(spool.Code))(t)
		of := history[draw.IntN(len(history))]
		if draw.IntN(2) == 0 {
			of = history[len(history)-1]
		}
		deed, err := s.weightDeed(t, draw, now, of)
		switch inventory.KindOf(err) {
		case "":
			done[deed]++
			if deed == inventory.Corrected && of.Type == inventory.Corrected {
				twice++
			}
		case inventory.Internal:
			t.Fatalf("%s of %s: %v", deed, spool.Code, err)
		}
	}
	verified(t, s)
	uses := s.rows(t, allUses)
	if done[inventory.Issued] < 100 || done[inventory.Returned] < 50 || done[inventory.Scrapped] < 3 || twice < 20 || len(uses) < 20 {
		t.Errorf("came off: %v, %d corrections of corrections, %d uses: the test tries too little", done, twice, len(uses))
	}
	then := s.updated(t, 25)
	for _, query := range []string{allUses, allTouched} {
		if diff := cmp.Diff(s.rows(t, query), texts(t, then, query)); diff != "" {
			t.Errorf("%s of an updated database (-as it was kept +filled in):\n%s", query, diff)
		}
	}
}

// weightDeed does one thing that weighs, or may, to a spool; a correction is of
// the movement of.
func (s *shop) weightDeed(t *testing.T, draw *rand.Rand, now inventory.Spool, of inventory.Movement) (inventory.MovementType, error) {
	ctx, l, e := t.Context(), s.ledger, s.entry(now.Code)
	e.Person = s.engineer.Code
	gross := now.Tare + now.Net - unit.Grams(draw.IntN(int(now.Net)/3+1))
	weighed := &gross
	if draw.IntN(3) == 0 {
		weighed = nil
	}
	var err error
	switch draw.IntN(12) {
	case 0, 1, 2:
		_, err = l.Issue(ctx, inventory.Issue{Entry: e, Job: s.job.Code, Holder: s.welder.Code, Gross: weighed})
		return inventory.Issued, err
	case 3, 4, 5:
		_, err = l.Return(ctx, inventory.Return{Entry: e, Place: s.shelf.Code, Gross: weighed})
		return inventory.Returned, err
	case 6:
		_, err = l.Weigh(ctx, e, gross)
		return inventory.Weighed, err
	case 7:
		_, err = l.Load(ctx, s.loadAsTold(t, e, s.feeder.Code))
		return inventory.Loaded, err
	case 8:
		_, err = l.Unload(ctx, e)
		return inventory.Unloaded, err
	case 9:
		if draw.IntN(8) > 0 {
			return inventory.Scrapped, inventory.Refusedf("seldom", "wire is seldom scrapped")
		}
		_, err = l.Scrap(ctx, e, "bird-nested")
		return inventory.Scrapped, err
	}
	right := now.Tare + unit.Grams(draw.IntN(int(now.Full)))
	c := inventory.Correction{Entry: e, Corrects: of.Seq, Reason: "the scale was off", Gross: &right}
	if draw.IntN(6) == 0 {
		c.Gross, c.Place = nil, s.shelf.Code
	}
	_, err = l.Correct(ctx, c)
	return inventory.Corrected, err
}
