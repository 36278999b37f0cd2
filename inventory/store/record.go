package store

import (
	"wirehold/inventory"
)

type recordChangeRow struct {
	ID         int64
	Kind       string
	Subject    string
	Version    int
	PersonCode string
	ChangedAt  int64
	RequestKey string
	Request    string
	Deed       string
	What       string
}

func (recordChangeRow) TableName() string { return "record_changes" }

func (r recordChangeRow) change(name string) inventory.RecordChange {
	return inventory.RecordChange{ID: r.ID, Kind: inventory.RecordKind(r.Kind), Subject: r.Subject, Version: r.Version, Person: inventory.Code(r.PersonCode),
		PersonName: name, At: unixUTC(r.ChangedAt), RequestKey: r.RequestKey, Request: r.Request, Deed: inventory.RecordDeed(r.Deed), What: items[string](r.What)}
}

const recordChangeColumns = "c.id, c.kind, c.subject, c.version, c.person_code, c.changed_at, c.request_key, c.request, c.deed, c.what"

// RecordChanges returns up to limit changes of a record, the latest first.
func (r *reader) RecordChanges(kind inventory.RecordKind, subject string, limit int) ([]inventory.RecordChange, error) {
	var rows []struct {
		Row  recordChangeRow `gorm:"embedded"`
		Name string
	}
	err := r.db.Table("record_changes c").Select(recordChangeColumns+", p.name").Joins("JOIN people p ON p.code = c.person_code").
		Where("c.kind = ? AND c.subject = ?", string(kind), subject).Order("c.version DESC").Limit(limit).Scan(&rows).Error
	out := make([]inventory.RecordChange, len(rows))
	for i, row := range rows {
		out[i] = row.Row.change(row.Name)
	}
	return out, err
}

// RecordRequested returns the change made by the request key.
func (t *tx) RecordRequested(key string) (inventory.RecordChange, error) {
	var row recordChangeRow
	err := t.db.Table("record_changes c").Select(recordChangeColumns).Where("c.request_key = ?", key).Take(&row).Error
	return row.change(""), missing(err, "no-such-change", "no record was changed by request key %q", key)
}

// AddRecordChange adds a line to a record's history.
func (t *tx) AddRecordChange(c inventory.RecordChange) error {
	id, err := t.next("record change")
	if err != nil {
		return err
	}
	row := recordChangeRow{ID: id, Kind: string(c.Kind), Subject: c.Subject, Version: c.Version, PersonCode: string(c.Person), ChangedAt: c.At.Unix(),
		RequestKey: c.RequestKey, Request: c.Request, Deed: string(c.Deed), What: lines(c.What)}
	return t.db.Create(&row).Error
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
