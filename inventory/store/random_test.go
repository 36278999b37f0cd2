package store_test

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// TestRandomWorkAgreesWithTheReplay does what people do, in any order and with
// mistakes, through the use cases, and then replays the ledger.
func TestRandomWorkAgreesWithTheReplay(t *testing.T) {
	t.Parallel()
	tried, done := map[string]int{}, map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		s := newShop(t, 3)
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
	for _, deed := range []string{"issue", "return", "open", "weigh", "move", "hold", "release", "scrap", "correct", "load", "unload"} {
		if tried[deed] == 0 {
			t.Errorf("no %s was tried (%v)", deed, tried)
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
	deeds := map[string]func() (inventory.Spool, error){
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
	name := rapid.SampledFrom([]string{"issue", "issue", "return", "return", "load", "load", "unload", "unload", "unload", "open", "weigh", "move", "hold", "hold", "release", "release", "release", "scrap", "correct", "correct"}).Draw(rt, "deed")
	_, err := deeds[name]()
	return name, err
}
