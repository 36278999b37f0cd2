package store

import (
	"database/sql"
	"time"

	"gorm.io/gorm/clause"

	"wirehold/inventory"
)

type alertRow struct {
	ID        int64
	Kind      string
	Subject   string
	Text      string
	RaisedAt  int64
	ClearedAt sql.NullInt64
}

func (alertRow) TableName() string { return "alerts" }

func (a alertRow) alert() inventory.Alert {
	return inventory.Alert{ID: a.ID, Kind: inventory.AlertKind(a.Kind), Subject: a.Subject, Text: a.Text,
		RaisedAt: unixUTC(a.RaisedAt), ClearedAt: instant(a.ClearedAt)}
}

func alerts(rows []alertRow) []inventory.Alert {
	out := make([]inventory.Alert, len(rows))
	for i, row := range rows {
		out[i] = row.alert()
	}
	return out
}

const maxAlerts = 5000

// OpenAlerts returns the standing alerts of a kind, or of all, newest first.
func (r *reader) OpenAlerts(kind inventory.AlertKind) ([]inventory.Alert, error) {
	q := r.db.Where("cleared_at IS NULL")
	if kind != "" {
		q = q.Where("kind = ?", string(kind))
	}
	var rows []alertRow
	err := q.Order("raised_at DESC, id DESC").Limit(maxAlerts).Find(&rows).Error
	return alerts(rows), err
}

// Alerts returns the alerts that are asked for, with who saw them.
func (r *reader) Alerts(a inventory.AlertQuery) ([]inventory.Alert, error) {
	if err := inventory.CheckAlertKind(a.Kind); err != nil {
		return nil, err
	}
	q := r.db.Where("cleared_at IS NULL").Order("raised_at DESC, id DESC")
	if a.Cleared {
		q = r.db.Where("cleared_at IS NOT NULL").Order("cleared_at DESC, id DESC")
	}
	if a.Kind != "" {
		q = q.Where("kind = ?", string(a.Kind))
	}
	var rows []alertRow
	if err := q.Limit(inventory.Query{Limit: a.Limit}.Lines()).Offset(a.After).Find(&rows).Error; err != nil {
		return nil, err
	}
	return r.seen(alerts(rows))
}

// Alert returns one alert with who saw it.
func (r *reader) Alert(id int64) (inventory.Alert, error) {
	var row alertRow
	if err := r.db.Where("id = ?", id).Take(&row).Error; err != nil {
		return inventory.Alert{}, missing(err, "no-such-alert", "there is no alert %d", id)
	}
	found, err := r.seen([]inventory.Alert{row.alert()})
	if err != nil {
		return inventory.Alert{}, err
	}
	return found[0], nil
}

// AlertsWith returns the alerts with the ids, in no order.
func (r *reader) AlertsWith(ids []int64) ([]inventory.Alert, error) {
	var rows []alertRow
	err := r.db.Where("id IN ?", ids).Limit(len(ids)).Find(&rows).Error
	return alerts(rows), err
}

// seen puts who saw them into the alerts.
func (r *reader) seen(alerts []inventory.Alert) ([]inventory.Alert, error) {
	at, ids := map[int64]int{}, make([]int64, len(alerts))
	for i, a := range alerts {
		at[a.ID], ids[i] = i, a.ID
	}
	var rows []struct {
		AlertID    int64
		PersonCode string
		SeenAt     int64
		Name       string
	}
	err := r.db.Table("alert_sightings s").Select("s.alert_id, s.person_code, s.seen_at, p.name").Joins("JOIN people p ON p.code = s.person_code").
		Where("s.alert_id IN ?", ids).Order("s.seen_at, p.name").Limit(maxAlerts).Scan(&rows).Error
	for _, row := range rows {
		a := &alerts[at[row.AlertID]]
		a.Seen = append(a.Seen, inventory.Sighting{AlertID: row.AlertID, Person: inventory.Code(row.PersonCode), PersonName: row.Name, At: unixUTC(row.SeenAt)})
	}
	return alerts, err
}

// CountAlerts returns how many stand, by kind.
func (r *reader) CountAlerts() (map[inventory.AlertKind]int, error) {
	var rows []struct {
		Kind  string
		Count int
	}
	err := r.db.Table("alerts").Select("kind, COUNT(*) AS count").Where("cleared_at IS NULL").Group("kind").Limit(maxPlaces).Scan(&rows).Error
	out := map[inventory.AlertKind]int{}
	for _, row := range rows {
		out[inventory.AlertKind(row.Kind)] = row.Count
	}
	return out, err
}

// RaiseAlert enters an alert, unless one of the same cause stands: the index
// alerts_standing lets none beside it, whoever writes.
func (t *tx) RaiseAlert(a inventory.Alert) (int64, bool, error) {
	id, err := t.next("alert")
	if err != nil {
		return 0, false, err
	}
	row := alertRow{ID: id, Kind: string(a.Kind), Subject: a.Subject, Text: a.Text, RaisedAt: a.RaisedAt.Unix()}
	res := t.db.Clauses(clause.OnConflict{DoNothing: true}).Create(&row)
	return id, res.RowsAffected == 1, res.Error
}

// ClearAlert ends an alert.
func (t *tx) ClearAlert(id int64, at time.Time) error {
	res := t.db.Model(&alertRow{}).Where("id = ? AND cleared_at IS NULL", id).Updates(map[string]any{"cleared_at": at.Unix()})
	if res.Error == nil && res.RowsAffected != 1 {
		return inventory.NotFoundf("no-such-alert", "there is no standing alert %d", id)
	}
	return res.Error
}

// RenewAlerts writes the texts of standing alerts, many in one statement.
func (t *tx) RenewAlerts(alerts []inventory.Alert) error {
	if len(alerts) == 0 {
		return nil
	}
	rows := make([]alertRow, len(alerts))
	for i, a := range alerts {
		rows[i] = alertRow{ID: a.ID, Kind: string(a.Kind), Subject: a.Subject, Text: a.Text, RaisedAt: a.RaisedAt.Unix()}
	}
	return t.db.Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "id"}}, DoUpdates: clause.AssignmentColumns([]string{"text"}),
		Where: clause.Where{Exprs: []clause.Expression{clause.Expr{SQL: "alerts.cleared_at IS NULL"}}}}).CreateInBatches(rows, rowsAtOnce).Error
}

type sightingRow struct {
	AlertID    int64
	PersonCode string
	SeenAt     int64
}

func (sightingRow) TableName() string { return "alert_sightings" }

// SeeAlert keeps that somebody saw an alert; nothing changes if they had.
func (t *tx) SeeAlert(s inventory.Sighting) error {
	return t.db.Clauses(clause.OnConflict{DoNothing: true}).Create(&sightingRow{AlertID: s.AlertID, PersonCode: string(s.Person), SeenAt: s.At.Unix()}).Error
}
