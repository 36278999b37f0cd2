package store

import "wirehold/inventory"

type personRow struct {
	Code string
	Name string
	Role string
}

func (personRow) TableName() string { return "people" }

func (p personRow) person() inventory.Person {
	return inventory.Person{Code: inventory.Code(p.Code), Name: p.Name, Role: inventory.Role(p.Role)}
}

// Person returns the person with the badge.
func (r *reader) Person(c inventory.Code) (inventory.Person, error) {
	var p personRow
	err := r.stmt(r.hot.person).QueryRowContext(r.ctx, string(c)).Scan(&p.Code, &p.Name, &p.Role)
	return p.person(), missing(err, "no-such-person", "there is nobody with badge %s", c)
}

// AddPerson enters a person.
func (t *tx) AddPerson(p inventory.Person) error {
	row := personRow{Code: string(p.Code), Name: p.Name, Role: string(p.Role)}
	return t.db.Create(&row).Error
}

// People returns everybody, by name.
func (r *reader) People() ([]inventory.Person, error) {
	var rows []personRow
	err := r.db.Order("name").Limit(maxPlaces).Find(&rows).Error
	out := make([]inventory.Person, len(rows))
	for i, row := range rows {
		out[i] = row.person()
	}
	return out, err
}
