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
	out := inventory.Job{Code: inventory.Code(j.Code), Number: j.Number, Name: j.Name, ProcedureID: j.ProcedureID, ProfileID: j.ProfileID,
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
	return jobRow{Code: string(j.Code), Number: j.Number, Name: j.Name, ProcedureID: j.ProcedureID, ProfileID: j.ProfileID,
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
	return j, missing(err, "no-such-job", "there is no job %s", c)
}

// JobNumbered returns the job with the shop's own number.
func (r *reader) JobNumbered(number string) (inventory.Job, error) {
	j, err := scanJob(r.stmt(r.hot.jobNumber).QueryRowContext(r.ctx, number))
	return j, missing(err, "no-such-job", "there is no job %s", number)
}

// AddJob enters a job, at its first version.
func (t *tx) AddJob(j inventory.Job) error {
	j.Version = 1
	row := jobRowOf(j)
	return t.db.Create(&row).Error
}

// UpdateJob writes a job. [inventory.Conflict] if it is not at the version
// before.
func (t *tx) UpdateJob(j inventory.Job) error {
	row := jobRowOf(j)
	return updated(t.db.Model(&jobRow{}).Where("code = ? AND version = ?", row.Code, j.Version-1).Select("*").Omit("Code").Updates(row))
}
