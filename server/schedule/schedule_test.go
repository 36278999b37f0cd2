package schedule

import (
	"context"
	"errors"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// leases is a lease table in memory: the real one is tested with the store.
type leases struct {
	mu    sync.Mutex
	until map[string]time.Time
}

func (l *leases) Hold(_ context.Context, name string, at, until time.Time) (bool, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.until[name].After(at) {
		return false, nil
	}
	l.until[name] = until
	return true, nil
}

func newLeases() *leases { return &leases{until: map[string]time.Time{}} }

var quiet = slog.New(slog.DiscardHandler)

// runs runs one job for a length of time that passes at once, and returns when
// it ran, counted from the start.
func runs(t *testing.T, spec string, length time.Duration, replicas int) []time.Duration {
	t.Helper()
	var mu sync.Mutex
	var at []time.Duration
	synctest.Test(t, func(t *testing.T) {
		start := time.Now()
		lease := newLeases()
		ctx, stop := context.WithTimeout(t.Context(), length)
		defer stop()
		var wg sync.WaitGroup
		for range replicas {
			wg.Go(func() {
				job := Job{Name: "sweep", Spec: spec, Timeout: 30 * time.Second, Do: func(_ context.Context, now time.Time) error {
					mu.Lock()
					defer mu.Unlock()
					at = append(at, now.Sub(start))
					return nil
				}}
				if err := NewRunner(lease, quiet, time.Now).Run(ctx, []Job{job}); err != nil {
					t.Errorf("Run: %v", err)
				}
			})
		}
		wg.Wait()
	})
	return at
}

// synctest's clock begins at midnight UTC, 2000-01-01.
func TestAJobRunsAtTheStartAndThenOnTime(t *testing.T) {
	got := runs(t, "*/5 * * * *", 16*time.Minute, 1)
	if want := []time.Duration{0, 5 * time.Minute, 10 * time.Minute, 15 * time.Minute}; !slices.Equal(got, want) {
		t.Errorf("ran at %v, want %v", got, want)
	}
}

func TestOfThreeReplicasOneRunsTheJob(t *testing.T) {
	got := runs(t, "*/5 * * * *", 11*time.Minute, 3)
	if want := []time.Duration{0, 5 * time.Minute, 10 * time.Minute}; !slices.Equal(got, want) {
		t.Errorf("ran at %v, want once at each of %v", got, want)
	}
}

// In a year every hour of UTC comes once: a daily job runs on each day, those
// on which a shop's clocks change too.
func TestADailyJobRunsOnceOnEveryDayOfTheYear(t *testing.T) {
	got := runs(t, "30 2 * * *", 366*24*time.Hour, 1)
	if len(got) != 367 { // once at the start and once a day of a leap year
		t.Errorf("ran %d times, want 367", len(got))
	}
	for i := 2; i < len(got); i++ {
		if got[i]-got[i-1] != 24*time.Hour {
			t.Errorf("run %d came %v after the one before", i, got[i]-got[i-1])
		}
	}
}

func TestAJobThatFailsOrPanicsRunsAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		n := 0
		ctx, stop := context.WithTimeout(t.Context(), 16*time.Minute)
		defer stop()
		job := Job{Name: "bad", Spec: "*/5 * * * *", Timeout: time.Minute, Do: func(context.Context, time.Time) error {
			n++
			if n == 2 {
				panic("a bug")
			}
			return errors.New("no luck")
		}}
		if err := NewRunner(newLeases(), quiet, time.Now).Run(ctx, []Job{job}); err != nil {
			t.Errorf("Run: %v", err)
		}
		if n != 4 {
			t.Errorf("ran %d times, want 4", n)
		}
	})
}

func TestASpecThatMakesNoSenseIsNamed(t *testing.T) {
	err := NewRunner(newLeases(), quiet, time.Now).Run(t.Context(), []Job{{Name: "odd", Spec: "every full moon"}})
	if err == nil || !strings.Contains(err.Error(), "every full moon") || !strings.Contains(err.Error(), "odd") {
		t.Errorf("Run: error %v, want one that names job and spec", err)
	}
}
