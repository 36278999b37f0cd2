package store

import (
	"database/sql"
	"errors"
	"fmt"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

const jobColumns = `code, number, name, procedure_id, profile_id, base_metals, thickness_nm, joint, wind_mm_s, sheltered, closed`

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
}

func (jobRow) TableName() string { return "jobs" }

func (j jobRow) job() inventory.Job {
	return inventory.Job{Code: inventory.Code(j.Code), Number: j.Number, Name: j.Name, ProcedureID: j.ProcedureID, ProfileID: j.ProfileID,
		BaseMetals: baseMetalsFrom(j.BaseMetals), Thickness: unit.Length(j.ThicknessNm), Joint: j.Joint, Wind: unit.Speed(j.WindMmS),
		Sheltered: j.Sheltered, Closed: j.Closed}
}

func scanJob(row scanner) (inventory.Job, error) {
	var j jobRow
	err := row.Scan(&j.Code, &j.Number, &j.Name, &j.ProcedureID, &j.ProfileID, &j.BaseMetals, &j.ThicknessNm, &j.Joint, &j.WindMmS, &j.Sheltered, &j.Closed)
	return j.job(), err
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

// AddJob enters a job.
func (t *tx) AddJob(j inventory.Job) error {
	row := jobRow{Code: string(j.Code), Number: j.Number, Name: j.Name, ProcedureID: j.ProcedureID, ProfileID: j.ProfileID,
		BaseMetals: baseMetals(j.BaseMetals), ThicknessNm: int64(j.Thickness), Joint: j.Joint, WindMmS: int64(j.Wind),
		Sheltered: j.Sheltered, Closed: j.Closed}
	return t.db.Create(&row).Error
}

const procedureColumns = `id, number, revision, title, processes, classifications, diameters_nm, polarity, gas, passes, positions, tensile, toughness, hydrogen, prequalified`

type procedureRow struct {
	ID              int64
	Number          string
	Revision        string
	Title           string
	Processes       string
	Classifications string
	DiametersNm     string
	Polarity        string
	Gas             sql.NullString
	Passes          string
	Positions       string
	Tensile         string
	Toughness       string
	Hydrogen        int
	Prequalified    bool
}

func (procedureRow) TableName() string { return "procedures" }

// Procedure returns one revision of a procedure.
func (r *reader) Procedure(id int64) (inventory.Procedure, error) {
	var p procedureRow
	err := r.stmt(r.hot.procedure).QueryRowContext(r.ctx, id).Scan(&p.ID, &p.Number, &p.Revision, &p.Title, &p.Processes, &p.Classifications,
		&p.DiametersNm, &p.Polarity, &p.Gas, &p.Passes, &p.Positions, &p.Tensile, &p.Toughness, &p.Hydrogen, &p.Prequalified)
	if err != nil {
		return inventory.Procedure{}, missing(err, "no-such-procedure", "there is no procedure %d", id)
	}
	return p.procedure()
}

func (p procedureRow) procedure() (inventory.Procedure, error) {
	out := inventory.Procedure{ID: p.ID, Number: p.Number, Revision: p.Revision, Title: p.Title, Processes: items[fit.Process](p.Processes),
		Classifications: items[string](p.Classifications), Polarity: fit.Polarity(p.Polarity), Passes: fit.Passes(p.Passes),
		Positions: items[fit.Position](p.Positions), Hydrogen: p.Hydrogen, Prequalified: p.Prequalified}
	var errs [4]error
	out.Diameters, errs[0] = lengthsFrom(p.DiametersNm)
	out.Gas, errs[1] = gasFrom(p.Gas)
	if p.Tensile != "" {
		out.Tensile, errs[2] = unit.ParseStress(p.Tensile)
	}
	if p.Toughness != "" {
		out.Toughness, errs[3] = unit.ParseToughness(p.Toughness)
	}
	if err := errors.Join(errs[:]...); err != nil {
		return out, fmt.Errorf("procedure %d: %w", p.ID, err)
	}
	return out, nil
}

// AddProcedure enters a revision of a procedure.
func (t *tx) AddProcedure(p inventory.Procedure) (int64, error) {
	id, err := t.next("procedure")
	if err != nil {
		return 0, err
	}
	row := procedureRow{ID: id, Number: p.Number, Revision: p.Revision, Title: p.Title, Processes: lines(p.Processes),
		Classifications: lines(p.Classifications), DiametersNm: lengths(p.Diameters), Polarity: string(p.Polarity), Gas: gas(p.Gas),
		Passes: string(p.Passes), Positions: lines(p.Positions), Hydrogen: p.Hydrogen, Prequalified: p.Prequalified}
	if !p.Tensile.IsZero() {
		row.Tensile = p.Tensile.String()
	}
	if !p.Toughness.IsZero() {
		row.Toughness = p.Toughness.String()
	}
	return id, t.db.Create(&row).Error
}
