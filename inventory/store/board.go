package store

import (
	"fmt"

	"wirehold/inventory"
)

// BoardLines returns up to limit spools that are out or open, those out first,
// then the longest open, and how many there are in all.
func (r *reader) BoardLines(limit int) ([]inventory.SpoolLine, int, error) {
	const onBoard = "NOT s.scrapped AND (s.opened_at IS NOT NULL OR s.job_code IS NOT NULL)"
	lines, err := scanSpoolLines(r.spoolLines().Where(onBoard).Order("s.job_code IS NULL, s.opened_at IS NULL, s.opened_at, s.code").Limit(limit))
	if err != nil || len(lines) < limit {
		return lines, len(lines), err
	}
	var all int64
	err = r.db.Table("spools s").Where(onBoard).Count(&all).Error
	return lines, int(all), err
}

// WiresIn returns the wires of the ids with all that is said of them, in two
// queries.
func (r *reader) WiresIn(ids []int64) ([]inventory.Wire, error) {
	if len(ids) == 0 {
		return nil, nil
	}
	var rows []wireRow
	if err := r.db.Where("id IN ?", ids).Limit(len(ids)).Find(&rows).Error; err != nil {
		return nil, err
	}
	facts, err := r.factsOf(ids)
	out := make([]inventory.Wire, len(rows))
	for i, row := range rows {
		out[i] = row.wire()
		out[i].Supplied = facts[row.ID]
	}
	return out, err
}

// BoardVersion names what the board is made from: it is another after each
// movement, and after each change of a lot, wire, record or rule profile.
func (r *reader) BoardVersion() (string, error) {
	var heads struct{ Movements, Lots, Wires, Records, Profiles int64 }
	err := r.db.Raw(`SELECT (SELECT COALESCE(MAX(seq), 0) FROM movements) AS movements, (SELECT COALESCE(MAX(seq), 0) FROM lot_decisions) AS lots,
		(SELECT COALESCE(MAX(id), 0) FROM wire_changes) AS wires, (SELECT COALESCE(MAX(id), 0) FROM record_changes) AS records,
		(SELECT COALESCE(MAX(seq), 0) FROM profile_changes) AS profiles`).Scan(&heads).Error
	return fmt.Sprintf("%d-%d-%d-%d-%d", heads.Movements, heads.Lots, heads.Wires, heads.Records, heads.Profiles), err
}
