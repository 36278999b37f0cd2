package store

import (
	"time"

	"wirehold/inventory"
)

// inStore is the SQL of what lies in the store.
const inStore = "NOT scrapped AND job_code IS NULL"

// mostGroups bounds the lots that are chosen from.
const mostGroups = 20_000

// InStore counts the spools that are neither out nor scrapped, by lot.
func (r *reader) InStore() ([]inventory.StockGroup, error) {
	var rows []struct {
		Row       lotRow `gorm:"embedded"`
		IsOpen    bool
		Held      string
		Spools    int
		FirstCode string
	}
	counted := r.db.Table("spools").Select("lot_id, held, opened_at IS NOT NULL AS is_open, COUNT(*) AS spools, MIN(code) AS first_code").
		Where(inStore).Group("lot_id, held, opened_at IS NOT NULL")
	err := r.db.Table("(?) g", counted).Select(lotColumns + ", g.is_open, g.held, g.spools, g.first_code").
		Joins("JOIN lots ON lots.id = g.lot_id").Order("lots.received_at, lots.id, g.is_open, g.held").Limit(mostGroups).Scan(&rows).Error
	out := make([]inventory.StockGroup, len(rows))
	for i, row := range rows {
		out[i] = inventory.StockGroup{Lot: row.Row.lot(), Open: row.IsOpen, Held: row.Held, Spools: row.Spools, First: inventory.Code(row.FirstCode)}
	}
	return out, err
}

// OpenInStore returns the open spools of the lots, the longest open first.
func (r *reader) OpenInStore(lots []int64) ([]inventory.OpenSpool, error) {
	if len(lots) == 0 {
		return nil, nil
	}
	rows, err := r.db.Table("spools").Select("code, lot_id, held, opened_at, track").Where(inStore+" AND opened_at IS NOT NULL AND lot_id IN ?", lots).
		Order("opened_at, received_at, code").Limit(100_000).Rows()
	return collect(rows, err, func(row scanner) (s inventory.OpenSpool, err error) {
		var opened int64
		err = row.Scan(&s.Code, &s.LotID, &s.Held, &opened, &s.Track)
		s.OpenedAt = time.Unix(opened, 0).UTC()
		return s, err
	})
}

// SealedInStore returns up to limit sealed spools of the lots that are not on
// hold: by the use-by days of their lots, those without one last, and then the
// first received first.
func (r *reader) SealedInStore(lots []int64, limit int) ([]inventory.Code, error) {
	var out []inventory.Code
	err := r.db.Table("spools").Joins("JOIN lots ON lots.id = spools.lot_id").Where(inStore+" AND held = '' AND opened_at IS NULL AND lot_id IN ?", lots).
		Order("CASE WHEN expires_on = '' THEN 1 ELSE 0 END, expires_on, spools.received_at, spools.code").Limit(limit).Pluck("spools.code", &out).Error
	return out, err
}

// WaivedInStore returns the spools in the store that have a waiver for the job
// which stands at an instant.
func (r *reader) WaivedInStore(job inventory.Code, at time.Time) ([]inventory.Code, error) {
	var out []inventory.Code
	waived := r.db.Table("waivers").Select("spool_code").Where("job_code = ? AND state = ? AND until > ?", string(job), string(inventory.WaiverGranted), at.Unix())
	err := r.db.Table("spools").Where(inStore+" AND code IN (?)", waived).Order("code").Limit(1000).Pluck("code", &out).Error
	return out, err
}

// SpoolLines returns the spools with the codes, in no order.
func (r *reader) SpoolLines(codes []inventory.Code) ([]inventory.SpoolLine, error) {
	if len(codes) == 0 {
		return nil, nil
	}
	return scanSpoolLines(r.spoolLines().Where("s.code IN ?", codes).Limit(len(codes)))
}
