package store

import (
	"database/sql"

	"wirehold/inventory"
)

// scanner is a row or the rows of a query.
type scanner interface{ Scan(...any) error }

func scanSpool(row scanner) (inventory.Spool, error) {
	var s inventory.Spool
	var place, job, holder, feeder sql.NullString
	var received, opened, out, moved, procedure sql.NullInt64
	err := row.Scan(&s.Code, &s.LotID, &place, &s.Net, &s.Tare, &s.Full, &received, &opened, &s.Held, &job, &holder, &out, &s.Scrapped, &moved, &s.Version, &feeder, &s.Touched, &s.Track, &procedure)
	if err != nil {
		return s, err
	}
	s.Place, s.Job, s.Holder, s.Feeder, s.Procedure = code(place), code(job), code(holder), code(feeder), procedure.Int64
	s.ReceivedAt, s.OpenedAt, s.OutSince, s.MovedAt = instant(received), instant(opened), instant(out), instant(moved)
	return s, nil
}

// Spool returns the spool as its movements left it.
func (r *reader) Spool(c inventory.Code) (inventory.Spool, error) {
	s, err := scanSpool(r.stmt(r.hot.spool).QueryRowContext(r.ctx, string(c)))
	return s, missing(err, "no-such-spool", "there is no spool %s: look at the label, or receive it first", c)
}

// SpoolOn returns the spool that is loaded on the feeder.
func (r *reader) SpoolOn(feeder inventory.Code) (inventory.Spool, error) {
	s, err := scanSpool(r.stmt(r.hot.spoolOn).QueryRowContext(r.ctx, string(feeder)))
	return s, missing(err, "no-such-spool", "there is no spool on feeder %s", feeder)
}

// SpoolsAfter returns up to limit spools with a code after c, in order of code.
func (r *reader) SpoolsAfter(c inventory.Code, limit int) ([]inventory.Spool, error) {
	rows, err := r.stmt(r.hot.spoolsAfter).QueryContext(r.ctx, string(c), limit)
	return collect(rows, err, scanSpool)
}

// collect reads every row of a query.
func collect[T any](rows *sql.Rows, err error, scan func(scanner) (T, error)) ([]T, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		item, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, item)
	}
	return out, rows.Err()
}

// writeSpool inserts the spool that a first movement leaves, or updates it
// where it still has the version that the movement was decided on.
func (t *tx) writeSpool(s inventory.Spool) error {
	if s.Version == 1 {
		_, err := t.stmt(t.hot.insertSpool).ExecContext(t.ctx, string(s.Code), s.LotID, nullable(s.Place), int64(s.Net), int64(s.Tare), int64(s.Full),
			seconds(s.ReceivedAt), seconds(s.OpenedAt), s.Held, nullable(s.Job), nullable(s.Holder), seconds(s.OutSince), s.Scrapped, seconds(s.MovedAt), s.Version, nullable(s.Feeder), s.Touched, string(s.Track), idOrNull(s.Procedure))
		return t.driverError(err)
	}
	res, err := t.stmt(t.hot.updateSpool).ExecContext(t.ctx, nullable(s.Place), int64(s.Net), int64(s.Tare), int64(s.Full), seconds(s.OpenedAt), s.Held,
		nullable(s.Job), nullable(s.Holder), seconds(s.OutSince), s.Scrapped, seconds(s.MovedAt), nullable(s.Feeder), s.Touched, string(s.Track), idOrNull(s.Procedure), s.Version, string(s.Code), s.Version-1)
	if err != nil {
		return t.driverError(err)
	}
	n, err := res.RowsAffected()
	if err != nil {
		return err
	}
	if n != 1 {
		return inventory.Conflictf("spool-moved", "spool %s was moved a moment ago: look at it again", s.Code)
	}
	return nil
}
