package store_test

import (
	"log/slog"
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
)

// driable is a shop whose wire may be dried as its invented sheet says, with a
// spool that lay open on the shelf for 50 hours.
func driable(t *testing.T, rule string) (*shop, inventory.Code) {
	t.Helper()
	s := newShop(t, 0)
	w := s.wire
	w.ID, w.TradeName = 0, "Amber Kestrel 72M"
	w.Supplied = append(filler.Facts{}, w.Supplied...)
	if rule != "" {
		w.Supplied = append(w.Supplied, filler.Fact{Name: "drying", Value: rule, Provenance: filler.DataSheet, Source: "invented sheet"})
	}
	s.wire = must(s.ledger.AddWire(t.Context(), w))(t)
	s.receive(t, 1)
	spool := s.spools[0].Code
	must(s.ledger.Open(t.Context(), s.entry(spool)))(t)
	s.wait(50 * time.Hour)
	return s, spool
}

// drying is five hours at 270 °C in the cabinet, four of them hot.
func (s *shop) drying(spool inventory.Code) inventory.Dry {
	return inventory.Dry{Entry: s.entry(spool), From: s.now().Add(-5 * time.Hour), Oven: s.cabinet.Code, Heat: 270 * unit.Degree, Held: 4 * time.Hour,
		Place: s.shelf.Code, Material: inventory.MetalSpool}
}

func (s *shop) exposed(t *testing.T, spool inventory.Code) inventory.Exposure {
	t.Helper()
	return must(s.ledger.Exposure(t.Context(), spool, time.Time{}))(t)
}

func TestDryingIsHeldAgainstTheRule(t *testing.T) {
	t.Parallel()
	const sheet = "4 h at 260-290 degC, at most 2 times"
	tests := []struct {
		name, rule string
		set        func(*inventory.Dry)
		kind       inventory.Kind
		says       string // what the refusal names
	}{
		{"as the sheet says", sheet, func(*inventory.Dry) {}, "", ""},
		{"as hot as it may be", sheet, func(d *inventory.Dry) { d.Heat = 290 * unit.Degree }, "", ""},
		{"too hot", sheet, func(d *inventory.Dry) { d.Heat = 290*unit.Degree + 1 }, inventory.Refused, "too hot: " + sheet},
		{"too cool", sheet, func(d *inventory.Dry) { d.Heat = 260*unit.Degree - 1 }, inventory.Refused, "too cool: " + sheet},
		{"too short", sheet, func(d *inventory.Dry) { d.Held -= time.Second }, inventory.Refused, "too short: " + sheet},
		{"on a plastic spool", sheet, func(d *inventory.Dry) { d.Material = inventory.PlasticSpool }, inventory.Refused, "E090"},
		{"on a spool of fibre", sheet, func(d *inventory.Dry) { d.Material = inventory.FibreSpool }, inventory.Refused, "E090"},
		{"on a spool that nobody looked at", sheet, func(d *inventory.Dry) { d.Material = "" }, inventory.Invalid, "made of"},
		{"where nobody wrote a rule", "", func(*inventory.Dry) {}, inventory.Refused, "E092"},
		{"where the sheet forbids it", "not allowed", func(*inventory.Dry) {}, inventory.Refused, "not to be dried"},
		{"where the sheet does not say how often, and nobody confirms", "4 h at 260-290 degC", func(*inventory.Dry) {}, inventory.Invalid, "how often"},
		{"where the sheet does not say how often, and somebody confirms", "4 h at 260-290 degC", func(d *inventory.Dry) { d.Confirmed = "the maker by letter" }, "", ""},
		{"in Fahrenheit", "4 h at 500-550 degF, at most 2 times", func(*inventory.Dry) {}, "", ""},
		{"held longer than it was in the oven", sheet, func(d *inventory.Dry) { d.Held = 6 * time.Hour }, inventory.Invalid, "no longer than"},
		{"before it was opened", sheet, func(d *inventory.Dry) { d.From = d.From.Add(-60 * time.Hour) }, inventory.Invalid, "last movement"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			s, spool := driable(t, tt.rule)
			d := s.drying(spool)
			tt.set(&d)
			_, err := s.ledger.Dry(t.Context(), d)
			if inventory.KindOf(err) != tt.kind || tt.says != "" && !strings.Contains(err.Error(), tt.says) {
				t.Fatalf("Dry(%+v): error %v, want kind %q that says %q", d, err, tt.kind, tt.says)
			}
			want := time.Duration(0)
			if err != nil {
				want = 50 * time.Hour
			}
			if got := s.exposed(t, spool); got.Exposed != want || !got.Runs {
				t.Errorf("exposed %v, runs %v; want %v and running", got.Exposed, got.Runs, want)
			}
			verified(t, s)
		})
	}
}

