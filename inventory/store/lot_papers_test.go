package store_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// papers are those of a lot that meets every demand below.
var papers = inventory.LotPapers{Type: "3.1", Schedule: "J", LotClass: "T4", Tested: "2026-01-20", Melted: "Country A", Made: "Country B",
	MadeOn: "2026-01-12", Expires: "2027-01-11", Sealing: fit.VacuumFoil, Exposure: "120 h, 9 mL/100 g"}

// contracted is the shop's job under a contract that demands papers.
func (s *shop) contracted(t testing.TB) inventory.Job {
	t.Helper()
	j := s.job
	j.Code, j.Number = "", "2290"
	j.Certificate = fit.Certificate{Type: "3.1", Schedule: "H", LotClass: "T3|T4"}
	j.Origin = fit.Origin{Clause: "clause 12", Melted: []string{"Country A"}, Made: []string{"Country A", "Country B"}}
	return must(s.ledger.AddJob(t.Context(), j))(t)
}

// with returns papers of which change alters some.
func withPapers(change func(*inventory.LotPapers)) inventory.LotPapers {
	p := papers
	change(&p)
	return p
}

// TestAContractsPapersLetASpoolOut issues a spool whose lot has every paper that
// the job demands, and none of which one is missing or weaker.
func TestAContractsPapersLetASpoolOut(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	job := s.contracted(t)
	tests := []struct {
		name   string
		papers inventory.LotPapers
		rule   fit.Rule // that stops; empty if it goes out
		says   string
	}{
		{"every paper", papers, "", ""},
		{"no type", withPapers(func(p *inventory.LotPapers) { p.Type = "" }), fit.RuleCertificate, "Nobody has recorded the certificate of this lot by EN 10204: read it. The job wants 3.1."},
		{"a weaker type", withPapers(func(p *inventory.LotPapers) { p.Type = "2.2" }), fit.RuleCertificate, "This lot's certificate is 2.2 by EN 10204, and the job wants 3.1."},
		{"no schedule", withPapers(func(p *inventory.LotPapers) { p.Schedule = "" }), fit.RuleCertificate, "Nobody has recorded the testing schedule of this lot by AWS A5.01: read it. The job wants H."},
		{"a weaker schedule", withPapers(func(p *inventory.LotPapers) { p.Schedule = "G" }), fit.RuleCertificate, "This lot's testing schedule is G by AWS A5.01, and the job wants H."},
		{"no lot class", withPapers(func(p *inventory.LotPapers) { p.LotClass = "" }), fit.RuleCertificate, "Nobody has recorded the lot class of this lot: read the certificate. The job wants T3 or T4."},
		{"another lot class", withPapers(func(p *inventory.LotPapers) { p.LotClass = "T1" }), fit.RuleCertificate, "This lot is of class T1. The job wants T3 or T4."},
		{"no melt", withPapers(func(p *inventory.LotPapers) { p.Melted = "" }), fit.RuleOrigin, "Nobody has recorded where this lot was melted: ask for its papers. The job wants Country A."},
		{"melted elsewhere", withPapers(func(p *inventory.LotPapers) { p.Melted = "Country C" }), fit.RuleOrigin, "This lot was melted in Country C. The job wants it melted in Country A."},
		{"made nowhere known", withPapers(func(p *inventory.LotPapers) { p.Made = "" }), fit.RuleOrigin, "Nobody has recorded where this lot was made: ask for its papers. The job wants Country A or Country B."},
		{"nothing but its number", inventory.LotPapers{Melted: "Country A", Made: "Country A"}, fit.RuleCertificate,
			"Nobody has recorded the certificate of this lot by EN 10204: read it. The job wants 3.1. Nobody has recorded the testing schedule of this lot by AWS A5.01: read it. The job wants H. Nobody has recorded the lot class of this lot: read the certificate. The job wants T3 or T4."},
		{"melted and made elsewhere", withPapers(func(p *inventory.LotPapers) { p.Melted, p.Made = "Country C", "Country C" }), fit.RuleOrigin,
			"This lot was melted in Country C. The job wants it melted in Country A. This lot was made in Country C. The job wants it made in Country A or Country B."},
		{"past its date", withPapers(func(p *inventory.LotPapers) { p.Expires = "2026-02-28" }), fit.RuleShelfLife, "The box says use by 2026-02-28, and that is past: inspect and test the wire before it is used, or take another lot."},
	}
	for _, tt := range tests {
		r := s.receipt(1)
		r.Papers = tt.papers
		_, spools, err := s.ledger.Receive(t.Context(), r)
		if err != nil {
			t.Fatalf("%s: Receive: %v", tt.name, err)
		}
		i := s.issue(spools[0].Code)
		i.Job = job.Code
		_, err = s.ledger.Issue(t.Context(), i)
		if tt.rule == "" {
			if err != nil {
				t.Errorf("%s: Issue: %v, want it to go out", tt.name, err)
			}
			continue
		}
		var stops []string
		if e, ok := err.(*inventory.Error); ok {
			for _, f := range e.Findings {
				if f.Outcome == fit.Stops {
					stops = append(stops, string(f.Rule)+": "+f.Says)
				}
			}
		}
		if diff := cmp.Diff([]string{string(tt.rule) + ": " + tt.says}, stops); diff != "" {
			t.Errorf("%s: Issue: %v; what stops (-want +got):\n%s", tt.name, err, diff)
		}
	}
	verified(t, s)
}

