package store_test

import (
	"strings"
	"testing"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// stale returns the code of a spool that only the exposure rule stops for the
// shop's job: its sheet allows 72 hours.
func stale(t *testing.T, s *shop, n int) inventory.Code {
	t.Helper()
	must(s.ledger.Open(t.Context(), s.entry(s.spools[n].Code)))(t)
	s.wait(100 * time.Hour)
	return s.spools[n].Code
}

func (s *shop) ask(spool inventory.Code) inventory.WaiverRequest {
	return inventory.WaiverRequest{Spool: spool, Job: s.job.Code, Rules: []fit.Rule{fit.RuleExposure}, Person: s.attendant.Code, Reason: "kept in its foil bag", RequestKey: s.key()}
}

func (s *shop) decision(w inventory.Waiver) inventory.WaiverDecision {
	return inventory.WaiverDecision{ID: w.ID, Person: s.engineer.Code, Reason: "test bead was sound", Until: s.now().Add(48 * time.Hour), RequestKey: s.key()}
}

func TestAWaiverLetsOneSpoolGoToOneJob(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	ctx := t.Context()
	spool := stale(t, s, 0)
	other := s.spools[1].Code
	must(s.ledger.Open(ctx, s.entry(other)))(t)
	s.wait(100 * time.Hour)

	refused := func(when string, code inventory.Code) {
		t.Helper()
		if _, err := s.ledger.Issue(ctx, s.issue(code)); inventory.CodeOf(err) != "does-not-fit" {
			t.Fatalf("Issue %s: error %v, want does-not-fit", when, err)
		}
	}
	refused("before anybody asked", spool)
	asked := must(s.ledger.AskWaiver(ctx, s.ask(spool)))(t)
	refused("while it is asked for", spool)
	granted := must(s.ledger.GrantWaiver(ctx, s.decision(asked[0])))(t)
	refused("of another spool", other)

	check := must(s.ledger.CheckFit(ctx, spool, s.job.Code, ""))(t)
	if f, _ := check.Verdict.Find(fit.RuleExposure); check.Verdict.Answer != fit.FitsWithCautions || f.Waived == nil || !strings.Contains(f.Says, "Waived by Ilse") {
		t.Errorf("CheckFit with the waiver: %s, %+v", check.Verdict.Answer, f)
	}
	if check = must(s.ledger.CheckFit(ctx, spool, s.job.Code, s.feeder.Code))(t); check.Verdict.Answer != fit.FitsWithCautions {
		t.Errorf("CheckFit at a feeder: %s, want the waiver to hold there too", check.Verdict.Answer)
	}
	must(s.ledger.Issue(ctx, s.issue(spool)))(t)
	history := must(s.ledger.History(ctx, spool))(t)
	last := history[len(history)-1]
	for _, want := range []string{"exposure: waiver 1, granted by Ilse until " + inventory.Stamp(granted.Until), "test bead was sound", "asked by Ina"} {
		if !strings.Contains(last.Waiver, want) {
			t.Errorf("the movement's waiver is %q, want it to hold %q", last.Waiver, want)
		}
	}
	if v := verified(t, s); v.Waivers != 1 {
		t.Errorf("Verify() = %+v, want one waiver", v)
	}
}

func TestAWaiverEnds(t *testing.T) {
	t.Parallel()
	for name, end := range map[string]func(*testing.T, *shop, inventory.Waiver){
		"by time": func(_ *testing.T, s *shop, _ inventory.Waiver) { s.wait(48 * time.Hour) },
		"early": func(t *testing.T, s *shop, w inventory.Waiver) {
			must(s.ledger.EndWaiver(t.Context(), s.decision(w)))(t)
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 1)
			spool := stale(t, s, 0)
			w := must(s.ledger.GrantWaiver(t.Context(), s.decision(must(s.ledger.AskWaiver(t.Context(), s.ask(spool)))(t)[0])))(t)
			if c := must(s.ledger.CheckFit(t.Context(), spool, s.job.Code, ""))(t); c.Verdict.Answer == fit.DoesNotFit {
				t.Fatalf("CheckFit with the waiver: %s", c.Verdict.Answer)
			}
			end(t, s, w)
			if _, err := s.ledger.Issue(t.Context(), s.issue(spool)); inventory.CodeOf(err) != "does-not-fit" {
				t.Errorf("Issue after its end: error %v, want does-not-fit", err)
			}
			if again, err := s.ledger.AskWaiver(t.Context(), s.ask(spool)); err != nil || again[0].ID != 2 {
				t.Errorf("AskWaiver after the end of the first: %v, %v, want a second", again, err)
			}
			verified(t, s)
		})
	}
}

