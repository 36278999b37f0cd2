package fit

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func good(rule Rule) Waiver {
	return Waiver{Spool: "W7K2-3", Job: "job 2207", Rule: rule, Reason: "tested on scrap", By: "Dr. Ilse", AskedBy: "Ina", Until: today.Add(8 * time.Hour)}
}

func TestCheckWith(t *testing.T) {
	outOfPosition := Demand{JobSource: "job 2207", Positions: []Position{Overhead}}
	flat := spool(with(without(wire1C(), "positions"), published("positions", "flat|horizontal", "", "0")))
	rejected := spool(wire1C())
	rejected.LotStatus = LotRejected
	disputed := spool(with(wire1C(), sheet("positions", "overhead", ""), shop("positions", "vertical up", "")))
	tests := []struct {
		name    string
		offer   Offer
		demand  Demand
		profile string
		rule    Rule
		change  func(*Waiver) // of a waiver that holds
		want    Outcome
		says    string
	}{
		{"a waiver makes a caution of a stop", flat, outOfPosition, "general-shop", RulePosition, nil, Caution, "Waived by Dr. Ilse until 2026-03-02 14:00 UTC: tested on scrap."},
		{"it says the stop too", flat, outOfPosition, "general-shop", RulePosition, nil, Caution, "flat and horizontal only"},
		{"another spool's waiver does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.Spool = "W9" }, Stops, ""},
		{"another job's waiver does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.Job = "job 1" }, Stops, ""},
		{"another rule's waiver does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.Rule = RuleStrength }, Stops, ""},
		{"one that has ended does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.Until = today }, Stops, ""},
		{"one without an end does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.Until = time.Time{} }, Stops, ""},
		{"one without a reason does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.Reason = "" }, Stops, ""},
		{"one that nobody granted does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.By = "" }, Stops, ""},
		{"one that nobody asked for does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.AskedBy = "" }, Stops, ""},
		{"one granted by who asked for it does not help", flat, outOfPosition, "general-shop", RulePosition, func(w *Waiver) { w.AskedBy = w.By }, Stops, ""},
		{"no profile, no waiver", flat, outOfPosition, "", RulePosition, nil, Stops, ""},
		{"a rejected lot is never waived", rejected, outOfPosition, "general-shop", RuleLotStatus, nil, Stops, ""},
		{"the wrong gas is never waived", flat, Demand{JobSource: "job 2207", Gas: &Gas{}}, "general-shop", RuleGas, nil, Stops, ""},
		{"strength is not waived in seismic work", spool(nil), Demand{JobSource: "job 2207", Matching: true, BaseMetals: joint("A36", carbonSteel)}, "seismic-structural", RuleStrength, nil, Stops, ""},
		{"a disagreement of box and sheet is never waived", disputed, outOfPosition, "general-shop", RulePosition, nil, Stops, "engineer must settle"},
		{"what does not stop is left alone", flat, Demand{JobSource: "job 2207", Positions: []Position{Flat}}, "general-shop", RulePosition, nil, Passed, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, _ := ProfileByID(tt.profile)
			w := good(tt.rule)
			if tt.change != nil {
				tt.change(&w)
			}
			v := CheckWith(tt.offer, tt.demand, nil, p, []Waiver{w}, today)
			got, _ := v.Find(tt.rule)
			if got.Outcome != tt.want || !strings.Contains(got.Says, tt.says) {
				t.Errorf("CheckWith(%+v): got %s: %s, want %s: ...%s...", w, got.Outcome, got.Says, tt.want, tt.says)
			}
			if waived := got.Waived != nil; waived != (tt.want == Caution) || waived && *got.Waived != w {
				t.Errorf("CheckWith(%+v): waived by %+v", w, got.Waived)
			}
			sound(t, v)
		})
	}
}

func TestCheckWithTakesTheWaiverThatHoldsLongest(t *testing.T) {
	flat := spool([]fact{published("positions", "flat|horizontal", "", "0")})
	p, _ := ProfileByID("general-shop")
	short, long := good(RulePosition), good(RulePosition)
	long.Until, long.By = long.Until.Add(time.Hour), "Dr. Two"
	for _, ws := range [][]Waiver{{short, long}, {long, short}} {
		got, _ := CheckWith(flat, Demand{JobSource: "job 2207", Positions: []Position{Overhead}}, nil, p, ws, today).Find(RulePosition)
		if got.Waived == nil || *got.Waived != long {
			t.Errorf("CheckWith(%v): waived by %+v, want %+v", ws, got.Waived, long)
		}
	}
}

func TestCheckWithReadsAgeAtItsInstant(t *testing.T) {
	o := spool(wire1C())
	o.Expires = today.AddDate(0, 0, -2)
	if got, _ := CheckWith(o, Demand{}, nil, Profile{}, nil, today).Find(RuleShelfLife); got.Outcome != Stops {
		t.Errorf("CheckWith two days after the expiry: %s (%s), want %s", got.Outcome, got.Says, Stops)
	}
}

// TestAWaiverOnlySoftensItsOwnStop holds random checks with a waiver against
// the same without.
func TestAWaiverOnlySoftensItsOwnStop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, d, f, p := anyOffer().Draw(t, "offer"), anyDemand().Draw(t, "demand"), anyFeeder().Draw(t, "feeder"), anyProfile().Draw(t, "profile")
		o.At = today
		w := good(rapid.SampledFrom(Rules()).Draw(t, "rule"))
		was, is := Check(o, d, f, p), CheckWith(o, d, f, p, []Waiver{w}, today)
		if fault := unsound(is); fault != "" {
			t.Fatalf("unsound verdict: %s", fault)
		}
		for i, before := range was.Findings {
			after := is.Findings[i]
			may := before.Rule == w.Rule && before.Outcome == Stops && p.Waivable(w.Rule) && !before.Conflict && !before.Unfit
			if may != (after.Outcome != before.Outcome) || may && after.Outcome != Caution {
				t.Fatalf("%s: %s becomes %s under %+v", before.Rule, before.Outcome, after.Outcome, w)
			}
		}
	})
}
