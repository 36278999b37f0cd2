package store

import (
	"wirehold/inventory"
)

type recordChangeRow struct {
	ID      int64
	Kind    string
	Subject string
	Change  changeRow `gorm:"embedded"`
}

func (recordChangeRow) TableName() string { return "record_changes" }

func (r recordChangeRow) told(name string) inventory.RecordChange {
	return inventory.RecordChange{ID: r.ID, Kind: inventory.RecordKind(r.Kind), Subject: r.Subject, Deed: inventory.RecordDeed(r.Change.Deed), Change: r.Change.change(name)}
}

const recordChangeColumns = "c.id, c.kind, c.subject, " + changeColumns

// RecordChanges returns up to limit changes of a record, the latest first.
func (r *reader) RecordChanges(kind inventory.RecordKind, subject string, limit int) ([]inventory.RecordChange, error) {
	return history[recordChangeRow](r.db.Table("record_changes c").Where("c.kind = ? AND c.subject = ?", string(kind), subject), recordChangeColumns, limit)
}

// RecordRequested returns the change made by the request key.
func (t *tx) RecordRequested(key string) (inventory.RecordChange, error) {
	return requested[recordChangeRow](t.db.Table("record_changes c"), recordChangeColumns, key)
}

// AddRecordChange adds a line to a record's history.
func (t *tx) AddRecordChange(c inventory.RecordChange) error {
	id, err := t.next("record change")
	if err != nil {
		return err
	}
	return t.db.Create(&recordChangeRow{ID: id, Kind: string(c.Kind), Subject: c.Subject, Change: changeRowOf(c.Change, string(c.Deed))}).Error
}

// Setup returns which of the things are there that the first issue needs.
func (r *reader) Setup() (inventory.Setup, error) {
	var s inventory.Setup
	err := r.db.Raw(`SELECT EXISTS (SELECT 1 FROM people WHERE role <> ?) AS person,
		EXISTS (SELECT 1 FROM places WHERE kind <> ?) AS place, EXISTS (SELECT 1 FROM wires) AS wire,
		EXISTS (SELECT 1 FROM procedures) AS procedure, EXISTS (SELECT 1 FROM jobs) AS job, EXISTS (SELECT 1 FROM spools) AS spool`,
		string(inventory.Program), string(inventory.AtFeeder)).Scan(&s).Error
	return s, err
}