// TestWhoMayNotAndWhatIsNotWaived names all that is asked in vain.
func TestWhoMayNotAndWhatIsNotWaived(t *testing.T) {
	t.Parallel()
	s := newShop(t, 3)
	ctx := t.Context()
	spool, fresh := stale(t, s, 0), s.spools[1].Code
	buyer := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Tobin", Role: inventory.Buyer}))(t)
	second := must(s.ledger.AddPerson(ctx, inventory.Person{Name: "Second", Role: inventory.Engineer}))(t)
	own := s.ask(spool)
	own.Person = second.Code
	asked := must(s.ledger.AskWaiver(ctx, own))(t)[0]
	settled := must(s.ledger.RefuseWaiver(ctx, s.decision(must(s.ledger.AskWaiver(ctx, func() inventory.WaiverRequest { q := s.ask(spool); q.Feeder = s.feeder.Code; return q }()))(t)[0])))(t)

	ask := func(set func(*inventory.WaiverRequest)) func() error {
		return func() error {
			q := s.ask(spool)
			set(&q)
			_, err := s.ledger.AskWaiver(ctx, q)
			return err
		}
	}
	grant := func(set func(*inventory.WaiverDecision)) func() error {
		return func() error {
			d := s.decision(asked)
			set(&d)
			_, err := s.ledger.GrantWaiver(ctx, d)
			return err
		}
	}
	tests := map[string]struct {
		do   func() error
		code string
	}{
		"a buyer asks":                 {ask(func(q *inventory.WaiverRequest) { q.Person = buyer.Code }), "may-not-ask"},
		"nobody asks":                  {ask(func(q *inventory.WaiverRequest) { q.Person = "" }), "invalid-person"},
		"no reason to ask":             {ask(func(q *inventory.WaiverRequest) { q.Reason = " " }), "invalid-reason"},
		"no rule":                      {ask(func(q *inventory.WaiverRequest) { q.Rules = nil }), "invalid-rules"},
		"a rule that there is not":     {ask(func(q *inventory.WaiverRequest) { q.Rules = []fit.Rule{"luck"} }), "invalid-rules"},
		"a rule that does not stop":    {ask(func(q *inventory.WaiverRequest) { q.Rules = []fit.Rule{fit.RuleWind} }), "nothing-to-waive"},
		"a spool that fits":            {ask(func(q *inventory.WaiverRequest) { q.Spool = fresh }), "nothing-to-waive"},
		"a rule that nobody may waive": {ask(func(q *inventory.WaiverRequest) { q.Job, q.Rules = s.wrongJob.Code, []fit.Rule{fit.RulePolarity} }), "not-waivable"},
		"one of two that nobody may waive": {ask(func(q *inventory.WaiverRequest) {
			q.Job, q.Rules = s.wrongJob.Code, []fit.Rule{fit.RuleProcess, fit.RuleGas}
		}), "not-waivable"},
		"asked already":                      {ask(func(q *inventory.WaiverRequest) {}), "waiver-asked"},
		"a spool that there is not":          {ask(func(q *inventory.WaiverRequest) { q.Spool = "W2222-2" }), "no-such-spool"},
		"an attendant grants":                {grant(func(d *inventory.WaiverDecision) { d.Person = s.attendant.Code }), "may-not-waive"},
		"a welder grants":                    {grant(func(d *inventory.WaiverDecision) { d.Person = s.welder.Code }), "may-not-waive"},
		"who asked grants":                   {grant(func(d *inventory.WaiverDecision) { d.Person = second.Code }), "own-waiver"},
		"no reason to grant":                 {grant(func(d *inventory.WaiverDecision) { d.Reason = "" }), "invalid-reason"},
		"a reason in which nothing shows":    {grant(func(d *inventory.WaiverDecision) { d.Reason = "\u200b\u3164" }), "invalid-reason"},
		"no end":                             {grant(func(d *inventory.WaiverDecision) { d.Until = time.Time{} }), "invalid-until"},
		"an end that is past":                {grant(func(d *inventory.WaiverDecision) { d.Until = s.now() }), "invalid-until"},
		"an end beyond thirty days":          {grant(func(d *inventory.WaiverDecision) { d.Until = s.now().Add(inventory.LongestWaiver + time.Second) }), "invalid-until"},
		"a waiver that there is not":         {grant(func(d *inventory.WaiverDecision) { d.ID = 99 }), "no-such-waiver"},
		"a waiver that was refused":          {grant(func(d *inventory.WaiverDecision) { d.ID = settled.ID }), "waiver-decided"},
		"a waiver ends that was not granted": {func() error { _, err := s.ledger.EndWaiver(ctx, s.decision(asked)); return err }, "waiver-decided"},
	}
	for name, tt := range tests {
		if err := tt.do(); inventory.CodeOf(err) != tt.code {
			t.Errorf("%s: error %v, want %s", name, err, tt.code)
		}
	}
	if _, err := s.ledger.Issue(ctx, s.issue(spool)); inventory.CodeOf(err) != "does-not-fit" {
		t.Errorf("Issue after all that: error %v, want does-not-fit", err)
	}
	verified(t, s)
}

