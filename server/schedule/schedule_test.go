package schedule

import (
	"context"
	"errors"
	"log/slog"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/store"
)

var quiet = slog.New(slog.DiscardHandler)

// shop is a database that some replicas share, in time that passes at once.
type shop struct {
	t    *testing.T
	path string
	zone *time.Location
}

// inTime runs f where time passes as soon as nothing else is to be done.
// synctest's clock begins at midnight UTC, 2000-01-01; the shop's at the
// instant at.
func inTime(t *testing.T, at time.Time, f func(*shop)) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	synctest.Test(t, func(t *testing.T) {
		time.Sleep(time.Until(at))
		f(&shop{t: t, path: path, zone: time.UTC})
	})
}

// midnight is when time begins in most of these tests.
var midnight = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// replica is one program on the shop's database, whose clock is off by skew.
type replica struct {
	*Runner
	ledger *inventory.Ledger
	store  *store.Store
	now    func() time.Time
}

func (s *shop) replica(skew time.Duration, jobs ...Job) *replica {
	s.t.Helper()
	now := func() time.Time { return time.Now().Add(skew) }
	db, err := store.Open(s.t.Context(), s.path, quiet)
	if err != nil {
		s.t.Fatal(err)
	}
	ledger := inventory.NewLedger(db, nil, now)
	r, err := NewRunner(ledger, s.zone, quiet, now, jobs)
	if err != nil {
		s.t.Fatal(err)
	}
	return &replica{r, ledger, db, now}
}

// runFor runs the replicas together for a length of time and closes them.
func (s *shop) runFor(length time.Duration, replicas ...*replica) {
	s.t.Helper()
	ctx, stop := context.WithTimeout(s.t.Context(), length)
	defer stop()
	var wg sync.WaitGroup
	for _, r := range replicas {
		wg.Go(func() {
			if err := r.Run(ctx); err != nil {
				s.t.Errorf("Run: %v", err)
			}
		})
	}
	wg.Wait()
	for _, r := range replicas {
		if err := r.store.Close(); err != nil {
			s.t.Error(err)
		}
	}
}

// diary keeps when a job ran.
type diary struct {
	mu sync.Mutex
	at []time.Time
}

func (d *diary) job(spec string) Job {
	return Job{Name: "sweep", Spec: spec, Timeout: 30 * time.Second, Do: func(_ context.Context, at time.Time) error {
		d.mu.Lock()
		defer d.mu.Unlock()
		d.at = append(d.at, at)
		return nil
	}}
}

// since are the times in the diary counted from the instant.
func (d *diary) since(at time.Time) (out []time.Duration) {
	for _, ran := range d.at {
		out = append(out, ran.Sub(at))
	}
	return out
}

func TestAJobRunsOnTime(t *testing.T) {
	t.Parallel()
	inTime(t, midnight, func(s *shop) {
		var d diary
		s.runFor(16*time.Minute, s.replica(0, d.job("*/5 * * * *")))
		if got, want := d.since(midnight), []time.Duration{0, 5 * time.Minute, 10 * time.Minute, 15 * time.Minute}; !slices.Equal(got, want) {
			t.Errorf("ran at %v, want %v", got, want)
		}
	})
}

func TestATurnIsRunOnceOverReplicasWhoseClocksDiffer(t *testing.T) {
	t.Parallel()
	inTime(t, midnight.Add(10*time.Second), func(s *shop) {
		var d diary
		job := d.job("*/5 * * * *")
		job.Timeout = time.Second                // over long before the slowest clock shows the turn
		s.runFor(time.Second, s.replica(0, job)) // alone: all at one instant, the fastest clock would take a run that is under way for dead
		s.runFor(21*time.Minute, s.replica(3*time.Second, job), s.replica(0, job), s.replica(-4*time.Second, job))
		if len(d.at) != 5 {
			t.Errorf("ran at %v: %d times, want 5: the turn of midnight, and four", d.at, len(d.at))
		}
	})
}

