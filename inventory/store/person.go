package store

import (
	"database/sql"

	"wirehold/inventory"
)

type personRow struct {
	Code      string
	Name      string
	Role      string
	RetiredAt sql.NullInt64
	Version   int
}

func (personRow) TableName() string { return "people" }

func (p personRow) person() inventory.Person {
	return inventory.Person{Code: inventory.Code(p.Code), Name: p.Name, Role: inventory.Role(p.Role), RetiredAt: instant(p.RetiredAt), Version: p.Version}
}

// Person returns the person with the badge, retired or not.
func (r *reader) Person(c inventory.Code) (inventory.Person, error) {
	var p personRow
	err := r.stmt(r.hot.person).QueryRowContext(r.ctx, string(c)).Scan(&p.Code, &p.Name, &p.Role, &p.RetiredAt, &p.Version)
	return p.person(), missing(err, "no-such-person", "there is nobody with badge %s", c)
}

// AddPerson enters a person, at their first version.
func (t *tx) AddPerson(p inventory.Person) error {
	row := personRow{Code: string(p.Code), Name: p.Name, Role: string(p.Role), Version: 1}
	return t.db.Create(&row).Error
}

// UpdatePerson writes a person. [inventory.Conflict] if they are not at the
// version before.
func (t *tx) UpdatePerson(p inventory.Person) error {
	return updated(t.db.Model(&personRow{}).Where("code = ? AND version = ?", string(p.Code), p.Version-1).
		Updates(map[string]any{"name": p.Name, "role": string(p.Role), "retired_at": seconds(p.RetiredAt), "version": p.Version}))
}

// People returns everybody but the program itself, by name; those who are retired come last.
func (r *reader) People() ([]inventory.Person, error) {
	var rows []personRow
	err := r.db.Where("role <> ?", string(inventory.Program)).Order("retired_at IS NOT NULL, name").Limit(maxPlaces).Find(&rows).Error
	out := make([]inventory.Person, len(rows))
	for i, row := range rows {
		out[i] = row.person()
	}
	return out, err
}
