package store

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"wirehold/inventory"
)

// counters is a store whose writer is held by one write, while others come and
// wait in the order in which they were begun.
type counters struct {
	t       *testing.T
	store   *Store
	path    string
	release func() // lets the first write go on
	began   int
	ended   map[string]chan error
}

func newCounters(t *testing.T) *counters {
	t.Helper()
	c := &counters{t: t, path: filepath.Join(t.TempDir(), "shop.db"), ended: map[string]chan error{}}
	c.store = opened(t, c.path)
	holds, goes := make(chan struct{}), make(chan struct{})
	c.release = func() { close(goes) }
	c.begin(t.Context(), "first", c.store.WriteShared, func(tx inventory.Tx) error {
		close(holds)
		<-goes
		return enter(tx, "first")
	})
	<-holds
	c.began = 0
	return c
}

func opened(t *testing.T, path string) *Store {
	t.Helper()
	s, err := Open(t.Context(), path, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("close %s: %v", path, err)
		}
	})
	return s
}

// enter writes a person of the name.
func enter(tx inventory.Tx, name string) error {
	return tx.AddPerson(inventory.Person{Code: inventory.Code(name), Name: name, Role: inventory.Attendant})
}

// begin begins a write and returns once it waits behind those before it.
func (c *counters) begin(ctx context.Context, name string, write func(context.Context, func(inventory.Tx) error) error, f func(inventory.Tx) error) {
	c.t.Helper()
	ended := make(chan error, 1)
	c.ended[name] = ended
	go func() {
		defer func() {
			if r := recover(); r != nil {
				ended <- errPanicked
			}
		}()
		ended <- write(ctx, f)
	}()
	if name != "first" {
		c.began++
		c.waiting(c.began)
	}
}

var errPanicked = errors.New("it panicked")

// waiting returns once as many writes wait.
func (c *counters) waiting(n int) {
	c.t.Helper()
	for waiting := c.store.Waiting(); waiting != n; waiting = c.store.Waiting() {
		if c.t.Context().Err() != nil {
			c.t.Fatalf("%d writes wait, want %d", waiting, n)
		}
		runtime.Gosched()
	}
}

// names are the people in the database at path, as another program finds them.
func names(t *testing.T, path string) (out []string) {
	t.Helper()
	people, err := opened(t, path).Catalog(t.Context()).People()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range people {
		out = append(out, p.Name)
	}
	slices.Sort(out)
	return out
}

// afterCrash is a copy of the database as a power cut now would leave it.
func (c *counters) afterCrash() string {
	c.t.Helper()
	to := filepath.Join(c.t.TempDir(), "crashed.db")
	for _, end := range []string{"", "-wal"} {
		content, err := os.ReadFile(c.path + end)
		if err == nil {
			err = os.WriteFile(to+end, content, 0o600)
		}
		if err != nil {
			c.t.Fatal(err)
		}
	}
	return to
}

func (c *counters) want(name string, want error) {
	c.t.Helper()
	got := <-c.ended[name]
	if !errors.Is(got, want) {
		c.t.Errorf("%s was told %v, want %v", name, got, want)
	}
}

func (c *counters) holds(want ...string) {
	c.t.Helper()
	if got := names(c.t, c.path); !slices.Equal(got, want) {
		c.t.Errorf("the database has %q, want %q", got, want)
	}
}

func TestOfWritesThatShareOneIsRefusedAndTheOthersHold(t *testing.T) {
	t.Parallel()
	c := newCounters(t)
	refused := inventory.Refusedf("spool-empty", "it is empty")
	c.begin(t.Context(), "refused", c.store.WriteShared, func(tx inventory.Tx) error {
		return errors.Join(refused, enter(tx, "refused"))
	})
	c.begin(t.Context(), "second", c.store.WriteShared, func(tx inventory.Tx) error { return enter(tx, "second") })
	c.begin(t.Context(), "panics", c.store.WriteShared, func(tx inventory.Tx) error {
		panic(enter(tx, "panics"))
	})
	c.begin(t.Context(), "same again", c.store.WriteShared, func(tx inventory.Tx) error { return enter(tx, "second") })
	c.begin(t.Context(), "alone", c.store.Write, func(tx inventory.Tx) error { return enter(tx, "alone") })
	c.begin(t.Context(), "refused first", c.store.WriteShared, func(tx inventory.Tx) error {
		return errors.Join(refused, enter(tx, "refused first"))
	})
	c.begin(t.Context(), "third", c.store.WriteShared, func(tx inventory.Tx) error {
		if _, err := tx.Person("second"); err != nil {
			return err
		}
		return enter(tx, "third")
	})
	c.release()
	for _, name := range []string{"first", "second", "alone", "third"} {
		c.want(name, nil)
	}
	c.want("refused", refused)
	c.want("refused first", refused)
	c.want("panics", errPanicked)
	if err := <-c.ended["same again"]; inventory.KindOf(err) != inventory.Conflict {
		t.Errorf("who enters a code that another of the batch entered is told %v, want a conflict", err)
	}
	c.holds("alone", "first", "second", "third")
}

