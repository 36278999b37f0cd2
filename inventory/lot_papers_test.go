package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory/fit"
)

var (
	boxRead  = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	allKnown = LotPapers{Type: "3.1", Schedule: "J", LotClass: "T4", Tested: "2026-01-20", Melted: "Country A", Made: "Country B", MadeOn: "2026-01-12",
		Expires: "2027-01-11", Sealing: fit.VacuumFoil}
)

func TestPapersThatCannotBe(t *testing.T) {
	tests := []struct {
		name   string
		change func(*LotPapers)
		field  string // at fault; empty if nothing is
		says   string
	}{
		{"all known", func(*LotPapers) {}, "", ""},
		{"nothing known", func(p *LotPapers) { *p = LotPapers{} }, "", ""},
		{"no such type", func(p *LotPapers) { p.Type = "3.3" }, "papers_type", `the type of a certificate (EN 10204) is one of 2.1, 2.2, 3.1, 3.2, not "3.3": read the certificate or the box`},
		{"no such schedule", func(p *LotPapers) { p.Schedule = "L" }, "papers_schedule", `a testing schedule (AWS A5.01) is one of F, G, H, I, J, K, not "L": read the certificate or the box`},
		{"no such lot class", func(p *LotPapers) { p.LotClass = "T9" }, "papers_lot_class", `a lot class (AWS A5.01) is one of T1, T2, T3, T4, S1, S2, S3, S4, C1, C2, C3, C4, C5, F1, F2, not "T9": read the certificate or the box`},
		{"no such sealing", func(p *LotPapers) { p.Sealing = "string" }, "papers_sealing", `how a package is sealed is one of vacuum foil, other package, not "string": read the certificate or the box`},
		{"no day", func(p *LotPapers) { p.MadeOn = "12 January" }, "papers_made_on", `"12 January" is no day of manufacture: give one such as 2026-03-02`},
		{"a day that no month has", func(p *LotPapers) { p.Tested = "2026-02-30" }, "papers_tested_on", `"2026-02-30" is no day of the tests: give one such as 2026-03-02`},
		{"a slip in the year", func(p *LotPapers) { p.Expires = "0227-01-11" }, "papers_expires_on", `"0227-01-11" is no day of expiry: give one such as 2026-03-02`},
		{"made in the future", func(p *LotPapers) { p.MadeOn = "2026-03-04" }, "papers_made_on", "2026-03-04 has not come yet: read the day of manufacture again"},
		{"made where it is tomorrow already, and came in today", func(p *LotPapers) { p.MadeOn, p.Tested = "2026-03-03", "2026-03-03" }, "", ""},
		{"tested in the future", func(p *LotPapers) { p.Tested = "2027-01-20" }, "papers_tested_on", "2027-01-20 has not come yet: read the day of the tests again"},
		{"expires before made", func(p *LotPapers) { p.Expires = "2026-01-11" }, "papers_expires_on", "use by 2026-01-11 is before the day the wire was made, 2026-01-12: read both days on the box again"},
		{"an exposure test as it is typed", func(p *LotPapers) { p.Exposure = "120h, 9 ml/100g" }, "", ""},
		{"an exposure test without its hydrogen", func(p *LotPapers) { p.Exposure = "120 h" }, "papers_tested_exposure", `"120 h" is no result of an exposure test: give the hours and the hydrogen after them, such as "120 h, 9 mL/100 g"`},
		{"past its date", func(p *LotPapers) { p.Expires = "2026-02-01" }, "", ""},
		{"tested before made", func(p *LotPapers) { p.Tested = "2026-01-11" }, "papers_tested_on",
			"tests of 2026-01-11 are from before the lot was made, on 2026-01-12: read both days again; tests of another run are of type 2.1 or 2.2, or of schedule F or G"},
		{"tested before made, and nobody says of what type", func(p *LotPapers) { p.Tested, p.Type, p.Schedule = "2026-01-11", "", "" }, "papers_tested_on",
			"tests of 2026-01-11 are from before the lot was made, on 2026-01-12: read both days again; tests of another run are of type 2.1 or 2.2, or of schedule F or G"},
		{"a typical report is of an earlier run", func(p *LotPapers) { p.Tested, p.Type, p.Schedule = "2025-06-01", "2.2", "G" }, "", ""},
		{"a country in two lines", func(p *LotPapers) { p.Melted = "Country\nA" }, "papers_melted_in", "write it in one line"},
	}
	for _, tt := range tests {
		p := allKnown
		tt.change(&p)
		got := p.faults("MTC-1", boxRead, boxRead)
		var want []FieldFault
		if tt.field != "" {
			want = []FieldFault{{tt.field, tt.says}}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: faults of %+v (-want +got):\n%s", tt.name, p, diff)
		}
	}
}

func TestMarksNeedTheNumberOfTheirCertificate(t *testing.T) {
	p := LotPapers{Type: "3.1"}
	if got := p.faults("", boxRead, boxRead); len(got) != 1 || got[0].Field != "certificate" {
		t.Errorf("faults of type 3.1 without a number: %+v, want one of the certificate", got)
	}
	p = LotPapers{Melted: "Country A", MadeOn: "2026-01-12"}
	if got := p.faults("", boxRead, boxRead); len(got) != 0 {
		t.Errorf("faults of an origin and a day without a certificate: %+v, want none", got)
	}
}