func TestPapersAreRecordedCorrectedAndKept(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	change := inventory.PapersChange{LotID: s.lot.ID, Person: s.attendant.Code, RequestKey: s.key(), Version: 1, Certificate: "MTC-1", Papers: papers}
	got := must(s.ledger.RecordPapers(ctx, change))(t)
	if diff := cmp.Diff(papers, got.Papers); diff != "" || got.Version != 2 || got.Status != fit.LotAccepted {
		t.Errorf("RecordPapers: version %d, %s (-want +got):\n%s", got.Version, got.Status, diff)
	}
	if diff := cmp.Diff(got, must(s.store.Read(ctx).Lot(s.lot.ID))(t)); diff != "" {
		t.Errorf("the lot read back (-recorded +read):\n%s", diff)
	}
	if again := must(s.ledger.RecordPapers(ctx, change))(t); again.Version != 2 {
		t.Errorf("sent twice: version %d, want 2", again.Version)
	}
	tests := []struct {
		name   string
		change func(*inventory.PapersChange)
		kind   inventory.Kind
		code   string
	}{
		{"the same key for something else", func(c *inventory.PapersChange) { c.RequestKey, c.Papers.Type = change.RequestKey, "3.2" }, inventory.Conflict, "request-key-used"},
		{"of the version before", func(c *inventory.PapersChange) { c.Version = 1 }, inventory.Conflict, "lot-changed"},
		{"of no version", func(c *inventory.PapersChange) { c.Version = 0 }, inventory.Invalid, "invalid-version"},
		{"by a welder", func(c *inventory.PapersChange) { c.Person = s.welder.Code }, inventory.Forbidden, "may-not-enter"},
		{"corrected without a reason", func(c *inventory.PapersChange) { c.Papers.Type = "2.2" }, inventory.Invalid, "invalid-note"},
		{"taken away without a reason", func(c *inventory.PapersChange) { c.Papers.Melted = " " }, inventory.Invalid, "invalid-note"},
		{"an accepted lot loses its certificate", func(c *inventory.PapersChange) { c.Certificate, c.Papers, c.Note = "", inventory.LotPapers{}, "lost" }, inventory.Invalid, "invalid-certificate"},
		{"expires before made", func(c *inventory.PapersChange) { c.Papers.Expires, c.Note = "2025-01-01", "x" }, inventory.Invalid, "invalid-papers_expires_on"},
	}
	for _, tt := range tests {
		c := change
		c.RequestKey, c.Version = s.key(), 2
		tt.change(&c)
		if _, err := s.ledger.RecordPapers(ctx, c); inventory.KindOf(err) != tt.kind || inventory.CodeOf(err) != tt.code {
			t.Errorf("%s: RecordPapers: %v (%s), want %s %s", tt.name, err, inventory.CodeOf(err), tt.kind, tt.code)
		}
	}
	change.RequestKey, change.Version, change.Person, change.Papers.Type, change.Note = s.key(), 2, s.engineer.Code, "3.2", "the inspector signed too"
	lot := must(s.ledger.RecordPapers(ctx, change))(t)
	must(s.ledger.ChangeLot(ctx, inventory.LotChange{LotID: lot.ID, Person: s.attendant.Code, RequestKey: s.key(), Status: fit.LotOnHold, Reason: "wet"}))(t)
	lot = must(s.store.Read(ctx).Lot(lot.ID))(t)
	if lot.Papers != change.Papers || lot.Certificate != "MTC-1" {
		t.Errorf("put on hold: papers %+v, want those recorded before", lot.Papers)
	}
	history := inventory.LotChanges(lot, must(s.store.Read(ctx).LotHistory(lot.ID, 10))(t))
	var told []string
	for _, h := range history {
		told = append(told, string(h.Deed)+" by "+h.PersonName+": "+strings.Join(h.What, "; "))
	}
	want := []string{"on hold by Ina: reason: wet; status: on hold, before accepted",
		"papers recorded by Ilse: certificate type: 3.2, before 3.1; why: the inspector signed too",
		"papers recorded by Ina: certificate type: 3.1; testing schedule: J; lot class: T4; tested on: 2026-01-20; melted in: Country A; made in: Country B; made on: 2026-01-12; use by: 2027-01-11; sealed in: vacuum foil; tested for an exposure of: 120 h, 9 mL/100 g",
		"received by Ina: status: accepted; certificate: MTC-1"}
	if diff := cmp.Diff(want, told); diff != "" {
		t.Errorf("the lot's history (-want +got):\n%s", diff)
	}
	verified(t, s)
}

