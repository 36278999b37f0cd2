//go:build cgo

package store

import (
	"errors"

	"github.com/mattn/go-sqlite3"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
)

// DriverName names the SQLite driver this program was built with.
const DriverName = "mattn/go-sqlite3 (C)"

// dialector opens path with the C driver. It translates its own errors.
func dialector(path string, immediate bool) gorm.Dialector {
	dsn := fileURI(path) + "?_journal_mode=WAL&_synchronous=FULL&_foreign_keys=on&_busy_timeout=5000"
	if immediate {
		dsn += "&_txlock=immediate"
	}
	return sqlite.Open(dsn)
}

// busy reports whether err says that somebody else holds the database.
func busy(err error) bool {
	e, ok := errors.AsType[sqlite3.Error](err)
	return ok && (e.Code == sqlite3.ErrBusy || e.Code == sqlite3.ErrLocked)
}
