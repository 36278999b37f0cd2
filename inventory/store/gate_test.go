package store_test

import (
	"context"
	"database/sql"
	"log/slog"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
)

// An issue entered late is judged as things stand now: a spool that is open too
// long does not go out because somebody writes an earlier time.
func TestABackdatedIssueIsJudgedNow(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	spool := s.spools[0].Code
	must(s.ledger.Open(t.Context(), s.entry(spool)))(t)
	opened := s.now()
	s.wait(100 * time.Hour) // the sheet allows 72
	i := s.issue(spool)
	i.At = opened.Add(time.Hour)
	if _, err := s.ledger.Issue(t.Context(), i); inventory.KindOf(err) != inventory.Refused || !strings.Contains(err.Error(), "exposure") {
		t.Errorf("an issue as of an hour after opening: error %v, want Refused by exposure", err)
	}
}

func TestASpoolThatCameBackLighterIsOpen(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	i := s.issue(s.spools[0].Code)
	i.StaysSealed = true
	must(s.ledger.Issue(t.Context(), i))(t)
	out := s.now()
	s.wait(100 * time.Hour)
	gross := unit.Grams(5_700)
	back := must(s.ledger.Return(t.Context(), inventory.Return{Entry: s.entry(i.Spool), Place: s.shelf.Code, Gross: &gross}))(t)
	if !back.OpenedAt.Equal(out) {
		t.Errorf("opened at %v, want since it went out, %v", back.OpenedAt, out)
	}
	again := s.issue(i.Spool)
	again.Gross = &gross
	if _, err := s.ledger.Issue(t.Context(), again); inventory.KindOf(err) != inventory.Refused {
		t.Errorf("issued again: error %v, want Refused by exposure", err)
	}
	verified(t, s)
}

// A request key stands for one wish: with anything else in it the request is
// another, and is told so.
func TestAKeyWithAnotherWishIsAConflict(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, spool := t.Context(), s.spools[0].Code
	light := unit.Grams(15_650)

	i := s.issue(spool)
	must(s.ledger.Issue(ctx, i))(t)
	receipt := s.receipt(1)
	if _, _, err := s.ledger.Receive(ctx, receipt); err != nil {
		t.Fatal(err)
	}
	issue := func(set func(*inventory.Issue)) func() error {
		return func() error {
			j := i
			set(&j)
			_, err := s.ledger.Issue(ctx, j)
			return err
		}
	}
	receive := func(set func(*inventory.Receipt)) func() error {
		return func() error {
			r := receipt
			set(&r)
			_, _, err := s.ledger.Receive(ctx, r)
			return err
		}
	}
	tests := map[string]func() error{
		"another job":            issue(func(j *inventory.Issue) { j.Job = s.wrongJob.Code }),
		"another welder":         issue(func(j *inventory.Issue) { j.Holder = s.second.Code }),
		"another weight":         issue(func(j *inventory.Issue) { j.Gross = &light }),
		"no weight":              issue(func(j *inventory.Issue) { j.Gross = nil }),
		"another feeder":         issue(func(j *inventory.Issue) { j.Feeder = s.feeder.Code }),
		"handed out sealed":      issue(func(j *inventory.Issue) { j.StaysSealed = true }),
		"another time":           issue(func(j *inventory.Issue) { j.At = s.now() }),
		"another deed":           func() error { e := i.Entry; _, err := s.ledger.Open(ctx, e); return err },
		"another lot number":     receive(func(r *inventory.Receipt) { r.LotNumber = "other" }),
		"another number of them": receive(func(r *inventory.Receipt) { r.Spools = 2 }),
		"another certificate":    receive(func(r *inventory.Receipt) { r.Certificate = "other" }),
		"another place to stand": receive(func(r *inventory.Receipt) { r.Place = s.cabinet.Code }),
	}
	before := must(s.store.Read(ctx).Ledger(0, 1000))(t)
	for name, do := range tests {
		if err := do(); inventory.CodeOf(err) != "request-key-used" {
			t.Errorf("%s: error %v, want request-key-used", name, err)
		}
	}
	if after := must(s.store.Read(ctx).Ledger(0, 1000))(t); len(after) != len(before) {
		t.Errorf("%d movements, before %d", len(after), len(before))
	}
}