// A waiver is granted against what the rule says now: where it stops no more,
// or the profile lets it be waived no more, nothing is granted, and a waiver
// that was granted before holds no more.
func TestAWaiverFollowsTheProfile(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	own := must(s.ledger.CopyProfile(ctx, s.profileEntry(inventory.GeneralProfile), "Ours"))(t)
	job := must(s.store.Catalog(ctx).Job(s.job.Code))(t)
	job.Number, job.ProfileID = "3301", own.ID
	s.job = must(s.ledger.AddJob(ctx, job))(t)
	spool := stale(t, s, 0)
	asked := must(s.ledger.AskWaiver(ctx, s.ask(spool)))(t)[0]

	must(s.ledger.EditProfile(ctx, s.profileEntry(own.ID), "Ours", 1))(t)
	if _, err := s.ledger.GrantWaiver(ctx, s.decision(asked)); inventory.CodeOf(err) != "invalid-until" {
		t.Errorf("GrantWaiver for two days under a profile with one: error %v, want invalid-until", err)
	}
	day := s.decision(asked)
	day.Until = s.now().Add(24 * time.Hour)
	must(s.ledger.GrantWaiver(ctx, day))(t)
	line := lineOf(t, own, fit.RuleExposure, "waiver")
	no := inventory.LimitChange{ProfileEntry: s.profileEntry(own.ID), Line: line, Value: "no"}
	must(s.ledger.SetLimit(ctx, no))(t)
	if _, err := s.ledger.Issue(ctx, s.issue(spool)); inventory.CodeOf(err) != "does-not-fit" {
		t.Errorf("Issue under a profile that lets it be waived no more: error %v, want does-not-fit", err)
	}
}

func TestARepeatedWaiverRequestChangesNothing(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	q := s.ask(stale(t, s, 0))
	first, second := must(s.ledger.AskWaiver(ctx, q))(t), must(s.ledger.AskWaiver(ctx, q))(t)
	if len(first) != 1 || len(second) != 1 || first[0] != second[0] {
		t.Errorf("AskWaiver twice: %+v, then %+v", first, second)
	}
	q.Reason = "another"
	if _, err := s.ledger.AskWaiver(ctx, q); inventory.CodeOf(err) != "request-key-used" {
		t.Errorf("AskWaiver with another wish: error %v, want request-key-used", err)
	}
	d := s.decision(first[0])
	granted, again := must(s.ledger.GrantWaiver(ctx, d))(t), must(s.ledger.GrantWaiver(ctx, d))(t)
	if granted != again {
		t.Errorf("GrantWaiver twice: %+v, then %+v", granted, again)
	}
	d.RequestKey = s.key()
	if _, err := s.ledger.GrantWaiver(ctx, d); inventory.CodeOf(err) != "waiver-decided" {
		t.Errorf("GrantWaiver of a granted waiver: error %v, want waiver-decided", err)
	}
	verified(t, s)
}

