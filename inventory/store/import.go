package store

import (
	"fmt"

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
func (r *reader) ImportRequested(key string) (inventory.ImportRecord, error) {
	var row importRow
	err := r.db.Select(importColumns).Where("request_key = ?", key).Take(&row).Error
	return row.record(), missing(err, "no-such-import", "no import has request key %q", key)
}

// AddImport enters the wires of an import with who did so, and how their
// classifications were typed. Each sort of row is written many at a time: the
// counters wait for it.
func (t *tx) AddImport(r inventory.ImportRecord, lines []inventory.ImportLine, changes []inventory.WireChange) (int64, error) {
	id, err := t.next("wire import")
	if err != nil {
		return 0, err
	}
	wire, err := t.take("wire", len(lines))
	if err != nil {
		return 0, err
	}
	change, err := t.take("wire change", len(lines))
	if err != nil {
		return 0, err
	}
	wires, facts, histories, imported := make([]wireRow, len(lines)), []wireFactRow{}, make([]wireChangeRow, len(lines)), make([]importedWireRow, len(lines))
	for i := range lines {
		w := &lines[i].Wire
		w.ID, w.Version = wire+int64(i), 1
		wires[i], facts = wireRowOf(*w), append(facts, factRowsOf(*w)...)
		changes[i].ID, changes[i].WireID = change+int64(i), w.ID
		histories[i] = wireChangeRowOf(changes[i])
		imported[i] = importedWireRow{ImportID: id, Line: lines[i].Line, WireID: w.ID, Typed: lines[i].Typed}
	}
	row := importRow{ID: id, RequestKey: r.RequestKey, File: r.File, SHA256: r.SHA256, PersonCode: string(r.Person), ImportedAt: r.At.Unix(), Wires: r.Wires}
	if err := t.db.Create(&row).Error; err != nil {
		return 0, err
	}
	const atOnce = 500 // rows of one statement, far below SQLite's limit of parameters
	for _, rows := range []any{&wires, &facts, &histories, &imported} {
		if err := t.db.CreateInBatches(rows, atOnce).Error; err != nil {
			return 0, err
		}
	}
	return id, nil
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

// WiresMark returns how many wires there are, the last of them, and how often
// they were changed: none is ever taken away.
func (r *reader) WiresMark() (string, error) {
	var count, last, versions int64
	err := r.db.Table("wires").Select("COUNT(*), COALESCE(MAX(id), 0), COALESCE(SUM(version), 0)").Row().Scan(&count, &last, &versions)
	return fmt.Sprint(count, last, versions), err
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