func TestASecondDeliveryAddsPapersAndContradictsNone(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	deliver := func(p inventory.LotPapers) (inventory.Lot, error) {
		r := s.receipt(1)
		r.LotNumber, r.Papers = s.lot.Number, p
		lot, _, err := s.ledger.Receive(ctx, r)
		return lot, err
	}
	half := inventory.LotPapers{Type: "3.1", MadeOn: "2026-01-12"}
	if lot, err := deliver(half); err != nil || lot.Papers != half {
		t.Fatalf("a delivery with papers: %+v, %v; want them on record", lot.Papers, err)
	}
	if lot, err := deliver(papers); err != nil || lot.Papers != papers || lot.Version != 3 {
		t.Fatalf("a delivery with more papers: version %d, %+v, %v; want all on record", lot.Version, lot.Papers, err)
	}
	if lot, err := deliver(inventory.LotPapers{}); err != nil || lot.Papers != papers || lot.Version != 3 {
		t.Errorf("a delivery without papers: version %d, %+v, %v; want nothing changed", lot.Version, lot.Papers, err)
	}
	before := len(must(s.store.Read(ctx).SpoolsAfter("", 100))(t))
	_, err := deliver(withPapers(func(p *inventory.LotPapers) { p.Type, p.MadeOn = "2.2", "2026-01-13" }))
	e, _ := err.(*inventory.Error)
	if e == nil || e.Kind != inventory.Conflict || e.Code != "lot-papers" || len(e.Fields) != 2 ||
		!strings.Contains(e.Detail, "certificate type 3.1, and this delivery says 2.2; made on 2026-01-12, and this delivery says 2026-01-13") {
		t.Errorf("a delivery whose box says otherwise: %+v, want a conflict that says both", e)
	}
	if _, err := deliver(inventory.LotPapers{Expires: "2025-01-01"}); inventory.KindOf(err) == "" {
		t.Error("a delivery that expires otherwise is taken")
	}
	if after := len(must(s.store.Read(ctx).SpoolsAfter("", 100))(t)); after != before {
		t.Errorf("%d spools after refused deliveries, before %d", after, before)
	}
	verified(t, s)
}

