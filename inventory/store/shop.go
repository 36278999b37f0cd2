package store

import (
	"fmt"
	"time"

	"wirehold/inventory"
)

type shopRow struct {
	ID            int
	ShiftEnds     string
	GraceMin      int64
	Quiet         string
	NearBeforeMin int64
	ShelfBeforeD  int
	Version       int
}

func (shopRow) TableName() string { return "shop_settings" }

// Shop returns what the shop says of its own days.
func (r *reader) Shop() (inventory.Shop, error) {
	var row shopRow
	err := r.stmt(r.hot.shop).QueryRowContext(r.ctx).Scan(&row.ShiftEnds, &row.GraceMin, &row.Quiet, &row.NearBeforeMin, &row.ShelfBeforeD, &row.Version)
	if err != nil {
		return inventory.Shop{}, fmt.Errorf("shop settings: %w", err)
	}
	s := inventory.Shop{Grace: time.Duration(row.GraceMin) * time.Minute, NearBefore: time.Duration(row.NearBeforeMin) * time.Minute,
		ShelfBefore: row.ShelfBeforeD, Version: row.Version}
	for _, line := range items[string](row.ShiftEnds) {
		end, err := inventory.ParseShiftEnd(line)
		if err != nil {
			return s, fmt.Errorf("shop settings: %w", err)
		}
		s.ShiftEnds = append(s.ShiftEnds, end)
	}
	if s.Quiet, err = inventory.ParseQuietHours(row.Quiet); err != nil {
		return s, fmt.Errorf("shop settings: %w", err)
	}
	return s, nil
}

// UpdateShop writes the settings. [inventory.Conflict] if they are not at the
// version before.
func (t *tx) UpdateShop(s inventory.Shop) error {
	ends := make([]string, len(s.ShiftEnds))
	for i, e := range s.ShiftEnds {
		ends[i] = e.String()
	}
	return updated(t.db.Model(&shopRow{}).Where("id = ? AND version = ?", 1, s.Version-1).
		Updates(map[string]any{"shift_ends": lines(ends), "grace_min": int64(s.Grace / time.Minute), "quiet": s.Quiet.String(),
			"near_before_min": int64(s.NearBefore / time.Minute), "shelf_before_d": s.ShelfBefore, "version": s.Version}))
}