func TestAMissedRunIsCaughtUpOnce(t *testing.T) {
	t.Parallel()
	inTime(t, midnight, func(s *shop) {
		var d diary
		s.zone = zoneNamed(t, "Europe/Berlin")
		six := time.Date(2026, 11, 25, 5, 0, 0, 0, time.UTC) // 06:00 in Berlin
		s.runFor(6*time.Hour, s.replica(0, d.job("06:00")))
		if got := d.since(six); len(got) != 2 || got[1] != 0 { // yesterday's turn, which nobody ran, and today's
			t.Fatalf("the first day it ran %v from 06:00", got)
		}
		s.runFor(time.Hour, s.replica(0, d.job("06:00"))) // a restart the same morning: nothing was missed
		if len(d.at) != 2 {
			t.Fatalf("a restart ran it again: %v", d.since(six))
		}
		time.Sleep(72 * time.Hour)
		late := time.Now()
		s.runFor(time.Hour, s.replica(0, d.job("06:00")), s.replica(0, d.job("06:00")))
		if got := d.at[2:]; len(got) != 1 || got[0].Sub(late) != 0 {
			t.Errorf("after three days it ran at %v, want once, at %v", got, late)
		}
		r := s.replica(0)
		defer r.store.Close()
		runs, err := r.ledger.Runs(s.t.Context(), "sweep", 10)
		if err != nil || len(runs) != 3 || runs[0].Cause != inventory.RunCaughtUp || runs[1].Cause != inventory.RunOnTime || !runs[0].Turn.Equal(six.AddDate(0, 0, 3)) {
			t.Errorf("Runs = %+v, %v; want three, the last caught up for the turn of %v", runs, err, six.AddDate(0, 0, 3))
		}
	})
}

// TestSixInTheMorningWhenClocksChange runs the whole schedule over the days of
// change: a time of day comes once each local day, also one that is skipped or
// comes twice.
func TestSixInTheMorningWhenClocksChange(t *testing.T) {
	t.Parallel()
	for zone, days := range map[string][]string{
		"America/New_York": {"2025-03-09", "2025-11-02", "2026-03-08", "2026-11-01", "2027-03-14", "2027-11-07"},
		"Europe/Berlin":    {"2025-03-30", "2025-10-26", "2026-03-29", "2026-10-25", "2027-03-28", "2027-10-31"},
	} {
		for _, day := range days {
			for _, spec := range []string{"06:00", "01:30", "02:30"} {
				t.Run(zone+" "+day+" "+spec, func(t *testing.T) {
					t.Parallel()
					in := zoneNamed(t, zone)
					change, err := time.ParseInLocation(time.DateOnly, day, in)
					if err != nil {
						t.Fatal(err)
					}
					inTime(t, change.AddDate(0, 0, -1), func(s *shop) {
						var d diary
						s.zone = in
						first := d.job(spec)
						s.runFor(72*time.Hour-time.Minute, s.replica(0, first), s.replica(2*time.Second, first))
						checkMornings(t, d.at[1:], in, change, spec) // the first catches up what was before
					})
				})
			}
		}
	}
}

// checkMornings checks that a job ran on the day of change and the days before
// and after at the time of spec, or just after a gap that held it.
func checkMornings(t *testing.T, ran []time.Time, in *time.Location, change time.Time, spec string) {
	t.Helper()
	if len(ran) != 3 {
		t.Fatalf("ran %d times in three days, want 3: %v", len(ran), ran)
	}
	for i, at := range ran {
		at = at.Add(2 * time.Second).In(in) // a replica whose clock is fast may be first
		if want := change.AddDate(0, 0, i-1).Format(time.DateOnly); at.Format(time.DateOnly) != want {
			t.Errorf("run %d came on %s, want %s", i, at, want)
		}
		shown := at.Format("15:04")
		gap := spec == "02:30" && shown == "03:00" && i == 1 && change.Month() == time.March
		if shown != spec && !gap {
			t.Errorf("run %d came at %s, want %s", i, at, spec)
		}
	}
}

