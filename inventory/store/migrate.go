package store

import (
	"context"
	"errors"
	"fmt"
	"log/slog"

	"github.com/pressly/goose/v3"

	"wirehold/migrations"
)

// migrate brings the schema up to date, each file in a transaction of its own.
// A second program that starts at the same time waits for the first.
func migrate(ctx context.Context, path string, log *slog.Logger) (err error) {
	// The lock is held on one connection and the work done on another.
	db, err := open(path, true, 2, log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, closeDB(db)) }()
	pool, err := db.DB()
	if err != nil {
		return err
	}
	provider, err := goose.NewProvider(goose.DialectSQLite3, pool, migrations.Files,
		goose.WithLocker(schemaLock{}), goose.WithSlog(slog.New(slog.DiscardHandler)))
	if err != nil {
		return fmt.Errorf("read migrations: %w", err)
	}
	have, want, err := provider.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("read schema version: %w", err)
	}
	if have > want {
		return fmt.Errorf("its schema is version %d and this program knows %d: run the newer program", have, want)
	}
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("bring schema from version %d to %d: %w", have, want, err)
	}
	return nil
}
