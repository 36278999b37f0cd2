package store_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// TestRandomWorkAgreesWithTheReplay does what people do, in any order and with
// mistakes, through the use cases, and then replays the ledger.
func TestRandomWorkAgreesWithTheReplay(t *testing.T) {
	t.Parallel()
	tried, done := map[string]int{}, map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		s := driedShop(t, 3)
		for range rapid.IntRange(5, 40).Draw(rt, "deeds") {
			s.wait(time.Duration(rapid.IntRange(0, 300).Draw(rt, "minutes")) * time.Minute)
			name, err := s.randomDeed(t, rt)
			tried[name]++
			switch inventory.KindOf(err) {
			case "":
				done[name]++
			case inventory.Internal:
				rt.Fatalf("%s: %v", name, err)
			}
		}
		v, err := s.ledger.Verify(t.Context())
		if err != nil || len(v.Faults) > 0 {
			rt.Fatalf("Verify() = %s, %v", strings.Join(v.Faults, "\n"), err)
		}
	})
	// Which deeds succeed is chance; that each was tried and that most came off
	// is not: about 2,000 are tried, and some 250 of ten sorts succeed.
	for _, deed := range []string{"issue", "return", "open", "weigh", "move", "hold", "release", "scrap", "correct", "load", "unload", "dry", "damaged", "redry"} {
		if tried[deed] == 0 {
			t.Errorf("no %s was tried (%v)", deed, tried)
		}
	}
	t.Logf("came off: %v", done)
	for _, deed := range []string{"dry", "damaged", "redry"} {
		if done[deed] == 0 {
			t.Errorf("no %s came off (%v)", deed, done)
		}
	}
	total := 0
	for _, n := range done {
		total += n
	}
	if len(done) < 6 || total < 60 {
		t.Errorf("%d deeds of %d sorts succeeded: the test tries too little (%v)", total, len(done), done)
	}
}

