package store_test

import (
	"cmp"
	"fmt"
	"slices"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// mixedStock is a shop whose store holds what fits, what does not, and what
// misses by one rule of each sort.
func mixedStock(t testing.TB) *shop {
	t.Helper()
	s := newStock(t, 24, 3, 4)
	ctx, l := t.Context(), s.ledger
	all := must(s.store.Read(ctx).SpoolsAfter("", 1000))(t)
	s.wait(60 * time.Hour)
	for i, spool := range all {
		switch {
		case i%7 == 0:
			must(l.Hold(ctx, s.entry(spool.Code), "torn box"))(t)
		case !spool.Opened() && i%5 == 0:
			must(l.Open(ctx, s.entry(spool.Code)))(t)
		case i%11 == 0:
			must(l.Scrap(ctx, s.entry(spool.Code), "wet"))(t)
		}
	}
	lots := must(s.store.Read(ctx).LotsAfter(0, 100))(t)
	if _, err := l.ChangeLot(ctx, inventory.LotChange{LotID: lots[0].ID, Person: s.attendant.Code, RequestKey: "hold", Status: fit.LotOnHold, Reason: "porosity"}); err != nil {
		t.Fatal(err)
	}
	s.wait(20 * time.Hour) // the first are open for 80 h, of 72 h allowed; the second for 20 h
	for _, spool := range must(s.store.Read(ctx).SpoolsAfter("", 1000))(t) {
		gross := spool.Full + spool.Tare
		if _, err := l.Issue(ctx, inventory.Issue{Entry: s.entry(spool.Code), Job: s.job.Code, Holder: s.welder.Code, Gross: &gross}); err == nil {
			break // one is out
		}
	}
	return s
}

// TestChooseAgreesWithTheCheckOfEachSpool checks every spool by itself and
// compares.
func TestChooseAgreesWithTheCheckOfEachSpool(t *testing.T) {
	t.Parallel()
	s := mixedStock(t)
	ctx := t.Context()
	narrow := s.otherFeeder(t, "Feeder 2", func(f *inventory.Feeder) { f.Gas = &fit.Gas{CO2: 100} })
	for _, feeder := range []inventory.Code{"", s.feeder.Code, narrow.Code} {
		var fitting []inventory.Spool
		useBy := map[inventory.Code]inventory.Day{}
		missed := map[fit.Rule]int{}
		for _, spool := range must(s.store.Read(ctx).SpoolsAfter("", 1000))(t) {
			if spool.Out() || spool.Scrapped {
				continue
			}
			check := must(s.ledger.CheckFit(ctx, spool.Code, s.job.Code, feeder))(t)
			var stops []fit.Rule
			for _, f := range check.Verdict.Findings {
				if f.Outcome == fit.Stops {
					stops = append(stops, f.Rule)
				}
			}
			switch len(stops) {
			case 0:
				fitting = append(fitting, spool)
				if useBy[spool.Code] = check.Lot.Papers.Expires; useBy[spool.Code] == "" {
					useBy[spool.Code] = "9999-12-31"
				}
			case 1:
				missed[stops[0]]++
			}
		}
		slices.SortFunc(fitting, func(a, b inventory.Spool) int {
			if a.Opened() != b.Opened() {
				return map[bool]int{true: -1, false: 1}[a.Opened()]
			}
			byUse := 0
			if !a.Opened() {
				byUse = cmp.Compare(useBy[a.Code], useBy[b.Code])
			}
			return cmp.Or(a.OpenedAt.Compare(b.OpenedAt), byUse, a.ReceivedAt.Compare(b.ReceivedAt), cmp.Compare(a.Code, b.Code))
		})
		for _, limit := range []int{1, 4, 50} {
			got := must(s.ledger.Choose(ctx, s.job.Code, feeder, limit))(t)
			var codes, want []inventory.Code
			for _, c := range got.Fitting {
				codes = append(codes, c.Code)
			}
			for _, spool := range fitting[:min(limit, len(fitting))] {
				want = append(want, spool.Code)
			}
			if diff := gocmp.Diff(want, codes); diff != "" || got.More != len(fitting)-len(want) {
				t.Errorf("Choose(feeder %q, limit %d): %d more, want %d (-want +got):\n%s", feeder, limit, got.More, len(fitting)-len(want), diff)
			}
		}
		near := map[fit.Rule]int{}
		for _, n := range must(s.ledger.Choose(ctx, s.job.Code, feeder, 50))(t).Near {
			near[n.Why.Rule] += n.Spools
		}
		if diff := gocmp.Diff(missed, near); diff != "" {
			t.Errorf("Choose(feeder %q): spools that miss by one rule (-want +got):\n%s", feeder, diff)
		}
		if feeder == "" && (len(fitting) < 4 || missed[fit.RuleExposure] == 0 || missed[fit.RuleLotStatus] == 0 || missed[fit.RuleGas] == 0) {
			t.Errorf("the stock tries too little: %d fit, %v miss", len(fitting), missed)
		}
		if feeder == narrow.Code && len(fitting) > 0 {
			t.Errorf("%d spools fit a feeder with another gas", len(fitting))
		}
	}
}

func TestChooseTellsHoursLeft(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	must(s.ledger.Open(ctx, s.entry(s.spools[0].Code)))(t)
	hours := func(n int) *time.Duration { d := time.Duration(n) * time.Hour; return &d }
	tests := []struct {
		name string
		wait time.Duration
		left *time.Duration // of the open spool; nil if it does not fit any more
		fits int
	}{
		{"just opened", 0, hours(72), 2},
		{"a day later", 24 * time.Hour, hours(48), 2},
		{"to the last second", 48 * time.Hour, hours(0), 2},
		{"and past it", time.Second, nil, 1},
	}
	for _, tt := range tests {
		s.wait(tt.wait)
		got := must(s.ledger.Choose(ctx, s.job.Code, "", 0))(t)
		if len(got.Fitting) != tt.fits {
			t.Fatalf("%s: Choose: %d fit, want %d", tt.name, len(got.Fitting), tt.fits)
		}
		if tt.left == nil {
			if n := got.Near; len(n) != 1 || n[0].Why.Rule != fit.RuleExposure || n[0].First != s.spools[0].Code {
				t.Errorf("%s: Choose: near misses %+v, want the open spool over its exposure", tt.name, n)
			}
			continue
		}
		if first := got.Fitting[0]; first.Code != s.spools[0].Code || first.Left == nil || *first.Left != *tt.left {
			t.Errorf("%s: Choose: %s with %v left first, want %s with %v", tt.name, first.Code, first.Left, s.spools[0].Code, tt.left)
		}
		if got.Fitting[1].Left != nil {
			t.Errorf("%s: Choose: a sealed spool has %v left", tt.name, got.Fitting[1].Left)
		}
	}
}

func TestChooseRefuses(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	closed := must(s.ledger.AddJob(t.Context(), inventory.Job{Number: "9", Procedures: s.job.Procedures, ProfileID: "general-shop", Closed: true}))(t)
	tests := []struct {
		name        string
		job, feeder inventory.Code
		kind        inventory.Kind
	}{
		{"a closed job", closed.Code, "", inventory.Refused},
		{"no such job", "J2222-2", "", inventory.NotFound},
		{"no such feeder", s.job.Code, s.shelf.Code, inventory.NotFound},
	}
	for _, tt := range tests {
		if _, err := s.ledger.Choose(t.Context(), tt.job, tt.feeder, 0); inventory.KindOf(err) != tt.kind {
			t.Errorf("%s: Choose: %v, want %s", tt.name, err, tt.kind)
		}
	}
}

// TestWhatLotsHaveOfTheirOwnIsNotShared holds that a near miss names its own
// lot, and that wire of one name and another size is judged by itself.
func TestWhatLotsHaveOfTheirOwnIsNotShared(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	for range 2 {
		r := s.receipt(2)
		r.Certificate = ""
		if _, _, err := s.ledger.Receive(ctx, r); err != nil {
			t.Fatal(err)
		}
	}
	thick := must(s.ledger.AddWire(ctx, inventory.Wire{Maker: s.wire.Maker, TradeName: s.wire.TradeName, Classifications: s.wire.Classifications,
		Diameter: unit.Inch / 16, Net: 15_000, Tare: 700, Supplied: filler.Facts(nil)}))(t)
	r := s.receipt(3)
	r.WireID = thick.ID
	if _, _, err := s.ledger.Receive(ctx, r); err != nil {
		t.Fatal(err)
	}
	got := must(s.ledger.Choose(ctx, s.job.Code, s.feeder.Code, 0))(t)
	spools := map[string]int{}
	for _, n := range got.Near {
		spools[string(n.Why.Rule)+" "+n.Wire.Diameter.Inches()] += n.Spools
	}
	if diff := gocmp.Diff(map[string]int{"lot-status .045 in": 4, "diameter 1/16 in": 3}, spools); diff != "" || len(got.Fitting) != 0 {
		t.Errorf("Choose: %d fit, want none; near misses (-want +got):\n%s", len(got.Fitting), diff)
	}
}

// TestAWaivedSpoolMayBeChosen holds that a spool which the engineer lets go is
// listed where it is due, with its waiver.
func TestAWaivedSpoolMayBeChosen(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	long := s.spools[1].Code
	must(s.ledger.Open(ctx, s.entry(long)))(t)
	s.wait(80 * time.Hour)
	if got := must(s.ledger.Choose(ctx, s.job.Code, "", 0))(t); len(got.Fitting) != 1 {
		t.Fatalf("Choose before the waiver: %d fit, want 1", len(got.Fitting))
	}
	asked := must(s.ledger.AskWaiver(ctx, inventory.WaiverRequest{Spool: long, Job: s.job.Code, Rules: []fit.Rule{fit.RuleExposure}, Person: s.attendant.Code, Reason: "kept warm", RequestKey: s.key()}))(t)
	must(s.ledger.GrantWaiver(ctx, inventory.WaiverDecision{ID: asked[0].ID, Person: s.engineer.Code, Reason: "bend test good", Until: s.now().Add(time.Hour), RequestKey: s.key()}))(t)
	got := must(s.ledger.Choose(ctx, s.job.Code, "", 0))(t)
	if len(got.Fitting) != 2 || got.Fitting[0].Code != long || got.Fitting[0].Verdict.Answer != fit.FitsWithCautions {
		t.Errorf("Choose with the waiver: %+v, want the open spool first, with cautions", got.Fitting)
	}
	s.wait(time.Hour)
	if got := must(s.ledger.Choose(ctx, s.job.Code, "", 0))(t); len(got.Fitting) != 1 {
		t.Errorf("Choose after the waiver's end: %d fit, want 1", len(got.Fitting))
	}
}

// TestChooseTellsWhetherTheWireIsEnough holds the wire on each spool against
// the weld that the job still needs, and the package against the feeder's hub.
func TestChooseTellsWhetherTheWireIsEnough(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	weld := func(length unit.Length) inventory.Job {
		j := s.job
		j.Code, j.Number, j.Welds = "", fmt.Sprint(j.Number, "-", int64(length)), []fit.Weld{{Shape: fit.FilletWeld, Leg: unit.Inch / 4, Length: length}}
		return must(s.ledger.AddJob(ctx, j))(t)
	}
	tests := []struct {
		name   string
		job    inventory.Job
		amount fit.Outcome
	}{
		{"nobody says how much", s.job, fit.NotDemanded},
		{"ten metres", weld(10_000 * unit.Millimetre), fit.Passed},
		{"a kilometre", weld(1_000_000 * unit.Millimetre), fit.Caution},
	}
	for _, tt := range tests {
		got := must(s.ledger.Choose(ctx, tt.job.Code, "", 0))(t)
		if len(got.Fitting) != 1 || got.Fitting[0].Amount.Outcome != tt.amount {
			t.Errorf("%s: Choose: %+v, want one spool and its wire %s", tt.name, got.Fitting, tt.amount)
		}
	}
	coils := s.otherFeeder(t, "Feeder 2", func(f *inventory.Feeder) { f.Packages = []fit.Package{{Kind: "coil"}} })
	got := must(s.ledger.Choose(ctx, s.job.Code, coils.Code, 0))(t)
	if len(got.Near) != 1 || got.Near[0].Why.Rule != fit.RulePackage {
		t.Errorf("Choose for a feeder that takes coils: %+v, want the package to stop", got.Near)
	}
}

// TestChooseTakesWhatRunsOutFirst has sealed spools of lots that came in one
// order and run out in another.
func TestChooseTakesWhatRunsOutFirst(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	codes := map[string]inventory.Code{}
	for _, lot := range []struct {
		name string
		days int // until it runs out; 0 is not stated
	}{{"no day", 0}, {"in two years", 730}, {"in a year", 365}, {"no day, later", 0}, {"past", 1}} {
		r := s.receipt(1)
		if lot.days > 0 {
			r.Papers.Expires = inventory.DayOf(s.now().AddDate(0, 0, lot.days))
		}
		_, spools, err := s.ledger.Receive(ctx, r)
		if err != nil {
			t.Fatal(err)
		}
		codes[lot.name] = spools[0].Code
		s.wait(time.Hour)
	}
	s.wait(72 * time.Hour)
	opened := s.receipt(1)
	_, spools, err := s.ledger.Receive(ctx, opened)
	if err != nil {
		t.Fatal(err)
	}
	must(s.ledger.Open(ctx, s.entry(spools[0].Code)))(t)
	want := []inventory.Code{spools[0].Code, codes["in a year"], codes["in two years"], codes["no day"], codes["no day, later"]}
	for _, limit := range []int{1, 3, 10} {
		var got []inventory.Code
		for _, c := range must(s.ledger.Choose(ctx, s.job.Code, "", limit))(t).Fitting {
			got = append(got, c.Code)
		}
		if diff := gocmp.Diff(want[:min(limit, len(want))], got); diff != "" {
			t.Errorf("Choose(limit %d) (-want +got):\n%s", limit, diff)
		}
	}
}

// TestChooseSeesTheEndOfTheShift holds what is listed against the check of the
// spool by itself.
func TestChooseSeesTheEndOfTheShift(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, spool := t.Context(), s.spools[0].Code
	s.setShifts(t, "Mon-Sun 00:00", "Mon-Sun 12:00")
	must(s.ledger.Open(ctx, s.entry(spool)))(t)
	s.wait(71*time.Hour + 30*time.Minute)
	alone := must(s.ledger.CheckFit(ctx, spool, s.job.Code, ""))(t).Verdict
	got := must(s.ledger.Choose(ctx, s.job.Code, "", 0))(t)
	if alone.Answer != fit.FitsWithCautions || len(got.Fitting) != 1 {
		t.Fatalf("CheckFit = %s, Choose lists %d, want a caution and one", alone.Answer, len(got.Fitting))
	}
	if diff := gocmp.Diff(alone, got.Fitting[0].Verdict); diff != "" {
		t.Errorf("what Choose says of the spool (-alone +listed):\n%s", diff)
	}
}
