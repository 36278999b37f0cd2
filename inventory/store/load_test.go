package store_test

import (
	"strings"
	"sync"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// out issues the n-th spool of the shop to the job it fits.
func (s *shop) out(t testing.TB, n int) inventory.Spool {
	t.Helper()
	return must(s.ledger.Issue(t.Context(), s.issue(s.spools[n].Code)))(t)
}

// load is the loading of a spool by the welder, who ticks all that is to be set.
func (s *shop) load(t testing.TB, spool, feeder inventory.Code) inventory.Load {
	t.Helper()
	e := s.entry(spool)
	e.Person = s.welder.Code
	return s.loadAsTold(t, e, feeder)
}

// loadAsTold is the loading with all ticked that the load check says.
func (s *shop) loadAsTold(t testing.TB, e inventory.Entry, feeder inventory.Code) inventory.Load {
	t.Helper()
	o := inventory.Load{Entry: e, Feeder: feeder}
	c := must(s.ledger.LoadCheck(t.Context(), feeder, e.Spool, ""))(t)
	for _, setting := range c.Settings {
		o.Confirmed = append(o.Confirmed, inventory.Confirmation{Part: setting.Part, Says: setting.Says})
	}
	return o
}

// otherFeeder enters a feeder like the first, but for what set changes.
func (s *shop) otherFeeder(t testing.TB, name string, set func(*inventory.Feeder)) inventory.Feeder {
	t.Helper()
	f := s.feeder
	f.Name, f.Code = name, ""
	if set != nil {
		set(&f)
	}
	return must(s.ledger.AddFeeder(t.Context(), f))(t)
}

func TestASpoolIsLoadedAndUnloaded(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	spool := s.out(t, 0)
	opened := spool.OpenedAt
	o := s.load(t, spool.Code, s.feeder.Code)
	if len(o.Confirmed) < 4 {
		t.Fatalf("LoadCheck gives %d settings, want polarity, gas, stick-out and travel at least: %v", len(o.Confirmed), o.Confirmed)
	}
	got := must(s.ledger.Load(ctx, o))(t)
	if got.Feeder != s.feeder.Code || got.Place != s.feeder.Code || got.Job != s.job.Code || !got.OpenedAt.Equal(opened) {
		t.Errorf("Load: %+v, want it on %s, still out for %s, open since %v", got, s.feeder.Code, s.job.Code, opened)
	}
	history := must(s.store.Read(ctx).History(spool.Code))(t)
	last := history[len(history)-1]
	if last.Type != inventory.Loaded || last.Person != s.welder.Code || last.Checked != "WPS-11 rev C; General shop" {
		t.Errorf("the loading reads %+v", last)
	}
	for _, c := range o.Confirmed {
		if !strings.Contains(last.Reason, c.Says) {
			t.Errorf("the ledger keeps %q, which lacks %q", last.Reason, c.Says)
		}
	}
	if again := must(s.ledger.Load(ctx, o))(t); again != got {
		t.Errorf("loaded twice with one key: %+v, then %+v", got, again)
	}
	off := s.entry(spool.Code)
	off.Person = s.welder.Code
	got = must(s.ledger.Unload(ctx, off))(t)
	if got.Loaded() || !got.Out() || !got.OpenedAt.Equal(opened) {
		t.Errorf("Unload: %+v, want it off the feeder, still out, open since %v", got, opened)
	}
	verified(t, s)
}

func TestAReturnUnloadsInTheSameTransaction(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	first, second := s.out(t, 0), s.out(t, 1)
	must(s.ledger.Load(ctx, s.load(t, first.Code, s.feeder.Code)))(t)
	gross := unit.Grams(9_700)
	back := inventory.Return{Entry: s.entry(first.Code), Place: s.shelf.Code, Gross: &gross}
	got := must(s.ledger.Return(ctx, back))(t)
	if got.Loaded() || got.Out() || got.Place != s.shelf.Code {
		t.Errorf("Return of a loaded spool: %+v, want it in the store", got)
	}
	history := must(s.store.Read(ctx).History(first.Code))(t)
	n := len(history)
	if history[n-2].Type != inventory.Unloaded || history[n-1].Type != inventory.Returned || history[n-2].RequestKey != history[n-1].RequestKey {
		t.Errorf("the ledger ends with %s and %s, want unloaded and returned of one request", history[n-2].Type, history[n-1].Type)
	}
	must(s.ledger.Load(ctx, s.load(t, second.Code, s.feeder.Code)))(t) // the feeder is free
	scrapped := must(s.ledger.Scrap(ctx, s.entry(second.Code), "bird-nested"))(t)
	if scrapped.Loaded() || !scrapped.Scrapped {
		t.Errorf("Scrap of a loaded spool: %+v, want it off the feeder and scrapped", scrapped)
	}
	verified(t, s)
}

func TestLoadRefuses(t *testing.T) {
	t.Parallel()
	s := newShop(t, 5)
	ctx, l := t.Context(), s.ledger
	loaded, other, held, sealed := s.out(t, 0), s.out(t, 1), s.out(t, 2), s.spools[3]
	must(l.Load(ctx, s.load(t, loaded.Code, s.feeder.Code)))(t)
	free := s.otherFeeder(t, "Feeder 2", nil)
	negative := s.otherFeeder(t, "Feeder 3", func(f *inventory.Feeder) { f.Polarities = []fit.Polarity{fit.DCEN} })
	thick := s.otherFeeder(t, "Feeder 4", func(f *inventory.Feeder) { f.Diameters = []unit.Length{unit.Inch / 16} })
	right := s.load(t, other.Code, free.Code)
	heldLoad := s.load(t, held.Code, free.Code)
	must(l.Hold(ctx, s.entry(held.Code), "recall"))(t)
	with := func(set func(*inventory.Load)) inventory.Load {
		o := right
		o.RequestKey = s.key()
		o.Confirmed = append([]inventory.Confirmation(nil), right.Confirmed...)
		set(&o)
		return o
	}
	tests := []struct {
		name string
		load inventory.Load
		kind inventory.Kind
		says string
	}{
		{"a feeder that has a spool on it", with(func(o *inventory.Load) { o.Feeder = s.feeder.Code }), inventory.Conflict, string(loaded.Code) + " is on Feeder 1: unload it first"},
		{"a spool that is on another feeder", with(func(o *inventory.Load) { o.Spool = loaded.Code }), inventory.Conflict, "unload it there first"},
		{"a spool in the store", with(func(o *inventory.Load) { o.Spool = sealed.Code }), inventory.Refused, "issued at the counter first"},
		{"a spool on hold", heldLoad, inventory.Refused, "recall"},
		{"another job's spool", with(func(o *inventory.Load) { o.Job = s.wrongJob.Code }), inventory.Conflict, "out for job 2201"},
		{"a feeder that cannot give the polarity", with(func(o *inventory.Load) { o.Feeder = negative.Code }), inventory.Refused, "polarity"},
		{"a feeder that does not take the size", with(func(o *inventory.Load) { o.Feeder = thick.Code }), inventory.Refused, "diameter"},
		{"a place that is no feeder", with(func(o *inventory.Load) { o.Feeder = s.shelf.Code }), inventory.NotFound, "no feeder"},
		{"nothing confirmed", with(func(o *inventory.Load) { o.Confirmed = nil }), inventory.Invalid, "polarity, gas"},
		{"one setting not confirmed", with(func(o *inventory.Load) { o.Confirmed = o.Confirmed[1:] }), inventory.Invalid, "polarity is not confirmed"},
		{"another setting than is due", with(func(o *inventory.Load) {
			o.Confirmed[0].Says = "Set the machine to electrode negative (DCEN)."
		}), inventory.Invalid, "polarity is not confirmed"},
		{"a buyer", with(func(o *inventory.Load) {
			o.Person = must(l.AddPerson(ctx, inventory.Person{Name: "Bo", Role: inventory.Buyer}))(t).Code
		}), inventory.Forbidden, "buyer"},
	}
	before := must(s.store.Read(ctx).Ledger(0, 1000))(t)
	for _, tt := range tests {
		_, err := l.Load(ctx, tt.load)
		if inventory.KindOf(err) != tt.kind || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: Load: error %v, want %s with %q", tt.name, err, tt.kind, tt.says)
		}
	}
	if after := must(s.store.Read(ctx).Ledger(0, 1000))(t); len(after) != len(before) {
		t.Errorf("%d movements, before %d: something was loaded", len(after), len(before))
	}
	must(l.Load(ctx, right))(t) // what was refused was refused for its one reason
	verified(t, s)
}

