package store

import (
	"context"
	"database/sql"
	"time"

	"github.com/pressly/goose/v3/lock"
)

// schemaLock lets one program at a time change the schema: a row that is held
// for some minutes at most, so that a crash does not lock the shop out. The
// database's own clock is used, because it is the one thing all share.
type schemaLock struct{}

var _ lock.Locker = schemaLock{}

// Lock waits until the lock is free, and takes it.
func (schemaLock) Lock(ctx context.Context, db *sql.DB) error {
	if _, err := db.ExecContext(ctx, `CREATE TABLE IF NOT EXISTS schema_lock (id INTEGER NOT NULL PRIMARY KEY, held_until BIGINT NOT NULL)`); err != nil {
		return err
	}
	retry := time.NewTicker(50 * time.Millisecond)
	defer retry.Stop()
	for {
		res, err := db.ExecContext(ctx, `INSERT INTO schema_lock (id, held_until) VALUES (1, unixepoch() + 300)
			ON CONFLICT (id) DO UPDATE SET held_until = excluded.held_until WHERE schema_lock.held_until < unixepoch()`)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n == 1 {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-retry.C:
		}
	}
}

// Unlock gives the lock back.
func (schemaLock) Unlock(ctx context.Context, db *sql.DB) error {
	_, err := db.ExecContext(ctx, `DELETE FROM schema_lock WHERE id = 1`)
	return err
}
