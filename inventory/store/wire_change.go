package store

import "wirehold/inventory"

type wireChangeRow struct {
	ID     int64
	WireID int64
	Change changeRow `gorm:"embedded"`
}

func (wireChangeRow) TableName() string { return "wire_changes" }

func (r wireChangeRow) told(name string) inventory.WireChange {
	return inventory.WireChange{ID: r.ID, WireID: r.WireID, Deed: inventory.WireDeed(r.Change.Deed), Change: r.Change.change(name)}
}

const wireChangeColumns = "c.id, c.wire_id, " + changeColumns

// WireChanges returns up to limit changes of a wire, the latest first.
func (r *reader) WireChanges(wire int64, limit int) ([]inventory.WireChange, error) {
	return history[wireChangeRow](r.db.Table("wire_changes c").Where("c.wire_id = ?", wire), wireChangeColumns, limit)
}

// WireRequested returns the change made by the request key.
func (t *tx) WireRequested(key string) (inventory.WireChange, error) {
	return requested[wireChangeRow](t.db.Table("wire_changes c"), wireChangeColumns, key)
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
	return wireChangeRow{ID: c.ID, WireID: c.WireID, Change: changeRowOf(c.Change, string(c.Deed))}
}
