package store

import (
	"context"
	"errors"
	"fmt"

	"wirehold/inventory"
)

// retrack gives spools from before there were tracks theirs, by taking each
// through its movements again. It finds none but once, after an update.
func (s *Store) retrack(ctx context.Context) error {
	for {
		left := 0
		err := s.Write(ctx, func(t inventory.Tx) (err error) {
			tx, ok := t.(*tx)
			if !ok {
				return errors.New("store: a transaction of another store")
			}
			left, err = tx.retrack(500)
			return err
		})
		if err != nil {
			return fmt.Errorf("track exposure: %w", err)
		}
		if left == 0 {
			return nil
		}
	}
}

// retrack gives up to most spools their track and returns how many it gave.
func (t *tx) retrack(most int) (int, error) {
	var codes []string
	if err := t.db.Table("spools").Where("track = ''").Order("code").Limit(most).Pluck("code", &codes).Error; err != nil || len(codes) == 0 {
		return 0, err
	}
	rows, err := t.db.Table("movements").Select(movementColumns).Where("spool_code IN ?", codes).Order("spool_code, version").Limit(most * 10_000).Rows()
	movements, err := collect(rows, err, scanMovement)
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
