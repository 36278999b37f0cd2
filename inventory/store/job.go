package store

import (
	"errors"
	"fmt"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

const jobColumns = `code, number, name, procedure_id, profile_id, base_metals, thickness_nm, joint, wind_mm_s, sheltered, closed, version, plates_nm, welds, site, wind_known, certificate_type, certificate_schedule, certificate_lot_class, origin_clause, origin_melted, origin_made`

type jobRow struct {
	Code        string
	Number      string
	Name        string
	ProcedureID int64
	ProfileID   string
	BaseMetals  string
	ThicknessNm int64
	Joint       string
	WindMmS     int64
	Sheltered   bool
	Closed      bool
	Version     int
	PlatesNm    string
	Welds       string
	Site        string
	WindKnown   bool

	CertificateType     string
	CertificateSchedule string
	CertificateLotClass string
	OriginClause        string
	OriginMelted        string
	OriginMade          string
}

func (jobRow) TableName() string { return "jobs" }

func (j jobRow) job() (inventory.Job, error) {
	out := inventory.Job{Code: inventory.Code(j.Code), Number: j.Number, Name: j.Name, Procedures: []int64{j.ProcedureID}, ProfileID: j.ProfileID,
		BaseMetals: baseMetalsFrom(j.BaseMetals), Thickness: unit.Length(j.ThicknessNm), Joint: j.Joint, Wind: unit.Speed(j.WindMmS),
		WindKnown: j.WindKnown, Sheltered: j.Sheltered, Site: inventory.Site(j.Site), Closed: j.Closed, Version: j.Version,
		Certificate: fit.Certificate{Type: j.CertificateType, Schedule: j.CertificateSchedule, LotClass: j.CertificateLotClass},
		Origin:      fit.Origin{Clause: j.OriginClause, Melted: items[string](j.OriginMelted), Made: items[string](j.OriginMade)}}
	var errs [2]error
	out.Plates, errs[0] = lengthsFrom(j.PlatesNm)
	out.Welds, errs[1] = weldsFrom(j.Welds)
	if err := errors.Join(errs[:]...); err != nil {
		return out, fmt.Errorf("job %s: %w", j.Code, err)
	}
	return out, nil
}

func jobRowOf(j inventory.Job) jobRow {
	return jobRow{Code: string(j.Code), Number: j.Number, Name: j.Name, ProcedureID: j.Procedures[0], ProfileID: j.ProfileID,
		BaseMetals: baseMetals(j.BaseMetals), ThicknessNm: int64(j.Thickness), Joint: j.Joint, WindMmS: int64(j.Wind),
		WindKnown: j.WindKnown, Sheltered: j.Sheltered, Site: string(j.Site), Closed: j.Closed, Version: j.Version,
		PlatesNm: lengths(j.Plates), Welds: welds(j.Welds), CertificateType: j.Certificate.Type, CertificateSchedule: j.Certificate.Schedule,
		CertificateLotClass: j.Certificate.LotClass, OriginClause: j.Origin.Clause, OriginMelted: lines(j.Origin.Melted), OriginMade: lines(j.Origin.Made)}
}

func scanJob(row scanner) (inventory.Job, error) {
	var j jobRow
	err := row.Scan(&j.Code, &j.Number, &j.Name, &j.ProcedureID, &j.ProfileID, &j.BaseMetals, &j.ThicknessNm, &j.Joint, &j.WindMmS, &j.Sheltered, &j.Closed,
		&j.Version, &j.PlatesNm, &j.Welds, &j.Site, &j.WindKnown, &j.CertificateType, &j.CertificateSchedule, &j.CertificateLotClass,
		&j.OriginClause, &j.OriginMelted, &j.OriginMade)
	if err != nil {
		return inventory.Job{}, err
	}
	return j.job()
}

// Job returns the job with the code.
func (r *reader) Job(c inventory.Code) (inventory.Job, error) {
	j, err := scanJob(r.stmt(r.hot.job).QueryRowContext(r.ctx, string(c)))
	if err != nil {
		return j, missing(err, "no-such-job", "there is no job %s", c)
	}
	return r.withProcedures(j)
}

// JobNumbered returns the job with the shop's own number.
func (r *reader) JobNumbered(number string) (inventory.Job, error) {
	j, err := scanJob(r.stmt(r.hot.jobNumber).QueryRowContext(r.ctx, number))
	if err != nil {
		return j, missing(err, "no-such-job", "there is no job %s", number)
	}
	return r.withProcedures(j)
}

// withProcedures reads the procedures of a job that was read with its first.
func (r *reader) withProcedures(j inventory.Job) (inventory.Job, error) {
	rows, err := r.stmt(r.hot.jobProcedures).QueryContext(r.ctx, string(j.Code))
	ids, err := collect(rows, err, func(row scanner) (id int64, err error) { return id, row.Scan(&id) })
	j.Procedures = procedures(j.Procedures[0], ids)
	return j, err
}

// procedures returns the ids of a job's procedures. A program that knows of one
// writes the first alone, and that is then the truth.
func procedures(first int64, ids []int64) []int64 {
	if len(ids) == 0 || ids[0] != first {
		return []int64{first}
	}
	return ids
}

type jobProcedureRow struct {
	JobCode     string
	Line        int
	ProcedureID int64
}

func (jobProcedureRow) TableName() string { return "job_procedures" }

func (t *tx) writeProcedures(j inventory.Job) error {
	if err := t.db.Where("job_code = ?", string(j.Code)).Delete(&jobProcedureRow{}).Error; err != nil {
		return err
	}
	rows := make([]jobProcedureRow, len(j.Procedures))
	for i, id := range j.Procedures {
		rows[i] = jobProcedureRow{string(j.Code), i + 1, id}
	}
	return t.db.Create(&rows).Error
}

// AddJob enters a job, at its first version. It has a procedure.
func (t *tx) AddJob(j inventory.Job) error {
	j.Version = 1
	row := jobRowOf(j)
	if err := t.db.Create(&row).Error; err != nil {
		return err
	}
	return t.writeProcedures(j)
}

// UpdateJob writes a job. [inventory.Conflict] if it is not at the version
// before.
func (t *tx) UpdateJob(j inventory.Job) error {
	row := jobRowOf(j)
	if err := updated(t.db.Model(&jobRow{}).Where("code = ? AND version = ?", row.Code, j.Version-1).Select("*").Omit("Code").Updates(row)); err != nil {
		return err
	}
	return t.writeProcedures(j)
}
