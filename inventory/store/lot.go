package store

import (
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

type lotRow struct {
	ID          int64
	WireID      int64
	Number      string
	Certificate string
	ReceivedAt  int64
	Status      string
	Reason      string
	Version     int
	Papers      papersRow `gorm:"embedded"`
}

// lotColumns are the columns of a lot, in the order in which they are scanned.
const lotColumns = `id, wire_id, number, certificate, received_at, status, reason, version, ` + papersColumns

func (lotRow) TableName() string { return "lots" }

func (l lotRow) lot() inventory.Lot {
	return inventory.Lot{ID: l.ID, WireID: l.WireID, Number: l.Number, Certificate: l.Certificate,
		ReceivedAt: unixUTC(l.ReceivedAt), Status: fit.LotStatus(l.Status), Reason: l.Reason, Version: l.Version, Papers: l.Papers.papers()}
}

func unixUTC(n int64) time.Time { return time.Unix(n, 0).UTC() }

// Lot returns a lot.
func (r *reader) Lot(id int64) (inventory.Lot, error) {
	var l lotRow
	err := r.stmt(r.hot.lot).QueryRowContext(r.ctx, id).Scan(append([]any{&l.ID, &l.WireID, &l.Number, &l.Certificate, &l.ReceivedAt, &l.Status, &l.Reason, &l.Version}, l.Papers.scanned()...)...)
	return l.lot(), missing(err, "no-such-lot", "there is no lot %d", id)
}

// AddLot enters a lot. [inventory.Conflict] if the wire has a lot of that number.
func (t *tx) AddLot(l inventory.Lot) (int64, error) {
	id, err := t.next("lot")
	if err != nil {
		return 0, err
	}
	row := lotRow{ID: id, WireID: l.WireID, Number: l.Number, Certificate: l.Certificate, ReceivedAt: l.ReceivedAt.Unix(), Status: string(l.Status), Reason: l.Reason, Version: l.Version, Papers: papersRowOf(l.Papers)}
	return id, t.db.Create(&row).Error
}

// LotNumbered returns the wire's lot of the number.
func (t *tx) LotNumbered(wireID int64, number string) (inventory.Lot, error) {
	var row lotRow
	err := t.db.Where("wire_id = ? AND number = ?", wireID, number).Take(&row).Error
	return row.lot(), missing(err, "no-such-lot", "there is no lot %s of wire %d", number, wireID)
}

// LotsAfter returns up to limit lots with an id after the one given.
func (r *reader) LotsAfter(id int64, limit int) ([]inventory.Lot, error) {
	var rows []lotRow
	err := r.db.Where("id > ?", id).Order("id").Limit(limit).Find(&rows).Error
	out := make([]inventory.Lot, len(rows))
	for i, row := range rows {
		out[i] = row.lot()
	}
	return out, err
}
