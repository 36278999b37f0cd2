package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

func weight(g unit.Grams) *unit.Grams { return &g }

// moved is a movement of the type at noon by the person P, with set applied.
func movementOf(t MovementType, set func(*Movement)) Movement {
	m := Movement{Spool: "W7K2M-3", Type: t, EffectiveAt: noon, EnteredAt: noon, Person: "P"}
	if set != nil {
		set(&m)
	}
	return m
}

func TestStep(t *testing.T) {
	morning := noon.Add(-5 * time.Hour)
	sealed := Spool{Code: "W7K2M-3", LotID: 1, Place: "A1", Net: 15_000, Tare: 700, Full: 15_000, ReceivedAt: morning, MovedAt: morning, Version: 1}
	with := func(set func(*Spool)) Spool { s := sealed; set(&s); return s }
	after := func(set func(*Spool)) Spool {
		return with(func(s *Spool) { s.MovedAt, s.Version = noon, 2; set(s) })
	}
	open := with(func(s *Spool) { s.OpenedAt = morning })
	held := with(func(s *Spool) { s.Held = "torn box" })
	out := with(func(s *Spool) { s.Job, s.Holder, s.OutSince = "J", "P2", morning })
	outOpen := with(func(s *Spool) { s.OpenedAt, s.Job, s.Holder, s.OutSince, s.Net = morning, "J", "P2", morning, 12_000 })
	used := with(func(s *Spool) { s.OpenedAt, s.Net = morning, 12_000 })
	empty := with(func(s *Spool) { s.OpenedAt, s.Net = morning, 0 })
	scrapped := with(func(s *Spool) { s.Scrapped, s.Place = true, "" })
	onFeeder := with(func(s *Spool) { *s = outOpen; s.Place, s.Feeder, s.Touched = "F1", "F1", true })
	outHeld := with(func(s *Spool) { *s = outOpen; s.Held = "recall" })
	outEmpty := with(func(s *Spool) { *s = outOpen; s.Net = 0 })
	load := func(m *Movement) { m.To, m.Job, m.Reason = "F1", "J", "set and confirmed: gas off" }
	dry := func(set func(*Drying)) *Drying {
		d := &Drying{From: noon.Add(-4 * time.Hour), Until: noon, Oven: "K1", At: 110 * unit.Degree, Held: 3 * time.Hour, Takes: exposure.All}
		if set != nil {
			set(d)
		}
		return d
	}
	toJob := func(m *Movement) { m.Job, m.Holder, m.To = "J", "P2", "F1" }

	tests := []struct {
		name  string
		spool Spool
		move  Movement
		want  Spool
		kind  Kind // of the error; empty if the movement must succeed
	}{
		{"a delivery makes a spool", Spool{}, movementOf(Received, func(m *Movement) { m.LotID, m.To, m.Net, m.Tare = 1, "A1", weight(15_000), weight(700) }),
			Spool{Code: "W7K2M-3", LotID: 1, Place: "A1", Net: 15_000, Tare: 700, Full: 15_000, ReceivedAt: noon, MovedAt: noon, Version: 1}, ""},
		{"a spool is received once", sealed, movementOf(Received, func(m *Movement) { m.LotID, m.To, m.Net, m.Tare = 1, "A1", weight(1), weight(1) }), sealed, Conflict},
		{"a spool without a lot is no spool", Spool{}, movementOf(Received, func(m *Movement) { m.To, m.Net, m.Tare = "A1", weight(1), weight(1) }), Spool{}, Invalid},
		{"nothing happens to a spool that was never received", Spool{}, movementOf(Opened, nil), Spool{}, NotFound},
		{"opening starts the clock", sealed, movementOf(Opened, nil), after(func(s *Spool) { s.OpenedAt = noon }), ""},
		{"an open spool is not opened again", open, movementOf(Opened, nil), open, Conflict},
		{"a free spool goes to the job", sealed, movementOf(Issued, toJob), after(func(s *Spool) { s.Job, s.Holder, s.OutSince, s.Place = "J", "P2", noon, "F1" }), ""},
		{"a held spool stays", held, movementOf(Issued, toJob), held, Refused},
		{"a spool that is out is not issued again", out, movementOf(Issued, toJob), out, Conflict},
		{"an issue names a job", sealed, movementOf(Issued, func(m *Movement) { m.Holder = "P2" }), sealed, Invalid},
		{"an issue names who takes it", sealed, movementOf(Issued, func(m *Movement) { m.Job = "J" }), sealed, Invalid},
		{"a spool comes back by weight", outOpen, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(11_200) }), after(func(s *Spool) { s.OpenedAt, s.Place, s.Net = morning, "A2", 11_200 }), ""},
		{"a spool that went out sealed and comes back lighter was opened when it went out", out, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(11_200) }), after(func(s *Spool) { s.OpenedAt, s.Place, s.Net = morning, "A2", 11_200 }), ""},
		{"a spool that went out sealed and comes back whole is sealed", out, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(14_980) }), after(func(s *Spool) { s.Place = "A2" }), ""},
		{"no wire grows on a spool", outOpen, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(12_051) }), outOpen, Invalid},
		{"a scale may read one step more, and the lower weight stands", outOpen, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(12_050) }), after(func(s *Spool) { s.OpenedAt, s.Place, s.Net = morning, "A2", 12_000 }), ""},
		{"a sealed spool that weighs less was opened by somebody", sealed, movementOf(Weighed, func(m *Movement) { m.Net = weight(14_000) }), sealed, Invalid},
		{"a sealed spool is not handed out lighter than it came", sealed, movementOf(Issued, func(m *Movement) { m.Job, m.Holder, m.Net = "J", "P2", weight(9_000) }), sealed, Invalid},
		{"an empty spool goes nowhere", empty, movementOf(Issued, toJob), empty, Refused},
		{"a used spool is not sealed again by a correction", used, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.OpenedAt = 1, "never opened", &time.Time{} }), used, Invalid},
		{"a spool is not opened before it came", open, movementOf(Corrected, func(m *Movement) {
			at := morning.Add(-time.Second)
			m.Corrects, m.Reason, m.OpenedAt = 1, "earlier", &at
		}), open, Invalid},
		{"a spool is not opened in the future", open, movementOf(Corrected, func(m *Movement) { at := noon.Add(time.Second); m.Corrects, m.Reason, m.OpenedAt = 1, "later", &at }), open, Invalid},
		{"nothing happens before there were records", Spool{}, movementOf(Received, func(m *Movement) {
			m.EffectiveAt = time.Date(2, 1, 1, 0, 0, 0, 0, time.UTC)
			m.LotID, m.To, m.Net, m.Tare = 1, "A1", weight(1), weight(1)
		}), Spool{}, Invalid},
		{"a return says where to", out, movementOf(Returned, func(m *Movement) { m.Net = weight(1) }), out, Invalid},
		{"a spool in the store is not returned", sealed, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(1) }), sealed, Conflict},
		{"nothing weighs more than the full package", out, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(15_051) }), out, Invalid},
		{"nothing weighs less than the empty spool", sealed, movementOf(Weighed, func(m *Movement) { m.Net = weight(-1) }), sealed, Invalid},
		{"a weighing brings a weight", sealed, movementOf(Weighed, nil), sealed, Invalid},
		{"a spool in the store moves", sealed, movementOf(Moved, func(m *Movement) { m.To = "A2" }), after(func(s *Spool) { s.Place = "A2" }), ""},
		{"a spool that is out is not moved", out, movementOf(Moved, func(m *Movement) { m.To = "A2" }), out, Conflict},
		{"a hold has a reason", sealed, movementOf(Held, nil), sealed, Invalid},
		{"a hold stops a spool", sealed, movementOf(Held, func(m *Movement) { m.Reason = "torn box" }), after(func(s *Spool) { s.Held = "torn box" }), ""},
		{"a spool that is out can be held", out, movementOf(Held, func(m *Movement) { m.Reason = "recall" }), after(func(s *Spool) { s.Held, s.Job, s.Holder, s.OutSince = "recall", "J", "P2", morning }), ""},
		{"a held spool is not held again", held, movementOf(Held, func(m *Movement) { m.Reason = "again" }), held, Conflict},
		{"a release ends a hold", held, movementOf(Released, func(m *Movement) { m.Reason = "box was fine" }), after(func(*Spool) {}), ""},
		{"a free spool is not released", sealed, movementOf(Released, func(m *Movement) { m.Reason = "x" }), sealed, Conflict},
		{"a scrapped spool is nowhere", out, movementOf(Scrapped, func(m *Movement) { m.Reason = "wet" }), after(func(s *Spool) { s.Scrapped, s.Place = true, "" }), ""},
		{"scrapping has a reason", sealed, movementOf(Scrapped, nil), sealed, Invalid},
		{"a scrapped spool is not issued", scrapped, movementOf(Issued, toJob), scrapped, Refused},
		{"a correction brings a scrapped spool back", scrapped, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.To = 1, "wrong spool", "A1" }), after(func(s *Spool) { s.Place = "A1" }), ""},
		{"a correction of a sealed spool sets what it came with", sealed, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.Net = 1, "typed 15 for 12.5", weight(12_500) }), after(func(s *Spool) { s.Net, s.Full = 12_500, 12_500 }), ""},
		{"a correction of an open spool may raise the weight", used, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.Net = 1, "typed 12 for 14", weight(14_000) }), after(func(s *Spool) { s.OpenedAt, s.Net = morning, 14_000 }), ""},
		{"scrapping for a blank is no reason", sealed, movementOf(Scrapped, func(m *Movement) { m.Reason = " " }), sealed, Invalid},
		{"a correction sets the opening", open, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.OpenedAt = 1, "never opened", &time.Time{} }), after(func(*Spool) {}), ""},
		{"a correction has a reason", sealed, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Net = 1, weight(1) }), sealed, Invalid},
		{"a correction names what was wrong", sealed, movementOf(Corrected, func(m *Movement) { m.Reason, m.Net = "x", weight(1) }), sealed, Invalid},
		{"a correction sets something", sealed, movementOf(Corrected, func(m *Movement) { m.Reason, m.Corrects = "x", 1 }), sealed, Invalid},
		{"nothing happens in the future", sealed, movementOf(Opened, func(m *Movement) { m.EffectiveAt = noon.Add(time.Second) }), sealed, Invalid},
		{"nothing happens before what happened last", sealed, movementOf(Opened, func(m *Movement) { m.EffectiveAt = morning.Add(-time.Second) }), sealed, Invalid},
		{"what was entered late takes effect when it happened", sealed, movementOf(Opened, func(m *Movement) { m.EnteredAt = noon.Add(time.Hour) }), after(func(s *Spool) { s.OpenedAt = noon }), ""},
		{"a spool that is out goes on a feeder, and its exposure runs on", outOpen, movementOf(Loaded, load), after(func(s *Spool) { v := s.Version; *s = onFeeder; s.MovedAt, s.Version = noon, v }), ""},
		{"a spool in the store goes on no feeder", open, movementOf(Loaded, load), open, Refused},
		{"a sealed spool goes on no feeder", out, movementOf(Loaded, load), out, Refused},
		{"a held spool goes on no feeder", outHeld, movementOf(Loaded, load), outHeld, Refused},
		{"an empty spool goes on no feeder", outEmpty, movementOf(Loaded, load), outEmpty, Refused},
		{"a spool is on one feeder at a time", onFeeder, movementOf(Loaded, func(m *Movement) { load(m); m.To = "F2" }), onFeeder, Conflict},
		{"a spool is loaded for the job it is out for", outOpen, movementOf(Loaded, func(m *Movement) { load(m); m.Job = "J2" }), outOpen, Conflict},
		{"a loading says on which feeder", outOpen, movementOf(Loaded, func(m *Movement) { load(m); m.To = "" }), outOpen, Invalid},
		{"a loading says how the machine is set", outOpen, movementOf(Loaded, func(m *Movement) { load(m); m.Reason = " " }), outOpen, Invalid},
		{"an unloaded spool stays out", onFeeder, movementOf(Unloaded, nil), after(func(s *Spool) {
			v := s.Version
			*s = outOpen
			s.Place, s.Touched, s.MovedAt, s.Version = "F1", true, noon, v
		}), ""},
		{"a held spool comes off its feeder", with(func(s *Spool) { *s = onFeeder; s.Held = "recall" }), movementOf(Unloaded, nil), after(func(s *Spool) {
			v := s.Version
			*s = outHeld
			s.Place, s.Touched, s.MovedAt, s.Version = "F1", true, noon, v
		}), ""},
		{"a spool on no feeder is not unloaded", outOpen, movementOf(Unloaded, nil), outOpen, Conflict},
		{"a spool is unloaded where it is", onFeeder, movementOf(Unloaded, func(m *Movement) { m.To = "F2" }), onFeeder, Invalid},
		{"weighing a spool that is out touches it", outOpen, movementOf(Weighed, func(m *Movement) { m.Net = weight(9_000) }), after(func(s *Spool) {
			v := s.Version
			*s = outOpen
			s.Net, s.Touched, s.MovedAt, s.Version = 9_000, true, noon, v
		}), ""},
		{"weighing one in the store does not", used, movementOf(Weighed, func(m *Movement) { m.Net = weight(9_000) }), after(func(s *Spool) { s.OpenedAt, s.Net = morning, 9_000 }), ""},
		{"a spool on a feeder is not returned", onFeeder, movementOf(Returned, func(m *Movement) { m.To, m.Net = "A2", weight(11_200) }), onFeeder, Conflict},
		{"a spool on a feeder is not scrapped", onFeeder, movementOf(Scrapped, func(m *Movement) { m.Reason = "wet" }), onFeeder, Conflict},
		{"no correction takes a spool off a feeder", onFeeder, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.To = 1, "it is on a shelf", "A1" }), onFeeder, Conflict},
		{"a spool on a feeder can be held", onFeeder, movementOf(Held, func(m *Movement) { m.Reason = "recall" }), after(func(s *Spool) {
			v := s.Version
			*s = onFeeder
			s.Held, s.MovedAt, s.Version = "recall", noon, v
		}), ""},
		{"no correction seals what is on a feeder", with(func(s *Spool) { *s = onFeeder; s.Net = s.Full }), movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.OpenedAt = 1, "never opened", &time.Time{} }),
			with(func(s *Spool) { *s = onFeeder; s.Net = s.Full }), Invalid},
		{"an open spool is dried and put away", used, movementOf(Dried, func(m *Movement) { m.To, m.Drying = "A2", dry(nil) }), after(func(s *Spool) { s.OpenedAt, s.Net, s.Place = morning, 12_000, "A2" }), ""},
		{"a sealed spool is not dried", sealed, movementOf(Dried, func(m *Movement) { m.To, m.Drying = "A2", dry(nil) }), sealed, Refused},
		{"a spool that is out is not dried", outOpen, movementOf(Dried, func(m *Movement) { m.To, m.Drying = "A2", dry(nil) }), outOpen, Conflict},
		{"a drying says how", used, movementOf(Dried, func(m *Movement) { m.To = "A2" }), used, Invalid},
		{"a drying does not begin before the last movement", used, movementOf(Dried, func(m *Movement) {
			m.To, m.Drying = "A2", dry(func(d *Drying) { d.From = morning.Add(-time.Second) })
		}), used, Invalid},
		{"a drying ends when it takes effect", used, movementOf(Dried, func(m *Movement) {
			m.To, m.Drying = "A2", dry(func(d *Drying) { d.Until = noon.Add(-time.Second) })
		}), used, Invalid},
		{"an oven holds no heat longer than the spool is in it", used, movementOf(Dried, func(m *Movement) {
			m.To, m.Drying = "A2", dry(func(d *Drying) { d.Held = 5 * time.Hour })
		}), used, Invalid},
		{"a drying is in an oven", used, movementOf(Dried, func(m *Movement) { m.To, m.Drying = "A2", dry(func(d *Drying) { d.Oven = "" }) }), used, Invalid},
		{"a sealed package is found damaged", sealed, movementOf(Damaged, func(m *Movement) { m.Reason = "bag torn" }), after(func(*Spool) {}), ""},
		{"damage says what is wrong", sealed, movementOf(Damaged, nil), sealed, Invalid},
		{"an open package is damaged no more", open, movementOf(Damaged, func(m *Movement) { m.Reason = "bag torn" }), open, Conflict},
		{"a correction takes a drying back", used, movementOf(Corrected, func(m *Movement) { m.Corrects, m.Reason, m.Undone = 3, "another spool", true }), after(func(s *Spool) { s.OpenedAt, s.Net = morning, 12_000 }), ""},
		{"a drying that never was has no times", used, movementOf(Corrected, func(m *Movement) {
			m.Corrects, m.Reason, m.Undone, m.Drying = 3, "another spool", true, dry(nil)
		}), used, Invalid},
		{"every movement has a person", sealed, movementOf(Opened, func(m *Movement) { m.Person = "" }), sealed, Invalid},
		{"an unknown movement is no movement", sealed, movementOf("lent", nil), sealed, Invalid},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Step(tt.spool, tt.move)
			if KindOf(err) != tt.kind {
				t.Fatalf("Step(%+v, %+v): error %v, want kind %q", tt.spool, tt.move, err, tt.kind)
			}
			if diff := cmp.Diff(tt.want, got, cmpopts.IgnoreFields(Spool{}, "Track")); diff != "" {
				t.Errorf("Step(%+v, %+v) (-want +got):\n%s", tt.spool, tt.move, diff)
			}
		})
	}
}