func TestRoles(t *testing.T) {
	t.Parallel()
	s := newShop(t, 60)
	ctx, next := t.Context(), 0
	buyer := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Tobin", Role: inventory.Buyer}))(t)
	gross := unit.Grams(15_700)
	deeds := map[string]func(inventory.Entry) error{
		"receive": func(e inventory.Entry) error {
			r := s.receipt(1)
			r.Person = e.Person
			_, _, err := s.ledger.Receive(ctx, r)
			return err
		},
		"issue": func(e inventory.Entry) error {
			_, err := s.ledger.Issue(ctx, inventory.Issue{Entry: e, Job: s.job.Code})
			return err
		},
		"return": func(e inventory.Entry) error {
			_, err := s.ledger.Return(ctx, inventory.Return{Entry: e, Place: s.shelf.Code, Gross: &gross})
			return err
		},
		"weigh":   func(e inventory.Entry) error { _, err := s.ledger.Weigh(ctx, e, gross); return err },
		"move":    func(e inventory.Entry) error { _, err := s.ledger.Move(ctx, e, s.cabinet.Code); return err },
		"hold":    func(e inventory.Entry) error { _, err := s.ledger.Hold(ctx, e, "x"); return err },
		"release": func(e inventory.Entry) error { _, err := s.ledger.Release(ctx, e, "x"); return err },
		"scrap":   func(e inventory.Entry) error { _, err := s.ledger.Scrap(ctx, e, "x"); return err },
		"open":    func(e inventory.Entry) error { _, err := s.ledger.Open(ctx, e); return err },
		"correct": func(e inventory.Entry) error {
			_, err := s.ledger.Correct(ctx, inventory.Correction{Entry: e, Corrects: 1, Reason: "x", Place: s.cabinet.Code})
			return err
		},
	}
	may := map[string][]inventory.Person{
		"release": {s.engineer},
		"open":    {s.attendant, s.engineer, s.welder},
	}
	for name, do := range deeds {
		allowed := may[name]
		if allowed == nil {
			allowed = []inventory.Person{s.attendant, s.engineer}
		}
		for _, person := range []inventory.Person{s.attendant, s.engineer, s.welder, buyer} {
			e := s.entry(s.spools[next].Code) // a fresh one each time
			next++
			e.Person = person.Code
			forbidden := inventory.KindOf(do(e)) == inventory.Forbidden
			want := true
			for _, p := range allowed {
				want = want && p.Code != person.Code
			}
			if forbidden != want {
				t.Errorf("%s by a %s: forbidden %v, want %v", name, person.Role, forbidden, want)
			}
		}
	}
}

func TestOnlyTheEngineerBringsAScrappedSpoolBack(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, spool := t.Context(), s.spools[0].Code
	must(s.ledger.Scrap(ctx, s.entry(spool), "wet"))(t)
	c := inventory.Correction{Entry: s.entry(spool), Corrects: 2, Reason: "another spool was meant", Place: s.shelf.Code}
	if _, err := s.ledger.Correct(ctx, c); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("by the attendant: error %v, want Forbidden", err)
	}
	c.Person = s.engineer.Code
	if got := must(s.ledger.Correct(ctx, c))(t); got.Scrapped || got.Place != s.shelf.Code {
		t.Errorf("by the engineer: %+v, want it on the shelf", got)
	}
	verified(t, s)
}

