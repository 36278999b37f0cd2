package store

import (
	"database/sql"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

type nicknameRow struct {
	ID         int64
	Name       string
	Process    string
	PersonCode string
	EnteredAt  int64
	RetiredBy  sql.NullString
	RetiredAt  sql.NullInt64
}

func (nicknameRow) TableName() string { return "nicknames" }

// mostNicknames is the longest list of nicknames.
const mostNicknames = 1000

// Nicknames returns the names that stand, by name.
func (r *reader) Nicknames() ([]inventory.Nickname, error) {
	var rows []struct {
		Row  nicknameRow `gorm:"embedded"`
		Said string
	}
	err := r.db.Table("nicknames n").
		Select("n.id, n.name, n.process, n.person_code, n.entered_at, p.name AS said").
		Joins("JOIN people p ON p.code = n.person_code").
		Where("n.retired_at IS NULL").Order("n.name").Limit(mostNicknames).Scan(&rows).Error
	out := make([]inventory.Nickname, len(rows))
	for i, row := range rows {
		out[i] = inventory.Nickname{ID: row.Row.ID, Name: row.Row.Name, Process: fit.Process(row.Row.Process),
			Person: inventory.Code(row.Row.PersonCode), By: row.Said, At: time.Unix(row.Row.EnteredAt, 0).UTC()}
	}
	return out, err
}

// AddNickname enters a nickname.
func (t *tx) AddNickname(n inventory.Nickname) (int64, error) {
	id, err := t.next("nickname")
	if err != nil {
		return 0, err
	}
	return id, t.db.Create(&nicknameRow{ID: id, Name: n.Name, Process: string(n.Process), PersonCode: string(n.Person), EnteredAt: n.At.Unix()}).Error
}

// RetireNickname ends a nickname that stands.
func (t *tx) RetireNickname(id int64, by inventory.Code, at time.Time) error {
	res := t.db.Model(&nicknameRow{}).Where("id = ? AND retired_at IS NULL", id).
		Updates(map[string]any{"retired_by": string(by), "retired_at": at.Unix()})
	if res.Error == nil && res.RowsAffected == 0 {
		return inventory.NotFoundf("no-such-name", "there is no nickname %d that stands", id)
	}
	return res.Error
}