// anyMovement draws a movement, sensible or not.
func anyMovement(t *rapid.T, at time.Time) Movement {
	types := []MovementType{Received, Opened, Issued, Loaded, Unloaded, Returned, Weighed, Moved, Held, Released, Scrapped, Corrected, "lent"}
	m := Movement{Spool: "W7K2M-3", Type: rapid.SampledFrom(types).Draw(t, "type"), Person: "P", EnteredAt: at,
		EffectiveAt: at.Add(time.Duration(rapid.IntRange(-90, 5).Draw(t, "minutes")) * time.Minute)}
	m.To = rapid.SampledFrom([]Code{"", "A1", "A2"}).Draw(t, "to")
	m.Job = rapid.SampledFrom([]Code{"", "J"}).Draw(t, "job")
	m.Holder = rapid.SampledFrom([]Code{"", "P2"}).Draw(t, "holder")
	m.Reason = rapid.SampledFrom([]string{"", "because"}).Draw(t, "reason")
	m.LotID = rapid.Int64Range(0, 2).Draw(t, "lot")
	m.Corrects = rapid.Int64Range(0, 3).Draw(t, "corrects")
	if rapid.Bool().Draw(t, "weighed") {
		m.Net = weight(unit.Grams(rapid.Int64Range(-100, 16_000).Draw(t, "net")))
	}
	if rapid.Bool().Draw(t, "tared") {
		m.Tare = weight(700)
	}
	switch rapid.IntRange(0, 7).Draw(t, "reopened") {
	case 0:
		opened := at.Add(-time.Hour)
		m.OpenedAt = &opened
	case 1:
		m.OpenedAt = &time.Time{}
	case 2:
		long := time.Unix(0, 0)
		m.OpenedAt = &long
	}
	return m
}

