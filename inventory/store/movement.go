package store

import (
	"database/sql"
	"errors"
	"time"

	"wirehold/inventory"
)

func scanMovement(row scanner) (inventory.Movement, error) {
	var m inventory.Movement
	var to, job, holder sql.NullString
	var lot, net, tare, opened, effective, entered, procedure sql.NullInt64
	var d dryingColumns
	err := row.Scan(&m.Seq, &m.Spool, &m.Version, &m.Type, &effective, &entered, &m.Person, &m.RequestKey, &m.Request, &lot, &to, &job, &holder,
		&net, &tare, &opened, &m.Reason, &m.Corrects, &m.Verdict, &m.Checked, &m.Waiver,
		&d.from, &d.until, &d.oven, &d.mdegc, &d.held, &d.takes, &d.rule, &m.Undone, &m.Prev, &m.Hash, &procedure)
	if err != nil {
		return m, err
	}
	m.EffectiveAt, m.EnteredAt = instant(effective), instant(entered)
	m.Procedure = procedure.Int64
	m.LotID, m.To, m.Job, m.Holder = lot.Int64, code(to), code(job), code(holder)
	m.Net, m.Tare, m.Drying = gramsFrom(net), gramsFrom(tare), d.drying()
	if opened.Valid {
		at := time.Time{}
		if opened.Int64 != 0 {
			at = instant(opened)
		}
		m.OpenedAt = &at
	}
	return m, nil
}

// idOrNull writes an id, zero as NULL.
func idOrNull(id int64) sql.NullInt64 { return sql.NullInt64{Int64: id, Valid: id != 0} }

// Requested returns the movements made by the request key, in order.
func (t *tx) Requested(key string) ([]inventory.Movement, error) {
	rows, err := t.stmt(t.hot.requested).QueryContext(t.ctx, key)
	return collect(rows, err, scanMovement)
}

// Head returns the link of the ledger's last movement.
func (t *tx) Head() (l inventory.Link, err error) {
	err = t.stmt(t.hot.head).QueryRowContext(t.ctx).Scan(&l.Seq, &l.Prev, &l.Hash)
	if errors.Is(err, sql.ErrNoRows) {
		return l, nil
	}
	return l, err
}

// Append adds m to the ledger and writes the spool it leaves. [inventory.Conflict]
// if another movement got there first.
func (t *tx) Append(m inventory.Movement, next inventory.Spool) error {
	if err := t.writeSpool(next); err != nil {
		return err
	}
	opened := sql.NullInt64{Valid: m.OpenedAt != nil}
	if m.OpenedAt != nil && !m.OpenedAt.IsZero() {
		opened.Int64 = m.OpenedAt.Unix()
	}
	d := dryingColumnsOf(m.Drying)
	_, err := t.stmt(t.hot.insertMovement).ExecContext(t.ctx, m.Seq, string(m.Spool), m.Version, string(m.Type), seconds(m.EffectiveAt), seconds(m.EnteredAt),
		string(m.Person), m.RequestKey, m.Request, idOrNull(m.LotID), nullable(m.To), nullable(m.Job), nullable(m.Holder),
		grams(m.Net), grams(m.Tare), opened, m.Reason, m.Corrects, m.Verdict, m.Checked, m.Waiver,
		d.from, d.until, d.oven, d.mdegc, d.held, d.takes, d.rule, m.Undone, m.Prev, m.Hash, idOrNull(m.Procedure))
	return t.driverError(err)
}

// History returns the spool's movements, oldest first.
func (r *reader) History(c inventory.Code) ([]inventory.Movement, error) {
	rows, err := r.stmt(r.hot.history).QueryContext(r.ctx, string(c))
	return collect(rows, err, scanMovement)
}

// Ledger returns up to limit movements after seq, in order.
func (r *reader) Ledger(after int64, limit int) ([]inventory.Movement, error) {
	rows, err := r.stmt(r.hot.ledger).QueryContext(r.ctx, after, limit)
	return collect(rows, err, scanMovement)
}

// next counts up the counter name and returns its new value, from 1.
func (t *tx) next(name string) (int64, error) { return t.take(name, 1) }

// take counts up the counter name by n and returns the first of the new values.
func (t *tx) take(name string, n int) (first int64, err error) {
	err = t.stmt(t.hot.bump).QueryRowContext(t.ctx, name, n).Scan(&first)
	return first - int64(n) + 1, err
}

// NextCode returns a code of the kind that was never given out.
func (t *tx) NextCode(k inventory.CodeKind) (inventory.Code, error) {
	for {
		n, err := t.next("code " + k.String())
		if err != nil {
			return "", err
		}
		if c, ok := inventory.NewCode(k, int(n-1)); ok && c != inventory.ExposureClock {
			return c, nil
		}
	}
}