func TestPapersOfTwoDeliveriesAgreeOnACountryHoweverItIsWritten(t *testing.T) {
	first := LotPapers{Melted: "Germany", Made: "Austria", Type: "3.1"}
	for _, tt := range []struct {
		name     string
		other    LotPapers
		disagree int
	}{
		{"by its code", LotPapers{Melted: "DE", Made: "AUT"}, 0},
		{"another country", LotPapers{Melted: "AT"}, 1},
		{"another type", LotPapers{Type: "2.2"}, 1},
	} {
		out, disagree := first.joined(tt.other)
		if len(disagree) != tt.disagree || out != first {
			t.Errorf("%s: %+v joined with %+v = %+v, %d disagree, want the first kept and %d", tt.name, first, tt.other, out, len(disagree), tt.disagree)
		}
	}
}

func TestALotIsNotMadeAfterItCame(t *testing.T) {
	p := LotPapers{MadeOn: "2026-02-20"}
	got := p.faults("", time.Date(2026, 2, 10, 8, 0, 0, 0, time.UTC), boxRead)
	want := []FieldFault{{"papers_made_on", "the lot came in on 2026-02-10 and cannot have been made after that, on 2026-02-20: read the box again"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("faults (-want +got):\n%s", diff)
	}
}

// A decision from before papers were kept has the hash it had; the expected one
// was worked out from its fields by hand, in another language.
func TestDecisionsWithoutPapersKeepTheirHash(t *testing.T) {
	old := LotDecision{Link: Link{Seq: 3, Prev: "00ff"}, LotID: 7, Status: fit.LotOnHold, Reason: "wet pallet", Certificate: "MTC-1", Person: "P2345-6", RequestKey: "key-1", Request: "ab12",
		DecidedAt: time.Unix(1772431200, 0)}
	if got, want := old.hash(), "3fdb9a693e217243822bbed74c8c3ab6cc2053306d08720487e675f6f0f93196"; got != want {
		t.Errorf("hash of a decision without papers: %s, want %s", got, want)
	}
	seen := map[string]string{old.hash(): "nothing"}
	for _, f := range paperFields() {
		d := old
		*f.value(&d.Papers) = "x"
		if other, twice := seen[d.hash()]; twice {
			t.Errorf("x for %s has the hash of %s", f.Name, other)
		}
		seen[d.hash()] = f.Name
	}
	old.Note = "x"
	if other, twice := seen[old.hash()]; twice {
		t.Errorf("x for the note has the hash of %s", other)
	}
}

func TestALotTellsWhatEachDecisionChanged(t *testing.T) {
	first := LotDecision{Status: fit.LotOnHold, Reason: "no certificate came with it", PersonName: "Ina", DecidedAt: boxRead}
	second := first
	second.Certificate, second.Papers, second.PersonName = "MTC-1", LotPapers{Type: "2.2", MadeOn: "2026-01-12"}, "Otto"
	third := second
	third.Papers.Type, third.Note = "3.1", "misread"
	fourth := third
	fourth.Status, fourth.Reason, fourth.Note = fit.LotAccepted, "it came", ""
	got := LotChanges(Lot{Version: 4}, []LotDecision{fourth, third, second, first})
	want := []RecordChange{
		{Deed: "accepted", Change: Change{Version: 4, PersonName: "Otto", At: boxRead, What: []string{"reason: it came", "status: accepted, before on hold"}}},
		{Deed: PapersRecorded, Change: Change{Version: 3, PersonName: "Otto", At: boxRead, What: []string{"certificate type: 3.1, before 2.2", "why: misread"}}},
		{Deed: PapersRecorded, Change: Change{Version: 2, PersonName: "Otto", At: boxRead, What: []string{"certificate: MTC-1", "certificate type: 2.2", "made on: 2026-01-12"}}},
		{Deed: LotReceived, Change: Change{Version: 1, PersonName: "Ina", At: boxRead, What: []string{"reason: no certificate came with it", "status: on hold"}}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("LotChanges (-want +got):\n%s", diff)
	}
}

// TestDecisionsKeepTheHashTheyHad holds that a decision from before an exposure
// test was kept has the hash it had then.
func TestDecisionsKeepTheHashTheyHad(t *testing.T) {
	d := LotDecision{Link: Link{Seq: 2}, LotID: 7, Status: fit.LotAccepted, Certificate: "MTC-1", Papers: allKnown, Person: "PABCDE-F", RequestKey: "key", Request: "wish", DecidedAt: time.Unix(1772438400, 0)}
	const before = "a1600956567adfb00489800a4d7a57dc5534df77d76449e35fd580c76cd42cb5"
	if got := d.hash(); got != before {
		t.Errorf("hash of a decision without an exposure test: %s, want %s", got, before)
	}
	d.Papers.Exposure = "120 h, 9 mL/100 g"
	if d.hash() == before {
		t.Error("the exposure test is no part of the hash")
	}
}
