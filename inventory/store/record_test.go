package store_test

import (
	"errors"
	"log/slog"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
)

// emptyShop opens a store that has nothing in it.
func emptyShop(t *testing.T) *shop {
	t.Helper()
	s := &shop{path: filepath.Join(t.TempDir(), "empty.db")}
	s.clock.Store(1_772_000_000)
	s.store = must(store.Open(t.Context(), s.path, slog.New(slog.DiscardHandler)))(t)
	t.Cleanup(func() {
		if err := s.store.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	s.ledger = inventory.NewLedger(s.store, must(fit.Profiles())(t), s.now)
	return s
}

func asError(err error) (*inventory.Error, bool) { return errors.AsType[*inventory.Error](err) }

// edit is a change by the person, of what was looked at in the version.
func (s *shop) edit(by inventory.Person, version int) inventory.Edit {
	return inventory.Edit{Person: by.Code, RequestKey: s.key(), Version: version}
}

// withOwner enters an owner beside the shop's people.
func (s *shop) withOwner(t *testing.T) inventory.Person {
	t.Helper()
	return must(s.ledger.AddPerson(t.Context(), inventory.Person{Name: "Olive Ridge", Role: inventory.Owner}))(t)
}

func TestTheFirstPersonIsTheOwnerAndNobodyElseEntersThemselves(t *testing.T) {
	t.Parallel()
	s := emptyShop(t)
	first := inventory.PersonEntry{Edit: inventory.Edit{RequestKey: "a"}, Of: inventory.Person{Name: " Olive Ridge ", Role: inventory.Owner}}
	asWelder := first
	asWelder.Of.Role = inventory.Welder
	if _, err := s.ledger.EnterPerson(t.Context(), asWelder); inventory.KindOf(err) != inventory.Invalid {
		t.Errorf("a welder enters themselves first: %v, want %q", err, inventory.Invalid)
	}
	owner := must(s.ledger.EnterPerson(t.Context(), first))(t)
	if owner.Name != "Olive Ridge" || owner.Code.Kind() != inventory.PersonCode {
		t.Errorf("EnterPerson() = %+v, want Olive Ridge with a badge", owner)
	}
	if again := must(s.ledger.EnterPerson(t.Context(), first))(t); again != owner {
		t.Errorf("the same request again: %+v, want %+v", again, owner)
	}
	first.RequestKey = "b"
	if _, err := s.ledger.EnterPerson(t.Context(), first); inventory.CodeOf(err) != "somebody-is-entered" {
		t.Errorf("a second person enters themselves: %v, want somebody-is-entered", err)
	}
	changes := must(s.ledger.Changes(t.Context(), inventory.PersonRecord, string(owner.Code)))(t)
	if len(changes) != 1 || changes[0].PersonName != "Olive Ridge" || changes[0].Deed != inventory.RecordEntered {
		t.Errorf("Changes() = %+v, want one: entered by Olive Ridge", changes)
	}
}

// TestWhoMayEnterWhat holds each use case against each role.
func TestWhoMayEnterWhat(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	people := map[inventory.Role]inventory.Person{inventory.Owner: s.withOwner(t), inventory.Engineer: s.engineer, inventory.Attendant: s.attendant, inventory.Welder: s.welder,
		inventory.Buyer: must(s.ledger.AddPerson(t.Context(), inventory.Person{Name: "Bo Lane", Role: inventory.Buyer}))(t)}
	ctx := t.Context()
	tests := []struct {
		name string
		do   func(inventory.Edit, string) error
		may  string
	}{
		{"people", func(e inventory.Edit, n string) error {
			_, err := s.ledger.EnterPerson(ctx, inventory.PersonEntry{Edit: e, Of: inventory.Person{Name: n, Role: inventory.Welder}})
			return err
		}, "owner"},
		{"places", func(e inventory.Edit, n string) error {
			_, err := s.ledger.EnterPlace(ctx, inventory.PlaceEntry{Edit: e, Of: inventory.Place{Name: n, Kind: inventory.Shelf}})
			return err
		}, "owner, welding engineer"},
		{"feeders", func(e inventory.Edit, n string) error {
			_, err := s.ledger.EnterFeeder(ctx, inventory.FeederEntry{Edit: e, Of: inventory.Feeder{Place: inventory.Place{Name: "F " + n}}})
			return err
		}, "owner, welding engineer"},
		{"procedures", func(e inventory.Edit, n string) error {
			_, err := s.ledger.EnterProcedure(ctx, inventory.ProcedureEntry{Edit: e, Of: inventory.Procedure{Number: n, Revision: "A"}})
			return err
		}, "owner, welding engineer"},
		{"jobs", func(e inventory.Edit, n string) error {
			_, err := s.ledger.EnterJob(ctx, inventory.JobEntry{Edit: e, Of: inventory.Job{Number: n, Procedures: s.job.Procedures, ProfileID: s.job.ProfileID, Site: inventory.InShop}})
			return err
		}, "owner, welding engineer"},
	}
	for _, tt := range tests {
		for role, person := range people {
			err := tt.do(s.edit(person, 0), "By "+string(role))
			if want := map[bool]inventory.Kind{false: inventory.Forbidden}[strings.Contains(tt.may, string(role))]; inventory.KindOf(err) != want {
				t.Errorf("a %s enters %s: %v, want kind %q", role, tt.name, err, want)
			}
		}
	}
}

// TestARetiredBadgeIsRefusedEverywhere takes it to every sort of use case.
func TestARetiredBadgeIsRefusedEverywhere(t *testing.T) {
	t.Parallel()
	s := newShop(t, 3)
	owner, ctx := s.withOwner(t), t.Context()
	late := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Late Owner", Role: inventory.Owner}))(t)
	must(s.ledger.Issue(ctx, s.issue(s.spools[0].Code)))(t)
	for _, p := range []inventory.Person{late, s.welder} {
		must(s.ledger.RetirePerson(ctx, s.edit(owner, 0), p.Code, true))(t)
	}
	by := func() inventory.Entry {
		return inventory.Entry{Spool: s.spools[1].Code, Person: late.Code, RequestKey: s.key()}
	}
	toWelder, byLate := s.issue(s.spools[1].Code), s.issue(s.spools[1].Code)
	byLate.Person = late.Code
	receipt := s.receipt(1)
	receipt.Person = late.Code
	wire := s.wire
	wire.TradeName = "Other"
	tests := []struct {
		name string
		do   func() error
	}{
		{"issues", func() error { _, err := s.ledger.Issue(ctx, byLate); return err }},
		{"takes a spool", func() error { _, err := s.ledger.Issue(ctx, toWelder); return err }},
		{"opens", func() error { _, err := s.ledger.Open(ctx, by()); return err }},
		{"holds", func() error { _, err := s.ledger.Hold(ctx, by(), "why"); return err }},
		{"receives", func() error { _, _, err := s.ledger.Receive(ctx, receipt); return err }},
		{"decides about a lot", func() error {
			_, err := s.ledger.ChangeLot(ctx, inventory.LotChange{LotID: s.lot.ID, Person: late.Code, RequestKey: s.key(), Status: fit.LotOnHold, Reason: "why"})
			return err
		}},
		{"names", func() error {
			_, err := s.ledger.AddNickname(ctx, inventory.Nickname{Person: late.Code, Name: "bridge wire", Process: fit.FCAWG})
			return err
		}},
		{"enters a wire", func() error {
			_, err := s.ledger.EnterWire(ctx, inventory.WireEntry{Person: late.Code, RequestKey: s.key(), Wire: wire})
			return err
		}},
		{"enters people", func() error {
			_, err := s.ledger.EnterPerson(ctx, inventory.PersonEntry{Edit: s.edit(late, 0), Of: inventory.Person{Name: "New", Role: inventory.Welder}})
			return err
		}},
		{"closes a job", func() error { _, err := s.ledger.CloseJob(ctx, s.edit(late, 0), s.job.Code, true); return err }},
	}
	for _, tt := range tests {
		if err := tt.do(); inventory.CodeOf(err) != "badge-retired" {
			t.Errorf("a retired badge %s: %v, want badge-retired", tt.name, err)
		}
	}
	// History keeps the name, and what is out comes back.
	gross := unit.Grams(12_000)
	must(s.ledger.Return(ctx, inventory.Return{Entry: s.entry(s.spools[0].Code), Place: s.shelf.Code, Gross: &gross}))(t)
	must(s.ledger.RetirePerson(ctx, s.edit(owner, 0), late.Code, false))(t)
	if err := tests[2].do(); err != nil {
		t.Errorf("a reinstated badge opens: %v", err)
	}
}

func TestTheLastOwnerStays(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	owner, ctx := s.withOwner(t), t.Context()
	if _, err := s.ledger.RetirePerson(ctx, s.edit(owner, 0), owner.Code, true); inventory.CodeOf(err) != "last-owner" {
		t.Errorf("the only owner is retired: %v, want last-owner", err)
	}
	welder := inventory.PersonEntry{Edit: s.edit(owner, 1), Of: owner}
	welder.Of.Role = inventory.Welder
	if _, err := s.ledger.ChangePerson(ctx, welder); inventory.CodeOf(err) != "last-owner" {
		t.Errorf("the only owner becomes a welder: %v, want last-owner", err)
	}
	second := s.withOwner(t)
	must(s.ledger.RetirePerson(ctx, s.edit(second, 0), owner.Code, true))(t)
}

// wholeFeeder is a feeder of which everything is known.
func wholeFeeder() inventory.Feeder {
	return inventory.Feeder{Place: inventory.Place{Name: "Feeder 9", DryKept: true}, Polarities: []fit.Polarity{fit.DCEP, fit.DCEN}, Polarity: fit.DCEN, Gas: &fit.Gas{},
		Diameters: []unit.Length{45 * unit.Inch / 1000}, Rolls: fit.KnurledV, RollSize: 45 * unit.Inch / 1000, Gun: unit.Inch / 16, Liner: unit.Inch / 16,
		Packages: []fit.Package{{Kind: "spool", Outside: 12 * unit.Inch}, {Kind: "drum"}}, LargestPackage: 20_000}
}

func TestAFeederIsKeptWhole(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	entered := must(s.ledger.EnterFeeder(ctx, inventory.FeederEntry{Edit: s.edit(s.engineer, 0), Of: wholeFeeder()}))(t)
	want := wholeFeeder()
	want.Code, want.Kind, want.Version = entered.Code, inventory.AtFeeder, 1
	if diff := cmp.Diff(want, must(s.store.Catalog(ctx).Feeder(entered.Code))(t)); diff != "" {
		t.Errorf("Feeder (-want +got):\n%s", diff)
	}
	edited := want
	edited.Polarity, edited.Gas, edited.Rolls = fit.DCEP, nil, ""
	must(s.ledger.ChangeFeeder(ctx, inventory.FeederEntry{Edit: s.edit(s.engineer, 1), Of: edited}))(t)
	edited.Version = 2
	all := must(s.store.Catalog(ctx).Feeders())(t)
	if diff := cmp.Diff(edited, all[len(all)-1]); diff != "" {
		t.Errorf("Feeders, the last of them (-want +got):\n%s", diff)
	}
	changes := must(s.ledger.Changes(ctx, inventory.FeederRecord, string(entered.Code)))(t)
	said := []string{"polarity as set: DCEP, before DCEN", "connected gas: nothing, before no gas", "drive rolls: nothing, before knurled V"}
	if diff := cmp.Diff(said, changes[0].What); diff != "" {
		t.Errorf("what changed (-want +got):\n%s", diff)
	}
	if _, err := s.ledger.ChangeFeeder(ctx, inventory.FeederEntry{Edit: s.edit(s.engineer, 1), Of: edited}); inventory.CodeOf(err) != "record-changed" || !strings.Contains(err.Error(), s.engineer.Name) {
		t.Errorf("a change of a version that is no more: %v, want record-changed by %s", err, s.engineer.Name)
	}
}

func TestWhatMakesNoSenseNamesItsFields(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	feeder := func(change func(*inventory.Feeder)) func() error {
		return func() error {
			f := wholeFeeder()
			change(&f)
			_, err := s.ledger.EnterFeeder(ctx, inventory.FeederEntry{Edit: s.edit(s.engineer, 0), Of: f})
			return err
		}
	}
	procedure := func(p inventory.Procedure) func() error {
		return func() error {
			_, err := s.ledger.EnterProcedure(ctx, inventory.ProcedureEntry{Edit: s.edit(s.engineer, 0), Of: p})
			return err
		}
	}
	job := func(change func(*inventory.Job)) func() error {
		return func() error {
			j := inventory.Job{Number: "9901", Procedures: s.job.Procedures, ProfileID: s.job.ProfileID, Site: inventory.InShop}
			change(&j)
			_, err := s.ledger.EnterJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, 0), Of: j})
			return err
		}
	}
	tests := []struct {
		name   string
		do     func() error
		fields string
	}{
		{"a polarity the source does not give", feeder(func(f *inventory.Feeder) { f.Polarity = fit.AC }), "polarity"},
		{"a lot class that is none", job(func(j *inventory.Job) { j.Certificate.LotClass = "T3|T9" }), "certificate_lot_class"},
		{"a polarity that is none", feeder(func(f *inventory.Feeder) { f.Polarity = "plus" }), "polarity"},
		{"rolls that are none", feeder(func(f *inventory.Feeder) { f.Rolls = "round" }), "rolls"},
		{"a gun as wide as a pipe", feeder(func(f *inventory.Feeder) { f.Gun = 2 * unit.Inch }), "gun"},
		{"a name that stands already", feeder(func(f *inventory.Feeder) { f.Name = "Feeder 1" }), "name"},
		{"no number and no revision", procedure(inventory.Procedure{}), "number revision"},
		{"a class that cannot be read", procedure(inventory.Procedure{Number: "N", Revision: "A", Classifications: []string{"E7XT-1"}}), "classifications"},
		{"a class twice", procedure(inventory.Procedure{Number: "N", Revision: "A", Classifications: []string{"E71T-1C", "e71t-1c"}}), "classifications"},
		{"words that stand for nothing", procedure(inventory.Procedure{Number: "N", Revision: "A", Processes: []fit.Process{"stick"}, Positions: []fit.Position{"upside down"}, Passes: "some"}), "processes positions passes"},
		{"three passes of a single-pass joint", procedure(inventory.Procedure{Number: "N", Revision: "A", Passes: fit.SinglePass, PassCount: 3}), "pass_count"},
		{"a range that ends before it begins", procedure(inventory.Procedure{Number: "N", Revision: "A", Qualified: fit.Qualified{Least: 25 * unit.Millimetre, Most: 3 * unit.Millimetre}}), "thickness_most"},
		{"plate as thick as a house", procedure(inventory.Procedure{Number: "N", Revision: "A", Qualified: fit.Qualified{Least: -1, Most: 9000 * unit.Millimetre}}), "thickness_least thickness_most"},
		{"a qualified metal of no kind", procedure(inventory.Procedure{Number: "N", Revision: "A", Qualified: fit.Qualified{Metals: []fit.BaseMetal{{Name: "A36"}}}}), "base_metals"},
		{"a number that stands already", procedure(inventory.Procedure{Number: "WPS-11", Revision: "D"}), "number"},
		{"a job without a site", job(func(j *inventory.Job) { j.Site = "" }), "site"},
		{"a job without procedure and profile", job(func(j *inventory.Job) { j.Procedures, j.ProfileID = []int64{99}, "none" }), "profile procedure_1"},
		{"a metal of no kind", job(func(j *inventory.Job) { j.BaseMetals = []fit.BaseMetal{{Name: "A36"}} }), "family_1"},
		{"a third side", job(func(j *inventory.Job) {
			j.BaseMetals = []fit.BaseMetal{{Name: "A36", Family: "carbon steel"}, {Name: "A36", Family: "carbon steel"}, {Name: "A36", Family: "carbon steel"}}
		}), "base_metals"},
		{"a weld without a leg", job(func(j *inventory.Job) { j.Welds = []fit.Weld{{Shape: fit.FilletWeld, Length: 1}} }), "welds"},
		{"a clause that names no country", job(func(j *inventory.Job) { j.Origin.Clause = "clause 7" }), "origin_melted"},
		{"countries without a clause", job(func(j *inventory.Job) { j.Origin.Made = []string{"here"} }), "origin_clause"},
		{"a number that stands already as a job", job(func(j *inventory.Job) { j.Number = "2201" }), "number"},
		{"a number that reads like a code", job(func(j *inventory.Job) { j.Number = string(s.job.Code) }), "number"},
	}
	for _, tt := range tests {
		err := tt.do()
		var fields []string
		if e, ok := asError(err); ok {
			for _, f := range e.Fields {
				fields = append(fields, f.Field)
			}
		}
		if got := strings.Join(fields, " "); got != tt.fields {
			t.Errorf("%s: %v: faults of %q, want %q", tt.name, err, got, tt.fields)
		}
	}
}

