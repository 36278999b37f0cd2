package store

import (
	"fmt"
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
}

func (lotRow) TableName() string { return "lots" }

func (l lotRow) lot() inventory.Lot {
	return inventory.Lot{ID: l.ID, WireID: l.WireID, Number: l.Number, Certificate: l.Certificate,
		ReceivedAt: unixUTC(l.ReceivedAt), Status: fit.LotStatus(l.Status), Reason: l.Reason}
}

func unixUTC(n int64) time.Time { return time.Unix(n, 0).UTC() }

// Lot returns a lot.
func (r *reader) Lot(id int64) (inventory.Lot, error) {
	var l lotRow
	err := r.stmt(r.hot.lot).QueryRowContext(r.ctx, id).Scan(&l.ID, &l.WireID, &l.Number, &l.Certificate, &l.ReceivedAt, &l.Status, &l.Reason)
	return l.lot(), missing(err, "no-such-lot", "there is no lot %d", id)
}

// AddLot enters a lot. [inventory.Conflict] if the wire has a lot of that number.
func (t *tx) AddLot(l inventory.Lot) (int64, error) {
	id, err := t.next("lot")
	if err != nil {
		return 0, err
	}
	row := lotRow{ID: id, WireID: l.WireID, Number: l.Number, Certificate: l.Certificate, ReceivedAt: l.ReceivedAt.Unix(), Status: string(l.Status), Reason: l.Reason}
	return id, t.db.Create(&row).Error
}

type lotDecisionRow struct {
	ID         int64
	LotID      int64
	Status     string
	Reason     string
	PersonCode string
	DecidedAt  int64
}

func (lotDecisionRow) TableName() string { return "lot_decisions" }

// SetLotStatus changes a lot's status and keeps who did so, when and why.
func (t *tx) SetLotStatus(id int64, status fit.LotStatus, reason string, by inventory.Code, at time.Time) error {
	standing := reason
	if status == fit.LotAccepted {
		standing = ""
	}
	res := t.db.Model(&lotRow{}).Where("id = ?", id).Updates(map[string]any{"status": string(status), "reason": standing})
	if res.Error != nil {
		return res.Error
	}
	if res.RowsAffected != 1 {
		return inventory.NotFoundf("no-such-lot", "there is no lot %d", id)
	}
	decision, err := t.next("lot decision")
	if err != nil {
		return fmt.Errorf("number the decision: %w", err)
	}
	row := lotDecisionRow{ID: decision, LotID: id, Status: string(status), Reason: reason, PersonCode: string(by), DecidedAt: at.Unix()}
	return t.db.Create(&row).Error
}
