package store_test

import (
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// joint is a shop with a job to which gas-shielded and self-shielded wire go
// alike: its procedure names neither.
type joint struct {
	*shop
	selfShielded []inventory.Spool
}

func newJoint(t testing.TB, profile, report string) joint {
	t.Helper()
	s := newShop(t, 4)
	ctx, l := t.Context(), s.ledger
	open := must(l.AddProcedure(ctx, inventory.Procedure{Number: "WPS-30", Revision: "A", IntermixReport: report}))(t)
	s.job = must(l.AddJob(ctx, inventory.Job{Number: "2230", Name: "frame", Procedures: []int64{open.ID}, ProfileID: profile, BaseMetals: []fit.BaseMetal{{Name: "A572 Gr 50", Family: "carbon steel"}},
		Welds: []fit.Weld{{Shape: fit.FilletWeld, Leg: 8 * unit.Millimetre, Length: 30_000 * unit.Millimetre}}}))(t)
	s.wire = must(l.AddWire(ctx, inventory.Wire{Maker: "Maker Birch", TradeName: "Birch Keel 8", Classifications: []string{"E71T-8-H8"},
		Diameter: 5 * unit.Inch / 64, Net: 11_000, Tare: 600, Supplied: filler.Facts{{Name: "exposure_limit", Value: "72", Unit: "h", Provenance: filler.DataSheet, Source: "invented sheet"}}}))(t)
	first := s.spools
	s.spools = nil
	s.receive(t, 3)
	j := joint{s, s.spools}
	s.spools = first
	return j
}

// finding is what the rule says of a spool for the job.
func (j joint) finding(t testing.TB, s inventory.Spool, r fit.Rule) fit.Finding {
	t.Helper()
	c := must(j.ledger.CheckFit(t.Context(), s.Code, j.job.Code, ""))(t)
	f, _ := c.Verdict.Find(r)
	return f
}

// back returns the spool with so much wire left.
func (j joint) back(t testing.TB, s inventory.Spool, net unit.Grams) {
	t.Helper()
	gross := net + s.Tare
	must(j.ledger.Return(t.Context(), inventory.Return{Entry: j.entry(s.Code), Place: j.shelf.Code, Gross: &gross}))(t)
}

// set corrects the weight of the spool's last movement of the type.
func (j joint) set(t testing.TB, s inventory.Spool, of inventory.MovementType, net unit.Grams) {
	t.Helper()
	c := inventory.Correction{Entry: j.entry(s.Code), Reason: "the scale was off"}
	c.Person = j.engineer.Code
	for _, m := range must(j.store.Read(t.Context()).History(s.Code))(t) {
		if m.Type == of {
			c.Corrects = m.Seq
		}
	}
	gross := net + s.Tare
	c.Gross = &gross
	must(j.ledger.Correct(t.Context(), c))(t)
}

func TestASelfShieldedSpoolOverGasShieldedWeld(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name, profile, report string
		outcome               fit.Outcome
		says                  string
	}{
		{"seismic work wants proof", "seismic-structural", "", fit.Stops, "gas-shielded weld (Amber Kestrel 71M E71T-1M-H8)"},
		{"a report proves it", "seismic-structural", "TR-7", fit.Passed, "Report TR-7 proves the two together"},
		{"general work asks nothing", "general-shop", "", fit.NotDemanded, "The joint holds gas-shielded weld (Amber Kestrel 71M E71T-1M-H8). The rule profile asks no proof"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			j := newJoint(t, tt.profile, tt.report)
			spool := j.selfShielded[0]
			if f := j.finding(t, spool, fit.RuleMixing); f.Outcome != fit.NotDemanded || strings.Contains(f.Says, "holds") {
				t.Errorf("before anything is laid: %s, %s, want nothing asked", f.Outcome, f.Says)
			}
			j.back(t, j.out(t, 0), 9_000)
			f := j.finding(t, spool, fit.RuleMixing)
			if f.Outcome != tt.outcome || !strings.Contains(f.Says, tt.says) {
				t.Errorf("after gas-shielded wire was used: %s, %s\nwant %s with %q", f.Outcome, f.Says, tt.outcome, tt.says)
			}
			i := j.issue(spool.Code)
			i.Gross = nil
			_, err := j.ledger.Issue(t.Context(), i)
			if stopped := inventory.KindOf(err) == inventory.Refused && strings.Contains(err.Error(), "mixing"); stopped != (tt.outcome == fit.Stops) {
				t.Errorf("Issue: %v, want it stopped by mixing: %t", err, tt.outcome == fit.Stops)
			}
			verified(t, j.shop)
		})
	}
}