// TestWhatASpoolIsMadeOfIsTakenFromItsWire holds what package and sheet say
// against what whoever dried it says.
func TestWhatASpoolIsMadeOfIsTakenFromItsWire(t *testing.T) {
	t.Parallel()
	const asked = "look at the spool"
	tests := []struct {
		name, wound, sheet string
		said               inventory.SpoolMaterial
		kind               inventory.Kind
		says               string // by the refusal, or by the ledger
	}{
		{"nothing is known, and nobody looked", "12 in spool", "", "", inventory.Invalid, asked},
		{"nothing is known, and somebody looked", "12 in spool", "", inventory.MetalSpool, "", "spool of metal"},
		{"a basket may be coated", "15 kg wire basket", "", "", inventory.Invalid, asked},
		{"a steel spool by its package", "15 kg steel spool", "", "", "", `spool of metal (its package is called "15 kg steel spool")`},
		{"metal by the sheet", "12 in spool", "metal", "", "", "spool of metal (data sheet: invented sheet)"},
		{"metal by the sheet, and somebody saw plastic", "12 in spool", "metal", inventory.PlasticSpool, inventory.Refused, "the spool is of plastic: spools of plastic"},
		{"a plastic spool by its package", "15 kg plastic spool", "", "", inventory.Refused, `the spool is of plastic (its package is called "15 kg plastic spool")`},
		{"whatever anybody saw", "15 kg plastic spool", "", inventory.MetalSpool, inventory.Refused, "E090"},
		{"of a sheet and a package that disagree, what is not heated", "15 kg steel spool", "fibre or cardboard", inventory.MetalSpool, inventory.Refused, "the spool is of fibre or cardboard (data sheet: invented sheet)"},
		{"a drum of steel has a liner", "steel drum", "", "", inventory.Refused, "in a drum"},
		{"nothing that there is", "12 in spool", "", "glass", inventory.Invalid, "a spool is of metal"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 0)
			w := s.wire
			w.ID, w.TradeName, w.Package = 0, "Amber Kestrel 73M", tt.wound
			w.Supplied = append(filler.Facts{}, w.Supplied...)
			for name, value := range map[string]string{"drying": "4 h at 260-290 degC, at most 2 times", "spool_material": tt.sheet} {
				if value != "" {
					w.Supplied = append(w.Supplied, filler.Fact{Name: name, Value: value, Provenance: filler.DataSheet, Source: "invented sheet"})
				}
			}
			s.wire = must(s.ledger.AddWire(t.Context(), w))(t)
			s.receive(t, 1)
			spool := s.spools[0].Code
			must(s.ledger.Open(t.Context(), s.entry(spool)))(t)
			s.wait(10 * time.Hour)
			d := s.drying(spool)
			d.Material = tt.said
			_, err := s.ledger.Dry(t.Context(), d)
			history := must(s.ledger.History(t.Context(), spool))(t)
			says := history[len(history)-1].Reason
			if err != nil {
				says = err.Error()
			}
			if inventory.KindOf(err) != tt.kind || !strings.Contains(says, tt.says) {
				t.Errorf("Dry(%+v) of %q: %q, kind %q; want %q, kind %q", d, tt.wound, says, inventory.KindOf(err), tt.says, tt.kind)
			}
		})
	}
}

func TestASpoolIsDriedAsOftenAsTheRuleAllows(t *testing.T) {
	t.Parallel()
	s, spool := driable(t, "4 h at 260-290 degC, at most 1 times")
	must(s.ledger.Dry(t.Context(), s.drying(spool)))(t)
	s.wait(10 * time.Hour)
	if _, err := s.ledger.Dry(t.Context(), s.drying(spool)); inventory.KindOf(err) != inventory.Refused || !strings.Contains(err.Error(), "1 times already") {
		t.Fatalf("a second drying: error %v, want Refused", err)
	}
	// The engineer finds that it never was: the exposure is back, and a drying is left.
	history := must(s.ledger.History(t.Context(), spool))(t)
	e := s.entry(spool)
	undo := inventory.Correction{Entry: e, Corrects: history[len(history)-1].Seq, Reason: "another spool", Undone: true}
	if _, err := s.ledger.Correct(t.Context(), undo); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("an attendant takes a drying back: error %v, want Forbidden", err)
	}
	undo.Person, undo.RequestKey = s.engineer.Code, s.key()
	must(s.ledger.Correct(t.Context(), undo))(t)
	if got := s.exposed(t, spool); got.Exposed != 60*time.Hour || got.Dryings != 0 {
		t.Errorf("after the drying was taken back: %v, %d dryings; want 60 h and none", got.Exposed, got.Dryings)
	}
	s.wait(6 * time.Hour)
	must(s.ledger.Dry(t.Context(), s.drying(spool)))(t)
	verified(t, s)
}