func TestASealedSpoolIsOpenedAsItIsLoaded(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	i := s.issue(s.spools[0].Code)
	i.StaysSealed = true
	must(s.ledger.Issue(t.Context(), i))(t)
	s.wait(3600e9)
	got := must(s.ledger.Load(t.Context(), s.load(t, s.spools[0].Code, s.feeder.Code)))(t)
	if !got.OpenedAt.Equal(s.now()) {
		t.Errorf("Load of a sealed spool: open since %v, want now, %v", got.OpenedAt, s.now())
	}
	verified(t, s)
}

// TestASettingLiftsAStop holds that what a welder changes at the feeder does
// not refuse the spool: it is said, and must be confirmed.
func TestASettingLiftsAStop(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	spool := s.out(t, 0)
	co2 := fit.Gas{CO2: 100}
	tests := []struct {
		name   string
		set    func(*inventory.Feeder)
		answer fit.Answer
		part   fit.Part
		says   string
		change bool
	}{
		{"the gas is connected", nil, fit.Fits, fit.SetGas, "Leave 75 % Ar + 25 % CO2 connected.", false},
		{"another gas is connected", func(f *inventory.Feeder) { f.Gas = &co2 }, fit.FitsWithCautions, fit.SetGas, "Change the gas to 75 % Ar + 25 % CO2: CO2 100 % is connected.", true},
		{"no gas is connected", func(f *inventory.Feeder) { f.Gas = &fit.Gas{} }, fit.FitsWithCautions, fit.SetGas, "Connect 75 % Ar + 25 % CO2.", true},
		{"rolls of another size are in it", func(f *inventory.Feeder) { f.Rolls, f.RollSize = fit.KnurledV, unit.Inch/16 }, fit.FitsWithCautions, fit.SetRolls, "Change to knurled V or smooth V rolls .045 in.", true},
		{"the right rolls are in it", func(f *inventory.Feeder) { f.Rolls, f.RollSize = fit.KnurledV, 45*unit.Inch/1000 }, fit.Fits, fit.SetRolls, "Leave the knurled V rolls for .045 in.", false},
		{"the polarity is set otherwise", func(f *inventory.Feeder) { f.Polarity = fit.DCEN }, fit.Fits, fit.SetPolarity, "Swap to electrode positive (DCEP): the machine is set to electrode negative (DCEN).", true},
		{"nobody knows which gas is connected", func(f *inventory.Feeder) { f.Gas = nil }, fit.FitsWithCautions, fit.SetGas, "See that the gas is 75 % Ar + 25 % CO2: nobody has recorded what is connected.", true},
	}
	for _, tt := range tests {
		f := s.otherFeeder(t, tt.name, tt.set)
		c := must(s.ledger.LoadCheck(t.Context(), f.Code, spool.Code, ""))(t)
		if c.Verdict.Answer != tt.answer || !c.May() {
			t.Errorf("%s: LoadCheck: %s, may %t, %+v, want %s", tt.name, c.Verdict.Answer, c.May(), c.Verdict.Findings, tt.answer)
		}
		for _, setting := range c.Settings {
			if setting.Part == tt.part && (setting.Says != tt.says || setting.Change != tt.change) {
				t.Errorf("%s: LoadCheck: %q, change %t, want %q, %t", tt.name, setting.Says, setting.Change, tt.says, tt.change)
			}
		}
	}
}