// TestVerifyKeepsAnEyeOnWaivers forges each way round a waiver.
func TestVerifyKeepsAnEyeOnWaivers(t *testing.T) {
	t.Parallel()
	for name, forged := range map[string]struct{ statement, says string }{
		"a longer row":        {"UPDATE waivers SET until = until + 86400", "its row says"},
		"a granted row":       {"UPDATE waivers SET rule = 'gas'", "its row says"},
		"a longer deed":       {"UPDATE waiver_deeds SET until = until + 86400 WHERE deed = 'granted'", "altered after it was written"},
		"another person":      {"UPDATE waiver_deeds SET person_code = (SELECT code FROM people WHERE name = 'Otto') WHERE seq = 2", "altered after it was written"},
		"a deed that is gone": {"DELETE FROM waiver_deeds WHERE seq = 1", "is gone"},
		"an issue's waiver":   {"UPDATE movements SET waiver = '' WHERE waiver <> ''", "altered after it was written"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := newShop(t, 1)
			spool := stale(t, s, 0)
			must(s.ledger.GrantWaiver(t.Context(), s.decision(must(s.ledger.AskWaiver(t.Context(), s.ask(spool)))(t)[0])))(t)
			must(s.ledger.Issue(t.Context(), s.issue(spool)))(t)
			verified(t, s)
			tamper(t, s.path, forged.statement)
			v := must(s.ledger.Verify(t.Context()))(t)
			if !strings.Contains(strings.Join(v.Faults, "\n"), forged.says) {
				t.Errorf("Verify() after %q: %v, want a fault with %q", forged.statement, v.Faults, forged.says)
			}
		})
	}
}

// A waiver of what one feeder stops is for that feeder; one that was asked for
// without a feeder does not help where only the feeder stops.
func TestAWaiverForAFeederIsForThatOne(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	spool := stale(t, s, 0)
	q := s.ask(spool)
	q.Feeder = s.feeder.Code
	must(s.ledger.GrantWaiver(ctx, s.decision(must(s.ledger.AskWaiver(ctx, q))(t)[0])))(t)
	there := s.issue(spool)
	if _, err := s.ledger.Issue(ctx, there); inventory.CodeOf(err) != "does-not-fit" {
		t.Errorf("Issue without the feeder: error %v, want does-not-fit", err)
	}
	there.Feeder = s.feeder.Code
	if _, err := s.ledger.Issue(ctx, there); err != nil {
		t.Errorf("Issue to the feeder: error %v", err)
	}
}

func TestStandingWaiversAreTalliedOnceAWeek(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx := t.Context()
	sweep := func(when string, raised, cleared int) {
		t.Helper()
		r, c, err := s.ledger.SummariseWaivers(ctx, s.now())
		if err != nil || r != raised || c != cleared {
			t.Errorf("SummariseWaivers %s = %d, %d, %v, want %d, %d", when, r, c, err, raised, cleared)
		}
	}
	sweep("with none", 0, 0)
	w := must(s.ledger.AskWaiver(ctx, s.ask(stale(t, s, 0))))(t)[0]
	sweep("with one asked for", 0, 0)
	d := s.decision(w)
	d.Until = s.now().Add(10 * 24 * time.Hour)
	w = must(s.ledger.GrantWaiver(ctx, d))(t)
	sweep("with one standing", 1, 0)
	sweep("again", 0, 0)
	alerts := must(s.store.Read(ctx).OpenAlerts(inventory.WaiverAlert))(t)
	if len(alerts) != 1 || !strings.Contains(alerts[0].Text, "exposure of spool "+string(w.Spool)) || !strings.Contains(alerts[0].Text, "granted by Ilse") {
		t.Errorf("the alert is %+v", alerts)
	}
	s.wait(7 * 24 * time.Hour)
	sweep("a week later", 1, 1)
	must(s.ledger.EndWaiver(ctx, s.decision(w)))(t)
	sweep("in the same week, ended", 0, 0)
	s.wait(7 * 24 * time.Hour)
	sweep("when none stands", 0, 1)
}