// TestVerifyKeepsAnEyeOnPapers holds that an edit of any paper behind the
// program's back shows, on the lot and in its history.
func TestVerifyKeepsAnEyeOnPapers(t *testing.T) {
	t.Parallel()
	columns := []string{"certificate_type", "certificate_schedule", "lot_class", "tested_on", "melted_in", "made_in", "made_on", "expires_on", "sealing", "tested_exposure"}
	var edits []string
	for _, column := range columns {
		edits = append(edits, "UPDATE lots SET "+column+" = '2026-01-01'", "UPDATE lot_decisions SET "+column+" = '2026-01-01' WHERE seq = 1")
	}
	for _, edit := range append(edits, "UPDATE lot_decisions SET note = 'none' WHERE seq = 2") {
		t.Run(edit, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 0)
			r := s.receipt(1)
			r.Papers = papers
			lot, _, err := s.ledger.Receive(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			must(s.ledger.RecordPapers(t.Context(), inventory.PapersChange{LotID: lot.ID, Person: s.attendant.Code, RequestKey: s.key(), Version: 1, Certificate: "MTC-1",
				Papers: withPapers(func(p *inventory.LotPapers) { p.Type = "3.2" }), Note: "misread"}))(t)
			verified(t, s)
			tamper(t, s.path, edit)
			if v := must(s.ledger.Verify(t.Context()))(t); len(v.Faults) == 0 {
				t.Errorf("after %q nothing is found", edit)
			}
		})
	}
}

// TestShelfLifeOfTheDataSheet counts from the day of manufacture, and asks for it.
func TestShelfLifeOfTheDataSheet(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	ctx := t.Context()
	w := s.wire
	w.TradeName = "Amber Heron"
	w.Supplied = append(slices.Clone(w.Supplied), must(inventory.SheetFacts()[slices.IndexFunc(inventory.SheetFacts(), func(f inventory.SheetFact) bool { return f.Name == "shelf_life" })].Read("12 months"))(t)...)
	for i := range w.Supplied {
		w.Supplied[i].Provenance, w.Supplied[i].Source = "data sheet", "invented sheet"
	}
	wire := must(s.ledger.AddWire(ctx, w))(t)
	tests := []struct {
		name   string
		made   inventory.Day
		answer fit.Outcome
	}{
		{"made two months ago", inventory.DayOf(s.now().AddDate(0, -2, 0)), fit.Passed},
		{"made thirteen months ago", inventory.DayOf(s.now().AddDate(0, -13, 0)), fit.Stops},
		{"made nobody knows when", "", fit.Stops},
	}
	for _, tt := range tests {
		r := s.receipt(1)
		r.WireID, r.Papers = wire.ID, inventory.LotPapers{MadeOn: tt.made}
		_, spools, err := s.ledger.Receive(ctx, r)
		if err != nil {
			t.Fatal(err)
		}
		check := must(s.ledger.CheckFit(ctx, spools[0].Code, s.job.Code, ""))(t)
		if f, _ := check.Verdict.Find(fit.RuleShelfLife); f.Outcome != tt.answer {
			t.Errorf("%s: shelf-life %s (%s), want %s", tt.name, f.Outcome, f.Says, tt.answer)
		}
	}
	s.wait(300 * 24 * time.Hour)
	check := must(s.ledger.CheckWire(ctx, wire.ID, s.job.Code))(t)
	if f, _ := check.Verdict.Find(fit.RuleShelfLife); f.Outcome != fit.Passed {
		t.Errorf("a wire without a spool: shelf-life %s (%s), want it passed, as if made today", f.Outcome, f.Says)
	}
}
