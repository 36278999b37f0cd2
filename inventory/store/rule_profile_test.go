package store_test

import (
	"strings"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

func (s *shop) profileEntry(id string) inventory.ProfileEntry {
	return inventory.ProfileEntry{Profile: id, Person: s.engineer.Code, RequestKey: s.key()}
}

func lineOf(t *testing.T, p inventory.RuleProfile, rule fit.Rule, parameter string) int {
	t.Helper()
	for i, l := range p.Limits {
		if l.Rule == rule && l.Parameter == parameter {
			return i
		}
	}
	t.Fatalf("%s has no %s %s", p.ID, rule, parameter)
	return 0
}

func TestAShopCopiesAProfileAndTightensIt(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	p := must(s.ledger.CopyProfile(ctx, s.profileEntry("structural-steel"), "Our structural"))(t)
	if p.Base != "structural-steel" || p.Version != 1 || len(s.ledger.ProfileDifferences(p)) != 0 {
		t.Fatalf("CopyProfile: %+v, want a copy without a difference", p)
	}
	wind := lineOf(t, p, fit.RuleWind, "wind_max")
	p = must(s.ledger.SetLimit(ctx, inventory.LimitChange{ProfileEntry: s.profileEntry(p.ID), Line: wind, Value: "3 mph", Action: fit.Stops}))(t)
	if l := p.Limits[wind]; l.Value != "3 mph" || l.Provenance != filler.Shop || !strings.Contains(l.Source, "Ilse on 2026-03-02") || l.LoosenedBy != "" {
		t.Errorf("SetLimit to 3 mph: %+v", l)
	}
	if d := s.ledger.ProfileDifferences(p); len(d) != 1 || d[0].Looser || !strings.Contains(d[0].Says, "3 mph") || !strings.Contains(d[0].Says, "was 5 mph") {
		t.Errorf("ProfileDifferences: %+v, want the wind alone, tighter", d)
	}
	// Back to the original is no loosening: it needs no reason, and has the source again.
	original, _ := fit.ProfileByID("structural-steel")
	back := original.Limits[wind]
	p = must(s.ledger.SetLimit(ctx, inventory.LimitChange{ProfileEntry: s.profileEntry(p.ID), Line: wind, Value: back.Value, Action: back.Action}))(t)
	if p.Version != 3 || len(s.ledger.ProfileDifferences(p)) != 0 {
		t.Errorf("set back to the original: version %d, %+v", p.Version, s.ledger.ProfileDifferences(p))
	}
	// The words of a limit of plates follow what it does, there and back.
	plates := lineOf(t, p, fit.RuleThickness, "general_recommendation")
	for _, to := range []struct {
		action  fit.Outcome
		value   string
		differs int
	}{{fit.Stops, "may not be exceeded", 1}, {fit.Caution, "may be exceeded with care", 0}} {
		q := must(s.ledger.SetLimit(ctx, inventory.LimitChange{ProfileEntry: s.profileEntry(p.ID), Line: plates, Value: p.Limits[plates].Value, Action: to.action}))(t)
		if p = q; p.Limits[plates].Value != to.value || len(s.ledger.ProfileDifferences(p)) != to.differs {
			t.Errorf("SetLimit of the plates to %s: %+v, %+v; want %q and %d differences", to.action, p.Limits[plates], s.ledger.ProfileDifferences(p), to.value, to.differs)
		}
	}
	changes := must(s.store.Read(ctx).ProfileChanges(p.ID, 10))(t)
	if len(changes) != 5 || changes[0].PersonName != "Ilse" || changes[4].Deed != inventory.ProfileCopied {
		t.Errorf("ProfileChanges: %+v, want five by Ilse, the copy first", changes)
	}
}

// TestALooserLimitGoesOnTheSlip sets a limit below the original.
func TestALooserLimitGoesOnTheSlip(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	p := must(s.ledger.CopyProfile(ctx, s.profileEntry(inventory.GeneralProfile), "Ours"))(t)
	owner := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Olga", Role: inventory.Owner}))(t)
	wind := lineOf(t, p, fit.RuleWind, "wind_max")
	c := inventory.LimitChange{ProfileEntry: s.profileEntry(p.ID), Line: wind, Value: "9 mph", Action: fit.Stops}
	if _, err := s.ledger.SetLimit(ctx, c); inventory.CodeOf(err) != "invalid-reason" {
		t.Errorf("SetLimit without a reason: error %v, want invalid-reason", err)
	}
	c.Reason, c.Person = "trial with a wind screen", owner.Code
	if _, err := s.ledger.SetLimit(ctx, c); inventory.CodeOf(err) != "may-not-loosen" {
		t.Errorf("SetLimit by the owner: error %v, want may-not-loosen", err)
	}
	c.Person = s.engineer.Code
	p = must(s.ledger.SetLimit(ctx, c))(t)
	if d := s.ledger.ProfileDifferences(p); len(d) != 1 || !d[0].Looser || d[0].Reason != c.Reason {
		t.Errorf("ProfileDifferences: %+v, want one, looser, with its reason", d)
	}
	job := s.job
	job.Number, job.ProfileID = "3301", p.ID
	s.job = must(s.ledger.AddJob(ctx, job))(t)
	must(s.ledger.Issue(ctx, s.issue(s.spools[0].Code)))(t)
	history := must(s.ledger.History(ctx, s.spools[0].Code))(t)
	want := "Ours, version 2; wind loosened to 9 mph by Ilse on 2026-03-02: trial with a wind screen"
	if got := history[len(history)-1].Checked; !strings.HasSuffix(got, want) {
		t.Errorf("the slip says %q, want it to end %q", got, want)
	}
	verified(t, s)
}

func TestALimitFromPracticeIsConfirmedByName(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	p := must(s.ledger.CopyProfile(ctx, s.profileEntry(inventory.GeneralProfile), "Ours"))(t)
	wind := lineOf(t, p, fit.RuleWind, "wind_max")
	p = must(s.ledger.ConfirmLimit(ctx, s.profileEntry(p.ID), wind))(t)
	if l := p.Limits[wind]; l.ConfirmedBy != "Ilse" || l.ConfirmedOn != "2026-03-02" {
		t.Errorf("ConfirmLimit: %+v", l)
	}
	if _, err := s.ledger.ConfirmLimit(ctx, s.profileEntry(p.ID), lineOf(t, p, fit.RuleExposure, "exposure_max")); inventory.KindOf(err) != inventory.Invalid {
		t.Errorf("ConfirmLimit of a published limit: error %v, want Invalid", err)
	}
}

// TestProfilesKeepTheirRules names all that is tried in vain.
func TestProfilesKeepTheirRules(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	p := must(s.ledger.CopyProfile(ctx, s.profileEntry(inventory.GeneralProfile), "Ours"))(t)
	wind, gas := lineOf(t, p, fit.RuleWind, "wind_max"), lineOf(t, p, fit.RuleGas, "waiver")
	set := func(c inventory.LimitChange) error {
		if c.Profile == "" {
			c.ProfileEntry = s.profileEntry(p.ID)
		}
		_, err := s.ledger.SetLimit(ctx, c)
		return err
	}
	by := func(code inventory.Code) inventory.ProfileEntry {
		e := s.profileEntry(p.ID)
		e.Person = code
		return e
	}
	stale := s.profileEntry(p.ID)
	stale.Seen = 7
	tests := map[string]struct {
		err  error
		code string
	}{
		"a profile of the program":        {set(inventory.LimitChange{ProfileEntry: s.profileEntry(inventory.GeneralProfile), Line: wind, Value: "3 mph"}), "profile-of-program"},
		"a profile that there is not":     {set(inventory.LimitChange{ProfileEntry: s.profileEntry("shop-99"), Value: "3 mph"}), "no-such-profile"},
		"by an attendant":                 {set(inventory.LimitChange{ProfileEntry: by(s.attendant.Code), Line: wind, Value: "3 mph"}), "may-not-set-rules"},
		"by a welder":                     {set(inventory.LimitChange{ProfileEntry: by(s.welder.Code), Line: wind, Value: "3 mph"}), "may-not-set-rules"},
		"after somebody else":             {set(inventory.LimitChange{ProfileEntry: stale, Line: wind, Value: "3 mph"}), "profile-changed"},
		"a value without a unit":          {set(inventory.LimitChange{Line: wind, Value: "3"}), "invalid-value"},
		"a condition that there is not":   {set(inventory.LimitChange{Line: wind, Value: "3 mph", Condition: "at night"}), "invalid-value"},
		"a line that there is not":        {set(inventory.LimitChange{Line: 999, Value: "3 mph"}), "invalid-line"},
		"an outcome that there is not":    {set(inventory.LimitChange{Line: wind, Value: "3 mph", Action: "shrug"}), "invalid-value"},
		"only a caution":                  {set(inventory.LimitChange{Line: wind, Value: "3 mph", Action: fit.Caution, Reason: ""}), ""},
		"waivable at will":                {set(inventory.LimitChange{Line: gas, Value: "yes"}), "invalid-reason"},
		"waivable for some wire alone":    {set(inventory.LimitChange{Line: gas, Value: "no", Condition: fit.OnlySolid}), "invalid-value"},
		"a reason in which nothing shows": {set(inventory.LimitChange{Line: gas, Value: "yes", Reason: "\u200b\u2800"}), "invalid-reason"},
		"plates that may be exceeded":     {set(inventory.LimitChange{Line: lineOf(t, p, fit.RuleThickness, "general_recommendation"), Value: "may be exceeded at will", Action: fit.Stops}), "invalid-value"},
		"a further line to waive":         {set(inventory.LimitChange{Line: len(p.Limits), Rule: fit.RuleGas, Parameter: "waiver", Value: "yes"}), "invalid-parameter"},
		"a name that is taken": {func() error {
			_, err := s.ledger.CopyProfile(ctx, s.profileEntry(inventory.GeneralProfile), "Ours")
			return err
		}(), "profile-name-taken"},
		"too long a waiver": {func() error { _, err := s.ledger.EditProfile(ctx, s.profileEntry(p.ID), "Ours", 31); return err }(), "invalid-waiver_days"},
		"a job with no such profile": {func() error {
			j := s.job
			j.Number, j.ProfileID = "9", "shop-99"
			_, err := s.ledger.AddJob(ctx, j)
			return err
		}(), "invalid-profile"},
	}
	for name, tt := range tests {
		if inventory.CodeOf(tt.err) != tt.code {
			t.Errorf("%s: error %v, want %q", name, tt.err, tt.code)
		}
	}
}

// TestVerifyKeepsAnEyeOnProfiles forges each way round a limit.
func TestVerifyKeepsAnEyeOnProfiles(t *testing.T) {
	t.Parallel()
	for name, forged := range map[string]struct{ statement, says string }{
		"a limit behind its back":  {"UPDATE profile_limits SET value = 'yes' WHERE version = 2 AND rule = 'gas' AND parameter = 'waiver'", "its limits are not those"},
		"a limit that is gone":     {"DELETE FROM profile_limits WHERE version = 2 AND rule = 'wind'", "its limits are not those"},
		"an older version again":   {"UPDATE rule_profiles SET version = 1", "its limits are not those"},
		"longer waivers":           {"UPDATE rule_profiles SET waiver_days = 30", "its limits are not those"},
		"another name to a change": {"UPDATE profile_changes SET person_code = (SELECT code FROM people WHERE name = 'Otto') WHERE version = 2", "altered after it was written"},
		"a change that is gone":    {"DELETE FROM profile_changes WHERE version = 1", "is gone"},
		"a profile put in":         {"INSERT INTO rule_profiles (id, name, base, waiver_days, version) VALUES ('shop-9', 'Lax', 'bridge', 0, 1)", "its limits are not those"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 0)
			p := must(s.ledger.CopyProfile(t.Context(), s.profileEntry(inventory.GeneralProfile), "Ours"))(t)
			must(s.ledger.EditProfile(t.Context(), s.profileEntry(p.ID), "Ours", 7))(t)
			if v := verified(t, s); v.Profiles != 1 {
				t.Fatalf("Verify() = %+v, want one profile", v)
			}
			tamper(t, s.path, forged.statement)
			v := must(s.ledger.Verify(t.Context()))(t)
			if !strings.Contains(strings.Join(v.Faults, "\n"), forged.says) {
				t.Errorf("Verify() after %q: %v, want a fault with %q", forged.statement, v.Faults, forged.says)
			}
		})
	}
}
