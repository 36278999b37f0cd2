package main

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"sync"
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/store"
)

// TestAProgramThatIsKilledKeepsWhatItAnswered kills a real process at which
// eight counters are at work, and looks for each movement that was answered in
// the ledger it leaves.
func TestAProgramThatIsKilledKeepsWhatItAnswered(t *testing.T) {
	t.Parallel()
	path, y := demoCopy(t)
	running, log := telling(t, 0, "--db", path)
	address := regexp.MustCompile(`http://127\.0\.0\.1:\d+`)
	until(t, "the program says where it listens", func() bool { return address.MatchString(log.String()) })
	c := counters{url: address.FindString(log.String()), yard: y}
	s, ledger, err := openAt(&program{ctx: t.Context(), now: clock}, path, quiet, clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	for _, line := range must(s.Catalog(t.Context()).Spools(inventory.Query{State: string(inventory.StateSealed), Limit: 8}))(t) {
		c.move(t, line.Code)
	}
	until(t, "200 movements are answered", func() bool { return c.count() >= 200 })
	kill(t, running)
	c.all.Wait()
	in := keys(t, s)
	for _, key := range c.answered {
		if !in[key] {
			t.Errorf("movement %q was answered, and is not in the ledger", key)
		}
	}
	if v := must(ledger.Verify(t.Context()))(t); len(v.Faults) > 0 {
		t.Errorf("after the kill: %s", strings.Join(v.Faults, "\n"))
	}
}

// counters are counters at work over HTTP.
type counters struct {
	url string
	*yard
	all      sync.WaitGroup
	mu       sync.Mutex
	answered []string
}

func (c *counters) count() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.answered)
}

// move moves a spool to and fro until the program answers no more.
func (c *counters) move(t *testing.T, spool inventory.Code) {
	places := []inventory.Code{c.placeNamed("Shelf B2"), c.places[0].Code}
	person := c.withRole(inventory.Attendant)[0].Code
	c.all.Go(func() {
		for n := 0; ; n++ {
			key := fmt.Sprintf("%s %d", spool, n)
			resp, err := http.Post(c.url+"/api/v1/spools/"+string(spool)+"/move", "application/json",
				strings.NewReader(fmt.Sprintf(`{"person":%q,"request_key":%q,"place":%q}`, person, key, places[n%2])))
			if err != nil {
				return
			}
			resp.Body.Close()
			if resp.StatusCode != http.StatusOK {
				t.Errorf("moving %s: %s", key, resp.Status)
				return
			}
			c.mu.Lock()
			c.answered = append(c.answered, key)
			c.mu.Unlock()
		}
	})
}

// keys are the request keys of all movements.
func keys(t *testing.T, s *store.Store) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	for after := int64(0); ; {
		movements := must(s.Read(t.Context()).Ledger(after, 2000))(t)
		if len(movements) == 0 {
			return out
		}
		for _, m := range movements {
			out[m.RequestKey], after = true, m.Seq
		}
	}
}