// TestARevisionIsNeverChanged enters the next one, and retires the first.
// TestAJobsLotClassesAreInOneSpelling holds that "t4" demands what a lot's T4 is.
func TestAJobsLotClassesAreInOneSpelling(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	j := inventory.Job{Number: "9902", Procedures: s.job.Procedures, ProfileID: s.job.ProfileID, Site: inventory.InShop, Certificate: fit.Certificate{LotClass: "t3|T4"}}
	got := must(s.ledger.EnterJob(t.Context(), inventory.JobEntry{Edit: s.edit(s.engineer, 0), Of: j}))(t)
	if got.Certificate.LotClass != "T3|T4" {
		t.Errorf("EnterJob with lot classes t3 and T4: %q, want T3|T4", got.Certificate.LotClass)
	}
}

func TestARevisionIsNeverChanged(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	first := must(s.store.Catalog(ctx).Procedure(s.job.Procedures[0]))(t)
	next := first
	next.Revision, next.Hydrogen, next.Tensile = "D", 8, unit.Stress{Value: 70, Unit: unit.KSI}
	next.Qualified = fit.Qualified{Most: 25 * unit.Millimetre, Metals: []fit.BaseMetal{{Name: "A36", Family: "carbon steel"}, {Name: "Group ii"}}}
	second := must(s.ledger.EnterProcedure(ctx, inventory.ProcedureEntry{Edit: s.edit(s.engineer, 0), Of: next, From: first.ID}))(t)
	if diff := cmp.Diff(first, must(s.store.Catalog(ctx).Procedure(first.ID))(t)); diff != "" {
		t.Errorf("the first revision changed (-before +after):\n%s", diff)
	}
	changes := must(s.ledger.Changes(ctx, inventory.ProcedureRecord, inventory.ProcedureSubject(second.ID)))(t)
	said := []string{"revision: D, copied from C", "tensile strength: 70 ksi at least", "diffusible hydrogen: 8 mL/100 g at most",
		"qualified for plate of: up to 25 mm (.9843 in)", "qualified for base metal: A36 (carbon steel) or group II"}
	if diff := cmp.Diff(said, changes[0].What); diff != "" {
		t.Errorf("what the revision changed (-want +got):\n%s", diff)
	}
	if _, err := s.ledger.EnterProcedure(ctx, inventory.ProcedureEntry{Edit: s.edit(s.engineer, 0), Of: next, From: first.ID}); inventory.CodeOf(err) != "already-there" {
		t.Errorf("revision D a second time: %v, want already-there", err)
	}

	next.Qualified.Metals[1].Name = "group II"
	if diff := cmp.Diff(next.Qualified, must(s.store.Catalog(ctx).Procedure(second.ID))(t).Qualified); diff != "" {
		t.Errorf("what the revision is qualified for (-entered +kept):\n%s", diff)
	}

	must(s.ledger.RetireProcedure(ctx, s.edit(s.engineer, 0), first.ID, true))(t)
	if _, err := s.ledger.Issue(ctx, s.issue(s.spools[0].Code)); inventory.CodeOf(err) != "procedure-retired" {
		t.Errorf("wire for a job welded to a retired revision: %v, want procedure-retired", err)
	}
	moved := must(s.store.Catalog(ctx).Job(s.job.Code))(t)
	moved.Procedures, moved.Site = []int64{second.ID}, inventory.InShop
	must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, moved.Version), Of: moved}))(t)
	if _, err := s.ledger.Issue(ctx, s.issue(s.spools[0].Code)); inventory.CodeOf(err) != "does-not-fit" || !strings.Contains(err.Error(), "thickness") {
		t.Errorf("wire for a job that states no plate, under a procedure that states a range: %v, want does-not-fit by thickness", err)
	}
	moved.Plates, moved.Version = []unit.Length{20 * unit.Millimetre}, moved.Version+1
	must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, moved.Version), Of: moved}))(t)
	must(s.ledger.Issue(ctx, s.issue(s.spools[0].Code)))(t)
	history := must(s.ledger.History(ctx, s.spools[0].Code))(t)
	if got := history[len(history)-1].Checked; !strings.HasPrefix(got, "WPS-11 rev D; ") {
		t.Errorf("checked against %q, want WPS-11 rev D", got)
	}
	moved.Procedures, moved.Version = []int64{first.ID}, moved.Version+1
	if _, err := s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, moved.Version), Of: moved}); inventory.CodeOf(err) != "invalid-procedure_1" {
		t.Errorf("a job is moved to a retired revision: %v, want invalid-procedure_1", err)
	}
}