func TestADryingIsSetRight(t *testing.T) {
	t.Parallel()
	s, spool := driable(t, "4 h at 260-290 degC, at most 1 times")
	must(s.ledger.Dry(t.Context(), s.drying(spool)))(t)
	s.wait(10 * time.Hour)
	history := must(s.ledger.History(t.Context(), spool))(t)
	how := s.drying(spool)
	how.At, how.From = s.now().Add(-4*time.Hour), s.now().Add(-9*time.Hour)
	c := inventory.Correction{Entry: s.entry(spool), Corrects: history[len(history)-1].Seq, Reason: "clock of the oven", Dry: &how}
	c.Person = s.engineer.Code
	must(s.ledger.Correct(t.Context(), c))(t)
	if got := s.exposed(t, spool); got.Exposed != 4*time.Hour {
		t.Errorf("exposed %v since the true end of the drying, want 4 h", got.Exposed)
	}
	how.Heat = 400 * unit.Degree
	c.Dry, c.RequestKey = &how, s.key()
	if _, err := s.ledger.Correct(t.Context(), c); inventory.KindOf(err) != inventory.Refused {
		t.Errorf("a correction to 400 °C: error %v, want Refused", err)
	}
	verified(t, s)
}

func TestADamagedPackageMeetsNoLimit(t *testing.T) {
	t.Parallel()
	s, _ := driable(t, "4 h at 260-290 degC, at most 1 times")
	s.receive(t, 1)
	spool := s.spools[1].Code
	must(s.ledger.FoundDamaged(t.Context(), s.entry(spool), "bag torn at the seam"))(t)
	if got := s.exposed(t, spool); !got.Unknown {
		t.Errorf("exposure %+v, want it unknown", got.Clock)
	}
	if _, err := s.ledger.Issue(t.Context(), s.issue(spool)); inventory.KindOf(err) != inventory.Refused || !strings.Contains(err.Error(), "exposure") {
		t.Errorf("Issue: error %v, want Refused by the exposure rule", err)
	}
	f, _ := must(s.ledger.CheckFit(t.Context(), spool, s.job.Code, ""))(t).Verdict.Find(fit.RuleExposure)
	if want := "Or dry it, and its exposure is known again. Its rule: 4 h at 260-290 degC, at most 1 times (data sheet: invented sheet)."; !strings.HasSuffix(f.Says, want) {
		t.Errorf("the exposure rule says %q, want it to end with %q", f.Says, want)
	}
	must(s.ledger.Open(t.Context(), s.entry(spool)))(t)
	s.wait(6 * time.Hour)
	must(s.ledger.Dry(t.Context(), s.drying(spool)))(t)
	if got := s.exposed(t, spool); got.Unknown || got.Exposed != 0 {
		t.Errorf("after the drying: %+v, want known and none", got.Clock)
	}
	must(s.ledger.Issue(t.Context(), s.issue(spool)))(t)
	if _, err := s.ledger.FoundDamaged(t.Context(), s.entry(spool), "again"); inventory.KindOf(err) != inventory.Conflict {
		t.Errorf("damage to an open package: error %v, want Conflict", err)
	}
	verified(t, s)
}

func TestTheClockFollowsPlacesAndCorrections(t *testing.T) {
	t.Parallel()
	s, spool := driable(t, "")
	ctx := t.Context()
	must(s.ledger.Move(ctx, s.entry(spool), s.cabinet.Code))(t)
	s.wait(100 * time.Hour)
	if got := s.exposed(t, spool); got.Exposed != 50*time.Hour || got.Runs {
		t.Fatalf("in the cabinet: %v, runs %v; want 50 h and standing", got.Exposed, got.Runs)
	}
	// The shop no longer calls the cabinet dry-kept: what it did before stands.
	edit := inventory.PlaceEntry{Edit: inventory.Edit{Person: s.engineer.Code, RequestKey: s.key(), Version: 1}, Of: s.cabinet}
	edit.Of.DryKept = false
	must(s.ledger.ChangePlace(ctx, edit))(t)
	s.wait(10 * time.Hour)
	if got := s.exposed(t, spool); got.Exposed != 60*time.Hour || !got.Runs {
		t.Errorf("after the cabinet is no longer dry-kept: %v, runs %v; want 60 h and running", got.Exposed, got.Runs)
	}
	edit.Version, edit.RequestKey, edit.Of.DryKept = 2, s.key(), true
	must(s.ledger.ChangePlace(ctx, edit))(t)
	s.wait(10 * time.Hour)
	if got := s.exposed(t, spool); got.Exposed != 60*time.Hour {
		t.Errorf("after it is dry-kept again: %v, want 60 h", got.Exposed)
	}
	at := s.now().Add(-160 * time.Hour)
	c := inventory.Correction{Entry: s.entry(spool), Corrects: 2, Reason: "opened later", OpenedAt: &at}
	c.Person = s.engineer.Code
	must(s.ledger.Correct(ctx, c))(t)
	if got := s.exposed(t, spool); got.Exposed != 50*time.Hour {
		t.Errorf("opened ten hours later than was entered: %v, want 50 h", got.Exposed)
	}
	then := must(s.ledger.Exposure(ctx, spool, s.now().Add(-120*time.Hour)))(t)
	if then.Exposed != 40*time.Hour {
		t.Errorf("as of the move into the cabinet: %v, want 40 h", then.Exposed)
	}
	verified(t, s)
}

