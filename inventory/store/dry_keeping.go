package store

import (
	"database/sql"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
)

// DryKeeping returns when each place was dry-kept by the shop's word.
func (r *reader) DryKeeping() ([]inventory.DryKeeping, error) {
	rows, err := r.stmt(r.hot.dryKeeping).QueryContext(r.ctx)
	return collect(rows, err, func(row scanner) (k inventory.DryKeeping, err error) {
		var from int64
		var to sql.NullInt64
		err = row.Scan(&k.Place, &from, &to)
		k.Span = exposure.Span{To: instant(to)}
		if from != 0 {
			k.Span.From = time.Unix(from, 0).UTC()
		}
		return k, err
	})
}

// KeepDry begins or ends the dry-keeping of a place at an instant.
func (t *tx) KeepDry(place inventory.Code, dry bool, at time.Time) error {
	if dry {
		return t.db.Exec("INSERT INTO dry_keeping (place_code, from_at) VALUES (?, ?) ON CONFLICT (place_code, from_at) DO UPDATE SET to_at = NULL", string(place), at.Unix()).Error
	}
	return t.db.Exec("UPDATE dry_keeping SET to_at = ? WHERE place_code = ? AND to_at IS NULL", at.Unix(), string(place)).Error
}
