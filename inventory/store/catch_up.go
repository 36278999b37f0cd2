package store

import (
	"context"
	"errors"
	"fmt"

	"wirehold/inventory"
)

// catchUp does for spools of before an update what SQL cannot: each is taken
// through its movements again. It finds none but once, after the update.
func (s *Store) catchUp(ctx context.Context) error {
	for _, step := range []struct {
		what string
		do   func(t *tx, most int) (int, error)
	}{{"track exposure", (*tx).retrack}, {"count what went into jobs", (*tx).recount}} {
		if err := s.inParts(ctx, step.do); err != nil {
			return fmt.Errorf("%s: %w", step.what, err)
		}
	}
	return nil
}

// inParts does a step for 500 spools at a time until there are none left.
func (s *Store) inParts(ctx context.Context, do func(t *tx, most int) (int, error)) error {
	for {
		left := 0
		err := s.Write(ctx, func(t inventory.Tx) (err error) {
			tx, ok := t.(*tx)
			if !ok {
				return errors.New("store: a transaction of another store")
			}
			left, err = do(tx, 500)
			return err
		})
		if err != nil || left == 0 {
			return err
		}
	}
}

// retrack gives up to most spools their track and returns how many it gave.
func (t *tx) retrack(most int) (int, error) {
	var codes []string
	if err := t.db.Table("spools").Where("track = ''").Order("code").Limit(most).Pluck("code", &codes).Error; err != nil || len(codes) == 0 {
		return 0, err
	}
	movements, err := t.movementsOf(codes)
	if err != nil {
		return 0, err
	}
	spools := map[inventory.Code]inventory.Spool{}
	for _, m := range movements {
		if spools[m.Spool], err = inventory.Step(spools[m.Spool], m); err != nil {
			return 0, fmt.Errorf("movement %d: %w", m.Seq, err)
		}
	}
	for code, s := range spools {
		if err := t.db.Table("spools").Where("code = ?", string(code)).Update("track", string(s.Track)).Error; err != nil {
			return 0, err
		}
	}
	if len(spools) < len(codes) {
		return 0, fmt.Errorf("%d spools have a row and no movement", len(codes)-len(spools))
	}
	return len(codes), nil
}

// movementsOf returns all movements of the spools, each spool's in order.
func (t *tx) movementsOf(codes []string) ([]inventory.Movement, error) {
	rows, err := t.db.Table("movements").Select(movementColumns).Where("spool_code IN ?", codes).Order("spool_code, version").Limit(len(codes) * 10_000).Rows()
	return collect(rows, err, scanMovement)
}

// recount works out anew what up to most spools were used for, and returns how
// many they were.
func (t *tx) recount(most int) (int, error) {
	var due []struct {
		SpoolCode string
		WireID    int64
	}
	err := t.db.Table("job_uses_due d").Select("d.spool_code, l.wire_id").Joins("JOIN spools s ON s.code = d.spool_code").Joins("JOIN lots l ON l.id = s.lot_id").
		Order("d.spool_code").Limit(most).Scan(&due).Error
	if err != nil || len(due) == 0 {
		return 0, err
	}
	codes := make([]string, len(due))
	for i, d := range due {
		codes[i] = d.SpoolCode
	}
	movements, err := t.movementsOf(codes)
	if err != nil {
		return 0, err
	}
	of := map[string][]inventory.Movement{}
	for _, m := range movements {
		of[string(m.Spool)] = append(of[string(m.Spool)], m)
	}
	for _, d := range due {
		code := inventory.Code(d.SpoolCode)
		if err := t.KeepJobUses(code, inventory.UsesOf(code, d.WireID, of[d.SpoolCode])); err != nil {
			return 0, err
		}
	}
	return len(due), t.db.Exec("DELETE FROM job_uses_due WHERE spool_code IN ?", codes).Error
}
