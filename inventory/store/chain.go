package store

import (
	"gorm.io/gorm"

	"wirehold/inventory"
)

// linkRow is the place of a record in its chain, as the table of each keeps it.
type linkRow struct {
	Seq      int64
	PrevHash string
	Hash     string
}

func linkRowOf(l inventory.Link) linkRow { return linkRow{l.Seq, l.Prev, l.Hash} }

func (l linkRow) link() inventory.Link {
	return inventory.Link{Seq: l.Seq, Prev: l.PrevHash, Hash: l.Hash}
}

// head returns the link of the last record in a table; the zero link if there
// is none.
func (t *tx) head(table string) (inventory.Link, error) {
	var rows []linkRow
	err := t.db.Table(table).Select("seq, prev_hash, hash").Where("seq > 0").Order("seq DESC").Limit(1).Find(&rows).Error
	if err != nil || len(rows) == 0 {
		return inventory.Link{}, err
	}
	return rows[0].link(), nil
}

// changeRow is what the tables of all histories have in common.
type changeRow struct {
	Version    int
	PersonCode string
	ChangedAt  int64
	RequestKey string
	Request    string
	Deed       string
	What       string
}

const changeColumns = "c.version, c.person_code, c.changed_at, c.request_key, c.request, c.deed, c.what"

func changeRowOf(c inventory.Change, deed string) changeRow {
	return changeRow{Version: c.Version, PersonCode: string(c.Person), ChangedAt: c.At.Unix(), RequestKey: c.RequestKey, Request: c.Request, Deed: deed, What: lines(c.What)}
}

func (c changeRow) change(name string) inventory.Change {
	return inventory.Change{Version: c.Version, Person: inventory.Code(c.PersonCode), PersonName: name, At: unixUTC(c.ChangedAt),
		RequestKey: c.RequestKey, Request: c.Request, What: items[string](c.What)}
}

// told is a row of a history, told with the name of who made the change.
type told[C any] interface{ told(name string) C }

// history reads up to limit changes from the table c, the latest first.
func history[R told[C], C any](c *gorm.DB, columns string, limit int) ([]C, error) {
	var rows []struct {
		Row  R `gorm:"embedded"`
		Name string
	}
	err := c.Select(columns + ", p.name").Joins("JOIN people p ON p.code = c.person_code").Order("c.version DESC").Limit(limit).Scan(&rows).Error
	out := make([]C, len(rows))
	for i, row := range rows {
		out[i] = row.Row.told(row.Name)
	}
	return out, err
}

// requested reads the change that the request key made from the table c.
func requested[R told[C], C any](c *gorm.DB, columns, key string) (C, error) {
	var row R
	err := c.Select(columns).Where("c.request_key = ?", key).Take(&row).Error
	return row.told(""), missing(err, "no-such-change", "nothing was changed by request key %q", key)
}