func TestOfEightWeldersOneGetsTheFeeder(t *testing.T) {
	t.Parallel()
	s := newShop(t, 8)
	loads := make([]inventory.Load, 8)
	for i := range loads {
		loads[i] = s.load(t, s.out(t, i).Code, s.feeder.Code)
	}
	errs := make([]error, len(loads))
	var wg sync.WaitGroup
	for i, o := range loads {
		wg.Go(func() { _, errs[i] = s.ledger.Load(t.Context(), o) })
	}
	wg.Wait()
	won := 0
	for _, err := range errs {
		switch {
		case err == nil:
			won++
		case inventory.CodeOf(err) != "feeder-taken":
			t.Errorf("Load onto a feeder that is taken: %v, want feeder-taken", err)
		}
	}
	if won != 1 {
		t.Errorf("%d spools went on one feeder, want 1", won)
	}
	verified(t, s)
}

// TestVerifySeesASpoolTakenOffBehindTheLedger holds that the feeder is part of
// what a replay compares.
func TestVerifySeesASpoolTakenOffBehindTheLedger(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	spool := s.out(t, 0)
	must(s.ledger.Load(t.Context(), s.load(t, spool.Code, s.feeder.Code)))(t)
	verified(t, s)
	tamper(t, s.path, "UPDATE spools SET feeder_code = NULL")
	if v := must(s.ledger.Verify(t.Context()))(t); len(v.Faults) != 1 || !strings.Contains(v.Faults[0], string(spool.Code)) {
		t.Errorf("Verify() = %v, want one fault that names %s", v.Faults, spool.Code)
	}
}