// wholeJob is a job of which everything is stated.
func (s *shop) wholeJob() inventory.Job {
	return inventory.Job{Number: "4401", Name: "gate posts", Procedures: s.job.Procedures, ProfileID: s.job.ProfileID,
		BaseMetals: []fit.BaseMetal{{Name: "A572 Gr 50", Family: "carbon steel"}, {Name: "304L", Family: "stainless steel"}},
		Plates:     []unit.Length{12 * unit.Millimetre, 19 * unit.Millimetre}, Thickness: 19 * unit.Millimetre, Joint: "tee",
		Welds: []fit.Weld{{Shape: fit.FilletWeld, Length: 12_000 * unit.Millimetre, Leg: 5 * unit.Inch / 16}},
		Site:  inventory.InField, Wind: 2000, WindKnown: true, Sheltered: true,
		Certificate: fit.Certificate{Type: "3.1", Schedule: "H", LotClass: "T3|T4"}, Origin: fit.Origin{Clause: "clause 7", Melted: []string{"A", "B"}, Made: []string{"A"}}}
}

func TestAJobIsKeptWholeClosedAndReopened(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	entered := must(s.ledger.EnterJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, 0), Of: s.wholeJob()}))(t)
	want := s.wholeJob()
	want.Code, want.Version = entered.Code, 1
	if diff := cmp.Diff(want, must(s.store.Catalog(ctx).Job(entered.Code))(t)); diff != "" {
		t.Errorf("Job (-want +got):\n%s", diff)
	}
	want.Wind, want.WindKnown = 0, false
	must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, 1), Of: want}))(t)
	must(s.ledger.CloseJob(ctx, s.edit(s.engineer, 0), entered.Code, true))(t)
	out := s.issue(s.spools[0].Code)
	out.Job = entered.Code
	if _, err := s.ledger.Issue(ctx, out); inventory.CodeOf(err) != "job-closed" {
		t.Errorf("wire for a closed job: %v, want job-closed", err)
	}
	must(s.ledger.CloseJob(ctx, s.edit(s.engineer, 0), entered.Code, false))(t)
	changes := must(s.ledger.Changes(ctx, inventory.JobRecord, string(entered.Code)))(t)
	var deeds []string
	for _, c := range changes {
		deeds = append(deeds, string(c.Deed))
	}
	if got := strings.Join(deeds, " "); got != "reopened closed edited entered" || cmp.Diff([]string{"wind at the weld: nothing, before 4.5 mph / 2 m/s"}, changes[2].What) != "" {
		t.Errorf("deeds %q, what was edited %q", got, changes[2].What)
	}
}