// TestTheClockFollowsAFeederThatIsDryKept ticks and unticks the feeder that a
// spool is on.
func TestTheClockFollowsAFeederThatIsDryKept(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	spool := s.out(t, 0).Code
	must(s.ledger.Load(t.Context(), s.load(t, spool, s.feeder.Code)))(t)
	for _, step := range []struct {
		dry  bool
		want time.Duration // ten hours later
	}{{true, 0}, {false, 10 * time.Hour}, {true, 10 * time.Hour}} {
		f := must(s.store.Read(t.Context()).Feeder(s.feeder.Code))(t)
		edit := inventory.Edit{Person: s.engineer.Code, RequestKey: s.key(), Version: f.Version}
		f.DryKept = step.dry
		must(s.ledger.ChangeFeeder(t.Context(), inventory.FeederEntry{Edit: edit, Of: f}))(t)
		s.wait(10 * time.Hour)
		if got := s.exposed(t, spool); got.Exposed != step.want || got.Runs == step.dry {
			t.Errorf("ten hours after its feeder is dry-kept %t: %v, runs %t; want %v", step.dry, got.Exposed, got.Runs, step.want)
		}
	}
}

func TestASpoolPastItsLimitIsHeldByTheClockOnce(t *testing.T) {
	t.Parallel()
	s, spool := driable(t, "")
	ctx := t.Context()
	s.wait(22*time.Hour + time.Second)
	if _, _, err := s.ledger.SweepExposure(ctx, s.now()); err != nil {
		t.Fatal(err)
	}
	history := must(s.ledger.History(ctx, spool))(t)
	last := history[len(history)-1]
	if last.Type != inventory.Held || last.Person != inventory.ExposureClock || !strings.Contains(last.Reason, "72 h (data sheet: invented sheet)") {
		t.Fatalf("after the sweep the last movement is %+v, want a hold by the exposure clock", last)
	}
	e := s.entry(spool)
	e.Person = s.engineer.Code
	must(s.ledger.Release(ctx, e, "for a practice plate"))(t)
	s.wait(time.Hour)
	if _, _, err := s.ledger.SweepExposure(ctx, s.now()); err != nil {
		t.Fatal(err)
	}
	if now := must(s.ledger.History(ctx, spool))(t); len(now) != len(history)+1 {
		t.Errorf("a spool that the engineer released was held again: %+v", now[len(now)-1])
	}
	if _, err := s.ledger.Hold(ctx, inventory.Entry{Spool: spool, Person: inventory.ExposureClock, RequestKey: s.key()}, "by nobody"); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("a hold under the badge of the program: error %v, want Forbidden", err)
	}
	for _, p := range must(s.store.Catalog(ctx).People())(t) {
		if p.Code == inventory.ExposureClock {
			t.Error("the exposure clock is listed among the people")
		}
	}
	verified(t, s)
}

func TestSpoolsFromBeforeThereWereTracksGetTheirs(t *testing.T) {
	t.Parallel()
	s, spool := driable(t, "")
	must(s.ledger.Move(t.Context(), s.entry(spool), s.cabinet.Code))(t)
	want := must(s.store.Catalog(t.Context()).Spool(spool))(t).Track
	tamper(t, s.path, "UPDATE spools SET track = ''")
	again := must(store.Open(t.Context(), s.path, slog.New(slog.DiscardHandler)))(t)
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
	if got := must(s.store.Catalog(t.Context()).Spool(spool))(t).Track; got != want || got == exposure.Track("") {
		t.Errorf("track made again is %q, want %q", got, want)
	}
	verified(t, s)
}
