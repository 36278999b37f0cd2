package store_test

import (
	"context"
	"database/sql"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

func verified(t *testing.T, s *shop) inventory.Verification {
	t.Helper()
	v := must(s.ledger.Verify(t.Context()))(t)
	if len(v.Faults) > 0 {
		t.Errorf("the ledger does not agree with the spools:\n%s", strings.Join(v.Faults, "\n"))
	}
	return v
}

func TestASpoolGoesOutAndComesBack(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	spool := s.spools[0].Code

	out := must(s.ledger.Issue(ctx, s.issue(spool)))(t)
	if out.Job != s.job.Code || out.Holder != s.welder.Code || !out.Opened() {
		t.Errorf("after the issue: %+v, want it out on the job, with the welder, and open", out)
	}
	s.wait(8 * time.Hour)
	gross := unit.Grams(11_900)
	back := must(s.ledger.Return(ctx, inventory.Return{Entry: s.entry(spool), Place: s.cabinet.Code, Gross: &gross}))(t)
	if back.Out() || back.Net != 11_200 || back.Place != s.cabinet.Code {
		t.Errorf("after the return: %+v, want it in the cabinet with 11,200 g", back)
	}
	stored := must(s.store.Read(ctx).Spool(spool))(t)
	if stored != back {
		t.Errorf("stored %+v, returned %+v", stored, back)
	}
	history := must(s.store.Read(ctx).History(spool))(t)
	var types []inventory.MovementType
	for _, m := range history {
		types = append(types, m.Type)
	}
	if want := []inventory.MovementType{inventory.Received, inventory.Opened, inventory.Issued, inventory.Returned}; !slices.Equal(types, want) {
		t.Errorf("history %v, want %v", types, want)
	}
	if m := history[2]; !strings.Contains(m.Checked, "WPS-11 rev C") || !strings.HasPrefix(m.Verdict, "fits") {
		t.Errorf("the issue says verdict %q, checked against %q", m.Verdict, m.Checked)
	}
	if v := verified(t, s); v.Movements != 5 || v.Spools != 2 {
		t.Errorf("Verify() = %+v, want 5 movements of 2 spools", v)
	}
}

func TestWhatCannotBeChangesNothing(t *testing.T) {
	t.Parallel()
	s := newShop(t, 3)
	ctx := t.Context()
	free, out := s.spools[0].Code, s.spools[1].Code
	must(s.ledger.Issue(ctx, s.issue(out)))(t)
	unreceived, _ := inventory.NewCode(inventory.SpoolCode, 9000)
	for n := 9000; unreceived == ""; n++ {
		unreceived, _ = inventory.NewCode(inventory.SpoolCode, n)
	}
	heavy, light := unit.Grams(15_751), unit.Grams(699)
	with := func(set func(*inventory.Issue)) inventory.Issue { i := s.issue(free); set(&i); return i }

	tests := []struct {
		name string
		do   func() error
		kind inventory.Kind
		says string
	}{
		{"a job it does not fit", func() error {
			_, err := s.ledger.Issue(ctx, with(func(i *inventory.Issue) { i.Job = s.wrongJob.Code }))
			return err
		}, inventory.Refused, "process"},
		{"a spool that is out", func() error { _, err := s.ledger.Issue(ctx, s.issue(out)); return err }, inventory.Conflict, "Mirel has it for job 2201"},
		{"a spool nobody received", func() error { _, err := s.ledger.Issue(ctx, s.issue(unreceived)); return err }, inventory.NotFound, "no spool"},
		{"a badge nobody has", func() error {
			_, err := s.ledger.Issue(ctx, with(func(i *inventory.Issue) { i.Person = "P" }))
			return err
		}, inventory.NotFound, "nobody"},
		{"a welder at the counter", func() error {
			_, err := s.ledger.Issue(ctx, with(func(i *inventory.Issue) { i.Person = s.welder.Code }))
			return err
		}, inventory.Forbidden, "store attendant"},
		{"a badge where the spool is due", func() error {
			_, err := s.ledger.Issue(ctx, with(func(i *inventory.Issue) { i.Spool = s.welder.Code }))
			return err
		}, inventory.Invalid, "scan a spool"},
		{"no request key", func() error {
			_, err := s.ledger.Issue(ctx, with(func(i *inventory.Issue) { i.RequestKey = " " }))
			return err
		}, inventory.Invalid, "key"},
		{"heavier than the package", func() error {
			_, err := s.ledger.Issue(ctx, with(func(i *inventory.Issue) { i.Gross = &heavy }))
			return err
		}, inventory.Invalid, "heavier than the full package"},
		{"lighter than the empty spool", func() error { _, err := s.ledger.Weigh(ctx, s.entry(free), light); return err }, inventory.Invalid, "lighter than the empty spool"},
		{"a time in the future", func() error {
			_, err := s.ledger.Issue(ctx, with(func(i *inventory.Issue) { i.At = s.now().Add(time.Minute) }))
			return err
		}, inventory.Invalid, "in the future"},
		{"a return without weight", func() error {
			_, err := s.ledger.Return(ctx, inventory.Return{Entry: s.entry(out), Place: s.shelf.Code})
			return err
		}, inventory.Invalid, "weigh"},
		{"a return to nowhere", func() error {
			g := unit.Grams(9000)
			_, err := s.ledger.Return(ctx, inventory.Return{Entry: s.entry(out), Place: "K", Gross: &g})
			return err
		}, inventory.NotFound, "no place"},
		{"an attendant who ends a hold", func() error { _, err := s.ledger.Release(ctx, s.entry(free), "looks fine"); return err }, inventory.Forbidden, "welding engineer ends a hold"},
		{"a correction of another spool's movement", func() error {
			_, err := s.ledger.Correct(ctx, inventory.Correction{Entry: s.entry(free), Corrects: 999, Reason: "x", Place: s.cabinet.Code})
			return err
		}, inventory.Invalid, "not one of spool"},
	}
	before := must(s.store.Read(ctx).Ledger(0, 1000))(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			err := tt.do()
			if inventory.KindOf(err) != tt.kind || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("error %v, want %s with %q", err, tt.kind, tt.says)
			}
		})
	}
	if after := must(s.store.Read(ctx).Ledger(0, 1000))(t); len(after) != len(before) {
		t.Errorf("%d movements, before %d: something was changed", len(after), len(before))
	}
	verified(t, s)
}