// TestLoadingSetsTheFeeder holds that what was set and confirmed is how the
// feeder stands: for the next load check, in its history, and once.
func TestLoadingSetsTheFeeder(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	co2 := fit.Gas{CO2: 100}
	f := s.otherFeeder(t, "Feeder 2", func(f *inventory.Feeder) {
		f.Polarity, f.Gas, f.Rolls, f.RollSize = fit.DCEN, &co2, fit.KnurledV, unit.Inch/16
	})
	o := s.load(t, s.out(t, 0).Code, f.Code)
	unconfirmed := o
	unconfirmed.RequestKey, unconfirmed.Confirmed = s.key(), nil
	if _, err := s.ledger.Load(ctx, unconfirmed); inventory.KindOf(err) != inventory.Invalid {
		t.Errorf("Load with nothing confirmed: %v, want Invalid", err)
	}
	if now := must(s.store.Read(ctx).Feeder(f.Code))(t); now.Version != 1 || now.Polarity != fit.DCEN {
		t.Errorf("the feeder was set by a loading that was refused: %+v", now)
	}
	must(s.ledger.Load(ctx, o))(t)
	now := must(s.store.Read(ctx).Feeder(f.Code))(t)
	if want := (fit.Gas{Argon: 75, CO2: 25}); now.Polarity != fit.DCEP || now.Gas == nil || *now.Gas != want || now.Rolls != "" || now.RollSize != 45*unit.Inch/1000 {
		t.Errorf("the feeder stands at %s, %v, %q rolls of %s, want DCEP, %s, rolls for .045 in of a kind that the words left open", now.Polarity, now.Gas, now.Rolls, now.RollSize.Inches(), want)
	}
	changes := must(s.ledger.Changes(ctx, inventory.FeederRecord, string(f.Code)))(t)
	last := changes[0]
	if last.Person != s.welder.Code || last.Deed != inventory.RecordEdited || last.Version != now.Version || last.RequestKey != o.RequestKey {
		t.Errorf("the feeder's history ends with %+v, want an edit by the welder under the key of the loading", last)
	}
	want := []string{"polarity as set: DCEP, before DCEN", "connected gas: 75 % Ar + 25 % CO2, before CO2 100 %", "drive rolls: nothing, before knurled V", "size of the rolls: .045 in / 1.14 mm, before 1/16 in / 1.59 mm", "set as spool " + string(o.Spool) + " was loaded"}
	if strings.Join(last.What, "\n") != strings.Join(want, "\n") {
		t.Errorf("the feeder's history says\n%s\nwant\n%s", strings.Join(last.What, "\n"), strings.Join(want, "\n"))
	}
	must(s.ledger.Load(ctx, o))(t) // sent twice
	if again := must(s.ledger.Changes(ctx, inventory.FeederRecord, string(f.Code)))(t); len(again) != len(changes) {
		t.Errorf("%d changes after the loading was sent twice, before %d", len(again), len(changes))
	}
	off := s.entry(o.Spool)
	must(s.ledger.Unload(ctx, off))(t)
	if after := must(s.store.Read(ctx).Feeder(f.Code))(t); after.Version != now.Version || after.Polarity != fit.DCEP {
		t.Errorf("Unload left the feeder at %+v, want it as it was", after)
	}
	next := must(s.ledger.LoadCheck(ctx, f.Code, s.out(t, 1).Code, ""))(t)
	for _, setting := range next.Settings {
		if (setting.Part == fit.SetPolarity || setting.Part == fit.SetGas) && (setting.Change || !strings.HasPrefix(setting.Says, "Leave")) {
			t.Errorf("the next load check says %q, want it left", setting.Says)
		}
	}
	verified(t, s)
}

func TestALoadingDoesNotTakeTheKeyOfAnotherChange(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	f := s.feeder
	f.Polarity = fit.DCEN
	edit := inventory.FeederEntry{Edit: inventory.Edit{Person: s.engineer.Code, RequestKey: "both", Version: 1}, Of: f}
	must(s.ledger.ChangeFeeder(ctx, edit))(t)
	o := s.load(t, s.out(t, 0).Code, f.Code)
	o.RequestKey = "both"
	if _, err := s.ledger.Load(ctx, o); inventory.CodeOf(err) != "request-key-used" {
		t.Errorf("Load with the key of an edit: %v, want request-key-used", err)
	}
}
