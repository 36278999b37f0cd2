package store

import (
	"wirehold/inventory"
	"wirehold/inventory/fit"
)

type lotDecisionRow struct {
	Link        linkRow `gorm:"embedded"`
	LotID       int64
	Status      string
	Reason      string
	Certificate string
	Papers      papersRow `gorm:"embedded"`
	Note        string
	PersonCode  string
	RequestKey  string
	Request     string
	DecidedAt   int64
}

const lotDecisionColumns = `seq, lot_id, status, reason, certificate, note, person_code, request_key, request, decided_at, prev_hash, hash, ` + papersColumns

func (lotDecisionRow) TableName() string { return "lot_decisions" }

func (d lotDecisionRow) decision() inventory.LotDecision {
	return inventory.LotDecision{Link: d.Link.link(), LotID: d.LotID, Status: fit.LotStatus(d.Status), Reason: d.Reason, Certificate: d.Certificate, Papers: d.Papers.papers(), Note: d.Note,
		Person: inventory.Code(d.PersonCode), RequestKey: d.RequestKey, Request: d.Request, DecidedAt: unixUTC(d.DecidedAt)}
}

func decisions(rows []lotDecisionRow) []inventory.LotDecision {
	out := make([]inventory.LotDecision, len(rows))
	for i, row := range rows {
		out[i] = row.decision()
	}
	return out
}

// LotDecisions returns up to limit decisions after seq, in order.
func (r *reader) LotDecisions(after int64, limit int) ([]inventory.LotDecision, error) {
	var rows []lotDecisionRow
	err := r.db.Where("seq > ?", after).Order("seq").Limit(limit).Find(&rows).Error
	return decisions(rows), err
}

// LotHistory returns up to limit decisions about the lot, the latest first,
// with the names of those who made them.
func (r *reader) LotHistory(lot int64, limit int) ([]inventory.LotDecision, error) {
	var rows []struct {
		Row  lotDecisionRow `gorm:"embedded"`
		Name string
	}
	err := r.db.Table("lot_decisions d").Select(prefixed("d.", lotDecisionColumns)+", p.name").Joins("JOIN people p ON p.code = d.person_code").
		Where("d.lot_id = ?", lot).Order("d.seq DESC").Limit(limit).Scan(&rows).Error
	out := make([]inventory.LotDecision, len(rows))
	for i, row := range rows {
		out[i] = row.Row.decision()
		out[i].PersonName = row.Name
	}
	return out, err
}

// LotHead returns the link of the last decision about a lot.
func (t *tx) LotHead() (inventory.Link, error) { return t.head("lot_decisions") }

// LotRequested returns the decision made by the request key; the zero decision
// if the key is new.
func (t *tx) LotRequested(key string) (inventory.LotDecision, error) {
	var rows []lotDecisionRow
	err := t.db.Where("request_key = ?", key).Limit(1).Find(&rows).Error
	if err != nil || len(rows) == 0 {
		return inventory.LotDecision{}, err
	}
	return rows[0].decision(), nil
}

// AppendLotDecision keeps d and writes the lot it leaves.
func (t *tx) AppendLotDecision(d inventory.LotDecision, next inventory.Lot) error {
	row := lotDecisionRow{Link: linkRowOf(d.Link), LotID: d.LotID, Status: string(d.Status), Reason: d.Reason, Certificate: d.Certificate, Papers: papersRowOf(d.Papers), Note: d.Note, PersonCode: string(d.Person),
		RequestKey: d.RequestKey, Request: d.Request, DecidedAt: d.DecidedAt.Unix()}
	if err := t.db.Create(&row).Error; err != nil {
		return err
	}
	res := t.db.Model(&lotRow{}).Where("id = ? AND version = ?", next.ID, next.Version-1).
		Updates(papersRowOf(next.Papers).updates(map[string]any{"status": string(next.Status), "reason": next.Reason, "certificate": next.Certificate, "version": next.Version}))
	if res.Error == nil && res.RowsAffected != 1 {
		return inventory.Conflictf("lot-changed", "lot %s was changed a moment ago: look at it again", next.Number)
	}
	return res.Error
}
