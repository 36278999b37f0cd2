package main

import (
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
)

// database is the flag of every command that works on a database.
type database struct {
	DB string `help:"The database file." default:"wirehold.db" name:"db"`
}

// open opens the database and the ledger over it. Unless create is set, a file
// that is not there is an error.
func (d database) open(p *program, log *slog.Logger, create bool) (*store.Store, *inventory.Ledger, error) {
	if _, err := os.Stat(d.DB); errors.Is(err, fs.ErrNotExist) && !create {
		return nil, nil, fmt.Errorf("there is no database %s: name one with --db, or make one with serve", d.DB)
	}
	return openAt(p, d.DB, log, p.now)
}

func openAt(p *program, path string, log *slog.Logger, now func() time.Time) (*store.Store, *inventory.Ledger, error) {
	profiles, err := fit.Profiles()
	if err != nil {
		return nil, nil, fmt.Errorf("read rule profiles: %w", err)
	}
	s, err := store.Open(p.ctx, path, log)
	if err != nil {
		return nil, nil, err
	}
	return s, inventory.NewLedger(s, profiles, now), nil
}