func TestASecondDeliveryJoinsItsLot(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	r := s.receipt(3)
	r.LotNumber = " " + s.lot.Number + " "
	lot, spools, err := s.ledger.Receive(ctx, r)
	if err != nil || lot.ID != s.lot.ID || len(spools) != 3 {
		t.Fatalf("a second delivery: lot %d with %d spools, %v; want lot %d with 3 more", lot.ID, len(spools), err, s.lot.ID)
	}
	change := inventory.LotChange{LotID: lot.ID, Person: s.engineer.Code, RequestKey: s.key(), Status: fit.LotRejected, Reason: "cracked welds"}
	must(s.ledger.ChangeLot(ctx, change))(t)
	more := s.receipt(1)
	more.LotNumber = s.lot.Number
	if _, _, err := s.ledger.Receive(ctx, more); inventory.CodeOf(err) != "lot-rejected" {
		t.Errorf("a delivery of a rejected lot: error %v, want lot-rejected", err)
	}
	change.RequestKey, change.Person, change.Status = s.key(), s.attendant.Code, fit.LotOnHold
	if _, err := s.ledger.ChangeLot(ctx, change); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("an attendant lifts a rejection to a hold: error %v, want Forbidden", err)
	}
	verified(t, s)
}

func TestALotIsAcceptedWithItsCertificate(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	r := s.receipt(1)
	r.Certificate = "  "
	lot, _, err := s.ledger.Receive(ctx, r)
	if err != nil || lot.Status != fit.LotOnHold {
		t.Fatalf("a blank for a certificate: lot %s, %v; want it on hold", lot.Status, err)
	}
	change := inventory.LotChange{LotID: lot.ID, Person: s.engineer.Code, RequestKey: s.key(), Status: fit.LotAccepted, Reason: "it came"}
	if _, err := s.ledger.ChangeLot(ctx, change); inventory.CodeOf(err) != "lot-without-certificate" {
		t.Errorf("accepted without: error %v, want lot-without-certificate", err)
	}
	change.RequestKey, change.Certificate = s.key(), "MTC-77"
	if got := must(s.ledger.ChangeLot(ctx, change))(t); got.Status != fit.LotAccepted || got.Certificate != "MTC-77" || got.Reason != "" {
		t.Errorf("accepted with: %+v", got)
	}
	if again := must(s.ledger.ChangeLot(ctx, change))(t); again.Version != 2 {
		t.Errorf("sent twice: version %d, want 2", again.Version)
	}
	verified(t, s)
}

func TestVerifyKeepsAnEyeOnLots(t *testing.T) {
	t.Parallel()
	for name, statement := range map[string]string{
		"a lot accepted behind its back": "UPDATE lots SET status = 'accepted', reason = ''",
		"a decision deleted":             "DELETE FROM lot_decisions WHERE seq = 1",
		"a reason changed":               "UPDATE lot_decisions SET reason = 'none' WHERE seq = 2",
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 1)
			must(s.ledger.ChangeLot(t.Context(), inventory.LotChange{LotID: s.lot.ID, Person: s.attendant.Code, RequestKey: s.key(), Status: fit.LotOnHold, Reason: "wet"}))(t)
			verified(t, s)
			tamper(t, s.path, statement)
			if v := must(s.ledger.Verify(t.Context()))(t); len(v.Faults) == 0 {
				t.Errorf("after %q nothing is found", statement)
			}
		})
	}
}

// A ledger that is cut at its end is whole in itself; its head is another.
func TestTheHeadShowsACutLedger(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	before := verified(t, s)
	must(s.ledger.Open(t.Context(), s.entry(s.spools[0].Code)))(t)
	if after := verified(t, s); after.Head == before.Head || after.Head == "" {
		t.Errorf("head %q, then %q: a movement does not show", before.Head, after.Head)
	}
}

func TestVerifyReadsOneInstantWhileOthersWrite(t *testing.T) {
	t.Parallel()
	s := newShop(t, 40)
	ctx, stop := context.WithCancel(t.Context())
	var wg sync.WaitGroup
	wg.Go(func() {
		for i := 0; ctx.Err() == nil; i++ {
			spool := s.spools[i%len(s.spools)].Code
			to := []inventory.Code{s.cabinet.Code, s.shelf.Code}[i%2]
			if _, err := s.ledger.Move(context.WithoutCancel(ctx), s.entry(spool), to); err != nil {
				t.Errorf("Move: %v", err)
				return
			}
		}
	})
	for range 20 {
		verified(t, s)
	}
	stop()
	wg.Wait()
}

