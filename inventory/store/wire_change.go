package store

import "wirehold/inventory"

type wireChangeRow struct {
	ID         int64
	WireID     int64
	Version    int
	PersonCode string
	ChangedAt  int64
	RequestKey string
	Request    string
	Deed       string
	What       string
}

func (wireChangeRow) TableName() string { return "wire_changes" }

func (r wireChangeRow) change(name string) inventory.WireChange {
	return inventory.WireChange{ID: r.ID, WireID: r.WireID, Version: r.Version, Person: inventory.Code(r.PersonCode), PersonName: name,
		At: unixUTC(r.ChangedAt), RequestKey: r.RequestKey, Request: r.Request, Deed: inventory.WireDeed(r.Deed), What: items[string](r.What)}
}

const wireChangeColumns = "c.id, c.wire_id, c.version, c.person_code, c.changed_at, c.request_key, c.request, c.deed, c.what"

// WireChanges returns up to limit changes of a wire, the latest first.
func (r *reader) WireChanges(wire int64, limit int) ([]inventory.WireChange, error) {
	var rows []struct {
		Row  wireChangeRow `gorm:"embedded"`
		Name string
	}
	err := r.db.Table("wire_changes c").Select(wireChangeColumns+", p.name").Joins("JOIN people p ON p.code = c.person_code").
		Where("c.wire_id = ?", wire).Order("c.version DESC").Limit(limit).Scan(&rows).Error
	out := make([]inventory.WireChange, len(rows))
	for i, row := range rows {
		out[i] = row.Row.change(row.Name)
	}
	return out, err
}

// WireRequested returns the change made by the request key.
func (t *tx) WireRequested(key string) (inventory.WireChange, error) {
	var row wireChangeRow
	err := t.db.Table("wire_changes c").Select(wireChangeColumns).Where("c.request_key = ?", key).Take(&row).Error
	return row.change(""), missing(err, "no-such-change", "no wire was changed by request key %q", key)
}

// UpdateWire writes a wire and its facts. [inventory.Conflict] if it is not at
// the version before.
func (t *tx) UpdateWire(w inventory.Wire) error {
	row := wireRowOf(w)
	res := t.db.Model(&wireRow{}).Where("id = ? AND version = ?", w.ID, w.Version-1).
		Select("Maker", "TradeName", "Classifications", "DiameterNm", "Marked", "Package", "NetG", "TareG", "MinimumG", "Version").Updates(row)
	if res.Error != nil {
		return res.Error
	}
	if res.RowsAffected != 1 {
		return inventory.Conflictf("wire-changed", "%s was changed a moment ago: look at it again", w.TradeName)
	}
	if err := t.db.Where("wire_id = ?", w.ID).Delete(&wireFactRow{}).Error; err != nil {
		return err
	}
	return t.addFacts(w)
}

// AddWireChange adds a line to a wire's history.
func (t *tx) AddWireChange(c inventory.WireChange) (err error) {
	if c.ID, err = t.next("wire change"); err != nil {
		return err
	}
	row := wireChangeRowOf(c)
	return t.db.Create(&row).Error
}

func wireChangeRowOf(c inventory.WireChange) wireChangeRow {
	return wireChangeRow{ID: c.ID, WireID: c.WireID, Version: c.Version, PersonCode: string(c.Person), ChangedAt: c.At.Unix(), RequestKey: c.RequestKey, Request: c.Request,
		Deed: string(c.Deed), What: lines(c.What)}
}