// Nothing of a batch is there, and nobody was answered, until all of it is
// committed.
func TestAPowerCutBeforeTheCommitLosesTheWholeBatch(t *testing.T) {
	t.Parallel()
	c := newCounters(t)
	reached, goes := make(chan struct{}), make(chan struct{})
	c.begin(t.Context(), "second", c.store.WriteShared, func(tx inventory.Tx) error { return enter(tx, "second") })
	c.begin(t.Context(), "third", c.store.WriteShared, func(tx inventory.Tx) error {
		close(reached)
		<-goes
		return enter(tx, "third")
	})
	c.release()
	<-reached
	for _, name := range []string{"first", "second"} {
		select {
		case err := <-c.ended[name]:
			t.Errorf("%s was answered (%v) before the commit", name, err)
		default:
		}
	}
	if got := names(t, c.afterCrash()); len(got) > 0 {
		t.Errorf("after a power cut before the commit the database has %q, want nobody", got)
	}
	close(goes)
	for _, name := range []string{"first", "second", "third"} {
		c.want(name, nil)
	}
	if got := names(t, c.afterCrash()); len(got) != 3 {
		t.Errorf("after a power cut once they were answered the database has %q, want all three", got)
	}
}

func TestWhoGivesUpTakesNobodyAlong(t *testing.T) {
	t.Parallel()
	c := newCounters(t)
	waits, stopWaiting := context.WithCancel(t.Context())
	works, stopWorking := context.WithCancel(t.Context())
	defer stopWorking()
	c.begin(waits, "waits", c.store.WriteShared, func(tx inventory.Tx) error {
		t.Error("who gave up while waiting had the turn")
		return nil
	})
	c.begin(works, "works", c.store.WriteShared, func(i inventory.Tx) error {
		const count = "WITH RECURSIVE c (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM c WHERE n < ?) SELECT 'works', MAX(n) FROM c"
		var gives sync.WaitGroup
		defer gives.Wait()
		gives.Go(func() { // up while the statement below is at work, which counts ten times as far
			if err := c.store.readers.Exec(count, 200_000).Error; err != nil {
				t.Error(err)
			}
			stopWorking()
		})
		return i.(*tx).db.Exec("INSERT INTO counters (name, value) "+count, 2_000_000).Error // SQLite undoes all where this is interrupted
	})
	c.begin(t.Context(), "last", c.store.WriteShared, func(tx inventory.Tx) error { return enter(tx, "last") })
	stopWaiting()
	c.want("waits", context.Canceled)
	c.waiting(2)
	c.release()
	c.want("first", nil)
	c.want("works", context.Canceled)
	c.want("last", nil)
	c.holds("first", "last")
}

// A database that undoes a whole transaction by itself, as it does when the
// disk is full, takes the parts along that stood: they are told no.
func TestABatchThatIsLostIsTold(t *testing.T) {
	t.Parallel()
	c := newCounters(t)
	c.begin(t.Context(), "full", c.store.WriteShared, func(i inventory.Tx) error {
		if err := i.(*tx).db.Exec("ROLLBACK").Error; err != nil {
			t.Error(err)
		}
		return errors.New("the disk is full")
	})
	c.begin(t.Context(), "next", c.store.WriteShared, func(tx inventory.Tx) error { return enter(tx, "next") })
	c.release()
	for _, name := range []string{"first", "full"} {
		if err := <-c.ended[name]; err == nil || !strings.Contains(err.Error(), "commit") {
			t.Errorf("%s was told %v, want that the commit failed", name, err)
		}
	}
	c.want("next", nil)
	c.holds("next")
}

// The first of many is not kept waiting for ever by those who come after it.
func TestABatchEnds(t *testing.T) {
	t.Parallel()
	c := newCounters(t)
	committed := make([]int, mostParts+1) // as another connection sees it during each part
	for i := 1; i <= mostParts; i++ {
		c.begin(t.Context(), fmt.Sprint("part ", i), c.store.WriteShared, func(tx inventory.Tx) error {
			people, err := c.store.Catalog(t.Context()).People()
			committed[i] = len(people)
			return errors.Join(err, enter(tx, fmt.Sprint("part ", i)))
		})
	}
	c.release()
	for i := 1; i <= mostParts; i++ {
		c.want(fmt.Sprint("part ", i), nil)
	}
	if committed[mostParts-1] != 0 || committed[mostParts] != mostParts {
		t.Errorf("during part %d of a batch %d parts were committed, and during the next %d; want 0 and %d", mostParts, committed[mostParts-1], committed[mostParts], mostParts)
	}
}
