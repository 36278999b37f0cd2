package store_test

import (
	"log/slog"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
	"wirehold/inventory/unit"
)

// shop is a small store on a real database: one wire, one lot, one job it
// fits, two attendants, a welder and an engineer.
type shop struct {
	store  *store.Store
	ledger *inventory.Ledger
	path   string
	clock  atomic.Int64 // seconds since 1970

	wire                      inventory.Wire
	lot                       inventory.Lot
	spools                    []inventory.Spool
	attendant, second, welder inventory.Person
	engineer                  inventory.Person
	shelf, cabinet            inventory.Place
	feeder                    inventory.Feeder
	job, wrongJob             inventory.Job
	keys                      atomic.Int64
}

func (s *shop) now() time.Time { return time.Unix(s.clock.Load(), 0) }

func (s *shop) wait(d time.Duration) { s.clock.Add(int64(d / time.Second)) }

// must returns v, or ends the test.
func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// newShop opens a shop with spools spools received.
func newShop(t testing.TB, spools int) *shop {
	t.Helper()
	s := &shop{path: filepath.Join(t.TempDir(), "shop.db")}
	s.clock.Store(time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC).Unix())
	s.store = must(store.Open(t.Context(), s.path, slog.New(slog.DiscardHandler)))(t)
	t.Cleanup(func() {
		if err := s.store.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	profiles := must(fit.Profiles())(t)
	s.ledger = inventory.NewLedger(s.store, profiles, s.now)
	s.fill(t, spools)
	return s
}

func (s *shop) fill(t testing.TB, spools int) {
	t.Helper()
	ctx, l := t.Context(), s.ledger
	s.attendant = must(l.AddPerson(ctx, inventory.Person{Name: "Ina", Role: inventory.Attendant}))(t)
	s.second = must(l.AddPerson(ctx, inventory.Person{Name: "Otto", Role: inventory.Attendant}))(t)
	s.welder = must(l.AddPerson(ctx, inventory.Person{Name: "Mirel", Role: inventory.Welder}))(t)
	s.engineer = must(l.AddPerson(ctx, inventory.Person{Name: "Ilse", Role: inventory.Engineer}))(t)
	s.shelf = must(l.AddPlace(ctx, inventory.Place{Name: "Shelf A1", Kind: inventory.Shelf}))(t)
	s.cabinet = must(l.AddPlace(ctx, inventory.Place{Name: "Dry cabinet 1", Kind: inventory.DryCabinet, DryKept: true}))(t)
	mixed := fit.Gas{Argon: 75, CO2: 25}
	s.feeder = must(l.AddFeeder(ctx, inventory.Feeder{Place: inventory.Place{Name: "Feeder 1"}, Polarities: []fit.Polarity{fit.DCEP, fit.DCEN},
		Gas: &mixed, Diameters: []unit.Length{45 * unit.Inch / 1000}}))(t)
	s.wire = must(l.AddWire(ctx, inventory.Wire{Maker: "Maker Amber", TradeName: "Amber Kestrel 71M", Classifications: []string{"E71T-1M-H8"},
		Diameter: 45 * unit.Inch / 1000, Net: 15_000, Tare: 700, Minimum: 60_000,
		Supplied: filler.Facts{{Name: "exposure_limit", Value: "72", Unit: "h", Provenance: filler.DataSheet, Source: "invented sheet"}}}))(t)
	fits := must(l.AddProcedure(ctx, inventory.Procedure{Number: "WPS-11", Revision: "C", Processes: []fit.Process{fit.FCAWG}, Gas: &mixed,
		Polarity: fit.DCEP, Passes: fit.MultiPass}))(t)
	wrong := must(l.AddProcedure(ctx, inventory.Procedure{Number: "WPS-21", Revision: "A", Processes: []fit.Process{fit.FCAWS}, Gas: &fit.Gas{}, Polarity: fit.DCEN}))(t)
	steel := []fit.BaseMetal{{Name: "A36", Family: "carbon steel"}}
	s.job = must(l.AddJob(ctx, inventory.Job{Number: "2201", Name: "girders", Procedures: []int64{fits.ID}, ProfileID: "general-shop", BaseMetals: steel}))(t)
	s.wrongJob = must(l.AddJob(ctx, inventory.Job{Number: "2204", Name: "site splices", Procedures: []int64{wrong.ID}, ProfileID: "general-shop", BaseMetals: steel}))(t)
	for spools > 0 {
		s.receive(t, min(spools, 500))
		spools -= 500
	}
}

// receive brings a new lot of n spools of the shop's wire.
func (s *shop) receive(t testing.TB, n int) {
	t.Helper()
	r := s.receipt(n)
	lot, spools, err := s.ledger.Receive(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	s.lot, s.spools = lot, append(s.spools, spools...)
}

func (s *shop) receipt(n int) inventory.Receipt {
	key := s.key()
	return inventory.Receipt{Person: s.attendant.Code, RequestKey: key, WireID: s.wire.ID, LotNumber: "A26-" + key, Certificate: "MTC-1", Place: s.shelf.Code, Spools: n}
}

func (s *shop) key() string {
	return time.Unix(s.keys.Add(1), 0).UTC().Format("key-150405")
}

func (s *shop) entry(spool inventory.Code) inventory.Entry {
	return inventory.Entry{Spool: spool, Person: s.attendant.Code, RequestKey: s.key()}
}

// issue is the issue of a spool to the job it fits, by the first attendant to
// the welder.
func (s *shop) issue(spool inventory.Code) inventory.Issue {
	gross := unit.Grams(15_700)
	return inventory.Issue{Entry: s.entry(spool), Job: s.job.Code, Holder: s.welder.Code, Gross: &gross}
}
