package store

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"slices"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

const procedureColumns = `id, number, revision, title, processes, classifications, diameters_nm, polarity, gas, passes, positions, tensile, toughness, hydrogen, prequalified, matching, pass_count, intermix_report, retired_at, version, thickness_least_nm, thickness_most_nm, base_metals`

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
	Matching        bool
	PassCount       int
	IntermixReport  string
	RetiredAt       sql.NullInt64
	Version         int

	ThicknessLeastNm int64
	ThicknessMostNm  int64
	BaseMetals       string
}

func (procedureRow) TableName() string { return "procedures" }

func scanProcedure(row scanner) (inventory.Procedure, error) {
	var p procedureRow
	err := row.Scan(&p.ID, &p.Number, &p.Revision, &p.Title, &p.Processes, &p.Classifications, &p.DiametersNm, &p.Polarity, &p.Gas, &p.Passes, &p.Positions,
		&p.Tensile, &p.Toughness, &p.Hydrogen, &p.Prequalified, &p.Matching, &p.PassCount, &p.IntermixReport, &p.RetiredAt, &p.Version,
		&p.ThicknessLeastNm, &p.ThicknessMostNm, &p.BaseMetals)
	if err != nil {
		return inventory.Procedure{}, err
	}
	return p.procedure()
}

// Procedure returns one revision of a procedure.
func (r *reader) Procedure(id int64) (inventory.Procedure, error) {
	p, err := scanProcedure(r.stmt(r.hot.procedure).QueryRowContext(r.ctx, id))
	return p, missing(err, "no-such-procedure", "there is no procedure %d", id)
}

// ProceduresWith returns the revisions with the ids, in their order.
func (r *reader) ProceduresWith(ids []int64) ([]inventory.Procedure, error) {
	var rows []procedureRow
	if err := r.db.Where("id IN ?", ids).Limit(len(ids)).Find(&rows).Error; err != nil {
		return nil, err
	}
	out := make([]inventory.Procedure, 0, len(rows))
	for _, row := range rows {
		p, err := row.procedure()
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b inventory.Procedure) int {
		return cmp.Compare(slices.Index(ids, a.ID), slices.Index(ids, b.ID))
	})
	return out, nil
}

func (p procedureRow) procedure() (inventory.Procedure, error) {
	out := inventory.Procedure{ID: p.ID, Number: p.Number, Revision: p.Revision, Title: p.Title, Processes: items[fit.Process](p.Processes),
		Classifications: items[string](p.Classifications), Polarity: fit.Polarity(p.Polarity), Passes: fit.Passes(p.Passes),
		Positions: items[fit.Position](p.Positions), Hydrogen: p.Hydrogen, Prequalified: p.Prequalified,
		Matching: p.Matching, PassCount: p.PassCount, IntermixReport: p.IntermixReport, RetiredAt: instant(p.RetiredAt), Version: p.Version,
		Qualified: fit.Qualified{Least: unit.Length(p.ThicknessLeastNm), Most: unit.Length(p.ThicknessMostNm), Metals: baseMetalsFrom(p.BaseMetals)}}
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

// AddProcedure enters a revision of a procedure, at its first version.
func (t *tx) AddProcedure(p inventory.Procedure) (int64, error) {
	id, err := t.next("procedure")
	if err != nil {
		return 0, err
	}
	row := procedureRow{ID: id, Number: p.Number, Revision: p.Revision, Title: p.Title, Processes: lines(p.Processes),
		Classifications: lines(p.Classifications), DiametersNm: lengths(p.Diameters), Polarity: string(p.Polarity), Gas: gas(p.Gas),
		Passes: string(p.Passes), Positions: lines(p.Positions), Hydrogen: p.Hydrogen, Prequalified: p.Prequalified,
		Matching: p.Matching, PassCount: p.PassCount, IntermixReport: p.IntermixReport, Version: 1,
		ThicknessLeastNm: int64(p.Qualified.Least), ThicknessMostNm: int64(p.Qualified.Most), BaseMetals: baseMetals(p.Qualified.Metals)}
	if !p.Tensile.IsZero() {
		row.Tensile = p.Tensile.String()
	}
	if !p.Toughness.IsZero() {
		row.Toughness = p.Toughness.String()
	}
	return id, t.db.Create(&row).Error
}

// RetireProcedure writes until when a revision was good. [inventory.Conflict]
// if it is not at the version before.
func (t *tx) RetireProcedure(p inventory.Procedure) error {
	return updated(t.db.Model(&procedureRow{}).Where("id = ? AND version = ?", p.ID, p.Version-1).
		Updates(map[string]any{"retired_at": seconds(p.RetiredAt), "version": p.Version}))
}

// Procedures returns the revisions that q asks for, by number, the latest
// entered first.
func (r *reader) Procedures(q inventory.Query) ([]inventory.ProcedureLine, error) {
	var rows []struct {
		Row  procedureRow `gorm:"embedded"`
		Jobs int
	}
	if err := q.CheckProcedures(); err != nil {
		return nil, err
	}
	find := containing(r.db.Table("procedures p"), q.Text, "p.number", "p.revision", "p.title", "p.classifications", "p.processes")
	switch q.State {
	case inventory.ProcedureGood:
		find = find.Where("p.retired_at IS NULL")
	case inventory.ProcedureRetired:
		find = find.Where("p.retired_at IS NOT NULL")
	}
	err := find.Select(prefixed("p.", procedureColumns) + ", (SELECT COUNT(*) FROM jobs j JOIN job_procedures jp ON jp.job_code = j.code WHERE jp.procedure_id = p.id AND NOT j.closed) AS jobs").
		Order("p.number, p.id DESC").Limit(q.Lines()).Offset(q.After).Scan(&rows).Error
	if err != nil {
		return nil, err
	}
	out := make([]inventory.ProcedureLine, len(rows))
	for i, row := range rows {
		if out[i].Procedure, err = row.Row.procedure(); err != nil {
			return nil, err
		}
		out[i].Jobs = row.Jobs
	}
	return out, nil
}

// mostRevisions bounds the revisions of one procedure.
const mostRevisions = 200

// Revisions returns the revisions of a procedure, the latest entered first.
func (r *reader) Revisions(number string) ([]inventory.Procedure, error) {
	var rows []procedureRow
	if err := r.db.Where("number = ?", number).Order("id DESC").Limit(mostRevisions).Find(&rows).Error; err != nil {
		return nil, err
	}
	out := make([]inventory.Procedure, len(rows))
	for i, row := range rows {
		var err error
		if out[i], err = row.procedure(); err != nil {
			return nil, err
		}
	}
	return out, nil
}
