package store_test

import (
	"context"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/anishathalye/porcupine"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// ask is what one counter does with a spool, and answer what it is told.
type ask struct {
	spool int
	deed  inventory.MovementType // Issued, Returned; empty looks the spool up
}

type answer struct {
	refused bool
	out     bool
	version int
}

// oneSpool is what a spool must look like to all counters at once, as if they
// had come one after the other: the state is the last answer.
func oneSpool(first answer) porcupine.Model {
	return porcupine.Model{
		Partition: func(all []porcupine.Operation) [][]porcupine.Operation {
			var out [][]porcupine.Operation
			for _, o := range all {
				for len(out) <= o.Input.(ask).spool {
					out = append(out, nil)
				}
				out[o.Input.(ask).spool] = append(out[o.Input.(ask).spool], o)
			}
			return out
		},
		Init: func() any { return first },
		Step: func(state, input, output any) (bool, any) {
			is, in, told := state.(answer), input.(ask), output.(answer)
			moves := in.deed == inventory.Issued && !is.out || in.deed == inventory.Returned && is.out
			switch {
			case in.deed == "":
				return told == is, is
			case told.refused:
				return !moves, is
			}
			next := answer{out: !is.out, version: is.version + 1}
			return moves && told == next, next
		},
	}
}

// TestEightCountersComeOneAfterTheOther lets eight counters issue, return and
// look up four spools at once and holds all that they were told against one
// order of events. The order is found by a checker that was not written here.
func TestEightCountersComeOneAfterTheOther(t *testing.T) {
	t.Parallel()
	s := newShop(t, 4)
	for _, spool := range s.spools {
		must(s.ledger.Open(t.Context(), s.entry(spool.Code)))(t)
	}
	first := answer{version: 2} // received and opened
	history := s.counters(t, 8, 60)
	model := oneSpool(first)
	if got := porcupine.CheckOperationsTimeout(model, history, time.Minute); got != porcupine.Ok {
		t.Errorf("%d answers come in no order of events (%s)", len(history), got)
	}
	moved := 0
	for i, o := range history {
		told := o.Output.(answer)
		if o.Input.(ask).deed == "" || told.refused {
			continue
		}
		moved++
		told.version++
		history[i].Output = told
	}
	if got := porcupine.CheckOperationsTimeout(model, history, time.Minute); got != porcupine.Illegal || moved < 50 {
		t.Errorf("with %d answers made false the checker says %s, want at least 50 and Illegal", moved, got)
	}
	verified(t, s)
}

// counters lets several counters work at once, each through so many deeds, and
// returns what each asked and was told, by one clock.
func (s *shop) counters(t *testing.T, counters, deeds int) (history []porcupine.Operation) {
	t.Helper()
	var clock atomic.Int64
	var mu sync.Mutex
	var wg sync.WaitGroup
	for counter := range counters {
		chance := rand.New(rand.NewPCG(1, uint64(counter)))
		wg.Go(func() {
			for range deeds {
				in := ask{chance.IntN(len(s.spools)), [...]inventory.MovementType{inventory.Issued, inventory.Issued, inventory.Returned, inventory.Returned, ""}[chance.IntN(5)]}
				o := porcupine.Operation{ClientId: counter, Input: in, Call: clock.Add(1)}
				told, err := s.told(t.Context(), in)
				o.Return = clock.Add(1)
				if err != nil {
					t.Error(err)
					return
				}
				o.Output = told
				mu.Lock()
				history = append(history, o)
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	return history
}

// told does what is asked.
func (s *shop) told(ctx context.Context, in ask) (answer, error) {
	code, gross := s.spools[in.spool].Code, unit.Grams(15_700)
	var spool inventory.Spool
	var err error
	switch in.deed {
	case inventory.Issued:
		spool, err = s.ledger.Issue(ctx, s.issue(code))
	case inventory.Returned:
		spool, err = s.ledger.Return(ctx, inventory.Return{Entry: s.entry(code), Place: s.shelf.Code, Gross: &gross})
	default:
		spool, err = s.store.Read(ctx).Spool(code)
	}
	if inventory.KindOf(err) == inventory.Conflict {
		return answer{refused: true}, nil
	}
	return answer{out: spool.Out(), version: spool.Version}, err
}