// TestADailyJobRunsOnceOnEveryDayOfTheYear is a line of cron in UTC over a
// year in which clocks change.
func TestADailyJobRunsOnceOnEveryDayOfTheYear(t *testing.T) {
	t.Parallel()
	inTime(t, midnight, func(s *shop) {
		var d diary
		s.runFor(365*24*time.Hour, s.replica(0, d.job("30 2 * * *")))
		if len(d.at) != 366 { // once at the start and once a day
			t.Errorf("ran %d times, want 366", len(d.at))
		}
		for i := 2; i < len(d.at); i++ {
			if d.at[i].Sub(d.at[i-1]) != 24*time.Hour {
				t.Errorf("run %d came %v after the one before", i, d.at[i].Sub(d.at[i-1]))
			}
		}
		r := s.replica(0)
		defer r.store.Close()
		if runs, err := r.ledger.Runs(s.t.Context(), "sweep", 1000); err != nil || len(runs) != 300 {
			t.Errorf("%d runs are kept, %v; want the latest 300", len(runs), err)
		}
	})
}

func TestAJobThatFailsRunsAgainAndSaysWhy(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name string
		do   func(context.Context) error
		says string
	}{
		{"an error that may be read", func(context.Context) error { return inventory.Conflictf("x", "the scale is gone") }, "the scale is gone"},
		{"an error that may not", func(context.Context) error { return errors.New("SELECT secret") }, "something went wrong on our side: the log has the reason"},
		{"a bug", func(context.Context) error { panic("secret") }, "a fault in the program: the log has it"},
		{"one that takes too long", func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() }, "it took longer than 1m0s and was stopped"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			inTime(t, midnight, func(s *shop) {
				n := 0
				job := Job{Name: "bad", Spec: "*/5 * * * *", Timeout: time.Minute, Do: func(ctx context.Context, _ time.Time) error { n++; return tt.do(ctx) }}
				s.runFor(18*time.Minute, s.replica(0, job))
				if n != 4 {
					t.Errorf("ran %d times, want 4", n)
				}
				r := s.replica(0, job)
				defer r.store.Close()
				jobs, err := r.Jobs(s.t.Context())
				if err != nil || len(jobs) != 1 || jobs[0].Failed != 4 || jobs[0].Kept != 4 || jobs[0].Last.Result != inventory.RunFailed || jobs[0].Last.Says != tt.says {
					t.Errorf("Jobs = %+v, %v; want 4 of 4 failed, the last saying %q", jobs, err, tt.says)
				}
			})
		})
	}
}

// TestATurnInWhichTheProgramDiesIsDoneByAnother leaves a run without an end, as
// a crash does, and one that was stopped.
func TestATurnInWhichTheProgramDiesIsDoneByAnother(t *testing.T) {
	t.Parallel()
	inTime(t, midnight, func(s *shop) {
		var d diary
		r := s.replica(0, d.job("06:00"))
		claim, err := r.ledger.BeginRun(s.t.Context(), "sweep", midnight.Add(-18*time.Hour), 30*time.Second)
		if err != nil || !claim.Mine {
			t.Fatalf("BeginRun = %+v, %v", claim, err)
		}
		s.runFor(time.Hour, r)
		if got := d.since(midnight); len(got) != 1 || got[0] < 30*time.Second || got[0] > 2*time.Minute {
			t.Errorf("ran %v after midnight, want once, soon after the lost run's time was up", got)
		}

		stuck := d.job("*/5 * * * *")
		stuck.Name, stuck.Do = "stuck", func(ctx context.Context, _ time.Time) error { <-ctx.Done(); return ctx.Err() }
		s.runFor(time.Second, s.replica(0, stuck))
		last := s.replica(0)
		defer last.store.Close()
		runs, err := last.ledger.Runs(s.t.Context(), "stuck", 10)
		if err != nil || len(runs) != 1 || runs[0].Result != inventory.RunStopped {
			t.Fatalf("Runs = %+v, %v; want one, stopped", runs, err)
		}
		if claim, err := last.ledger.BeginRun(s.t.Context(), "stuck", runs[0].Turn, time.Minute); err != nil || !claim.Mine {
			t.Errorf("BeginRun of a stopped turn = %+v, %v; want it given out again", claim, err)
		}
	})
}

