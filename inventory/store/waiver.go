package store

import (
	"database/sql"

	"gorm.io/gorm"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

type waiverRow struct {
	ID         int64
	SpoolCode  string
	JobCode    string
	FeederCode sql.NullString
	Rule       string
	State      string
	AskedBy    string
	AskedAt    int64
	AskedWhy   string
	DecidedBy  sql.NullString
	DecidedAt  sql.NullInt64
	Reason     string
	Until      sql.NullInt64
	EndedBy    sql.NullString
	EndedAt    sql.NullInt64
	EndedWhy   string
	Found      string
	Version    int

	ProcedureID sql.NullInt64
}

func (waiverRow) TableName() string { return "waivers" }

func (w waiverRow) waiver() inventory.Waiver {
	return inventory.Waiver{ID: w.ID, Spool: inventory.Code(w.SpoolCode), Job: inventory.Code(w.JobCode), Feeder: code(w.FeederCode), Rule: fit.Rule(w.Rule),
		State: inventory.WaiverState(w.State), Found: w.Found, AskedBy: inventory.Code(w.AskedBy), AskedAt: unixUTC(w.AskedAt), Why: w.AskedWhy,
		DecidedBy: code(w.DecidedBy), DecidedAt: instant(w.DecidedAt), Reason: w.Reason, Until: instant(w.Until),
		EndedBy: code(w.EndedBy), EndedAt: instant(w.EndedAt), EndedWhy: w.EndedWhy, Version: w.Version, Procedure: w.ProcedureID.Int64}
}

func waiverRowOf(w inventory.Waiver) waiverRow {
	return waiverRow{ID: w.ID, SpoolCode: string(w.Spool), JobCode: string(w.Job), FeederCode: nullable(w.Feeder), Rule: string(w.Rule),
		State: string(w.State), Found: w.Found, AskedBy: string(w.AskedBy), AskedAt: w.AskedAt.Unix(), AskedWhy: w.Why,
		DecidedBy: nullable(w.DecidedBy), DecidedAt: seconds(w.DecidedAt), Reason: w.Reason, Until: seconds(w.Until),
		EndedBy: nullable(w.EndedBy), EndedAt: seconds(w.EndedAt), EndedWhy: w.EndedWhy, Version: w.Version, ProcedureID: idOrNull(w.Procedure)}
}

const waiverColumns = `v.id, v.spool_code, v.job_code, v.feeder_code, v.rule, v.state, v.asked_by, v.asked_at, v.asked_why, v.decided_by, v.decided_at, v.reason,
	v.until, v.ended_by, v.ended_at, v.ended_why, v.found, v.version, v.procedure_id`

// waiverLines is every waiver with the names a list shows.
func (r *reader) waiverLines() *gorm.DB {
	return r.db.Table("waivers v").
		Select(waiverColumns + `, j.number AS job_number, f.name AS feeder_name, p.number AS procedure_number, p.revision AS procedure_revision, w.classifications, w.trade_name,
			a.name AS asked_name, d.name AS decided_name, e.name AS ended_name`).
		Joins("JOIN jobs j ON j.code = v.job_code").Joins("LEFT JOIN places f ON f.code = v.feeder_code").Joins("LEFT JOIN procedures p ON p.id = v.procedure_id").
		Joins("JOIN spools s ON s.code = v.spool_code").Joins("JOIN lots l ON l.id = s.lot_id").Joins("JOIN wires w ON w.id = l.wire_id").
		Joins("JOIN people a ON a.code = v.asked_by").Joins("LEFT JOIN people d ON d.code = v.decided_by").Joins("LEFT JOIN people e ON e.code = v.ended_by")
}

func scanWaiverLines(q *gorm.DB) ([]inventory.WaiverLine, error) {
	var rows []struct {
		Row        waiverRow `gorm:"embedded"`
		JobNumber  string
		FeederName sql.NullString

		ProcedureNumber, ProcedureRevision sql.NullString

		Classifications string
		TradeName       string
		AskedName       string
		DecidedName     sql.NullString
		EndedName       sql.NullString
	}
	if err := q.Scan(&rows).Error; err != nil {
		return nil, err
	}
	out := make([]inventory.WaiverLine, len(rows))
	for i, row := range rows {
		out[i] = inventory.WaiverLine{Waiver: row.Row.waiver(), JobNumber: row.JobNumber, FeederName: row.FeederName.String, Class: oneLine(row.Classifications),
			TradeName: row.TradeName, AskedName: row.AskedName, DecidedName: row.DecidedName.String, EndedName: row.EndedName.String}
		if row.ProcedureNumber.Valid {
			out[i].ProcedureName = inventory.Procedure{Number: row.ProcedureNumber.String, Revision: row.ProcedureRevision.String}.Name()
		}
	}
	return out, nil
}

// Waiver returns one waiver.
func (r *reader) Waiver(id int64) (inventory.WaiverLine, error) {
	found, err := scanWaiverLines(r.waiverLines().Where("v.id = ?", id).Limit(1))
	if err != nil {
		return inventory.WaiverLine{}, err
	}
	if len(found) == 0 {
		return inventory.WaiverLine{}, inventory.NotFoundf("no-such-waiver", "there is no waiver %d", id)
	}
	return found[0], nil
}

// Waivers returns waivers, the latest asked first.
func (r *reader) Waivers(l inventory.WaiverList) ([]inventory.WaiverLine, error) {
	q := r.waiverLines()
	at := l.At.Unix()
	switch l.State {
	case "":
	case "asked":
		q = q.Where("v.state = ?", string(inventory.WaiverAsked))
	case "standing":
		q = q.Where("v.state = ? AND v.until > ?", string(inventory.WaiverGranted), at)
	case "ended":
		q = q.Where("v.state IN ? OR v.state = ? AND v.until <= ?", []string{string(inventory.WaiverRefused), string(inventory.WaiverEnded)}, string(inventory.WaiverGranted), at)
	default:
		return nil, inventory.Invalidf("state", "a waiver is asked, standing or ended, not %q", l.State)
	}
	if l.Spool != "" {
		q = q.Where("v.spool_code = ?", string(l.Spool))
	}
	return scanWaiverLines(q.Order("v.id DESC").Limit(min(max(l.Limit, 1), 1000)))
}

// WaiversOf returns the waivers of a spool for a job that are asked for or
// granted, in order of id.
func (r *reader) WaiversOf(spool, job inventory.Code) ([]inventory.WaiverLine, error) {
	return scanWaiverLines(r.waiverLines().Where("v.spool_code = ? AND v.job_code = ? AND v.state IN ?", string(spool), string(job),
		[]string{string(inventory.WaiverAsked), string(inventory.WaiverGranted)}).Order("v.id").Limit(1000))
}

// WaiversAfter returns up to limit waivers with an id after the one given.
func (r *reader) WaiversAfter(id int64, limit int) ([]inventory.Waiver, error) {
	var rows []waiverRow
	err := r.db.Where("id > ?", id).Order("id").Limit(limit).Find(&rows).Error
	out := make([]inventory.Waiver, len(rows))
	for i, row := range rows {
		out[i] = row.waiver()
	}
	return out, err
}

type waiverDeedRow struct {
	Link       linkRow `gorm:"embedded"`
	WaiverID   int64
	Deed       string
	SpoolCode  string
	JobCode    string
	FeederCode string
	Rule       string
	PersonCode string
	Reason     string
	Found      string
	Until      sql.NullInt64
	RequestKey string
	Request    string
	DoneAt     int64

	ProcedureID int64
}

func (waiverDeedRow) TableName() string { return "waiver_deeds" }

func waiverDeeds(rows []waiverDeedRow) []inventory.WaiverDeed {
	out := make([]inventory.WaiverDeed, len(rows))
	for i, d := range rows {
		out[i] = inventory.WaiverDeed{Link: d.Link.link(), WaiverID: d.WaiverID, Deed: inventory.WaiverState(d.Deed), Spool: inventory.Code(d.SpoolCode), Job: inventory.Code(d.JobCode),
			Feeder: inventory.Code(d.FeederCode), Rule: fit.Rule(d.Rule), Person: inventory.Code(d.PersonCode), Reason: d.Reason, Found: d.Found, Until: instant(d.Until),
			RequestKey: d.RequestKey, Request: d.Request, At: unixUTC(d.DoneAt), Procedure: d.ProcedureID}
	}
	return out
}

// WaiverDeeds returns up to limit deeds after seq, in order.
func (r *reader) WaiverDeeds(after int64, limit int) ([]inventory.WaiverDeed, error) {
	var rows []waiverDeedRow
	err := r.db.Where("seq > ?", after).Order("seq").Limit(limit).Find(&rows).Error
	return waiverDeeds(rows), err
}

// WaiverRequested returns the deeds done by the request key, in order.
func (t *tx) WaiverRequested(key string) ([]inventory.WaiverDeed, error) {
	var rows []waiverDeedRow
	err := t.db.Where("request_key = ?", key).Order("seq").Limit(1000).Find(&rows).Error
	return waiverDeeds(rows), err
}

// WaiverHead returns the link of the last deed about a waiver.
func (t *tx) WaiverHead() (inventory.Link, error) { return t.head("waiver_deeds") }

// NextWaiver returns the id of the next waiver.
func (t *tx) NextWaiver() (int64, error) { return t.next("waiver") }

// AppendWaiverDeed keeps d and writes the waiver it leaves.
func (t *tx) AppendWaiverDeed(d inventory.WaiverDeed, next inventory.Waiver) error {
	row := waiverRowOf(next)
	if next.Version == 1 {
		if err := t.db.Create(&row).Error; err != nil {
			return err
		}
	} else {
		res := t.db.Model(&waiverRow{}).Where("id = ? AND version = ?", next.ID, next.Version-1).
			Select("State", "DecidedBy", "DecidedAt", "Reason", "Until", "EndedBy", "EndedAt", "EndedWhy", "Found", "Version").Updates(row)
		if res.Error != nil {
			return res.Error
		}
		if res.RowsAffected != 1 {
			return inventory.Conflictf("waiver-decided", "somebody decided about waiver %d a moment ago: look at it again", next.ID)
		}
	}
	return t.db.Create(&waiverDeedRow{Link: linkRowOf(d.Link), WaiverID: d.WaiverID, Deed: string(d.Deed), SpoolCode: string(d.Spool), JobCode: string(d.Job), FeederCode: string(d.Feeder),
		Rule: string(d.Rule), PersonCode: string(d.Person), Reason: d.Reason, Found: d.Found, Until: seconds(d.Until), RequestKey: d.RequestKey, Request: d.Request,
		DoneAt: d.At.Unix(), ProcedureID: d.Procedure}).Error
}
