package store

import (
	"wirehold/inventory"
	"wirehold/inventory/unit"
)

type importRow struct {
	ID         int64
	RequestKey string
	File       string
	SHA256     string `gorm:"column:sha256"`
	PersonCode string
	ImportedAt int64
	Wires      int
}

func (importRow) TableName() string { return "wire_imports" }

func (i importRow) record() inventory.ImportRecord {
	return inventory.ImportRecord{ID: i.ID, RequestKey: i.RequestKey, File: i.File, SHA256: i.SHA256,
		Person: inventory.Code(i.PersonCode), At: unixUTC(i.ImportedAt), Wires: i.Wires}
}

type importedWireRow struct {
	ImportID int64
	Line     int
	WireID   int64
	Typed    string
}

func (importedWireRow) TableName() string { return "imported_wires" }

const importColumns = "id, request_key, file, sha256, person_code, imported_at, wires"

// ImportRequested returns the import made by the request key.
func (t *tx) ImportRequested(key string) (inventory.ImportRecord, error) {
	var row importRow
	err := t.db.Select(importColumns).Where("request_key = ?", key).Take(&row).Error
	return row.record(), missing(err, "no-such-import", "no import has request key %q", key)
}

// AddImport keeps which wires came by an import, and how their
// classifications were typed.
func (t *tx) AddImport(r inventory.ImportRecord, lines []inventory.ImportLine) (int64, error) {
	id, err := t.next("wire import")
	if err != nil {
		return 0, err
	}
	row := importRow{ID: id, RequestKey: r.RequestKey, File: r.File, SHA256: r.SHA256, PersonCode: string(r.Person), ImportedAt: r.At.Unix(), Wires: r.Wires}
	if err := t.db.Create(&row).Error; err != nil {
		return 0, err
	}
	wires := make([]importedWireRow, len(lines))
	for i, l := range lines {
		wires[i] = importedWireRow{ImportID: id, Line: l.Line, WireID: l.Wire.ID, Typed: l.Typed}
	}
	const atOnce = 500 // rows of one statement, far below SQLite's limit of parameters
	return id, t.db.CreateInBatches(&wires, atOnce).Error
}

// WireImport returns an import that was done.
func (r *reader) WireImport(id int64) (inventory.ImportRecord, error) {
	var row importRow
	err := r.db.Select(importColumns).Where("id = ?", id).Take(&row).Error
	return row.record(), missing(err, "no-such-import", "there is no import %d", id)
}

// ImportedWires returns up to limit wires of an import, in the order of the
// file, without what data sheet and shop say of them.
func (r *reader) ImportedWires(id int64, limit int) ([]inventory.ImportLine, error) {
	var rows []struct {
		Row   wireRow `gorm:"embedded"`
		Line  int
		Typed string
	}
	err := r.db.Table("imported_wires").
		Select("imported_wires.line, imported_wires.typed, wires.id, wires.maker, wires.trade_name, wires.classifications, wires.diameter_nm, wires.marked, wires.package, wires.net_g, wires.tare_g, wires.minimum_g").
		Joins("JOIN wires ON wires.id = imported_wires.wire_id").
		Where("imported_wires.import_id = ?", id).Order("imported_wires.line").Limit(limit).Scan(&rows).Error
	lines := make([]inventory.ImportLine, len(rows))
	for i, row := range rows {
		lines[i] = inventory.ImportLine{Line: row.Line, Typed: row.Typed, Wire: row.Row.wire()}
	}
	return lines, err
}

// WiresAfter returns up to limit wires with an id after the one given.
func (r *reader) WiresAfter(id int64, limit int) ([]inventory.Wire, error) {
	var rows []wireRow
	err := r.db.Select("id, maker, trade_name, classifications, diameter_nm, package").Where("id > ?", id).Order("id").Limit(limit).Find(&rows).Error
	wires := make([]inventory.Wire, len(rows))
	for i, w := range rows {
		wires[i] = inventory.Wire{ID: w.ID, Maker: w.Maker, TradeName: w.TradeName, Classifications: items[string](w.Classifications), Diameter: unit.Length(w.DiameterNm), Package: w.Package}
	}
	return wires, err
}
