package inventory

import "fmt"

// Link is the place of a record in a chain: the movements, and the ledgers
// beside them. Each record carries the hash of the one before it, so that none
// is altered or taken away unseen.
type Link struct {
	Seq  int64  // its place, from 1 without gaps
	Prev string // hash of the record before it; empty for the first
	Hash string // SHA-256 of all of the record but this, in hexadecimal
}

// next is the place after l, its own hash yet to be worked out.
func (l Link) next() Link { return Link{Seq: l.Seq + 1, Prev: l.Hash} }

func (l Link) link() Link { return l }

// chained is a record of a chain.
type chained interface {
	link() Link
	hash() string  // as it must be
	about() string // what it is about, for a fault
}

// faults is what a verification finds wrong.
type faults []string

func (f *faults) fault(format string, args ...any) {
	*f = append(*f, fmt.Sprintf(format, args...))
}

// chain is a chain read again from the start.
type chain struct {
	*faults
	record string // what each is: "lot decision"
	last   Link
}

// add holds a record against the one before it.
func (c *chain) add(r chained) {
	l := r.link()
	if l.Seq != c.last.Seq+1 {
		c.fault("%s %d follows %s %d: one between them is gone", c.record, l.Seq, c.record, c.last.Seq)
	}
	if l.Prev != c.last.Hash {
		c.fault("%s %d does not carry the hash of the one before it", c.record, l.Seq)
	}
	if r.hash() != l.Hash {
		c.fault("%s %d (%s) was altered after it was written", c.record, l.Seq, r.about())
	}
	c.last = l
}

const replayBatch = 2000

// replayed reads the chain and hands on each of its records, in order.
func replayed[T chained](c *chain, read func(after int64, limit int) ([]T, error), do func(T)) error {
	return inBatches("replay "+c.record+"s", read, func(r T) int64 { return r.link().Seq }, func(_ int64, batch []T) error {
		for _, r := range batch {
			c.add(r)
			do(r)
		}
		return nil
	})
}

// inBatches reads rows in order of their keys and hands them on some at a time,
// with the key that they come after.
func inBatches[K any, T any](what string, read func(after K, limit int) ([]T, error), key func(T) K, do func(after K, batch []T) error) error {
	var after K
	for {
		batch, err := read(after, replayBatch)
		if err != nil {
			return fmt.Errorf("%s after %v: %w", what, after, err)
		}
		if len(batch) == 0 {
			return nil
		}
		if err := do(after, batch); err != nil {
			return err
		}
		after = key(batch[len(batch)-1])
	}
}