// wholeSpools are a spool that is not there yet, one in the store, one that is
// out, and one on a feeder.
func wholeSpools() []Spool {
	sealed := Spool{Code: "W7K2M-3", LotID: 1, Place: "A1", Net: 15_000, Tare: 700, Full: 15_000, ReceivedAt: noon, MovedAt: noon, Version: 1}
	out := sealed
	out.OpenedAt, out.Job, out.Holder, out.OutSince, out.Net = noon, "J", "P2", noon, 12_000
	loaded := out
	loaded.Place, loaded.Feeder = "A2", "A2"
	return []Spool{{}, sealed, out, loaded}
}

func TestStepKeepsASpoolWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(wholeSpools()).Draw(t, "spool")
		at := noon
		for range rapid.IntRange(1, 60).Draw(t, "movements") {
			at = at.Add(time.Duration(rapid.IntRange(0, 120).Draw(t, "wait")) * time.Minute)
			m := anyMovement(t, at)
			next, err := Step(s, m)
			if err != nil {
				if next != s {
					t.Fatalf("Step(%+v, %+v) failed and changed the spool to %+v", s, m, next)
				}
				continue
			}
			if again, _ := Step(s, m); again != next {
				t.Fatalf("Step(%+v, %+v) is not pure: %+v, then %+v", s, m, next, again)
			}
			switch {
			case next.Version != s.Version+1:
				t.Fatalf("%s took version %d to %d", m.Type, s.Version, next.Version)
			case next.Net < 0 || next.Net > next.Full:
				t.Fatalf("%s left %d g on a spool of %d g", m.Type, next.Net, next.Full)
			case !next.Opened() && next.Net != next.Full:
				t.Fatalf("%s left a sealed spool with %d of %d g", m.Type, next.Net, next.Full)
			case m.Type != Corrected && next.Net > s.Net && s.Version > 0:
				t.Fatalf("%s put wire on a spool: %d g, then %d g", m.Type, s.Net, next.Net)
			case next.Opened() && next.OpenedAt.Before(next.ReceivedAt):
				t.Fatalf("%s left a spool opened before it came: %+v", m.Type, next)
			case next.Scrapped != (next.Place == ""):
				t.Fatalf("%s left a spool that is scrapped %v at %q", m.Type, next.Scrapped, next.Place)
			case (next.Job == "") != (next.Holder == "") || next.Out() == next.OutSince.IsZero():
				t.Fatalf("%s left a spool half out: %+v", m.Type, next)
			case next.Loaded() && (!next.Out() || !next.Opened() || next.Place != next.Feeder || next.Scrapped):
				t.Fatalf("%s left a spool on a feeder that cannot be there: %+v", m.Type, next)
			case next.MovedAt.Before(s.MovedAt):
				t.Fatalf("%s turned time back from %v to %v", m.Type, s.MovedAt, next.MovedAt)
			}
			s = next
		}
	})
}