func TestARefusedIssueNamesEveryRule(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	i := s.issue(s.spools[0].Code)
	i.Job = s.wrongJob.Code
	_, err := s.ledger.Issue(t.Context(), i)
	e, ok := err.(*inventory.Error)
	if !ok || e.Kind != inventory.Refused {
		t.Fatalf("Issue: error %v, want Refused", err)
	}
	stopped := map[fit.Rule]bool{}
	for _, f := range e.Findings {
		stopped[f.Rule] = f.Outcome == fit.Stops
	}
	for _, rule := range []fit.Rule{fit.RuleProcess, fit.RulePolarity, fit.RuleGas} {
		if !stopped[rule] {
			t.Errorf("rule %s does not stop: %+v", rule, e.Findings)
		}
	}
	if len(stopped) != len(fit.Rules()) {
		t.Errorf("%d rules reported, want all %d", len(stopped), len(fit.Rules()))
	}
}

func TestARepeatedRequestMovesNothingTwice(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	i := s.issue(s.spools[0].Code)
	first := must(s.ledger.Issue(ctx, i))(t)
	second := must(s.ledger.Issue(ctx, i))(t)
	if first != second || second.Version != 3 {
		t.Errorf("issued twice with one key: %+v, then %+v", first, second)
	}
	other := s.issue(s.spools[1].Code)
	other.RequestKey = i.RequestKey
	if _, err := s.ledger.Issue(ctx, other); inventory.CodeOf(err) != "request-key-used" {
		t.Errorf("the key of another spool's request: error %v, want request-key-used", err)
	}
	r := s.receipt(3)
	_, spools, err := s.ledger.Receive(ctx, r)
	if err != nil {
		t.Fatal(err)
	}
	_, again, err := s.ledger.Receive(ctx, r)
	if err != nil || !slices.Equal(spools, again) {
		t.Errorf("received twice with one key: %v, then %v, %v", spools, again, err)
	}
	verified(t, s)
}

func TestOfEightCountersOneIssuesASpool(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	spool := s.spools[0].Code
	var wg sync.WaitGroup
	errs := make([]error, 8)
	for i := range errs {
		issue := s.issue(spool)
		wg.Go(func() { _, errs[i] = s.ledger.Issue(context.WithoutCancel(t.Context()), issue) })
	}
	wg.Wait()
	won, lost := 0, 0
	for _, err := range errs {
		switch inventory.KindOf(err) {
		case "":
			won++
		case inventory.Conflict:
			lost++
			if !strings.Contains(err.Error(), "Mirel has it") {
				t.Errorf("the loser is told %q, not who has it", err)
			}
		default:
			t.Errorf("Issue: error %v, want Conflict", err)
		}
	}
	if won != 1 || lost != 7 {
		t.Errorf("%d won and %d lost, want 1 and 7", won, lost)
	}
	verified(t, s)
}

