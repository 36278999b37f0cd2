package live

import (
	"context"
	"errors"
	"log/slog"
	"strconv"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"wirehold/inventory"
)

// counter is a version that is counted up, and fails when it is below zero.
type counter struct{ n, asked atomic.Int64 }

func (c *counter) version(context.Context) (string, error) {
	c.asked.Add(1)
	if n := c.n.Load(); n >= 0 {
		return strconv.FormatInt(n, 10), nil
	}
	return "", errors.New("no database")
}

// inTime runs f with a hub that looks every second, in time that passes at
// once, and then ends the hub.
func inTime(t *testing.T, most int, f func(*Hub, *counter)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		c := &counter{}
		h := NewHub(c.version, time.Second, most, slog.New(slog.DiscardHandler))
		ctx, stop := context.WithCancel(t.Context())
		go h.Run(ctx)
		synctest.Wait()
		f(h, c)
		stop()
		synctest.Wait()
	})
}

func TestAListenerIsToldOfEachVersion(t *testing.T) {
	t.Parallel()
	inTime(t, 2, func(h *Hub, c *counter) {
		changes, stop, err := h.Listen()
		if err != nil {
			t.Fatal(err)
		}
		if v := <-changes; v != "0" {
			t.Errorf("the first version is %q, want 0", v)
		}
		start := time.Now()
		c.n.Store(1) // by another program: found by looking
		if v, after := <-changes, time.Since(start); v != "1" || after > time.Second {
			t.Errorf("version %q came after %s, want 1 within a second", v, after)
		}
		start = time.Now()
		c.n.Store(2)
		h.Changed() // by this one: told at once
		if v, after := <-changes, time.Since(start); v != "2" || after != 0 {
			t.Errorf("version %q came after %s, want 2 at once", v, after)
		}
		stop()
		synctest.Wait()
		before := c.asked.Load()
		time.Sleep(time.Minute)
		if asked := c.asked.Load() - before; asked != 0 {
			t.Errorf("the version was asked for %d times while nobody listened", asked)
		}
	})
}

func TestASlowListenerHoldsNobodyUp(t *testing.T) {
	t.Parallel()
	inTime(t, 2, func(h *Hub, c *counter) {
		slow, stopSlow, _ := h.Listen()
		quick, stopQuick, _ := h.Listen()
		defer stopSlow()
		defer stopQuick()
		<-quick
		for n := range int64(1000) {
			c.n.Store(n + 1)
			h.Changed()
			if v := <-quick; v != strconv.FormatInt(n+1, 10) {
				t.Fatalf("version %q, want %d", v, n+1)
			}
		}
		if v := <-slow; v != "1000" {
			t.Errorf("the slow listener finds version %q, want the latest", v)
		}
	})
}

func TestListenersAreBoundedAndLetGoAtTheEnd(t *testing.T) {
	t.Parallel()
	inTime(t, 1, func(h *Hub, c *counter) {
		_, stop, err := h.Listen()
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := h.Listen(); inventory.KindOf(err) != inventory.Unavailable {
			t.Errorf("one listener too many: error %v, want it unavailable", err)
		}
		stop()
		changes, _, err := h.Listen()
		if err != nil {
			t.Fatalf("a listener in the place of one that is gone: %v", err)
		}
		<-changes
		c.n.Store(-1)
		time.Sleep(3 * time.Second) // the database is away
		c.n.Store(7)
		if v := <-changes; v != "7" {
			t.Errorf("after the database is back the version is %q, want 7", v)
		}
		go func() {
			if _, open := <-changes; open {
				t.Error("a version came at the end, want the channel closed")
			}
			if _, _, err := h.Listen(); inventory.KindOf(err) != inventory.Unavailable {
				t.Errorf("a listener after the end: error %v, want it unavailable", err)
			}
		}()
	})
}
