package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

const spoolColumns = `code, lot_id, place_code, net_g, tare_g, full_g, received_at, opened_at, held, job_code, holder_code, out_since, scrapped, moved_at, version, feeder_code, touched, track, procedure_id`

const movementColumns = `seq, spool_code, version, type, effective_at, entered_at, person_code, request_key, request, lot_id, to_code, job_code, holder_code, net_g, tare_g, opened_at, reason, corrects, verdict, checked, waiver, dried_from, dried_until, oven_code, dried_mdegc, dried_held_s, dried_takes_s, drying_rule, undone, prev_hash, hash, procedure_id`

// statements are the SQL of the counter's path, prepared once for each pool
// and for the connection that writes.
//
// SQLite looks at the values given to a join or a sort, to plan it for them,
// and plans anew whenever they are given: that took up to ten times as long as
// the look-up. It does not look into CAST(? AS TEXT), which says the same.
type statements struct {
	spool, spoolOn, insertSpool, updateSpool     *sql.Stmt
	requested, head, insertMovement              *sql.Stmt
	history, ledger, spoolsAfter                 *sql.Stmt
	lot, wire, wireFacts, person, job, jobNumber *sql.Stmt
	procedure, place, feeder, bump               *sql.Stmt
	jobWires, dropJobUses, addJobUse             *sql.Stmt
	dryKeeping, shop                             *sql.Stmt
	jobProcedures                                *sql.Stmt

	all []*sql.Stmt
}

// preparer is a pool of connections, or one of them.
type preparer interface {
	PrepareContext(ctx context.Context, query string) (*sql.Stmt, error)
}

func prepare(ctx context.Context, on preparer) (_ *statements, err error) {
	s := &statements{}
	for _, p := range []struct {
		to  **sql.Stmt
		sql string
	}{
		{&s.spool, `SELECT ` + spoolColumns + ` FROM spools WHERE code = ?`},
		{&s.spoolOn, `SELECT ` + spoolColumns + ` FROM spools WHERE feeder_code = ?`},
		{&s.insertSpool, `INSERT INTO spools (` + spoolColumns + `) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)`},
		{&s.updateSpool, `UPDATE spools SET place_code = ?, net_g = ?, tare_g = ?, full_g = ?, opened_at = ?, held = ?, job_code = ?, holder_code = ?, out_since = ?, scrapped = ?, moved_at = ?, feeder_code = ?, touched = ?, track = ?, procedure_id = ?, version = ? WHERE code = ? AND version = ?`},
		{&s.spoolsAfter, `SELECT ` + spoolColumns + ` FROM spools WHERE code > ? ORDER BY code LIMIT ?`},
		{&s.requested, `SELECT ` + movementColumns + ` FROM movements WHERE request_key = CAST(? AS TEXT) ORDER BY seq LIMIT 1000`},
		{&s.head, `SELECT seq, prev_hash, hash FROM movements ORDER BY seq DESC LIMIT 1`},
		{&s.insertMovement, `INSERT INTO movements (` + movementColumns + `) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)`},
		{&s.history, `SELECT ` + movementColumns + ` FROM movements WHERE spool_code = ? ORDER BY version LIMIT 10000`},
		{&s.ledger, `SELECT ` + movementColumns + ` FROM movements WHERE seq > ? ORDER BY seq LIMIT ?`},
		{&s.lot, `SELECT ` + lotColumns + ` FROM lots WHERE id = ?`},
		{&s.wire, `SELECT id, maker, trade_name, classifications, diameter_nm, marked, package, net_g, tare_g, minimum_g, version FROM wires WHERE id = ?`},
		{&s.wireFacts, `SELECT name, value, unit, condition, provenance, source, note FROM wire_facts WHERE wire_id = ? ORDER BY line LIMIT 1000`},
		{&s.person, `SELECT code, name, role, retired_at, version FROM people WHERE code = ?`},
		{&s.job, `SELECT ` + jobColumns + ` FROM jobs WHERE code = ?`},
		{&s.jobNumber, `SELECT ` + jobColumns + ` FROM jobs WHERE number = ?`},
		{&s.jobProcedures, `SELECT procedure_id FROM job_procedures WHERE job_code = ? ORDER BY line LIMIT 100`},
		{&s.procedure, `SELECT ` + procedureColumns + ` FROM procedures WHERE id = ?`},
		{&s.place, `SELECT code, name, kind, dry_kept, version FROM places WHERE code = ?`},
		{&s.feeder, `SELECT ` + feederColumns + ` FROM feeders f JOIN places p ON p.code = f.code WHERE f.code = CAST(? AS TEXT)`},
		{&s.jobWires, jobWires},
		{&s.addJobUse, addJobUse},
		{&s.dropJobUses, `DELETE FROM job_uses WHERE spool_code = ?`},
		{&s.dryKeeping, `SELECT place_code, from_at, to_at FROM dry_keeping ORDER BY place_code, from_at LIMIT 10000`},
		{&s.shop, `SELECT shift_ends, grace_min, quiet, near_before_min, shelf_before_d, version FROM shop_settings WHERE id = 1`},
		{&s.bump, `INSERT INTO counters (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = counters.value + excluded.value RETURNING value`},
	} {
		if *p.to, err = on.PrepareContext(ctx, p.sql); err != nil {
			return nil, fmt.Errorf("prepare %q: %w", p.sql, errors.Join(err, s.close()))
		}
		s.all = append(s.all, *p.to)
	}
	return s, nil
}

func (s *statements) close() error {
	if s == nil {
		return nil
	}
	var errs []error
	for _, stmt := range s.all {
		errs = append(errs, stmt.Close())
	}
	return errors.Join(errs...)
}