// TestAWaiverIsForWhatWasFound changes the job after the waiver was granted: it
// holds while the rule says what it said, and for nothing that came later.
func TestAWaiverIsForWhatWasFound(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	ctx, spool := t.Context(), s.spools[0].Code
	job := must(s.store.Catalog(ctx).Job(s.job.Code))(t)
	change := func(set func(*inventory.Job)) {
		t.Helper()
		set(&job)
		job = must(s.ledger.ChangeJob(ctx, inventory.JobEntry{Edit: s.edit(s.engineer, job.Version), Of: job}))(t)
	}
	steel := func(name string) func(*inventory.Job) {
		return func(j *inventory.Job) { j.BaseMetals = []fit.BaseMetal{{Name: name, Family: "carbon steel"}} }
	}
	ask := func() inventory.WaiverRequest {
		q := s.ask(spool)
		q.Rules = []fit.Rule{fit.RuleStrength}
		return q
	}
	grant := func() {
		t.Helper()
		must(s.ledger.GrantWaiver(ctx, s.decision(must(s.ledger.AskWaiver(ctx, ask()))(t)[0])))(t)
	}
	matching := must(s.store.Catalog(ctx).Procedure(job.Procedures[0]))(t)
	from := matching.ID
	matching.Revision, matching.Matching = "D", true
	matching = must(s.ledger.EnterProcedure(ctx, inventory.ProcedureEntry{Edit: s.edit(s.engineer, 0), Of: matching, From: from}))(t)
	change(func(j *inventory.Job) { j.Site, j.Procedures = inventory.InShop, []int64{matching.ID} })
	change(steel("A572 Gr 65"))
	grant()
	for _, tt := range []struct {
		name string
		set  func(*inventory.Job)
		want fit.Answer
	}{
		{"another name", func(j *inventory.Job) { j.Name = "renamed" }, fit.FitsWithCautions},
		{"stronger steel", steel("A514"), fit.DoesNotFit},
		{"the steel that was waived", steel("A572 Gr 65"), fit.FitsWithCautions},
		{"stronger steel again", steel("A514"), fit.DoesNotFit},
	} {
		change(tt.set)
		for name, feeder := range map[string]inventory.Code{"without a feeder": "", "at a feeder": s.feeder.Code} {
			if got := must(s.ledger.CheckFit(ctx, spool, job.Code, feeder))(t); got.Verdict.Answer != tt.want {
				t.Errorf("%s, %s: CheckFit = %s, want %s", tt.name, name, got.Verdict.Answer, tt.want)
			}
		}
	}
	changed := must(s.ledger.AskWaiver(ctx, ask()))(t)[0]
	change(steel("A572 Gr 60"))
	if _, err := s.ledger.GrantWaiver(ctx, s.decision(changed)); inventory.CodeOf(err) != "finding-changed" {
		t.Errorf("GrantWaiver of what has changed since it was asked for: %v, want finding-changed", err)
	}
	must(s.ledger.RefuseWaiver(ctx, s.decision(changed)))(t)
	change(steel("A514"))
	if _, err := s.ledger.Issue(ctx, s.issue(spool)); inventory.CodeOf(err) != "does-not-fit" {
		t.Errorf("Issue to stronger steel than was waived: %v, want does-not-fit", err)
	}
	grant() // the first one stands, and is in nobody's way
	if _, err := s.ledger.AskWaiver(ctx, ask()); inventory.CodeOf(err) != "waiver-asked" {
		t.Errorf("AskWaiver of what is waived: %v, want waiver-asked", err)
	}
	must(s.ledger.Issue(ctx, s.issue(spool)))(t)
	verified(t, s)
}