func TestRunNow(t *testing.T) {
	t.Parallel()
	inTime(t, midnight.Add(time.Minute), func(s *shop) {
		var d diary
		slow := d.job("06:00")
		do := slow.Do
		slow.Do = func(ctx context.Context, at time.Time) error { time.Sleep(10 * time.Second); return do(ctx, at) }
		a, b := s.replica(0, slow), s.replica(0, slow)
		engineer, err := a.ledger.AddPerson(s.t.Context(), inventory.Person{Name: "Eva Root", Role: inventory.Engineer})
		if err != nil {
			t.Fatal(err)
		}
		welder, err := a.ledger.AddPerson(s.t.Context(), inventory.Person{Name: "Wil Bead", Role: inventory.Welder})
		if err != nil {
			t.Fatal(err)
		}
		go func() {
			time.Sleep(time.Minute)
			ask := func(r *replica, job, key string, by inventory.Person, want inventory.Kind) {
				if _, err := r.RunNow(s.t.Context(), inventory.RunRequest{Job: job, Person: by.Code, RequestKey: key}); inventory.KindOf(err) != want {
					t.Errorf("RunNow(%q, %q, %s): error %v, want kind %q", job, key, by.Role, err, want)
				}
			}
			ask(a, "sweep", "k1", engineer, "")
			ask(b, "sweep", "k1", engineer, "")                 // sent twice
			ask(b, "sweep", "k2", engineer, inventory.Conflict) // it runs, in the other replica
			ask(b, "sweep", "k3", welder, inventory.Forbidden)
			ask(b, "no such", "k4", engineer, inventory.NotFound)
		}()
		s.runFor(time.Hour, a, b)
		last := s.replica(0, slow)
		defer last.store.Close()
		runs, err := last.ledger.Runs(s.t.Context(), "sweep", 10)
		if err != nil || len(runs) != 2 || runs[0].Cause != inventory.RunAsked || runs[0].PersonName != "Eva Root" || runs[0].Took() != 10*time.Second || len(d.at) != 2 {
			t.Errorf("Runs = %+v, %v, done %d times; want the one caught up and the one asked for", runs, err, len(d.at))
		}
	})
}

func TestHealthySaysWhichJobDoesNotRun(t *testing.T) {
	t.Parallel()
	inTime(t, midnight, func(s *shop) {
		var d diary
		job := d.job("*/5 * * * *")
		s.runFor(6*time.Minute, s.replica(0, job)) // ran at 0 and 5 minutes
		r := s.replica(0, job)
		defer r.store.Close()
		time.Sleep(9 * time.Minute)
		if err := r.Healthy(s.t.Context()); err != nil {
			t.Errorf("Healthy after twice the interval: %v, want nil", err)
		}
		time.Sleep(time.Second)
		if err := r.Healthy(s.t.Context()); err == nil || !strings.Contains(err.Error(), "sweep (every 5 minutes) ran last 2026-11-25 00:05 UTC") {
			t.Errorf("Healthy after longer than that: %v, want the job named", err)
		}
	})
}

func TestASpecThatMakesNoSenseIsNamed(t *testing.T) {
	t.Parallel()
	_, err := NewRunner(nil, time.UTC, quiet, time.Now, []Job{{Name: "odd", Spec: "every full moon"}})
	if err == nil || !strings.Contains(err.Error(), "every full moon") || !strings.Contains(err.Error(), "odd") {
		t.Errorf("NewRunner: error %v, want one that names job and spec", err)
	}
}