func TestVerifyFindsWhatWasDoneBehindItsBack(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, sql, says string
	}{
		{"a weight changed in the ledger", "UPDATE movements SET net_g = 1000 WHERE seq = 1", "altered"},
		{"a movement deleted", "DELETE FROM movements WHERE seq = 2", "is gone"},
		{"a spool's row changed", "UPDATE spools SET net_g = 1", "its movements say"},
		{"a name changed in a line and its hash left", "UPDATE movements SET reason = 'no' WHERE seq = 2", "altered"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 2)
			must(s.ledger.Issue(t.Context(), s.issue(s.spools[0].Code)))(t)
			verified(t, s)
			tamper(t, s.path, tt.sql)
			v := must(s.ledger.Verify(t.Context()))(t)
			if !strings.Contains(strings.Join(v.Faults, "\n"), tt.says) {
				t.Errorf("after %q: faults %q, want one with %q", tt.sql, v.Faults, tt.says)
			}
		})
	}
}

// tamper changes the database with another connection, foreign keys off.
func tamper(t *testing.T, path, statement string) {
	t.Helper()
	db, err := sql.Open(driver, "file:"+path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.ExecContext(t.Context(), statement); err != nil {
		t.Fatal(err)
	}
}

func TestALotOnHoldStopsItsSpools(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	change := inventory.LotChange{LotID: s.lot.ID, Person: s.attendant.Code, RequestKey: s.key(), Status: fit.LotOnHold, Reason: "wet pallet"}
	must(s.ledger.ChangeLot(ctx, change))(t)
	if _, err := s.ledger.Issue(ctx, s.issue(s.spools[0].Code)); inventory.KindOf(err) != inventory.Refused || !strings.Contains(err.Error(), "lot-status") {
		t.Errorf("Issue of a lot on hold: error %v, want Refused by lot-status", err)
	}
	change.RequestKey, change.Status, change.Reason = s.key(), fit.LotAccepted, "dried and tested"
	if _, err := s.ledger.ChangeLot(ctx, change); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("an attendant accepts a lot: error %v, want Forbidden", err)
	}
	change.Person = s.engineer.Code
	must(s.ledger.ChangeLot(ctx, change))(t)
	must(s.ledger.Issue(ctx, s.issue(s.spools[0].Code)))(t)
}

func TestALotWithoutCertificateWaits(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	r := s.receipt(1)
	r.Certificate = ""
	lot, spools, err := s.ledger.Receive(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	if lot.Status != fit.LotOnHold {
		t.Errorf("lot without certificate is %s, want on hold", lot.Status)
	}
	if _, err := s.ledger.Issue(t.Context(), s.issue(spools[0].Code)); inventory.KindOf(err) != inventory.Refused {
		t.Errorf("Issue: error %v, want Refused", err)
	}
}

func TestSweepsRaiseOnceAndClear(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2) // 30 kg, minimum 60 kg
	ctx := t.Context()
	counts := func(name string, wantRaised, wantCleared int, sweep func(context.Context, time.Time) (int, int, error)) {
		t.Helper()
		raised, cleared, err := sweep(ctx, s.now())
		if err != nil || raised != wantRaised || cleared != wantCleared {
			t.Errorf("%s: raised %d, cleared %d, error %v; want %d and %d", name, raised, cleared, err, wantRaised, wantCleared)
		}
	}
	counts("stock below the minimum", 1, 0, s.ledger.SweepReorder)
	counts("swept again", 0, 0, s.ledger.SweepReorder)
	s.receive(t, 2)
	counts("stocked again, at the minimum", 0, 1, s.ledger.SweepReorder)

	must(s.ledger.Open(ctx, s.entry(s.spools[0].Code)))(t)
	s.wait(72 * time.Hour)
	counts("open exactly as long as the sheet allows: near its limit", 1, 0, s.ledger.SweepExposure)
	s.wait(time.Second)
	counts("open longer", 1, 1, s.ledger.SweepExposure)
	if _, err := s.ledger.Issue(ctx, s.issue(s.spools[0].Code)); !strings.Contains(err.Error(), "exposure") {
		t.Errorf("Issue of a spool open too long: error %v, want exposure named", err)
	}
	must(s.ledger.Scrap(ctx, s.entry(s.spools[0].Code), "open too long"))(t)
	counts("scrapped", 0, 1, s.ledger.SweepExposure)
	all := must(s.store.Catalog(ctx).Alerts(inventory.AlertQuery{Cleared: true}))(t)
	if len(all) != 3 || slices.ContainsFunc(all, func(a inventory.Alert) bool { return a.ClearedAt.IsZero() }) {
		t.Errorf("alerts %+v, want three, all cleared", all)
	}
	verified(t, s)
}