func TestABusyDatabaseIsToldAsBusy(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	db, err := sql.Open(driver, "file:"+s.path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := db.ExecContext(t.Context(), "BEGIN IMMEDIATE"); err != nil {
		t.Fatal(err)
	}
	_, err = s.ledger.Open(t.Context(), s.entry(s.spools[0].Code))
	if inventory.KindOf(err) != inventory.Unavailable {
		t.Errorf("Open while another holds the database: error %v, want Unavailable", err)
	}
}

func TestAPathMayHaveAnyCharacter(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "a?b#c 100%.db")
	s, err := store.Open(t.Context(), path, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	found := must(filepath.Glob(filepath.Join(filepath.Dir(path), "*")))(t)
	if len(found) == 0 || found[0] != path {
		t.Errorf("opened %q, and the folder holds %q", path, found)
	}
}

func TestSearchFindsLettersBeyondASCII(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	r := s.receipt(1)
	r.LotNumber = "ÄB-1"
	if _, _, err := s.ledger.Receive(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"ÄB-1", "Äb"} {
		if got := must(s.store.Catalog(t.Context()).Lots(inventory.Query{Text: text}))(t); len(got) != 1 {
			t.Errorf("Lots(%q) has %d lines, want 1", text, len(got))
		}
	}
	if _, err := s.store.Catalog(t.Context()).Spools(inventory.Query{State: "bogus"}); inventory.KindOf(err) != inventory.Invalid {
		t.Errorf("spools in a state that there is not: error %v, want Invalid", err)
	}
}

func TestReasonsAreTidied(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	for name, reason := range map[string]string{
		"too long":           strings.Repeat("x", 501),
		"a control":          "a\x00b",
		"a direction switch": "abc\u202edef",
		"a blank":            " \t ",
	} {
		if _, err := s.ledger.Hold(t.Context(), s.entry(s.spools[0].Code), reason); inventory.KindOf(err) != inventory.Invalid {
			t.Errorf("%s for a reason: error %v, want Invalid", name, err)
		}
	}
}

// TestAnOpeningIsNotLaterThanItsUse corrects when a package was opened to after
// wire was weighed off it, which would make its exposure shorter than it was.
func TestAnOpeningIsNotLaterThanItsUse(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, spool := t.Context(), s.spools[0].Code
	must(s.ledger.Open(ctx, s.entry(spool)))(t)
	s.wait(10 * time.Hour)
	gross := unit.Grams(5_700)
	must(s.ledger.Weigh(ctx, s.entry(spool), gross))(t)
	s.wait(10 * time.Hour)
	correct := func(of int64, at time.Time, gross *unit.Grams) error {
		c := inventory.Correction{Entry: s.entry(spool), Corrects: of, Reason: "misread", Gross: gross}
		if c.Person = s.engineer.Code; !at.IsZero() {
			c.OpenedAt = &at
		}
		_, err := s.ledger.Correct(ctx, c)
		return err
	}
	history := must(s.ledger.History(ctx, spool))(t)
	opened, weighed := history[1].Seq, history[2].Seq
	if err := correct(opened, s.now().Add(-9*time.Hour), nil); inventory.CodeOf(err) != "invalid-opened_at" || !strings.Contains(err.Error(), "wire was gone") {
		t.Errorf("opened an hour after wire was gone: error %v, want invalid-opened_at", err)
	}
	if err := correct(opened, s.now().Add(-11*time.Hour), nil); err != nil {
		t.Errorf("opened an hour before wire was gone: %v", err)
	}
	full := s.spools[0].Full + s.spools[0].Tare
	if err := correct(weighed, time.Time{}, &full); err != nil {
		t.Fatalf("the weight was wrong: %v", err)
	}
	if err := correct(opened, s.now().Add(-time.Hour), nil); err != nil {
		t.Errorf("opened after a weight that was corrected: %v", err)
	}
	verified(t, s)
}