// TestTheCheckKnowsPackageAndWeight holds a feeder's hub and a job's weld
// against what the store knows of the spool.
func TestTheCheckKnowsPackageAndWeight(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	s.wire = must(s.ledger.AddWire(ctx, inventory.Wire{TradeName: "Amber Kestrel 71M", Classifications: []string{"E71T-1M-H8"}, Diameter: 45 * unit.Inch / 1000,
		Package: "12 in spool", Net: 15_000, Tare: 700}))(t)
	s.receive(t, 1)
	feeder := must(s.ledger.EnterFeeder(ctx, inventory.FeederEntry{Edit: s.edit(s.engineer, 0), Of: wholeFeeder()}))(t)
	job := s.wholeJob()
	enough := must(s.ledger.EnterJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, 0), Of: job}))(t)
	job.Number, job.Welds = "4402", []fit.Weld{{Shape: fit.FilletWeld, Length: 100_000 * unit.Millimetre, Leg: 10 * unit.Millimetre}}
	much := must(s.ledger.EnterJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, 0), Of: job}))(t)
	tests := []struct {
		name string
		job  inventory.Job
		rule fit.Rule
		want fit.Outcome
		says string
	}{
		{"the hub takes it and carries it", enough, fit.RulePackage, fit.Passed, ""},
		{"it is enough for the weld", enough, fit.RuleRemaining, fit.Passed, "The spool has 15 kg"},
		{"it is too little for much weld", much, fit.RuleRemaining, fit.Caution, "short"},
		{"the lot's certificate is there, and its type nobody knows", enough, fit.RuleCertificate, fit.Stops, "Nobody has recorded the certificate"},
	}
	for _, tt := range tests {
		check := must(s.ledger.CheckFit(ctx, s.spools[0].Code, tt.job.Code, feeder.Code))(t)
		if got, _ := check.Verdict.Find(tt.rule); got.Outcome != tt.want || !strings.Contains(got.Says, tt.says) {
			t.Errorf("%s: %s %s, %q, want %s and %q", tt.name, tt.rule, got.Outcome, got.Says, tt.want, tt.says)
		}
	}
}

