package store

import (
	"wirehold/inventory"
)

type sheetRow struct {
	ID         int64
	WireID     int64
	Title      string
	Revision   string
	FileName   string
	MediaType  string
	SizeBytes  int64
	SHA256     string `gorm:"column:sha256"`
	PersonCode string
	AttachedAt int64
	Content    []byte
}

func (sheetRow) TableName() string { return "wire_sheets" }

func (r sheetRow) sheet(name string) inventory.Sheet {
	return inventory.Sheet{ID: r.ID, WireID: r.WireID, Title: r.Title, Revision: r.Revision, FileName: r.FileName, MediaType: r.MediaType, Size: r.SizeBytes,
		SHA256: r.SHA256, Person: inventory.Code(r.PersonCode), PersonName: name, At: unixUTC(r.AttachedAt)}
}

const sheetColumns = "s.id, s.wire_id, s.title, s.revision, s.file_name, s.media_type, s.size_bytes, s.sha256, s.person_code, s.attached_at, p.name"

type namedSheetRow struct {
	Row  sheetRow `gorm:"embedded"`
	Name string
}

// maxSheets bounds the sheets of one wire that are listed.
const maxSheets = 200

// Sheets returns the data sheets attached to a wire, the latest first, without
// their content.
func (r *reader) Sheets(wire int64) ([]inventory.Sheet, error) {
	var rows []namedSheetRow
	err := r.db.Table("wire_sheets s").Select(sheetColumns).Joins("JOIN people p ON p.code = s.person_code").
		Where("s.wire_id = ?", wire).Order("s.id DESC").Limit(maxSheets).Scan(&rows).Error
	out := make([]inventory.Sheet, len(rows))
	for i, row := range rows {
		out[i] = row.Row.sheet(row.Name)
	}
	return out, err
}

// Sheet returns an attached sheet with its content.
func (r *reader) Sheet(id int64) (inventory.Sheet, []byte, error) {
	var row namedSheetRow
	err := r.db.Table("wire_sheets s").Select(sheetColumns+", s.content").Joins("JOIN people p ON p.code = s.person_code").
		Where("s.id = ?", id).Take(&row).Error
	return row.Row.sheet(row.Name), row.Row.Content, missing(err, "no-such-sheet", "there is no data sheet %d", id)
}

// AddSheet keeps a data sheet with its content.
func (t *tx) AddSheet(s inventory.Sheet, content []byte) (int64, error) {
	id, err := t.next("wire sheet")
	if err != nil {
		return 0, err
	}
	row := sheetRow{ID: id, WireID: s.WireID, Title: s.Title, Revision: s.Revision, FileName: s.FileName, MediaType: s.MediaType, SizeBytes: s.Size,
		SHA256: s.SHA256, PersonCode: string(s.Person), AttachedAt: s.At.Unix(), Content: content}
	return id, t.db.Create(&row).Error
}
