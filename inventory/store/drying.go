package store

import (
	"database/sql"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

// dryingColumns are the columns of a movement that tell of a drying; all NULL
// where there is none.
type dryingColumns struct {
	from, until, mdegc, held, takes sql.NullInt64
	oven, rule                      sql.NullString
}

func dryingColumnsOf(d *inventory.Drying) (c dryingColumns) {
	if d == nil {
		return c
	}
	number := func(n int64) sql.NullInt64 { return sql.NullInt64{Int64: n, Valid: true} }
	takes := int64(-1)
	if d.Takes != exposure.All {
		takes = int64(d.Takes / time.Second)
	}
	return dryingColumns{from: seconds(d.From), until: seconds(d.Until), mdegc: number(int64(d.At)), held: number(int64(d.Held / time.Second)),
		takes: number(takes), oven: nullable(d.Oven), rule: sql.NullString{String: d.Rule, Valid: true}}
}

func (c dryingColumns) drying() *inventory.Drying {
	if !c.until.Valid {
		return nil
	}
	takes := exposure.All
	if c.takes.Int64 >= 0 {
		takes = time.Duration(c.takes.Int64) * time.Second
	}
	return &inventory.Drying{From: instant(c.from), Until: instant(c.until), Oven: code(c.oven), At: unit.Celsius(c.mdegc.Int64),
		Held: time.Duration(c.held.Int64) * time.Second, Takes: takes, Rule: c.rule.String}
}
