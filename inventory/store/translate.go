package store

import (
	"context"
	"database/sql"
	"errors"

	"gorm.io/gorm"

	"wirehold/inventory"
)

// translate makes a database error the domain's where it says something to a
// person. The domain's own errors pass as they are.
func translate(err error) error {
	if err == nil {
		return nil
	}
	if _, ok := errors.AsType[*inventory.Error](err); ok {
		return err
	}
	switch {
	case errors.Is(err, gorm.ErrDuplicatedKey):
		return &inventory.Error{Kind: inventory.Conflict, Code: "already-there", Detail: "There is one of that name or number already.", Err: err}
	case errors.Is(err, gorm.ErrForeignKeyViolated):
		return &inventory.Error{Kind: inventory.Invalid, Code: "names-nothing", Detail: "It names a thing that is not there.", Err: err}
	case busy(err), errors.Is(err, context.DeadlineExceeded):
		return &inventory.Error{Kind: inventory.Unavailable, Code: "timed-out", Detail: "The store is busy. Nothing was changed; try again.", Err: err}
	}
	return err
}

// driverError makes the error of a hand-prepared statement what GORM would
// have made of it.
func (r *reader) driverError(err error) error {
	if t, ok := r.db.Dialector.(gorm.ErrorTranslator); ok && err != nil {
		return t.Translate(err)
	}
	return err
}

// missing makes "no rows" the domain's answer.
func missing(err error, code, format string, args ...any) error {
	if errors.Is(err, sql.ErrNoRows) || errors.Is(err, gorm.ErrRecordNotFound) {
		return inventory.NotFoundf(code, format, args...)
	}
	return err
}