// TestWhatCountsAsLaid holds what the ledger must say for wire to be in the
// joint, and how much of it.
func TestWhatCountsAsLaid(t *testing.T) {
	t.Parallel()
	const laid, used = "holds gas-shielded weld", "kg used"
	tests := []struct {
		name string
		do   func(*testing.T, joint)
		laid bool
		says string // by the rule remaining
	}{
		{"a spool that is out and nowhere loaded", func(t *testing.T, j joint) { j.out(t, 0) }, false, "15 kg more is out with 1 other spool. "},
		{"one that is loaded", func(t *testing.T, j joint) {
			must(j.ledger.Load(t.Context(), j.load(t, j.out(t, 0).Code, j.feeder.Code)))(t)
		}, true, "15 kg more is out with 1 other spool. "},
		{"one that was loaded and is unloaded", func(t *testing.T, j joint) {
			s := must(j.ledger.Load(t.Context(), j.load(t, j.out(t, 0).Code, j.feeder.Code)))(t)
			must(j.ledger.Unload(t.Context(), j.entry(s.Code)))(t)
		}, true, "15 kg more is out with 1 other spool. "},
		{"one that came back as it went", func(t *testing.T, j joint) { j.back(t, j.out(t, 0), 15_000) }, false, ""},
		{"one that came back lighter", func(t *testing.T, j joint) { j.back(t, j.out(t, 0), 9_000) }, true, "6 kg used"},
		{"used twice", func(t *testing.T, j joint) {
			j.back(t, j.out(t, 0), 9_000)
			i := j.issue(j.spools[0].Code)
			gross := unit.Grams(9_700)
			i.Gross = &gross
			j.back(t, must(j.ledger.Issue(t.Context(), i))(t), 4_000)
		}, true, "11 kg used"},
		{"two spools of one wire", func(t *testing.T, j joint) {
			j.back(t, j.out(t, 0), 9_000)
			j.back(t, j.out(t, 1), 13_000)
		}, true, "8 kg used"},
		{"the weight of the return is set right", func(t *testing.T, j joint) {
			s := j.out(t, 0)
			j.back(t, s, 9_000)
			j.set(t, s, inventory.Returned, 10_000)
		}, true, "5 kg used"},
		{"it came back unused after all", func(t *testing.T, j joint) {
			s := j.out(t, 0)
			j.back(t, s, 9_000)
			j.set(t, s, inventory.Returned, 15_000)
		}, false, ""},
		{"a correction is set right in its turn", func(t *testing.T, j joint) {
			s := j.out(t, 0)
			j.back(t, s, 9_000)
			j.set(t, s, inventory.Returned, 10_000)
			j.set(t, s, inventory.Corrected, 11_000)
		}, true, "4 kg used"},
		{"the weight it went out with is set right", func(t *testing.T, j joint) {
			s := j.out(t, 0)
			j.set(t, s, inventory.Issued, 12_000)
			j.back(t, s, 9_000)
		}, true, "3 kg used"},
		{"and after it came back", func(t *testing.T, j joint) {
			s := j.out(t, 0)
			j.back(t, s, 9_000)
			j.set(t, s, inventory.Issued, 12_000)
		}, true, "3 kg used"},
		{"scrapped while it was out", func(t *testing.T, j joint) {
			must(j.ledger.Scrap(t.Context(), j.entry(j.out(t, 0).Code), "bird-nested"))(t)
		}, true, "15 kg more went out on 1 other spool and was scrapped unweighed."},
		{"scrapped in the store", func(t *testing.T, j joint) {
			must(j.ledger.Scrap(t.Context(), j.entry(j.spools[0].Code), "rusty"))(t)
		}, false, ""},
		{"another job's", func(t *testing.T, j joint) {
			other := must(j.ledger.AddJob(t.Context(), inventory.Job{Number: "2231", Name: "other", Procedures: j.job.Procedures, ProfileID: "general-shop", BaseMetals: j.job.BaseMetals}))(t)
			i := j.issue(j.spools[0].Code)
			i.Job = other.Code
			j.back(t, must(j.ledger.Issue(t.Context(), i))(t), 9_000)
		}, false, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			j := newJoint(t, "general-shop", "")
			tt.do(t, j)
			spool := j.selfShielded[0]
			if f := j.finding(t, spool, fit.RuleMixing); strings.Contains(f.Says, laid) != tt.laid {
				t.Errorf("rule mixing: %s\nwant laid: %t", f.Says, tt.laid)
			}
			f := j.finding(t, spool, fit.RuleRemaining)
			if !strings.Contains(f.Says, tt.says) || tt.says == "" && (strings.Contains(f.Says, used) || strings.Contains(f.Says, "more")) {
				t.Errorf("rule remaining: %s\nwant %q in it", f.Says, tt.says)
			}
			verified(t, j.shop)
		})
	}
}

// TestASpoolIsNotLaidOverItself holds that a spool's own wire, out or used
// before, is no other wire in the joint.
func TestASpoolIsNotLaidOverItself(t *testing.T) {
	t.Parallel()
	j := newJoint(t, "general-shop", "")
	s := must(j.ledger.Load(t.Context(), j.load(t, j.out(t, 0).Code, j.feeder.Code)))(t)
	for _, r := range []fit.Rule{fit.RuleMixing, fit.RuleRemaining} {
		if f := j.finding(t, s, r); strings.Contains(f.Says, "holds") || strings.Contains(f.Says, "out with") {
			t.Errorf("rule %s of the spool that is loaded: %s", r, f.Says)
		}
	}
}

// TestVerifySeesUsesChangedBehindTheLedger holds that what is kept of uses is held
// against the movements.
func TestVerifySeesUsesChangedBehindTheLedger(t *testing.T) {
	t.Parallel()
	for _, statement := range []string{"DELETE FROM job_uses", "UPDATE job_uses SET used_g = 1", "UPDATE job_uses SET laid = FALSE", "UPDATE job_uses SET wire_id = (SELECT MAX(id) FROM wires)"} {
		j := newJoint(t, "general-shop", "")
		j.back(t, j.out(t, 0), 9_000)
		verified(t, j.shop)
		tamper(t, j.path, statement)
		if v := must(j.ledger.Verify(t.Context()))(t); len(v.Faults) != 1 || !strings.Contains(v.Faults[0], string(j.spools[0].Code)) {
			t.Errorf("%s: Verify() = %v, want one fault that names %s", statement, v.Faults, j.spools[0].Code)
		}
	}
}
