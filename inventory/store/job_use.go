package store

import (
	"database/sql"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

type jobUseRow struct {
	JobCode   string
	SpoolCode string
	WireID    int64
	UsedG     int64
	Laid      bool
	ScrappedG int64
}

func (jobUseRow) TableName() string { return "job_uses" }

func (u jobUseRow) use() inventory.JobUse {
	return inventory.JobUse{Job: inventory.Code(u.JobCode), Spool: inventory.Code(u.SpoolCode), WireID: u.WireID, Used: unit.Grams(u.UsedG), Laid: u.Laid, Scrapped: unit.Grams(u.ScrappedG)}
}

// jobWires adds up what is kept of the spools that came back, and the spools
// that are out now. One that is out was laid if it was on a feeder since it
// went out. (For CAST see [statements].)
const jobWires = `SELECT wire_id, MIN(CASE WHEN laid THEN spool_code END), SUM(used_g), SUM(out_g), SUM(outs), SUM(scrapped_g), SUM(CASE WHEN scrapped_g > 0 THEN 1 ELSE 0 END)
FROM (
    SELECT wire_id, spool_code, laid, used_g, 0 AS out_g, 0 AS outs, scrapped_g FROM job_uses WHERE job_code = CAST(? AS TEXT) AND spool_code <> CAST(? AS TEXT)
    UNION ALL
    SELECT l.wire_id, s.code, s.touched AND EXISTS (SELECT 1 FROM movements m WHERE m.spool_code = s.code AND m.type = 'loaded'
            AND m.version > (SELECT MAX(i.version) FROM movements i WHERE i.spool_code = s.code AND i.type = 'issued')),
        0, s.net_g, 1, 0
    FROM spools s JOIN lots l ON l.id = s.lot_id WHERE s.job_code = CAST(? AS TEXT) AND s.code <> CAST(? AS TEXT)
) AS went
GROUP BY wire_id ORDER BY wire_id LIMIT 1000`

const addJobUse = `INSERT INTO job_uses (job_code, spool_code, wire_id, used_g, laid, scrapped_g)
SELECT ?, s.code, l.wire_id, ?, ?, ? FROM spools s JOIN lots l ON l.id = s.lot_id WHERE s.code = CAST(? AS TEXT)
ON CONFLICT (spool_code, job_code) DO UPDATE SET used_g = job_uses.used_g + excluded.used_g, laid = job_uses.laid OR excluded.laid, scrapped_g = job_uses.scrapped_g + excluded.scrapped_g`

// AddJobUse adds to what is kept of a spool's use for a job.
func (t *tx) AddJobUse(u inventory.JobUse) error {
	_, err := t.stmt(t.hot.addJobUse).ExecContext(t.ctx, string(u.Job), int64(u.Used), u.Laid, int64(u.Scrapped), string(u.Spool))
	return t.driverError(err)
}

func scanJobWire(row scanner) (inventory.JobWire, error) {
	var w inventory.JobWire
	var spool sql.NullString
	err := row.Scan(&w.WireID, &spool, &w.Used, &w.Out.Net, &w.Out.Spools, &w.Scrapped.Net, &w.Scrapped.Spools)
	w.Spool = code(spool)
	return w, err
}

// JobWires returns the wires of the spools that are out or were used for a job.
func (r *reader) JobWires(job, but inventory.Code) ([]inventory.JobWire, error) {
	rows, err := r.stmt(r.hot.jobWires).QueryContext(r.ctx, string(job), string(but), string(job), string(but))
	return collect(rows, err, scanJobWire)
}

// LotWires returns the wire of each of the lots.
func (r *reader) LotWires(lots []int64) (map[int64]int64, error) {
	var rows []struct{ ID, WireID int64 }
	err := r.db.Table("lots").Select("id, wire_id").Where("id IN ?", lots).Limit(len(lots)).Scan(&rows).Error
	out := make(map[int64]int64, len(rows))
	for _, row := range rows {
		out[row.ID] = row.WireID
	}
	return out, err
}

// JobUses returns what the spools with a code after the one given and up to the
// last were used for.
func (r *reader) JobUses(after, last inventory.Code) ([]inventory.JobUse, error) {
	var rows []jobUseRow
	err := r.db.Where("spool_code > ? AND spool_code <= ?", string(after), string(last)).Order("spool_code, job_code").Limit(1_000_000).Find(&rows).Error
	out := make([]inventory.JobUse, len(rows))
	for i, row := range rows {
		out[i] = row.use()
	}
	return out, err
}

// KeepJobUses writes all that the spool was used for.
func (t *tx) KeepJobUses(spool inventory.Code, uses []inventory.JobUse) error {
	if _, err := t.stmt(t.hot.dropJobUses).ExecContext(t.ctx, string(spool)); err != nil || len(uses) == 0 {
		return t.driverError(err)
	}
	rows := make([]jobUseRow, len(uses))
	for i, u := range uses {
		rows[i] = jobUseRow{JobCode: string(u.Job), SpoolCode: string(spool), WireID: u.WireID, UsedG: int64(u.Used), Laid: u.Laid, ScrappedG: int64(u.Scrapped)}
	}
	return t.db.Create(&rows).Error
}

// WiresOf returns the wires with the ids, with all that is said of them.
func (r *reader) WiresOf(ids []int64) ([]inventory.Wire, error) {
	var rows []wireRow
	if err := r.db.Where("id IN ?", ids).Order("id").Limit(len(ids)).Find(&rows).Error; err != nil {
		return nil, err
	}
	var facts []wireFactRow
	if err := r.db.Where("wire_id IN ?", ids).Order("wire_id, line").Limit(1000 * len(ids)).Find(&facts).Error; err != nil {
		return nil, err
	}
	out := make([]inventory.Wire, len(rows))
	at := make(map[int64]int, len(rows))
	for i, row := range rows {
		out[i], at[row.ID] = row.wire(), i
	}
	for _, f := range facts {
		w := &out[at[f.WireID]]
		w.Supplied = append(w.Supplied, filler.Fact{Name: f.Name, Value: f.Value, Unit: f.Unit, Condition: f.Condition,
			Provenance: filler.Provenance(f.Provenance), Source: f.Source, Note: f.Note})
	}
	return out, nil
}