// randomDeed does one thing to one spool, as whoever is drawn.
func (s *shop) randomDeed(t *testing.T, rt *rapid.T) (string, error) {
	ctx, l := t.Context(), s.ledger
	spool := rapid.SampledFrom(s.spools).Draw(rt, "spool").Code
	e := s.entry(spool)
	e.Person = rapid.SampledFrom([]inventory.Person{s.attendant, s.engineer, s.engineer, s.engineer, s.welder}).Draw(rt, "person").Code
	if rapid.IntRange(0, 9).Draw(rt, "late") == 0 {
		e.At = s.now().Add(-time.Duration(rapid.IntRange(-5, 600).Draw(rt, "ago")) * time.Minute)
	}
	gross := unit.Grams(rapid.IntRange(650, 15_750).Draw(rt, "gross"))
	place := rapid.SampledFrom([]inventory.Place{s.shelf, s.cabinet}).Draw(rt, "place").Code
	reason := rapid.SampledFrom([]string{"because", "because", "because", ""}).Draw(rt, "reason")
	how := s.drying(spool)
	how.Entry, how.Held, how.Place = e, time.Hour, place
	inOven := func() {
		how.From = s.now().Add(-time.Duration(rapid.IntRange(1, 400).Draw(rt, "in the oven")) * time.Minute)
	}
	// ready opens the spool, if it can be, and lets it lie for as long as a drying takes.
	ready := func() error {
		if rapid.IntRange(0, 3).Draw(rt, "as it is") > 0 {
			if _, err := l.Open(ctx, s.entry(spool)); inventory.KindOf(err) == inventory.Internal {
				return err
			}
			s.wait(7 * time.Hour)
		}
		inOven()
		return nil
	}
	deeds := map[string]func() (inventory.Spool, error){
		"dry": func() (inventory.Spool, error) {
			if err := ready(); err != nil {
				return inventory.Spool{}, err
			}
			return l.Dry(ctx, how)
		},
		"damaged": func() (inventory.Spool, error) { return l.FoundDamaged(ctx, e, reason) },
		"redry": func() (inventory.Spool, error) {
			if err := ready(); err != nil {
				return inventory.Spool{}, err
			}
			before := how
			if before.Entry = s.entry(spool); rapid.Bool().Draw(rt, "dry before") {
				if _, err := l.Dry(ctx, before); inventory.KindOf(err) == inventory.Internal {
					return inventory.Spool{}, err
				}
			}
			c := inventory.Correction{Entry: e, Corrects: lastOf(t, s, spool, inventory.Dried, inventory.Damaged), Reason: reason}
			if c.Undone = rapid.Bool().Draw(rt, "undone"); !c.Undone {
				c.Dry = &how
				how.At = s.now().Add(-time.Duration(rapid.IntRange(-5, 300).Draw(rt, "out of the oven")) * time.Minute)
			}
			return l.Correct(ctx, c)
		},
		"issue": func() (inventory.Spool, error) {
			return l.Issue(ctx, inventory.Issue{Entry: e, Job: s.job.Code, Holder: s.welder.Code, Gross: &gross, StaysSealed: rapid.Bool().Draw(rt, "sealed")})
		},
		"return": func() (inventory.Spool, error) {
			return l.Return(ctx, inventory.Return{Entry: e, Place: place, Gross: &gross})
		},
		"load": func() (inventory.Spool, error) { return l.Load(ctx, s.loadAsTold(t, e, s.feeder.Code)) },
		"unload": func() (inventory.Spool, error) {
			on := s.loadAsTold(t, e, s.feeder.Code)
			if on.RequestKey = s.key(); rapid.Bool().Draw(rt, "load before") {
				if _, err := l.Load(ctx, on); inventory.KindOf(err) == inventory.Internal {
					return inventory.Spool{}, err
				}
			}
			return l.Unload(ctx, e)
		},
		"open":    func() (inventory.Spool, error) { return l.Open(ctx, e) },
		"weigh":   func() (inventory.Spool, error) { return l.Weigh(ctx, e, gross) },
		"move":    func() (inventory.Spool, error) { return l.Move(ctx, e, place) },
		"hold":    func() (inventory.Spool, error) { return l.Hold(ctx, e, reason) },
		"release": func() (inventory.Spool, error) { return l.Release(ctx, e, reason) },
		"scrap":   func() (inventory.Spool, error) { return l.Scrap(ctx, e, reason) },
		"correct": func() (inventory.Spool, error) {
			c := inventory.Correction{Entry: e, Corrects: 1, Reason: reason, Gross: &gross}
			switch rapid.IntRange(0, 4).Draw(rt, "opening too") {
			case 0:
				at := s.now().Add(-time.Hour)
				c.OpenedAt = &at
			case 1:
				c.OpenedAt = &time.Time{}
			case 2:
				long := time.Unix(0, 0)
				c.OpenedAt = &long
			case 3:
				c.Place = place
			}
			return l.Correct(ctx, c)
		},
	}
	name := rapid.SampledFrom([]string{"issue", "issue", "return", "return", "load", "load", "unload", "unload", "unload", "open", "weigh", "move", "hold", "hold", "release", "release", "release", "scrap", "correct", "correct", "dry", "dry", "dry", "damaged", "redry", "redry"}).Draw(rt, "deed")
	_, err := deeds[name]()
	return name, err
}

// driedShop is a shop with spools of a wire that may be dried often and for a
// short time.
func driedShop(t *testing.T, spools int) *shop {
	t.Helper()
	s := newShop(t, 0)
	w := s.wire
	w.ID, w.TradeName = 0, "Amber Kestrel 72M"
	w.Supplied = append(slices.Clone(w.Supplied), filler.Fact{Name: "drying", Value: "1 h at 260-290 degC, at most 20 times", Provenance: filler.DataSheet, Source: "invented sheet"})
	s.wire = must(s.ledger.AddWire(t.Context(), w))(t)
	s.receive(t, spools)
	return s
}

// lastOf is the last movement of the spool of one of the types; 1 if it has none.
func lastOf(t *testing.T, s *shop, spool inventory.Code, types ...inventory.MovementType) int64 {
	t.Helper()
	last := int64(1)
	for _, m := range must(s.ledger.History(t.Context(), spool))(t) {
		if slices.Contains(types, m.Type) {
			last = m.Seq
		}
	}
	return last
}
