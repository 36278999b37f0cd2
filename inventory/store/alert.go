package store

import (
	"context"
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

// Alerts returns the standing alerts, and the latest cleared ones too if
// cleared is set, newest first.
func (r *reader) Alerts(cleared bool) ([]inventory.Alert, error) {
	open, err := r.OpenAlerts("")
	if err != nil || !cleared {
		return open, err
	}
	var rows []alertRow
	err = r.db.Where("cleared_at IS NOT NULL").Order("cleared_at DESC, id DESC").Limit(100).Find(&rows).Error
	return append(open, alerts(rows)...), err
}

// RaiseAlert enters an alert.
func (t *tx) RaiseAlert(a inventory.Alert) error {
	id, err := t.next("alert")
	if err != nil {
		return err
	}
	row := alertRow{ID: id, Kind: string(a.Kind), Subject: a.Subject, Text: a.Text, RaisedAt: a.RaisedAt.Unix()}
	return t.db.Create(&row).Error
}

// ClearAlert ends an alert.
func (t *tx) ClearAlert(id int64, at time.Time) error {
	res := t.db.Model(&alertRow{}).Where("id = ? AND cleared_at IS NULL", id).Updates(map[string]any{"cleared_at": at.Unix()})
	if res.Error == nil && res.RowsAffected != 1 {
		return inventory.NotFoundf("no-such-alert", "there is no standing alert %d", id)
	}
	return res.Error
}

type leaseRow struct {
	Name      string
	HeldUntil int64
}

func (leaseRow) TableName() string { return "leases" }

// Hold takes the lease name from at until the instant until, and reports
// whether it was free: one replica, one run.
func (s *Store) Hold(ctx context.Context, name string, at, until time.Time) (bool, error) {
	res := s.writer.WithContext(ctx).Clauses(clause.OnConflict{
		Columns:   []clause.Column{{Name: "name"}},
		DoUpdates: clause.Assignments(map[string]any{"held_until": until.Unix()}),
		Where:     clause.Where{Exprs: []clause.Expression{clause.Lte{Column: clause.Column{Table: "leases", Name: "held_until"}, Value: at.Unix()}}},
	}).Create(&leaseRow{Name: name, HeldUntil: until.Unix()})
	return res.RowsAffected == 1, translate(res.Error)
}