// TestFieldWorkWithoutWindIsACaution holds the rule for each site.
func TestFieldWorkWithoutWindIsACaution(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	tests := []struct {
		name      string
		site      inventory.Site
		known     bool
		sheltered bool
		want      fit.Outcome
	}{
		{"in the shop", inventory.InShop, false, false, fit.NotDemanded},
		{"in the field, not stated", inventory.InField, false, false, fit.Caution},
		{"in the field, none measured", inventory.InField, true, false, fit.NotDemanded},
		{"in the field, sheltered", inventory.InField, false, true, fit.Passed},
	}
	for i, tt := range tests {
		j := inventory.Job{Number: "8" + string(rune('0'+i)), Procedures: s.job.Procedures, ProfileID: s.job.ProfileID, Site: tt.site, WindKnown: tt.known, Sheltered: tt.sheltered}
		job := must(s.ledger.EnterJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, 0), Of: j}))(t)
		check := must(s.ledger.CheckFit(ctx, s.spools[0].Code, job.Code, ""))(t)
		got, _ := check.Verdict.Find(fit.RuleWind)
		if got.Outcome != tt.want || tt.want == fit.Caution && !strings.Contains(got.Says, "Wind not stated: measure it") {
			t.Errorf("%s: %s, %q, want %s", tt.name, got.Outcome, got.Says, tt.want)
		}
	}
}

// TestSetupTicksEachStep holds an empty store and a full one.
func TestSetupTicksEachStep(t *testing.T) {
	t.Parallel()
	if got := must(emptyShop(t).store.Catalog(t.Context()).Setup())(t); got != (inventory.Setup{}) {
		t.Errorf("Setup() of an empty store = %+v, want nothing", got)
	}
	if got := must(newShop(t, 1).store.Catalog(t.Context()).Setup())(t); !got.Done() {
		t.Errorf("Setup() of the shop = %+v, want all of it", got)
	}
}
