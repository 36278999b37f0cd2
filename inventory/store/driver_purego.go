//go:build !cgo

package store

import (
	"errors"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	moderncsqlite "modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// DriverName names the SQLite driver this program was built with.
const DriverName = "modernc.org/sqlite (pure Go)"

// dialector opens path with the pure Go driver.
func dialector(path string, immediate bool) gorm.Dialector {
	dsn := fileURI(path) + "?_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)&_pragma=busy_timeout(5000)"
	if immediate {
		dsn += "&_txlock=immediate"
	}
	return pureGo{sqlite.New(sqlite.Config{DriverName: "sqlite", DSN: dsn}).(*sqlite.Dialector)}
}

// pureGo is GORM's SQLite dialector over the pure Go driver, whose errors the
// dialector does not know.
type pureGo struct{ *sqlite.Dialector }

// Translate makes the driver's error GORM's.
func (d pureGo) Translate(err error) error {
	e, ok := errors.AsType[*moderncsqlite.Error](err)
	if !ok {
		return err
	}
	switch e.Code() {
	case sqlite3.SQLITE_CONSTRAINT_UNIQUE, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY:
		return gorm.ErrDuplicatedKey
	case sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY:
		return gorm.ErrForeignKeyViolated
	}
	return err
}

// busy reports whether err says that somebody else holds the database.
func busy(err error) bool {
	e, ok := errors.AsType[*moderncsqlite.Error](err)
	primary := 0
	if ok {
		primary = e.Code() & 0xff
	}
	return primary == sqlite3.SQLITE_BUSY || primary == sqlite3.SQLITE_LOCKED
}
