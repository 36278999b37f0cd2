package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"sync"

	"gorm.io/gorm"

	"wirehold/inventory"
)

// writer is the one connection that writes, and the queue before it. SQLite
// lets one write at a time, and nearly all of a short write is the wait for the
// disk. Short writes that wait together therefore share a transaction: each is
// a part of it that is undone alone where it is refused, in the order in which
// they came, and nobody is answered before the whole of it is on the disk.
type writer struct {
	pool *sql.DB
	conn *sql.Conn
	db   *gorm.DB // over conn
	hot  *statements

	mu      sync.Mutex
	taken   bool
	waiting []*turn // first come, first served
}

// turn is a place in the queue.
type turn struct {
	shares bool
	given  chan *batch // the transaction to be part of; holds one
}

// batch is one transaction under way. It belongs to whoever has the turn.
type batch struct {
	shares bool
	parts  int
	kept   int           // parts that stand
	open   bool          // between BEGIN and COMMIT
	lost   error         // why it cannot be kept; nil while it can
	done   chan struct{} // closed once it is committed, or lost
}

// mostParts bounds how long the first part of a batch waits for its answer: a
// movement takes about half a millisecond.
const mostParts = 32

// newWriter makes db's one connection the writer's.
func newWriter(ctx context.Context, db *gorm.DB) (*writer, error) {
	pool, err := db.DB()
	if err != nil {
		return nil, err
	}
	w := &writer{pool: pool}
	if w.conn, err = pool.Conn(ctx); err != nil {
		return nil, err
	}
	w.db = db.Session(&gorm.Session{NewDB: true})
	w.db.Statement.ConnPool = w.conn
	if w.hot, err = prepare(ctx, w.conn); err != nil {
		return nil, errors.Join(err, w.conn.Close())
	}
	return w, nil
}

func (w *writer) close() error {
	if w == nil {
		return nil
	}
	err := w.conn.Close()
	if errors.Is(err, sql.ErrConnDone) {
		err = nil // closed before
	}
	return errors.Join(w.hot.close(), err, w.pool.Close())
}

// write runs f in a transaction, which it shares with others if it shares and
// they do. While it waits for its turn, the end of ctx ends that; f is not
// interrupted, for SQLite would undo the others' parts too, but is undone if
// ctx ended meanwhile.
func (w *writer) write(ctx context.Context, shares bool, f func(inventory.Tx) error) error {
	b, err := w.turn(ctx, shares)
	if err != nil {
		return err
	}
	err = w.part(ctx, b, f)
	<-b.done
	if b.lost != nil { // also what was refused may have been so for what is lost
		return fmt.Errorf("commit: %w", b.lost)
	}
	return err
}

// turn waits for the writer and returns the transaction to be part of.
func (w *writer) turn(ctx context.Context, shares bool) (*batch, error) {
	w.mu.Lock()
	if !w.taken {
		w.taken = true
		w.mu.Unlock()
		return newBatch(shares), nil
	}
	t := &turn{shares, make(chan *batch, 1)}
	w.waiting = append(w.waiting, t)
	w.mu.Unlock()
	select {
	case b := <-t.given:
		return b, nil
	case <-ctx.Done():
	}
	w.mu.Lock()
	i := slices.Index(w.waiting, t)
	if i >= 0 {
		w.waiting = slices.Delete(w.waiting, i, i+1)
	}
	w.mu.Unlock()
	if i < 0 {
		return <-t.given, nil // it came at the same time, and must be passed on
	}
	return nil, ctx.Err()
}

func newBatch(shares bool) *batch { return &batch{shares: shares, done: make(chan struct{})} }

// part runs f as a part of the batch and passes the batch on, whatever becomes
// of f.
func (w *writer) part(ctx context.Context, b *batch, f func(inventory.Tx) error) error {
	steady := context.WithoutCancel(ctx)
	defer w.next(steady, b)
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := w.begin(steady, b); err != nil {
		return err
	}
	stands := false
	defer func() {
		if !stands {
			w.undo(steady, b)
		}
	}()
	if err := f(&tx{reader{ctx: steady, db: w.db.WithContext(steady), hot: w.hot}}); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	stands = true
	w.keep(steady, b)
	return nil
}

// begin begins a part. The first one that stands is undone with the whole
// transaction, and needs no savepoint.
func (w *writer) begin(ctx context.Context, b *batch) error {
	b.parts++
	if !b.open {
		err := w.exec(ctx, "BEGIN IMMEDIATE")
		b.open = err == nil
		return err
	}
	b.lost = w.exec(ctx, "SAVEPOINT part")
	return b.lost
}

// keep ends a part that stands.
func (w *writer) keep(ctx context.Context, b *batch) {
	if b.kept++; b.kept > 1 {
		b.lost = w.exec(ctx, "RELEASE part")
	}
}

// undo undoes the part under way. Where that fails the database has undone the
// whole transaction, as it does when the disk is full.
func (w *writer) undo(ctx context.Context, b *batch) {
	if b.kept > 0 {
		b.lost = errors.Join(b.lost, w.exec(ctx, "ROLLBACK TO part"), w.exec(ctx, "RELEASE part"))
		return
	}
	b.open = false
	_ = w.exec(ctx, "ROLLBACK") // fails only where the database has undone it already
}

// next gives the turn to who waits longest: with the batch if both share it,
// else once it is committed.
func (w *writer) next(ctx context.Context, b *batch) {
	if b.shares && b.parts < mostParts && b.lost == nil && w.pass(b) {
		return
	}
	w.end(ctx, b)
	close(b.done)
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.waiting) == 0 {
		w.taken = false
		return
	}
	w.give(newBatch(w.waiting[0].shares))
}

// pass gives the batch to who waits longest; false if it must end here.
func (w *writer) pass(b *batch) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.waiting) == 0 || !w.waiting[0].shares {
		return false
	}
	w.give(b)
	return true
}

// give takes who waits longest from the queue, which is locked and not empty.
func (w *writer) give(b *batch) {
	w.waiting[0].given <- b
	w.waiting = slices.Delete(w.waiting, 0, 1)
}

// end commits what stands, or rolls back what is lost.
func (w *writer) end(ctx context.Context, b *batch) {
	if !b.open {
		return
	}
	if b.lost == nil {
		b.lost = w.exec(ctx, "COMMIT")
	}
	if b.lost != nil {
		_ = w.exec(ctx, "ROLLBACK") // likewise
	}
}

func (w *writer) exec(ctx context.Context, statement string) error {
	_, err := w.conn.ExecContext(ctx, statement)
	return err
}
